package statics

import (
	"math"

	"steelyard/problems/notation"
)

func atan2(y, x float64) float64 { return math.Atan2(y, x) }

// RowKind is which of a body's three equations a row is.
type RowKind string

// The rows, in the order of the ledger's columns.
const (
	RowX      RowKind = "x"
	RowY      RowKind = "y"
	RowMoment RowKind = "moment"
)

// Rows lists the row kinds in order.
var Rows = []RowKind{RowX, RowY, RowMoment}

// Frame is the learner's choice of pivot, axes and sign convention.
type Frame struct {
	Pivot     Point
	Tilt      Angle // of the x axis, anticlockwise from level
	Clockwise bool  // moments are counted positive clockwise
	Reversed  map[string]bool
}

// Sense is -1 if the learner assumed the force the other way, else +1.
func (f Frame) Sense(symbol string) float64 {
	if f.Reversed[symbol] {
		return -1
	}
	return 1
}

// Turn is +1 if moments are positive anticlockwise, -1 if clockwise.
func (f Frame) Turn() float64 {
	if f.Clockwise {
		return -1
	}
	return 1
}

// Cell is one entry of the ledger: Coef times Magnitude.
type Cell struct {
	Symbol    string
	Coef      Sum // signed lever arm, or signed direction cosine; a couple's is ±1
	Magnitude Sum
}

// Term is the whole entry.
func (c Cell) Term() Sum { return c.Magnitude.Times(c.Coef) }

// Text writes the entry as a textbook does; values, which may be nil, settle
// the signs of brackets.
func (c Cell) Text(ascii bool, values []float64) string {
	return ProductText(c.Magnitude, c.Coef, ascii, values)
}

// Row is one equilibrium equation: the sum of its cells is zero.
type Row struct {
	Body  string
	Kind  RowKind
	Pivot string // for a moment row
	Cells []Cell // one per force, then one per couple
}

// Sum is the row's left side.
func (r Row) Sum() Sum {
	var s Sum
	for _, c := range r.Cells {
		s = s.Plus(c.Term())
	}
	return s
}

// Text writes the row as an equation: T L sin α − M g L/2 = 0.
func (r Row) Text(ascii bool, values []float64) string {
	out := ""
	for _, c := range r.Cells {
		if c.Coef.IsZero() {
			continue
		}
		out = JoinTerms(out, c.Text(ascii, values), ascii)
	}
	if out == "" {
		out = "0"
	}
	return out + " = 0"
}

// JoinTerms adds a signed term to a line of them.
func JoinTerms(line, term string, ascii bool) string {
	m := minus(ascii)
	switch {
	case line == "":
		return term
	case len(term) >= len(m) && term[:len(m)] == m:
		return line + " " + m + " " + term[len(m):]
	}
	return line + " + " + term
}

// Cell is the entry of force i in a row of the given kind.
func (b *Body) Cell(i int, kind RowKind, fr Frame) Cell {
	f := b.Forces[i]
	at, _ := b.Point(f.At)
	c := Cell{Symbol: f.Symbol, Magnitude: f.Magnitude}
	switch kind {
	case RowMoment:
		c.Coef = Between(fr.Pivot, at).Arm(f.Dir).Scale(fr.Turn())
	case RowX:
		c.Coef = component(f.Dir, fr.Tilt)
	case RowY:
		c.Coef = component(f.Dir, fr.Tilt.Plus(Deg(90)))
	}
	c.Coef = c.Coef.Scale(fr.Sense(f.Symbol))
	return c
}

// component is the part of a unit vector along an axis.
func component(d Direction, axis Angle) Sum {
	if d.Toward == "" {
		return Cos(d.Angle.Minus(axis))
	}
	return d.cos.Times(Cos(axis)).Plus(d.sin.Times(Sin(axis))).OrZero()
}

// CoupleCell is the entry of couple i.
func (b *Body) CoupleCell(i int, kind RowKind, fr Frame) Cell {
	c := b.Couples[i]
	cell := Cell{Symbol: c.Symbol, Magnitude: c.Magnitude}
	if kind == RowMoment {
		cell.Coef = Const(c.Sense * fr.Turn() * fr.Sense(c.Symbol))
	}
	return cell
}

