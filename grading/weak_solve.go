package grading

import (
	"iter"
	"math"
	"slices"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// limit finds a question of limits that has no answer at some draws, or not
// the same answer at all of them.
func (l *look) limit() {
	if l.s.Limit == nil {
		return
	}
	first := map[problems.Trend]string{} // answer -> the first draw that has it
	for _, p := range l.few() {
		trend, err := p.Trend()
		if err != nil {
			l.find("limit", Fault, "limit", "the question of limits has no answer: %v (with %s); mend toward or side, ask of another unknown, or take [limit] out", err, asGiven(p.Varying()))
			return
		}
		if _, seen := first[trend]; !seen {
			first[trend] = p.Varying()
		}
	}
	if len(first) < 2 {
		return
	}
	for _, a := range problems.Trends {
		for _, b := range problems.Trends[slices.Index(problems.Trends, a)+1:] {
			if first[a] != "" && first[b] != "" {
				l.find("limit", Note, "limit", "the answer to the question of limits differs from draw to draw: it %s with %s, and %s with %s; that may be meant, else narrow the ranges",
					a, asGiven(first[a]), b, asGiven(first[b]))
				return
			}
		}
	}
}

// asks finds a question whose answer is the same in every draw: who has met
// the scenario once need not think again.
func (l *look) asks() {
	for i, ask := range l.s.Asks {
		right := map[int]bool{}
		for _, p := range l.usable {
			if k, err := p.Answer(i); err == nil {
				right[k] = true
			}
		}
		if len(right) != 1 || len(l.usable) < 20 {
			continue
		}
		for k := range right {
			l.find(indexed("asks", i), Weak, "ask", "the answer is \"%s\" in every one of %d draws; widen the givens' ranges so that another is right now and then",
				notation.PrintableMax(ask.Answers[k].Text, 60), len(l.usable))
		}
	}
}

// unknowns finds unknowns that do not matter: zero in every draw, or the same
// as another, or one number whatever the givens. That no equation fixes one is
// found with the supports.
func (l *look) unknowns() {
	draws := l.few()
	if len(draws) < 10 {
		return // too few to say "always"
	}
	for i, u := range l.s.Unknowns {
		path := l.src.Unknown(u.Symbol)
		if every(draws, func(p *problems.Problem) bool { return abs(p.Values[u.Index]) <= exact*l.scale(p, u) }) {
			l.zero(path, u)
			continue
		}
		if u.Role != problems.Dependent && every(draws[1:], func(p *problems.Problem) bool { return l.same(p.Values[u.Index], draws[0].Values[u.Index]) }) {
			l.find(path, Weak, "unknown", "%s is the same number in every draw, whatever the givens; let it depend on one that varies", u.Symbol)
			continue
		}
		for _, o := range l.s.Unknowns[:i] {
			if notation.SameDim(o.Unit, u.Unit) && every(draws, func(p *problems.Problem) bool { return l.same(p.Values[u.Index], p.Values[o.Index]) }) {
				l.twins(path, o, u)
				break
			}
		}
	}
}

// zero tells of an unknown that is zero in every draw. That one of a pin's or a
// fixed end's parts vanishes can be worth finding; that a cable is slack, or a
// contact idle, is not.
func (l *look) zero(path string, u problems.Unknown) {
	for _, b := range l.s.Bodies {
		if i, ok := b.Force(u.Symbol); ok && (b.Forces[i].Kind == statics.Pin || b.Forces[i].Kind == statics.Fixing) {
			l.find(path, Note, "unknown", "%s is zero in every draw; that this part of the support vanishes may be meant, else let something push that way", u.Symbol)
			return
		}
	}
	l.find(path, Weak, "unknown", "%s is zero in every draw, so there is nothing to find; take it out with its support, or let something push that way", u.Symbol)
}

// twins tells of two unknowns that are the same in every draw. Where a sum
// holds these two alone, that they are equal is what there is to find.
func (l *look) twins(path string, o, u problems.Unknown) {
	for e := range rowsOfBodies(l.s) {
		var in []string
		for _, c := range e.Cells {
			if !c.Coef.IsZero() {
				in = append(in, c.Symbol)
			}
		}
		if len(in) == 2 && slices.Contains(in, o.Symbol) && slices.Contains(in, u.Symbol) {
			which := "the sum along " + string(e.Kind)
			if e.Kind == statics.RowMoment {
				which = "the moments about " + e.Pivot
			}
			l.find(path, Note, "unknown", "%s is the same as %s in every draw, for they alone are in %s; that may be meant", u.Symbol, o.Symbol, which)
			return
		}
	}
	l.find(path, Weak, "unknown", "%s is the same as %s in every draw; move a force or a point so that they differ, or leave one out", u.Symbol, o.Symbol)
}

// rowsOfBodies are the rows of every body, moments about each of its points.
func rowsOfBodies(s *problems.Scenario) iter.Seq[statics.Row] {
	return func(yield func(statics.Row) bool) {
		for i := range s.Bodies {
			b := &s.Bodies[i]
			for _, kind := range statics.Rows {
				for _, pivot := range pivots(b, kind) {
					if !yield(b.Row(kind, statics.Frame{Pivot: pivot})) {
						return
					}
				}
			}
		}
	}
}

func every(draws []*problems.Problem, is func(*problems.Problem) bool) bool {
	return !slices.ContainsFunc(draws, func(p *problems.Problem) bool { return !is(p) })
}

func (l *look) same(a, b float64) bool { return near(a, b, max(abs(a), abs(b)), 1e-9) }

// scale is the size beside which an unknown counts as zero: for a force or
// couple the largest term of any row, else 1e-3 of its unit.
func (l *look) scale(p *problems.Problem, u problems.Unknown) float64 {
	if u.Role != problems.Linear {
		return 1e-3 * u.Unit.Factor
	}
	size := 0.0
	for _, r := range p.Rows() {
		size = max(size, r.Sum().Size(p.Values))
	}
	return size
}

// givens finds givens that are there for nothing, or that change nothing that
// is found.
func (l *look) givens() {
	for _, g := range l.s.Givens {
		path := l.src.Given(g.Symbol)
		switch use := l.s.UseOf(g.Index); {
		case use.None():
			l.find(path, Weak, "given", "nothing uses %s: no force, point, definition or requirement; take it out, or use it", g.Symbol)
		case !use.Solved && !use.Judged && !use.Placed:
			l.find(path, Weak, "given", "%s only draws the figure or bounds draws, and changes nothing that is found; take it out, or use it in a force or where one acts", g.Symbol)
		case use.Judged, len(l.usable) == 0, !l.idle(g):
		case use.Solved:
			l.find(path, Note, "given", "%s changes no unknown: it cancels; that may be meant", g.Symbol)
		default:
			l.find(path, Note, "given", "%s changes no unknown: no arm needs it; that may be meant", g.Symbol)
		}
	}
}

// idle reports whether a small change of a given changes no unknown, at any of
// a few draws.
func (l *look) idle(g problems.Given) bool {
	moved := 0
	for _, p := range l.usable[:min(12, len(l.usable))] {
		v := slices.Clone(p.Values)
		v[g.Index] += 0.01 * max(abs(v[g.Index]), 0.01*g.Unit.Factor)
		if _, err := l.s.Solve(v); err != nil {
			continue
		}
		moved++
		for _, u := range l.s.Unknowns {
			if math.Abs(v[u.Index]-p.Values[u.Index]) > 1e-8*max(abs(p.Values[u.Index]), l.scale(p, u)) {
				return false
			}
		}
	}
	return moved > 0
}

// definings finds defined symbols that nothing uses.
func (l *look) definings() {
	for _, d := range l.s.Defined {
		if _, unknown := l.s.Unknown(d.Symbol); !unknown && l.s.UseOf(d.Index).None() {
			l.find(l.src.Defined(d.Symbol), Weak, "defined", "nothing uses %s; give it to a force as its symbol, or take it out", d.Symbol)
		}
	}
}
