package problems

import (
	"slices"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Use is what a symbol of a scenario is there for.
type Use struct {
	Solved bool // it is in a row, in what an unknown is searched by, or in an unknown's definition
	Judged bool // it bounds friction, or decides the answer to a question
	Bounds bool // a requirement has it
	Placed bool // a point at which a force acts is placed by it
	Drawn  bool // another point or a mark is placed by it, or the figure drawn
}

// None reports whether the symbol is there for nothing.
func (u Use) None() bool { return u == Use{} }

// UseOf says what the symbol of a table index is there for, by itself or in
// the defined symbols that it is in.
func (s *Scenario) UseOf(index int) Use {
	u := s.ownUse(index)
	for _, d := range s.Defined {
		if d.Is == nil || !slices.Contains(notation.Symbols(d.Is), index) {
			continue
		}
		if _, unknown := s.Unknown(d.Symbol); unknown {
			u.Solved = true
			continue
		}
		v := s.UseOf(d.Index) // definitions have no circles
		u = Use{u.Solved || v.Solved, u.Judged || v.Judged, u.Bounds || v.Bounds, u.Placed || v.Placed, u.Drawn || v.Drawn}
	}
	return u
}

func (s *Scenario) ownUse(i int) Use {
	var u Use
	name := s.Table.Name(i)
	for _, r := range s.rows {
		for _, c := range r.Cells {
			u.Solved = u.Solved || c.Symbol == name || c.Coef.Uses(i) || c.Magnitude.Uses(i)
		}
	}
	u.Solved = u.Solved || s.system.Lo.Uses(i) || s.system.Hi.Uses(i)
	in := func(r requirement) bool {
		return slices.Contains(notation.Symbols(r.left), i) || slices.Contains(notation.Symbols(r.right), i)
	}
	u.Bounds = slices.ContainsFunc(s.requires, in)
	u.Judged = slices.ContainsFunc(s.contacts, func(c contact) bool { return c.mu == i })
	for _, a := range s.Asks {
		u.Judged = u.Judged || slices.ContainsFunc(a.Answers, func(a AskAnswer) bool { return in(a.when) })
	}
	for _, b := range s.Bodies {
		for _, p := range b.Points {
			if !slices.ContainsFunc(p.Chain, func(o statics.Offset) bool {
				return o.Len.Uses(i) || angleUses(o.Angle, i) || o.DX.Uses(i) || o.DY.Uses(i)
			}) {
				continue
			}
			if slices.ContainsFunc(b.Forces, func(f statics.Force) bool { return f.At == p.Name }) {
				u.Placed = true
			} else {
				u.Drawn = true
			}
		}
	}
	for _, d := range s.Figure {
		u.Drawn = u.Drawn || d.Radius.Uses(i) || d.Width.Uses(i) || d.Height.Uses(i) || angleUses(d.Angle, i) || angleUses(d.Span, i)
	}
	return u
}

func angleUses(a statics.Angle, i int) bool {
	return slices.ContainsFunc(a.Terms, func(t statics.AngleTerm) bool { return t.Index == i })
}