// Row builds one equation of the body.
func (b *Body) Row(kind RowKind, fr Frame) Row {
	r := Row{Body: b.Name, Kind: kind}
	if kind == RowMoment {
		r.Pivot = fr.Pivot.Name
	}
	for i := range b.Forces {
		r.Cells = append(r.Cells, b.Cell(i, kind, fr))
	}
	for i := range b.Couples {
		r.Cells = append(r.Cells, b.CoupleCell(i, kind, fr))
	}
	return r
}

// Ledger is the body's three rows.
func (b *Body) Ledger(fr Frame) []Row {
	rows := make([]Row, len(Rows))
	for i, k := range Rows {
		rows[i] = b.Row(k, fr)
	}
	return rows
}

// PivotAdvice says what a pivot does for the moment row.
type PivotAdvice struct {
	Point    string
	Unknowns int      // unknown forces on the body
	Vanish   []string // those with no lever arm about the point
}

// Advise looks at every point of the body, and says which unknowns drop out of
// the moment row about it.
func (b *Body) Advise() []PivotAdvice {
	var out []PivotAdvice
	for _, p := range b.Points {
		out = append(out, b.AdviseAt(p))
	}
	return out
}

// AdviseAt is the advice for one point, on or off the body.
func (b *Body) AdviseAt(p Point) PivotAdvice {
	a := PivotAdvice{Point: p.Name}
	for i, f := range b.Forces {
		if !f.Unknown {
			continue
		}
		a.Unknowns++
		if b.Cell(i, RowMoment, Frame{Pivot: p}).Coef.IsZero() {
			a.Vanish = append(a.Vanish, f.Symbol)
		}
	}
	return a
}

// distance is the opaque atom sqrt(x² + y²).
func distance(x, y Sum) Atom {
	square := func(s Sum) notation.Node {
		return &notation.Binary{Op: '^', Left: s.node(), Right: &notation.Number{Value: 2, Text: "2", Exact: true}}
	}
	var under notation.Node
	switch {
	case x.IsZero():
		under = square(y)
	case y.IsZero():
		under = square(x)
	default:
		under = &notation.Binary{Op: '+', Left: square(x), Right: square(y)}
	}
	n := &notation.Call{Func: "sqrt", Arg: under}
	return Atom{kind: opaqueAtom, node: n, name: n.String()}
}

// node writes a sum as a tree.
func (s Sum) node() notation.Node {
	var out notation.Node
	for _, p := range s {
		var t notation.Node = literal(math.Abs(p.Coef))
		for _, f := range p.Factors {
			t = f.times(t)
		}
		switch {
		case out == nil && p.Coef < 0:
			out = &notation.Unary{Operand: t}
		case out == nil:
			out = t
		case p.Coef < 0:
			out = &notation.Binary{Op: '-', Left: out, Right: t}
		default:
			out = &notation.Binary{Op: '+', Left: out, Right: t}
		}
	}
	if out == nil {
		return literal(0)
	}
	return out
}

func literal(v float64) notation.Node {
	return &notation.Number{Value: v, Text: number(v), Exact: true}
}

func (f Factor) times(t notation.Node) notation.Node {
	op := byte('*')
	if f.Power < 0 {
		op = '/'
	}
	a := f.Atom.tree()
	for range max(f.Power, -f.Power) {
		if n, ok := t.(*notation.Number); ok && n.Value == 1 && op == '*' {
			t = a
			continue
		}
		t = &notation.Binary{Op: op, Left: t, Right: a}
	}
	return t
}

func (a Atom) tree() notation.Node {
	switch a.kind {
	case symbolAtom:
		return &notation.Symbol{Name: a.name, Index: a.index}
	case sinAtom:
		return &notation.Call{Func: "sin", Arg: a.angle.tree()}
	case cosAtom:
		return &notation.Call{Func: "cos", Arg: a.angle.tree()}
	}
	return a.node
}

func (a Angle) tree() notation.Node {
	var s Sum
	for _, t := range a.Terms {
		s = s.Plus(Sym(t.Index, t.Name).Scale(t.Coef))
	}
	if a.Degrees == 0 && len(s) > 0 {
		return s.node()
	}
	d := &notation.Angle{Operand: literal(a.Degrees), Degrees: true}
	if len(s) == 0 {
		return d
	}
	return &notation.Binary{Op: '+', Left: s.node(), Right: d}
}
