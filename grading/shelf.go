package grading

import (
	"math/rand/v2"
	"slices"
	"strings"
	"sync"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/statics"
)

const (
	manyStates = 12 // a dozen independent states
	gridGivens = 4  // for whole equations: so many draws of the givens,
	gridFree   = 3  // each with so many draws of the unknowns
)

// maxKept bounds how many ledgers and sheets a scenario keeps. Places for a
// pivot are without number, so that the oldest are forgotten with the rest.
const maxKept = 2048

// shelf holds what does not depend on a problem's numbers: the states at which
// a scenario's expressions are compared, and what each slip writes in each
// cell at those states.
type shelf struct {
	scenario *problems.Scenario
	states   [][]float64 // independent
	grid     [][]float64 // gridGivens x gridFree, row by row
	solved   [][]float64 // at the full solution for random givens

	equations []ownEquation

	mu     sync.Mutex
	books  map[string]*book
	sheets map[string]*sheet
}

var shelves sync.Map // *problems.Scenario -> func() *shelf

func shelfOf(s *problems.Scenario) *shelf {
	f, _ := shelves.LoadOrStore(s, sync.OnceValue(func() *shelf { return newShelf(s) }))
	return f.(func() *shelf)()
}

// Forget lets go of what is kept of a scenario, a megabyte or so, to be made
// anew if it is met again. A program in which a learner goes from problem to
// problem calls it for those that are left; graders in use go on as they are.
func Forget(s *problems.Scenario) {
	shelves.Delete(s)
	rivals.Delete(s)
}

func newShelf(s *problems.Scenario) *shelf {
	sh := &shelf{scenario: s, books: map[string]*book{}, sheets: map[string]*sheet{}}
	rng := rand.New(rand.NewPCG(0x5eed, 0x57a7e5)) // fixed: the same line always gets the same verdict
	state := func() []float64 {
		v := make([]float64, s.Table.Len())
		s.Sample(rng, v)
		return v
	}
	for range manyStates {
		sh.states = append(sh.states, state())
	}
	for range gridGivens {
		v := state()
		for range gridFree {
			s.Free(rng, v)
			sh.grid = append(sh.grid, slices.Clone(v))
		}
	}
	for tries := 0; len(sh.solved) < 4 && tries < 400; tries++ {
		v := state()
		if _, err := s.Solve(v); err == nil {
			sh.solved = append(sh.solved, v)
		}
	}
	sh.equations = sh.ownEquations()
	return sh
}

// frameKey tells frames apart: the pivot's place, not its name alone.
func frameKey(fr statics.Frame) string {
	var b strings.Builder
	if fr.Clockwise {
		b.WriteString("cw ")
	}
	x, y := statics.Between(statics.Point{}, fr.Pivot).XY()
	b.WriteString(fr.Pivot.Name + " " + x.Text(true) + "," + y.Text(true) + " ")
	b.WriteString(statics.Sin(fr.Tilt).Text(true) + statics.Cos(fr.Tilt).Text(true))
	var names []string
	for s, r := range fr.Reversed {
		if r {
			names = append(names, s)
		}
	}
	slices.Sort(names)
	b.WriteString(" " + strings.Join(names, " "))
	return b.String()
}

// keep finds or makes what a map keeps under a key.
func keep[T any](mu *sync.Mutex, m map[string]T, key string, make func() T) T {
	mu.Lock()
	defer mu.Unlock()
	v, ok := m[key]
	if !ok {
		if len(m) >= maxKept {
			clear(m)
		}
		v = make()
		m[key] = v
	}
	return v
}

// ledger is the books of one row of a body, force by force, then couple by
// couple.
func (sh *shelf) ledger(b *statics.Body, row statics.RowKind, fr statics.Frame) []*book {
	key := b.Name + "|" + string(row) + "|" + frameKey(fr) + "|"
	out := make([]*book, len(b.Forces)+len(b.Couples))
	for i := range out {
		out[i] = sh.bookAt(key, b, i, row, fr)
	}
	return out
}

// bookOf finds or makes the book of entry i of a row; i counts the forces,
// then the couples.
func (sh *shelf) bookOf(b *statics.Body, i int, row statics.RowKind, fr statics.Frame) *book {
	return sh.bookAt(b.Name+"|"+string(row)+"|"+frameKey(fr)+"|", b, i, row, fr)
}

func (sh *shelf) bookAt(key string, b *statics.Body, i int, row statics.RowKind, fr statics.Frame) *book {
	return keep(&sh.mu, sh.books, key+string(rune('a'+i)), func() *book { return sh.newBook(entryOf(sh.scenario, b, i, row, fr)) })
}

func entryOf(s *problems.Scenario, b *statics.Body, i int, row statics.RowKind, fr statics.Frame) slip.Entry {
	if i < len(b.Forces) {
		return slip.ForForce(s, b, i, row, fr)
	}
	return slip.ForCouple(s, b, i-len(b.Forces), row, fr)
}

func evalAll(s statics.Sum, states [][]float64) []float64 {
	out := make([]float64, len(states))
	for i, v := range states {
		out[i] = s.Eval(v)
	}
	return out
}

const exact = 1e-9 // relative; two reference expressions so near are the same

func near(a, b, size, tolerance float64) bool { return abs(a-b) <= tolerance*size }

func sameAt(a, b []float64) bool {
	for i := range a {
		if !near(a[i], b[i], max(abs(a[i]), abs(b[i])), exact) {
			return false
		}
	}
	return true
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}
