package grading

import (
	"slices"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/statics"
)

// ownRank puts the slips of a scenario's own behind those of the catalogue,
// and before two slips together.
func ownRank(i int) int { return len(slip.Catalogue) + i }

// addOwn adds what the scenario's own slips write in the cell.
func (sh *shelf) addOwn(e slip.Entry, add func(written)) {
	for i := range sh.scenario.Slips {
		o := &sh.scenario.Slips[i]
		if o.Cell == "" || o.Cell != e.Symbol() || !fits(o, e.Body, e.Row, e.Frame) {
			continue
		}
		if line, ok := sh.inFrame(o, e.Frame); ok {
			own := e
			own.Size, own.Over, own.Arm, own.Sign, own.Shape, own.Times = statics.Const(1), true, line, 1, nil, nil
			add(sh.write(own, ownRank(i), o.Code))
		}
	}
}

// ownMessage is what a slip of the scenario's own says of an entry, or of a row.
func (sh *shelf) ownMessage(code string, e slip.Entry) string {
	message := ""
	for i := range sh.scenario.Slips {
		switch o := &sh.scenario.Slips[i]; {
		case o.Code != code:
		case o.Cell == e.Symbol() && fits(o, e.Body, e.Row, e.Frame):
			return o.Message
		case message == "":
			message = o.Message
		}
	}
	return message
}

// fits reports whether a slip is of a row of a body in a frame. One with the
// code of a slip that every scenario knows, which is a fault of its file, is of
// none: its name would say something else.
func fits(o *problems.OwnSlip, b *statics.Body, row statics.RowKind, fr statics.Frame) bool {
	if _, known := slip.Of(o.Code); known || o.Body.Name != b.Name || o.Row != row {
		return false
	}
	if row == statics.RowMoment {
		return samePlace(o.Pivot, fr.Pivot)
	}
	return statics.Sin(fr.Tilt).IsZero() && statics.Cos(fr.Tilt).Text(true) == "1"
}

func samePlace(a, b statics.Point) bool {
	x, y := statics.Between(a, b).XY()
	return x.IsZero() && y.IsZero()
}

// inFrame is what the slip writes in an entry by the learner's senses. A force
// assumed the other way has the other sign; where another force of the line is
// so assumed, or the line is no multiple of its own, there is no telling what
// would have been written.
func (sh *shelf) inFrame(o *problems.OwnSlip, fr statics.Frame) (statics.Sum, bool) {
	line := statics.FromNode(o.Left)
	if o.Row == statics.RowMoment {
		line = line.Scale(fr.Turn())
	}
	for symbol, turned := range fr.Reversed {
		at, ok := sh.scenario.Table.Index(symbol)
		if !turned || !ok || !o.Uses(at) {
			continue
		}
		if symbol != o.Cell || !slices.Contains(sh.scenario.LinearUnknowns(), at) || !sh.odd(o, at) {
			return nil, false
		}
		line = line.Scale(-1)
	}
	return line, true
}

// odd reports whether the line changes sign with a symbol, and does no more.
func (sh *shelf) odd(o *problems.OwnSlip, at int) bool {
	for _, v := range sh.states {
		plus, minus := o.Value(v), o.Value(sh.with(v, at, -v[at]))
		if !near(plus, -minus, abs(plus), exact) {
			return false
		}
	}
	return true
}

// ownEquation is a whole equation among the scenario's own slips.
type ownEquation struct {
	code string
	sum  statics.Sum // left side less the right
}

// ownEquations are those that a draw must tell from what is so: all but the ones
// that hold at every solution, as one does that is made of several rows.
func (sh *shelf) ownEquations() []ownEquation {
	var out []ownEquation
	for i := range sh.scenario.Slips {
		o := &sh.scenario.Slips[i]
		if o.Cell != "" {
			continue
		}
		e := ownEquation{o.Code, statics.FromNode(o.Left).Plus(statics.FromNode(o.Right).Scale(-1))}
		if slices.ContainsFunc(sh.solved, func(v []float64) bool { return !e.nearlyHolds(v, 1e-7) }) {
			out = append(out, e)
		}
	}
	return out
}

// nearlyHolds reports whether the equation holds at a state, within a margin of
// half the size of its terms.
func (e ownEquation) nearlyHolds(values []float64, margin float64) bool {
	return abs(e.sum.Eval(values)) < margin*e.sum.Size(values)/2
}

// own finds the scenario's own slip that is the equation typed, or a multiple of
// it.
func (e *equation) own(tr *trial, states [][]float64) (Verdict, bool) {
	if !tr.usable() {
		return Verdict{}, false
	}
	for i := range e.g.p.Slips {
		o := &e.g.p.Slips[i]
		if o.Cell != "" || !fits(o, e.g.body, e.row, e.g.frame) || !e.asAssumed(o) {
			continue
		}
		for k, v := range states {
			tr.row[k] = o.Value(e.turned(o, v))
		}
		if tr.fits() {
			return e.slip(o.Code, ""), true
		}
	}
	return Verdict{}, false
}

// asAssumed reports whether it can be told what the slip writes by the learner's
// senses: only unknown forces are assumed the other way.
func (e *equation) asAssumed(o *problems.OwnSlip) bool {
	for symbol, turned := range e.g.frame.Reversed {
		if at, ok := e.g.p.Table.Index(symbol); turned && ok && o.Uses(at) && !slices.Contains(e.g.p.LinearUnknowns(), at) {
			return false
		}
	}
	return true
}

// turned is a state with the forces that the learner assumed the other way in
// the scenario's sense.
func (e *equation) turned(o *problems.OwnSlip, v []float64) []float64 {
	for symbol, turned := range e.g.frame.Reversed {
		if at, ok := e.g.p.Table.Index(symbol); turned && ok && o.Uses(at) {
			v = e.g.shelf.with(v, at, -v[at])
		}
	}
	return v
}
