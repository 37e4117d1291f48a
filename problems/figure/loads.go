package figure

import (
	"slices"

	"steelyard/problems/statics"
)

// Spread loads and couples that the problem gives are part of it, and drawn
// before the learner has listed anything. The resultant of a load is the
// learner's to find: its arrow, and its point, are drawn once it is listed.

// loads draws the spread loads of the bodies, each once: a whole has the loads
// of its parts.
func (b *builder) loads() {
	for _, body := range b.bodies() {
		for _, f := range body.Forces {
			if f.Load == nil || slices.Contains(b.spread, f.Symbol) {
				continue
			}
			b.spread = append(b.spread, f.Symbol)
			s := Spread{Role: b.plainOr(Load, body), From: b.at(f.Load.From), To: b.at(f.Load.To), Angle: f.Dir.Radians(b.values), Start: 1, End: 1}
			switch f.Load.Shape {
			case statics.Rising:
				s.Start = 0
			case statics.Falling:
				s.End = 0
			}
			if name := f.Load.PerLength.Text(true); b.isSymbol(name) {
				s.Caption = b.caption(name)
			}
			b.add(s)
		}
	}
}

func (b *builder) isSymbol(name string) bool {
	_, ok := b.p.Table.Index(name)
	return ok
}

// couples draws the given couples that the learner has not listed yet.
func (b *builder) couples() {
	var drawn []string
	for _, body := range b.bodies() {
		for _, c := range body.Couples {
			if c.Unknown || b.lists(c.Symbol) || slices.Contains(drawn, c.Symbol) {
				continue
			}
			drawn = append(drawn, c.Symbol)
			b.add(Turn{Role: b.plainOr(Load, body), At: b.coupleAt(body, c), Clockwise: c.Sense < 0, Symbol: c.Symbol})
		}
	}
}

// lists reports whether the learner has listed a force or couple.
func (b *builder) lists(symbol string) bool {
	return slices.ContainsFunc(b.v.Forces, func(l Listed) bool { return l.Symbol == symbol })
}

// coupleAt is where a couple is drawn. It acts on the body as a whole, but that
// of a built-in end is shown there, and one that is put on where no force acts,
// if the body has such a point; else it is shown at the first.
func (b *builder) coupleAt(body *statics.Body, c statics.Couple) Vec {
	for _, f := range body.Forces {
		if c.Kind == statics.Fixing && f.Kind == statics.Fixing {
			return b.at(f.At)
		}
	}
	for _, pt := range body.Points {
		bare := !pt.Mark && !slices.ContainsFunc(body.Forces, func(f statics.Force) bool {
			return f.At == pt.Name || f.Load != nil && (f.Load.From == pt.Name || f.Load.To == pt.Name)
		})
		if bare && !c.Unknown {
			return place(pt, b.values)
		}
	}
	return b.at(body.Points[0].Name)
}

// unlistedCentroid reports whether a point is that of a load's resultant, which
// the learner has not listed.
func (b *builder) unlistedCentroid(name string) bool {
	for _, body := range b.bodies() {
		for _, f := range body.Forces {
			if f.Load != nil && f.At == name {
				return !b.lists(f.Symbol)
			}
		}
	}
	return false
}

// against reports whether a ray goes into the arrows of a spread load.
func (s Spread) against(r ray, eps float64) bool {
	along, off := s.To.minus(s.From), r.at.minus(s.From)
	l := along.dot(along)
	if l == 0 {
		return false
	}
	t := off.dot(along) / l
	return t > -1e-6 && t < 1+1e-6 && along.cross(off)*along.cross(off) < eps*eps*l && heading(s.Angle).dot(heading(r.angle)) < -0.5
}
