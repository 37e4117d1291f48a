package review

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"steelyard/problems"
)

// regrader grades again what the logs say was typed.
//
// A verdict depends on the problem and on the learner's choices up to then
// (see walk), so each session is walked through. What was graded once is not
// graded again: answers are kept by problem, choices, line and text, and those
// whose verdict cannot depend on the problem's numbers by scenario.
type regrader struct {
	bank *problems.Bank
	st   *store

	regraded int
	gone     map[uint32]*NotInBank // by text of the problem

	mu    sync.Mutex // guards the store's slip sets, and what follows
	found []Altered
}

func newRegrader(bank *problems.Bank, st *store) *regrader {
	return &regrader{bank: bank, st: st, gone: map[uint32]*NotInBank{}}
}

// batch is some sessions at one problem.
type batch struct {
	instance uint32
	sessions []uint32
}

// maxBatch bounds a batch, so that one problem's sessions are shared out too.
const maxBatch = 512

func (g *regrader) batches() []batch {
	by := map[uint32]*batch{}
	var out []*batch
	for i := range g.st.sessions {
		at := g.st.sessions[i].instance
		b := by[at]
		if b == nil || len(b.sessions) == maxBatch {
			b = &batch{instance: at}
			by[at] = b
			out = append(out, b)
		}
		b.sessions = append(b.sessions, uint32(i))
	}
	list := make([]batch, len(out))
	for i, b := range out {
		list[i] = *b
	}
	// A scenario's problems one after another, that a worker may use again
	// what it found for one.
	slices.SortStableFunc(list, func(a, b batch) int {
		return cmp.Compare(g.st.places.list[a.instance].problem, g.st.places.list[b.instance].problem)
	})
	return list
}

// run grades every session, on all processors.
func (g *regrader) run(ctx context.Context, progress func(Stage, int64, int64)) error {
	list := g.batches()
	var next, done atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			w := newWorker(g)
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(list) {
					break
				}
				w.batch(list[i])
				n := done.Add(int64(len(list[i].sessions)))
				if progress != nil {
					g.mu.Lock()
					progress(Grading, n, int64(len(g.st.sessions)))
					g.mu.Unlock()
				}
			}
			g.mu.Lock()
			defer g.mu.Unlock()
			g.regraded += w.regraded
		})
	}
	wait.Wait()
	return ctx.Err()
}

// intern numbers a slip set while workers run.
func (g *regrader) intern(codes []string) uint32 {
	if len(codes) == 0 {
		return 0
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.st.sets.add(strings.Join(codes, " "))
}

// lost notes that a problem cannot be graded.
func (g *regrader) lost(problem uint32, events int, reason string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	n := g.gone[problem]
	if n == nil {
		n = &NotInBank{Problem: g.st.str(problem), Reason: reason}
		g.gone[problem] = n
	}
	n.Reason = min(n.Reason, reason)
	n.Events += events
}

func (g *regrader) missing() []NotInBank {
	var out []NotInBank
	for _, n := range g.gone {
		out = append(out, *n)
	}
	slices.SortFunc(out, func(a, b NotInBank) int { return cmp.Compare(a.Problem, b.Problem) })
	return out
}

func (g *regrader) altered() []Altered {
	slices.SortFunc(g.found, func(a, b Altered) int {
		return cmp.Or(cmp.Compare(b.Lines, a.Lines), cmp.Compare(a.Learner, b.Learner), cmp.Compare(a.Session, b.Session), cmp.Compare(a.Problem, b.Problem))
	})
	return g.found
}
