package statics

import (
	"math"
	"slices"
)

// Trig is one of the two functions that a component or an arm is made with.
type Trig int

// The functions.
const (
	Sine Trig = iota
	Cosine
)

// MapTrig replaces every sine and cosine in s by what f gives for it.
func (s Sum) MapTrig(f func(fn Trig, a Angle) Sum) Sum {
	var out Sum
	for _, p := range s {
		t := Sum{{Coef: p.Coef}}
		for _, fac := range p.Factors {
			by := Sum{{Coef: 1, Factors: []Factor{fac}}}
			if k := fac.Atom.kind; (k == sinAtom || k == cosAtom) && fac.Power > 0 {
				fn := Sine
				if k == cosAtom {
					fn = Cosine
				}
				by = Const(1)
				for range fac.Power {
					by = by.Times(f(fn, fac.Atom.angle))
				}
			}
			t = t.Times(by)
		}
		out = out.Plus(t)
	}
	return out
}

// HasTrig reports whether a sine or cosine occurs in s.
func (s Sum) HasTrig() bool {
	for _, p := range s {
		if slices.ContainsFunc(p.Factors, func(f Factor) bool { return f.Atom.kind == sinAtom || f.Atom.kind == cosAtom }) {
			return true
		}
	}
	return false
}

// SwapTrig writes sine for cosine and cosine for sine.
func (s Sum) SwapTrig() Sum {
	return s.MapTrig(func(fn Trig, a Angle) Sum {
		if fn == Sine {
			return Cos(a)
		}
		return Sin(a)
	})
}

// DropTrig writes 1 for every sine and cosine: the whole, not the part.
func (s Sum) DropTrig() Sum {
	return s.MapTrig(func(Trig, Angle) Sum { return Const(1) })
}

// ScaleAngles multiplies every angle by k.
func (s Sum) ScaleAngles(k float64) Sum {
	return s.MapTrig(func(fn Trig, a Angle) Sum {
		scaled := ofAtom(Atom{kind: sinAtom, angle: a.scale(k), name: "sin(" + a.scale(k).ascii() + ")"})
		if fn == Cosine {
			scaled = ofAtom(Atom{kind: cosAtom, angle: a.scale(k), name: "cos(" + a.scale(k).ascii() + ")"})
		}
		return scaled
	})
}

// Complement replaces each angle symbol in a sine or cosine by its complement,
// 90° less the symbol: the angle taken from the other line.
func (s Sum) Complement() Sum {
	return s.MapTrig(func(fn Trig, a Angle) Sum {
		out := Deg(a.Degrees)
		for _, t := range a.Terms {
			out = out.Plus(Deg(90 * t.Coef)).Plus(Angle{Terms: []AngleTerm{{-t.Coef, t.Index, t.Name}}})
		}
		if fn == Sine {
			return Sin(out)
		}
		return Cos(out)
	})
}

// Length is |v| in symbols.
func (v Vector) Length() Sum {
	if v.DX.IsZero() && v.DY.IsZero() && len(v.Polar) == 1 {
		l := v.Polar[0].Len
		if len(l) == 1 && l[0].Coef < 0 {
			l = l.Scale(-1)
		}
		return l
	}
	x, y := v.XY()
	switch {
	case x.IsZero() && y.IsZero():
		return nil
	case y.IsZero() && len(x) == 1:
		return Sum{{Coef: math.Abs(x[0].Coef), Factors: x[0].Factors}}
	case x.IsZero() && len(y) == 1:
		return Sum{{Coef: math.Abs(y[0].Coef), Factors: y[0].Factors}}
	}
	return ofAtom(distance(x, y))
}
