package figure

import (
	"math"
	"slices"

	"steelyard/problems/statics"
)

// Spread loads and couples that the problem gives are part of it, and drawn
// before the learner has listed anything. The resultant of a load is the
// learner's to find: its arrow, and its point, are drawn once it is listed.

// loads draws the spread loads of the bodies, each once: a whole has the loads
// of its parts. Where one lies over another it is drawn beyond that: even loads
// next to the line, so that one which grows stands on a level edge.
func (b *builder) loads() {
	var all []Spread
	var symbols []string
	for _, even := range []bool{true, false} {
		for _, body := range b.bodies() {
			for _, f := range body.Forces {
				if f.Load == nil || (f.Load.Shape == statics.Uniform) != even || slices.Contains(b.spread, f.Symbol) {
					continue
				}
				b.spread = append(b.spread, f.Symbol)
				all, symbols = append(all, b.spreadOf(body, f)), append(symbols, f.Symbol)
			}
		}
	}
	eps := 1e-6 * b.size
	for i := range all {
		for j := range all {
			if i == j || !all[i].over(all[j], eps) {
				continue
			}
			if j < i {
				all[i].Lane = max(all[i].Lane, all[j].Lane+1)
			}
			all[i].Stacked = true
			if all[i].Caption == (Caption{}) { // two loads in one place want names
				all[i].Caption = Caption{Symbol: symbols[i]}
			}
		}
	}
	for _, s := range all {
		b.add(s)
	}
}

func (b *builder) spreadOf(body *statics.Body, f statics.Force) Spread {
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
	return s
}

// over reports whether two loads press the same way on one stretch of a line.
func (s Spread) over(o Spread, eps float64) bool {
	along := s.To.minus(s.From)
	l := math.Sqrt(along.dot(along))
	if l < eps || heading(s.Angle).dot(heading(o.Angle)) < 0.5 {
		return false
	}
	u := along.times(1 / l)
	from, to := o.From.minus(s.From), o.To.minus(s.From)
	if math.Abs(u.cross(from)) > eps || math.Abs(u.cross(to)) > eps {
		return false
	}
	low, high := min(u.dot(from), u.dot(to)), max(u.dot(from), u.dot(to))
	return low < l-eps && high > eps
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
// if the body has such a point; else it is shown at the body's middle.
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
	return b.middle(body)
}

// turnClear is how far a couple at a body's middle keeps from the points of the
// body, where arrows and loads are, as a part of the figure's size.
const turnClear = 0.15

// middle is where a couple shows that has no place of its own: at the centre of
// the wheel, if the body is drawn as one, or on a bar of it that keeps clear of
// its points, as near to the middle of all of them as that can be had.
func (b *builder) middle(body *statics.Body) Vec {
	for _, d := range b.p.Figure {
		if of, ok := b.bodyOf(d.At); ok && d.Draw == "disc" && of == body {
			return b.at(d.At)
		}
	}
	low, high := Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}
	var points []Vec
	for _, pt := range body.Points {
		if pt.Mark && !body.Whole() {
			continue
		}
		at := place(pt, b.values)
		points = append(points, at)
		low, high = Vec{min(low.X, at.X), min(low.Y, at.Y)}, Vec{max(high.X, at.X), max(high.Y, at.Y)}
	}
	if len(points) == 0 {
		return b.at(body.Points[0].Name)
	}
	middle := low.mid(high)
	best, cost := middle, math.Inf(1)
	for _, d := range b.p.Figure {
		if of, ok := b.bodyOf(d.From, d.To); d.Draw != "bar" || !ok || of != body && !slices.Contains(body.Of, of.Name) {
			continue
		}
		from, along := b.at(d.From), b.at(d.To).minus(b.at(d.From))
		for step := range 41 {
			at := from.plus(along.times(0.1 + 0.02*float64(step)))
			c := at.from(middle)
			for _, p := range points {
				c += 4 * max(turnClear*b.size-at.from(p), 0)
			}
			if c < cost-1e-9*b.size {
				best, cost = at, c
			}
		}
	}
	return best
}

// unlistedCentroid reports whether a point is that of a load's resultant, which
// the learner has not listed; while nothing is judged, whether the learner has
// put no force there.
func (b *builder) unlistedCentroid(name string) bool {
	for _, body := range b.bodies() {
		for _, f := range body.Forces {
			switch {
			case f.Load == nil || f.At != name:
			case b.v.Unjudged:
				return !slices.ContainsFunc(b.read, func(w Listed) bool { return w.Said.At == name })
			default:
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
