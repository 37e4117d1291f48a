// Package slip is the catalogue of slips: the known kinds of mistake in
// setting up an equilibrium problem, each with the entry it would write, what
// to say about it, and hints.
package slip

import (
	"steelyard/problems"
	"steelyard/problems/statics"
)

// Entry is one cell of the ledger as someone might set it up: what it takes to
// build the right entry, for slips to edit.
type Entry struct {
	Problem *problems.Scenario
	Body    *statics.Body
	Row     statics.RowKind
	Frame   statics.Frame
	Force   statics.Force   // zero for a couple
	Couple  *statics.Couple // nil for a force

	Size  statics.Sum                   // magnitude
	Shape func(statics.Sum) statics.Sum // applied to the coefficient; nil for none
	Sign  float64                       // +1, or -1 when turned about
	Times statics.Sum                   // an extra factor; nil for none
	At    statics.Point                 // where the force is taken to act
	About statics.Point                 // the point its arm is measured from
	Arm   statics.Sum                   // stands in for the coefficient when Over is set
	Over  bool
	Place string // the point a slip brought in, for its message
	Given string // the symbol or number a slip brought in, for its message
}

// ForForce is the right entry of force i in a row.
func ForForce(s *problems.Scenario, b *statics.Body, i int, row statics.RowKind, fr statics.Frame) Entry {
	f := b.Forces[i]
	at, _ := b.Point(f.At)
	return Entry{Problem: s, Body: b, Row: row, Frame: fr, Force: f, Size: f.Magnitude, Sign: 1, At: at, About: fr.Pivot}
}

// ForCouple is the right entry of couple i in a row.
func ForCouple(s *problems.Scenario, b *statics.Body, i int, row statics.RowKind, fr statics.Frame) Entry {
	c := b.Couples[i]
	return Entry{Problem: s, Body: b, Row: row, Frame: fr, Couple: &c, Size: c.Magnitude, Sign: 1}
}

// Symbol is the force's or couple's own symbol.
func (e Entry) Symbol() string {
	if e.Couple != nil {
		return e.Couple.Symbol
	}
	return e.Force.Symbol
}

// Coef is the coefficient that the size is multiplied by.
func (e Entry) Coef() statics.Sum {
	c := e.bare()
	if e.Shape != nil {
		c = e.Shape(c)
	}
	if e.Times != nil {
		c = c.Times(e.Times)
	}
	return c.Scale(e.Sign)
}

func (e Entry) bare() statics.Sum {
	sense := e.Frame.Sense(e.Symbol())
	switch {
	case e.Over:
		return e.Arm
	case e.Couple != nil && e.Row == statics.RowMoment:
		return statics.Const(e.Couple.Sense * e.Frame.Turn() * sense)
	case e.Couple != nil:
		return nil
	case e.Row == statics.RowMoment:
		return statics.Between(e.About, e.At).Arm(e.Force.Dir).Scale(e.Frame.Turn() * sense)
	}
	f := e.Force
	f.At = e.At.Name
	one := statics.Body{Points: []statics.Point{e.At}, Forces: []statics.Force{f}}
	return one.Cell(0, e.Row, e.Frame).Coef
}

// Term is the whole entry: size times coefficient.
func (e Entry) Term() statics.Sum { return e.Size.Times(e.Coef()) }
