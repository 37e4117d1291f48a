package slip

import (
	"slices"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// one wraps a single edited entry.
func one(e Entry, edit func(*Entry)) []Entry {
	edit(&e)
	return []Entry{e}
}

func (e Entry) isForce(kinds ...statics.ForceKind) bool {
	return e.Couple == nil && (len(kinds) == 0 || slices.Contains(kinds, e.Force.Kind))
}

func (e Entry) moment() bool { return e.Row == statics.RowMoment }

func senseReversed(e Entry) []Entry {
	if e.isForce(statics.Friction) && e.Force.Sliding {
		return nil
	}
	return one(e, func(e *Entry) { e.Sign = -e.Sign })
}

func frictionReversed(e Entry) []Entry {
	if !e.isForce(statics.Friction) || !e.Force.Sliding {
		return nil
	}
	return one(e, func(e *Entry) { e.Sign = -e.Sign })
}

func sineCosine(e Entry) []Entry {
	if e.Shape != nil || !e.bare().HasTrig() {
		return nil
	}
	return one(e, func(e *Entry) { e.Shape = statics.Sum.SwapTrig })
}

func otherAngle(e Entry) []Entry {
	if e.Shape != nil || !e.bare().HasTrig() {
		return nil
	}
	return one(e, func(e *Entry) { e.Shape = statics.Sum.Complement })
}

const degree = 57.29577951308232 // in a radian

func inRadians(e Entry) []Entry {
	if e.Shape != nil || !e.bare().HasTrig() {
		return nil
	}
	a, b := e, e
	a.Shape = func(s statics.Sum) statics.Sum { return s.ScaleAngles(degree) }
	b.Shape = func(s statics.Sum) statics.Sum { return s.ScaleAngles(1 / degree) }
	return []Entry{a, b}
}

// signs gives the entry with its arm replaced: with the right entry's sign
// where that shows, else both ways.
func signs(e Entry, arm statics.Sum) []Entry {
	c := e.bare()
	e.Over, e.Arm = true, arm
	if len(c) > 0 && !slices.ContainsFunc(c, func(p statics.Product) bool { return (p.Coef < 0) != (c[0].Coef < 0) }) {
		if c[0].Coef < 0 {
			e.Arm = arm.Scale(-1)
		}
		return []Entry{e}
	}
	back := e
	back.Arm = arm.Scale(-1)
	return []Entry{e, back}
}

func wholeDistance(e Entry) []Entry {
	if !e.moment() || !e.isForce() || e.Over || e.bare().IsZero() {
		return nil
	}
	var out []Entry
	if e.bare().HasTrig() && e.Shape == nil {
		out = one(e, func(e *Entry) { e.Shape = statics.Sum.DropTrig })
	}
	return append(out, signs(e, statics.Between(e.About, e.At).Length())...)
}

func wholeForce(e Entry) []Entry {
	if e.moment() || !e.isForce() || e.Shape != nil || !e.bare().HasTrig() {
		return nil
	}
	return one(e, func(e *Entry) { e.Shape = statics.Sum.DropTrig })
}

func armElsewhere(e Entry) []Entry {
	if !e.moment() || !e.isForce() || e.Over || e.bare().IsZero() {
		return nil
	}
	var out []Entry
	for _, p := range e.Body.Points {
		if p.Name == e.Frame.Pivot.Name {
			continue
		}
		v := e
		v.About, v.Place = p, p.Name
		out = append(out, eitherSign(e, v)...)
	}
	return out
}

func weightElsewhere(e Entry) []Entry {
	if !e.isForce(statics.Weight) {
		return nil
	}
	return elsewhere(e)
}

func forceElsewhere(e Entry) []Entry {
	if e.isForce(statics.Weight) {
		return nil
	}
	return elsewhere(e)
}

func elsewhere(e Entry) []Entry {
	if !e.moment() || !e.isForce() || e.Over {
		return nil
	}
	var out []Entry
	for _, p := range e.Body.Points {
		if p.Name == e.At.Name || p.Mark {
			continue
		}
		v := e
		v.At, v.Place = p, p.Name
		out = append(out, eitherSign(e, v)...)
	}
	return out
}

// eitherSign is an entry with another arm, if it has one; and where that turns
// the other way from the right one, also with the right one's sign, for who
// finds the sign from the picture and the arm from the wrong point.
func eitherSign(right, v Entry) []Entry {
	r, a := right.bare(), v.bare()
	switch {
	case a.IsZero():
		return nil
	case len(r) == 1 && len(a) == 1 && (r[0].Coef < 0) != (a[0].Coef < 0):
		kept := v
		kept.Sign = -v.Sign
		return []Entry{v, kept}
	}
	return []Entry{v}
}

func noArm(e Entry) []Entry {
	if !e.moment() || !e.isForce() || e.Over || e.bare().IsZero() {
		return nil
	}
	out := signs(e, statics.Const(1))
	cos, sin := e.Force.Dir.Components()
	for _, part := range []statics.Sum{cos, sin, e.withoutLengths(e.bare())} {
		if part.HasTrig() {
			out = append(out, signs(e, positive(part))...)
		}
	}
	return out
}

// positive is a sum with its first term made positive.
func positive(s statics.Sum) statics.Sum {
	if len(s) > 0 && s[0].Coef < 0 {
		return s.Scale(-1)
	}
	return s
}

// withoutLengths is what is left of an arm when every length in it is struck
// out: sin alpha, of (L - d) sin alpha; nil if its terms do not leave the same.
func (e Entry) withoutLengths(arm statics.Sum) statics.Sum {
	var left statics.Sum
	for i := range arm {
		term := statics.Sum{arm[i]}
		for _, l := range e.Lengths() {
			if rest := term.Over(l); len(rest) == 1 && len(rest[0].Factors) < len(term[0].Factors) {
				term = rest
			}
		}
		term = statics.Sum{{Coef: 1, Factors: term[0].Factors}}
		if left != nil && !left.Equal(term) {
			return nil
		}
		left = term
	}
	return left
}

func armOnly(e Entry) []Entry {
	if e.Row != statics.RowMoment && !e.bare().HasTrig() {
		return nil
	}
	return one(e, func(e *Entry) { e.Size = statics.Const(1) })
}

func leftOut(e Entry) []Entry {
	if e.bare().IsZero() {
		return nil
	}
	return one(e, func(e *Entry) { e.Over, e.Arm = true, nil })
}

// componentOmitted keeps the moment of one component of the force only.
func componentOmitted(e Entry) []Entry {
	if !e.moment() || !e.isForce() || e.Over || e.Shape != nil {
		return nil
	}
	x, y := statics.Between(e.About, e.At).XY()
	cos, sin := e.Force.Dir.Components()
	turn := e.Frame.Turn() * e.Frame.Sense(e.Symbol())
	up := x.Times(sin).Scale(turn)
	along := y.Times(cos).Scale(-turn)
	if up.IsZero() || along.IsZero() {
		return nil
	}
	a, b := e, e
	a.Over, a.Arm = true, up
	b.Over, b.Arm = true, along
	return []Entry{a, b}
}

func componentTwice(e Entry) []Entry {
	if !e.isForce() || e.Shape != nil || e.bare().IsZero() {
		return nil
	}
	out := one(e, func(e *Entry) { e.Times = statics.Const(2) })
	if e.bare().HasTrig() {
		out = append(out,
			one(e, func(e *Entry) { e.Shape = func(s statics.Sum) statics.Sum { return s.Plus(s.DropTrig()) } })[0],
			one(e, func(e *Entry) { e.Shape = func(s statics.Sum) statics.Sum { return s.Plus(s.SwapTrig()) } })[0])
	}
	return out
}

func loadCentroid(e Entry) []Entry {
	if !e.isForce(statics.Spread) || !e.moment() || e.Over {
		return nil
	}
	from, _ := e.Body.Point(e.Force.Load.From)
	to, _ := e.Body.Point(e.Force.Load.To)
	along := statics.Between(from, to)
	var out []Entry
	for _, k := range []float64{1.0 / 2, 1.0 / 3, 2.0 / 3} {
		if _, right := e.Force.Load.Shape.Resultant(); k == right {
			continue
		}
		p := statics.Point{Name: "", Chain: slices.Clone(from.Chain)}
		for _, o := range along.Polar {
			o.Len = o.Len.Scale(k)
			p.Chain = append(p.Chain, o)
		}
		p.Chain = append(p.Chain, statics.Offset{DX: along.DX.Scale(k), DY: along.DY.Scale(k)})
		v := e
		v.At = p
		out = append(out, v)
	}
	return out
}

var metre = func() notation.Unit { u, _ := notation.ParseUnit("m"); return u }()

// Lengths are the problem's symbols that are lengths.
func (e Entry) Lengths() []statics.Sum {
	var out []statics.Sum
	add := func(u notation.Unit, i int, symbol string) {
		if notation.SameDim(u, metre) {
			out = append(out, statics.Sym(i, symbol))
		}
	}
	for _, g := range e.Problem.Givens {
		add(g.Unit, g.Index, g.Symbol)
	}
	for _, u := range e.Problem.Unknowns {
		if u.Role != problems.Dependent {
			add(u.Unit, u.Index, u.Symbol)
		}
	}
	for _, d := range e.Problem.Defined {
		if _, found := e.Problem.Unknown(d.Symbol); !found { // a spring's give, found from its force, is no arm
			add(d.Unit, d.Index, d.Symbol)
		}
	}
	return out
}

func (e Entry) timesLengths() []Entry {
	var out []Entry
	for _, l := range e.Lengths() {
		v := e
		v.Times = l
		out = append(out, v)
	}
	return out
}

func coupleDistance(e Entry) []Entry {
	if e.Couple == nil || !e.moment() {
		return nil
	}
	return e.timesLengths()
}

func armSquared(e Entry) []Entry {
	if !e.isForce() || !e.moment() || e.Times != nil || e.bare().IsZero() {
		return nil
	}
	return e.timesLengths()
}
