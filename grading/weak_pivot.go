package grading

import (
	"slices"
	"strconv"
	"strings"

	"steelyard/problems/statics"
)

func indexed(list string, i int) string { return list + "." + strconv.Itoa(i) }

// pivots finds bodies whose moments teach nothing, or that give the choice of
// the pivot away.
//
// A moment row is empty about a point that every force on the body passes
// through. It is trivial about a point when it asks the learner for no arm: of
// the unknowns one alone is left in it, and that one and everything beside it
// have the same arm, so that the arm cancels and the row says no more than a
// sum of forces would (T L - W L = 0); or it holds nothing but couples. Arms
// that differ, if only by a number (R L - W L/2 = 0), are not trivial: they
// have to be found.
//
// Of a body whose forces all meet in one point, as those on a ring or a block do,
// little is said unless the scenario claims to exercise moments.
func (l *look) pivots() {
	for i := range l.s.Bodies {
		b := &l.s.Bodies[i]
		points, rows := momentRows(b)
		empty := slices.IndexFunc(rows, func(cells []statics.Cell) bool { return len(cells) == 0 })
		if empty >= 0 {
			l.concurrent(b, points[empty].Name, empty == 0 && len(rows) > 1, slices.ContainsFunc(rows, func(cells []statics.Cell) bool { return len(cells) > 0 }))
			continue
		}
		var about []string
		for k, cells := range rows {
			if trivial(b, cells) {
				about = append(about, points[k].Name)
			}
		}
		if len(about) > 0 {
			l.find(l.src.Point(b.Name, about[0]), Weak, "pivot",
				"about %s the moment row of the %s needs no arm: one unknown is left in it, with the same arm as all beside it; let a force act elsewhere", strings.Join(about, ", "), b.Name)
		}
	}
}

// concurrent tells of a body whose forces all pass through one point; turns is
// whether they have moments about another.
func (l *look) concurrent(b *statics.Body, point string, first, turns bool) {
	claims := slices.ContainsFunc(l.s.Skills, func(skill string) bool { return skill == "pivot" || skill == "arm" })
	switch {
	case !turns && claims && len(l.s.Bodies) == 1:
		l.find("skills", Weak, "pivot", "every force on the %s passes through %s, so its moments say nothing; take pivot and arm out of skills, or let a force act elsewhere", b.Name, point)
	case !turns:
	case first && claims:
		l.find(l.src.Point(b.Name, point), Weak, "pivot",
			"the moments about %s, the first point of the %s, are empty, for every force passes through it; name another point first: moments are taken there unless one is chosen", point, b.Name)
	default:
		l.find(l.src.Point(b.Name, point), Note, "pivot", "the moments about %s are empty, for every force on the %s passes through it; make it a mark, unless the trap is meant", point, b.Name)
	}
}

// momentRows are, for each point of the body that is no mark, the entries that
// do not vanish about it.
func momentRows(b *statics.Body) (points []statics.Point, rows [][]statics.Cell) {
	for _, p := range pivots(b, statics.RowMoment) {
		var cells []statics.Cell
		for _, c := range b.Row(statics.RowMoment, statics.Frame{Pivot: p}).Cells {
			if !c.Coef.IsZero() {
				cells = append(cells, c)
			}
		}
		points, rows = append(points, p), append(rows, cells)
	}
	return points, rows
}

func trivial(b *statics.Body, cells []statics.Cell) bool {
	if len(cells) < 2 {
		return false
	}
	unknowns := 0
	for _, c := range cells {
		if unknownOn(b, c.Symbol) {
			unknowns++
		}
		if !c.Coef.Equal(cells[0].Coef) && !c.Coef.Equal(cells[0].Coef.Scale(-1)) {
			return false
		}
	}
	return unknowns == 1
}

func unknownOn(b *statics.Body, symbol string) bool {
	if i, ok := b.Force(symbol); ok {
		return b.Forces[i].Unknown
	}
	i := slices.IndexFunc(b.Couples, func(c statics.Couple) bool { return c.Symbol == symbol })
	return i >= 0 && b.Couples[i].Unknown
}
