package grading

import (
	"sync"

	"steelyard/problems"
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
// [Margin] away from the right one.
func Discriminates(p *problems.Problem) bool {
	f, _ := rivals.LoadOrStore(p.Scenario, sync.OnceValue(func() []rival { return rivalsOf(p.Scenario) }))
	for _, r := range f.(func() []rival)() {
		want, got := r.right.Eval(p.Values), r.wrong.Eval(p.Values)
		if abs(got-want) < Margin*max(abs(want), abs(got)) {
			return false
		}
	}
	return true
}

func rivalsOf(s *problems.Scenario) []rival {
	sh := shelfOf(s)
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
