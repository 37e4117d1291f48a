package grading

import (
	"math"
	"slices"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

const earlyFigures = "Right. Symbols carry further than numbers: put the numbers in at the end."

// numeric grades an answer that has numbers in place of symbols, at the
// problem's own givens: right within the rounding that its digits imply, and
// within the tolerance.
func (c *cell) numeric() (Verdict, bool) {
	g, t, bk := c.g, c.t, c.book()
	g.numbers(t)
	worst, implied, short := 0.0, 0.0, 0.0
	for _, v := range g.own {
		want := bk.right.term.Eval(v)
		if want == 0 {
			return Verdict{}, false
		}
		worst = max(worst, abs(t.value(v)-want)/abs(want))
		implied = max(implied, t.implied(v, false)/abs(want))
		short = max(short, t.implied(v, true)/abs(want))
	}
	if g.replaces(t, bk.right.term, c.like(&bk.right)) && c.founded() {
		if worst <= g.allowed(t, implied) {
			return remark(t.reads, earlyFigures), true
		}
		if len(t.digits) > 0 && (worst <= 1.05*short && short < 0.25 || worst <= g.nearly()) {
			return g.slipped(t.reads, "rounded-early", bk.right.entry), true
		}
	}
	v, ok := c.closest(bk.singles)
	if c.valueEarly() {
		w := v
		v, ok = g.slipped(t.reads, "value-early", bk.right.entry), true
		for _, code := range slices.Concat(w.Slips, w.Also) {
			v.addAlso(code)
		}
	}
	return v, ok
}

// allowed is the relative error that typed digits excuse: none where there is
// nothing rounded; else what they imply, at least a little for a last digit cut
// off rather than rounded, at most the tolerance.
func (g *Grader) allowed(t *typed, implied float64) float64 {
	if !t.rounds() {
		return exact
	}
	return min(max(1.05*implied, 0.002), g.tolerance)
}

// founded reports whether the answer vanishes with each of its symbols that
// the right entry vanishes with: T L sin(alpha) + 0.5 does not, and no number
// in it stands for a symbol.
func (c *cell) founded() bool {
	right := &c.book().right
	scale := abs(right.term.Eval(c.g.own[0]))
	for i := range c.g.p.Table.Len() {
		if !c.t.prog.Uses(i) {
			continue
		}
		v := slices.Clone(c.g.own[0])
		v[c.g.base(i)] = 0
		statics.Define(c.g.p.Definitions(), v)
		if abs(right.term.Eval(v)) > exact*scale {
			continue
		}
		if x := c.t.value(v); abs(x) > exact*scale {
			return false
		}
	}
	return true
}

// base is a symbol that symbol i is made from, or i itself.
func (g *Grader) base(i int) int {
	for _, d := range slices.Backward(g.p.Definitions()) {
		if made := notation.Symbols(d.Is); d.Index == i && len(made) > 0 {
			i = made[0]
		}
	}
	return i
}

// closure marks the symbols that occur in a sum, with what they are made from
// and what is made of them alone.
func (g *Grader) closure(s statics.Sum) []bool {
	in := make([]bool, g.p.Table.Len())
	for i := range in {
		in[i] = s.Uses(i)
	}
	for _, d := range slices.Backward(g.p.Definitions()) {
		if in[d.Index] {
			for _, i := range notation.Symbols(d.Is) {
				in[i] = true
			}
		}
	}
	for _, d := range g.p.Definitions() {
		in[d.Index] = in[d.Index] || !slices.ContainsFunc(notation.Symbols(d.Is), func(i int) bool { return !in[i] })
	}
	return in
}

// valueEarly reports whether the answer is the entry with the unknown's own
// value already in it.
func (c *cell) valueEarly() bool {
	g, e := c.g, &c.book().right.entry
	if unknown := e.Couple == nil && e.Force.Unknown || e.Couple != nil && e.Couple.Unknown; !unknown {
		return false
	}
	want := c.book().right.term.Eval(g.p.Values)
	for _, v := range g.own {
		if x := c.t.value(v); !near(x, want, abs(want), g.likeness()) || want == 0 {
			return false
		}
	}
	return true
}

// closest names the slips whose numbers come nearest to those typed, if near
// enough to be the same.
func (c *cell) closest(list []written) (Verdict, bool) {
	g, t := c.g, c.t
	own := make([]float64, len(g.own))
	implied := 0.0
	for k, v := range g.own {
		own[k] = t.value(v)
		if own[k] == 0 || math.IsNaN(own[k]) {
			return Verdict{}, false
		}
		implied = max(implied, t.implied(v, false)/abs(own[k]))
	}
	limit := 10 * exact
	if t.rounds() {
		limit = min(max(1.05*implied, 0.002), g.likeness())
	}
	best, at := limit, -1
	var near []int // all that are within what the digits leave open
	for i := range list {
		d := g.apart(own, &list[i], limit)
		if d > limit || !g.replaces(t, list[i].term, c.like(&list[i])) {
			continue
		}
		near = append(near, i)
		if at < 0 || d < best-exact {
			best, at = d, i
		}
	}
	if at < 0 {
		return Verdict{}, false
	}
	v := g.named(t.reads, list[at])
	for _, i := range near {
		if len(list[i].codes) == 1 {
			v.addAlso(list[i].codes[0])
		}
	}
	return v, true
}

// replaces reports whether an answer's numbers can stand for symbols of a term:
// it depends on no symbol that the term lacks, and lacks one that the term has,
// or has the value of a given in it. If it has decimals alone, they can only be
// factors, and everywhere must hold: whether it is as near the term at every
// other givens. Else a likeness in numbers is chance.
func (g *Grader) replaces(t *typed, term statics.Sum, everywhere func() bool) bool {
	in := g.closure(term)
	return g.dependsOnly(t, in) && (t.given || g.lacks(t, in) || (t.rounds() || t.decimals()) && everywhere())
}

// like reports whether the typed values are those of a slip, or of the right
// entry, within the tolerance at every state.
func (c *cell) like(w *written) func() bool {
	return func() bool {
		for k, x := range c.e {
			if !near(x, w.states[k], abs(w.states[k]), c.g.tolerance) {
				return false
			}
		}
		return true
	}
}

// dependsOnly reports whether no symbol but those marked makes a difference to
// the value.
func (g *Grader) dependsOnly(t *typed, in []bool) bool {
	for i, ok := range in {
		if ok || !t.prog.Uses(i) {
			continue
		}
		v := slices.Clone(g.own[0])
		before := t.value(v)
		v[i] *= 1.5
		statics.Define(g.p.Definitions(), v)
		if after := t.value(v); !near(before, after, t.size(v), exact) {
			return false
		}
	}
	return true
}

// lacks reports whether a given is marked, but neither it nor anything made from
// it is typed: a number may stand for it. None may stand for an unknown.
func (g *Grader) lacks(t *typed, in []bool) bool {
	typed := make([]bool, len(in))
	for i := range in {
		typed[i] = t.prog.Uses(i)
	}
	for _, d := range slices.Backward(g.p.Definitions()) {
		for _, i := range notation.Symbols(d.Is) {
			typed[i] = typed[i] || typed[d.Index]
		}
	}
	return slices.ContainsFunc(g.p.Givens, func(given problems.Given) bool { return in[given.Index] && !typed[given.Index] })
}

// apart is the largest relative difference from what a slip writes, or a value
// above limit.
func (g *Grader) apart(own []float64, w *written, limit float64) float64 {
	worst := 0.0
	for k, v := range g.own {
		x := w.term.Eval(v)
		worst = max(worst, abs(own[k]-x)/max(abs(x), abs(own[k])))
		if worst > limit {
			break
		}
	}
	return worst
}
