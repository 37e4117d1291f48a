package grading

import (
	"math"
	"sync"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Margin is how far, relative to the right one, the result of every slip that
// applies must be in a problem that is drawn.
const Margin = 0.03

// Draw makes a problem of a scenario in which slips can be told from the right
// line by their numbers alone.
func Draw(s *problems.Scenario, seed uint64) (*problems.Problem, error) {
	return s.Draw(seed, Discriminates)
}

// rival is an entry with what a slip would have written in its place.
type rival struct{ right, wrong statics.Sum }

var rivals sync.Map // *problems.Scenario -> func() []rival

// Discriminates reports whether, at the problem's numbers, every slip that
// applies to an entry, about any point of the body, gives a result at least
// [Margin] away from the right one, and whether the givens are numbers that no
// line holds for another reason.
func Discriminates(p *problems.Problem) bool {
	if plainNumbers(p) {
		return false
	}
	f, _ := rivals.LoadOrStore(p.Scenario, sync.OnceValue(func() []rival { return rivalsOf(p.Scenario) }))
	for _, r := range f.(func() []rival)() {
		want, got := r.right.Eval(p.Values), r.wrong.Eval(p.Values)
		if abs(got-want) < Margin*max(abs(want), abs(got)) {
			return false
		}
	}
	for _, o := range shelfOf(p.Scenario).equations {
		if o.nearlyHolds(p.Values, Margin) {
			return false
		}
	}
	return true
}

// plainNumbers reports whether a drawn given is a number that lines are written
// with anyway: a length of 2, whose line could as well have counted a force
// twice, or an angle of 60 degrees, whose cosine is one half. With such a
// given a line with two slips may be right in numbers.
func plainNumbers(p *problems.Problem) bool {
	for _, g := range p.Givens {
		if g.Constant() {
			continue
		}
		v := p.Values[g.Index]
		if p.Table.IsAngle(g.Index) {
			if halves(math.Sin(v)) || halves(math.Cos(v)) || halves(math.Tan(v)) {
				return true
			}
		} else if notation.SameDim(g.Unit, metre) && halves(v) {
			return true
		}
	}
	return false
}

var metre = func() notation.Unit { u, _ := notation.ParseUnit("m"); return u }()

// halves reports whether v is a half, 1, 2 or 4, or a quarter: what doubling
// and halving make of 1.
func halves(v float64) bool {
	for _, k := range []float64{0.25, 0.5, 1, 2, 4} {
		if near(abs(v), k, k, exact) {
			return true
		}
	}
	return false
}

func rivalsOf(s *problems.Scenario) []rival {
	sh := newShelf(s) // let go of again: a learner takes one pivot of all these
	var out []rival
	seen := map[string]bool{}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		for j := range len(b.Forces) + len(b.Couples) {
			for _, row := range statics.Rows {
				for _, pivot := range pivots(b, row) {
					bk := sh.bookOf(b, j, row, statics.Frame{Pivot: pivot})
					if bk.right.term.IsZero() {
						continue
					}
					for _, w := range bk.singles {
						key := bk.right.term.Text(true) + "|" + w.term.Text(true)
						if fixedRatio[w.codes[0]] || seen[key] || sh.alwaysSame(bk.right.term, w.term) {
							continue
						}
						seen[key] = true
						out = append(out, rival{bk.right.term, w.term})
					}
				}
			}
		}
	}
	return out
}

// alwaysSame reports whether two terms agree at every solution, whatever the
// givens, so that no draw could tell them apart: a floor that carries all the
// weight does carry all the weight. Such a slip shows in the line, not in the
// result.
func (sh *shelf) alwaysSame(a, b statics.Sum) bool {
	for _, v := range sh.solved {
		x, y := a.Eval(v), b.Eval(v)
		if !near(x, y, max(abs(x), abs(y)), 1e-7) {
			return false
		}
	}
	return len(sh.solved) > 0
}

// fixedRatio are the slips whose result is the right one times a number that
// no draw can bring near 1.
var fixedRatio = map[string]bool{
	"sense-reversed": true, "friction-reversed": true, "left-out": true, "unit-prefix": true, "mass-for-weight": true,
}

// pivots are the points moments may be taken about; for a force row any one
// will do.
func pivots(b *statics.Body, row statics.RowKind) []statics.Point {
	if row != statics.RowMoment {
		return b.Points[:1]
	}
	var out []statics.Point
	for _, p := range b.Points {
		if !p.Mark {
			out = append(out, p)
		}
	}
	return out
}
