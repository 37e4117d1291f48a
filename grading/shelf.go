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

// shelf holds what does not depend on a problem's numbers: the states at which
// a scenario's expressions are compared, and what each slip writes in each
// cell at those states.
type shelf struct {
	scenario *problems.Scenario
	states   [][]float64 // independent
	grid     [][]float64 // gridGivens x gridFree, row by row
	solved   [][]float64 // at the full solution for random givens

	mu    sync.Mutex
	books map[string]*book
}

var shelves sync.Map // *problems.Scenario -> func() *shelf

func shelfOf(s *problems.Scenario) *shelf {
	f, _ := shelves.LoadOrStore(s, sync.OnceValue(func() *shelf { return newShelf(s) }))
	return f.(func() *shelf)()
}

func newShelf(s *problems.Scenario) *shelf {
	sh := &shelf{scenario: s, books: map[string]*book{}}
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
	return sh
}

// written is what one or two slips would have written in a cell.
type written struct {
	codes  []string
	entry  slip.Entry
	term   statics.Sum
	states []float64 // term at shelf.states
	grid   []float64 // term at shelf.grid
}

// book is all that is known of one cell of one ledger.
type book struct {
	right   written
	singles []written

	once  sync.Once
	pairs []written
}

// bookOf finds or makes the book of entry i of a row; i counts the forces,
// then the couples.
func (sh *shelf) bookOf(b *statics.Body, i int, row statics.RowKind, fr statics.Frame) *book {
	var key strings.Builder
	for _, part := range []string{b.Name, string(row), fr.Pivot.Name, placeKey(fr)} {
		key.WriteString(part)
		key.WriteByte('|')
	}
	key.WriteByte(byte(i))
	sh.mu.Lock()
	defer sh.mu.Unlock()
	bk, ok := sh.books[key.String()]
	if !ok {
		bk = sh.newBook(entryOf(sh.scenario, b, i, row, fr))
		sh.books[key.String()] = bk
	}
	return bk
}

// placeKey tells frames apart beyond the pivot's name.
func placeKey(fr statics.Frame) string {
	var b strings.Builder
	if fr.Clockwise {
		b.WriteString("cw ")
	}
	x, y := statics.Between(statics.Point{}, fr.Pivot).XY()
	b.WriteString(x.Text(true) + "," + y.Text(true) + " ")
	b.WriteString(statics.Sin(fr.Tilt).Text(true))
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

func entryOf(s *problems.Scenario, b *statics.Body, i int, row statics.RowKind, fr statics.Frame) slip.Entry {
	if i < len(b.Forces) {
		return slip.ForForce(s, b, i, row, fr)
	}
	return slip.ForCouple(s, b, i-len(b.Forces), row, fr)
}

func (sh *shelf) write(e slip.Entry, codes ...string) written {
	term := e.Term()
	if sh.vanishes(term) {
		term = nil
	}
	return written{codes: codes, entry: e, term: term, states: evalAll(term, sh.states), grid: evalAll(term, sh.grid)}
}

// vanishes reports whether a sum is zero at every state though its terms are
// not: an identity that the algebra does not know.
func (sh *shelf) vanishes(s statics.Sum) bool {
	for _, v := range sh.states {
		if abs(s.Eval(v)) > exact*s.Size(v) {
			return false
		}
	}
	return true
}

func evalAll(s statics.Sum, states [][]float64) []float64 {
	out := make([]float64, len(states))
	for i, v := range states {
		out[i] = s.Eval(v)
	}
	return out
}

func (sh *shelf) newBook(e slip.Entry) *book {
	bk := &book{right: sh.write(e)}
	for _, sl := range slip.Catalogue {
		if sl.Edit == nil {
			continue
		}
		for _, edited := range sl.Edit(e) {
			w := sh.write(edited, sl.Code)
			if !sameAt(w.states, bk.right.states) && !seen(bk.singles, w) {
				bk.singles = append(bk.singles, w)
			}
		}
	}
	return bk
}

// seen reports whether the same slip has written the same already.
func seen(list []written, w written) bool {
	return slices.ContainsFunc(list, func(o written) bool {
		return slices.Equal(o.codes, w.codes) && sameAt(o.states, w.states)
	})
}

// twos are what pairs of slips would write, built when no single slip explains
// an answer.
func (sh *shelf) twos(bk *book) []written {
	bk.once.Do(func() {
		e := bk.right.entry
		for i, first := range slip.Catalogue {
			if first.Edit == nil || first.Code == "left-out" {
				continue
			}
			for _, mid := range first.Edit(e) {
				for _, second := range slip.Catalogue[i+1:] {
					if second.Edit == nil || second.Code == "left-out" {
						continue
					}
					for _, last := range second.Edit(mid) {
						bk.pairs = append(bk.pairs, sh.write(last, first.Code, second.Code))
					}
				}
			}
		}
	})
	return bk.pairs
}

const exact = 1e-9 // relative; what floating point leaves of equality

func near(a, b, size, tolerance float64) bool {
	d := a - b
	if d < 0 {
		d = -d
	}
	return d <= tolerance*size
}

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
