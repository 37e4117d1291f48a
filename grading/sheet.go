package grading

import (
	"math"
	"slices"
	"strings"
	"sync"

	"steelyard/problems/statics"
)

// sheet is one row ready to test equations against. It does not depend on a
// problem's numbers.
type sheet struct {
	body  *statics.Body
	row   statics.RowKind
	frame statics.Frame
	books []*book
	sum   statics.Sum
	blank bool        // no entry: 0 = 0
	on    [][]float64 // random states made to satisfy the row
	off   [][]float64 // the same with the symbol that was moved moved on, to either side of the row
	grid  broken
}

// broken is what a row's entries and every slip in them come to at the states
// of a grid.
type broken struct {
	groups, each int // groups of states that share their givens
	sums         []float64
	refs         [][]float64 // of each entry
	changes      []change

	once  sync.Once
	pairs []pairChange
}

// change is one slip in one entry: what it adds to the row.
type change struct {
	w     *written
	cell  int
	delta []float64
}

// pairChange is two slips in one entry.
type pairChange struct {
	w     *written
	delta []float64
}

func (sh *shelf) sheet(b *statics.Body, row statics.RowKind, fr statics.Frame) *sheet {
	key := b.Name + "|" + string(row) + "|" + frameKey(fr)
	sh.mu.Lock()
	s, ok := sh.sheets[key]
	sh.mu.Unlock()
	if ok {
		return s
	}
	s = sh.newSheet(b, row, fr) // two at once may both make it; either serves
	return keep(&sh.mu, sh.sheets, key, func() *sheet { return s })
}

func (sh *shelf) newSheet(b *statics.Body, row statics.RowKind, fr statics.Frame) *sheet {
	s := &sheet{body: b, row: row, frame: fr, blank: true, books: sh.ledger(b, row, fr)}
	for _, bk := range s.books {
		s.sum = s.sum.Plus(bk.right.term)
		s.blank = s.blank && bk.right.term.IsZero()
	}
	if s.blank {
		return s
	}
	s.on, s.off = sh.onRow(s.sum, sh.states)
	s.grid = broken{groups: gridGivens, each: gridFree, sums: evalAll(s.sum, sh.grid)}
	s.grid.fill(s.books, func(w *written) []float64 { return w.grid })
	return s
}

// fill finds what every slip in every entry adds.
func (br *broken) fill(books []*book, at func(*written) []float64) {
	for c, bk := range books {
		ref := at(&bk.right)
		br.refs = append(br.refs, ref)
		for i := range bk.singles {
			w := &bk.singles[i]
			br.changes = append(br.changes, change{w, c, minus(at(w), ref)})
		}
	}
	slices.SortStableFunc(br.changes, func(a, b change) int { return a.w.rank - b.w.rank })
}

// fillPairs is fill for two slips in one entry.
func (br *broken) fillPairs(sh *shelf, books []*book, at func(*written) []float64) {
	br.once.Do(func() {
		for c, bk := range books {
			pairs := sh.twos(bk)
			for i := range pairs {
				br.pairs = append(br.pairs, pairChange{&pairs[i], minus(at(&pairs[i]), br.refs[c])})
			}
		}
		slices.SortStableFunc(br.pairs, func(a, b pairChange) int { return a.w.rank - b.w.rank })
	})
}

func minus(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for k := range a {
		out[k] = a[k] - b[k]
	}
	return out
}

// onRow moves each state onto the row by solving the row for one symbol in
// which it is linear: an unknown if one occurs, else a given. For each there
// are two more, with that symbol a fifth less and a fifth more. Only where
// nothing else will do is an unknown made zero by its row, as H is by H = 0; the
// two more then have a fifth of what it was before.
func (sh *shelf) onRow(sum statics.Sum, states [][]float64) (on, off [][]float64) {
	tryThese := slices.Clone(sh.scenario.LinearUnknowns())
	linear := len(tryThese)
	if z := sh.scenario.Search(); z >= 0 {
		tryThese = append(tryThese, z)
	}
	for _, given := range sh.scenario.Givens {
		tryThese = append(tryThese, given.Index)
	}
	for k, v := range states {
		i, moved := -1, []float64(nil)
		for n := range tryThese {
			at := tryThese[n]
			if n < linear { // take turns, so that no unknown is always the one moved
				at = tryThese[(n+k)%linear]
			}
			w := slices.Clone(v)
			if !sh.solveFor(sum, at, w) || w[at] == 0 && (n >= linear || i >= 0) {
				continue
			}
			i, moved = at, w
			if w[at] != 0 {
				break
			}
		}
		if i < 0 {
			continue
		}
		step := 0.2 * moved[i]
		if step == 0 { // H = 0: the row leaves nothing to scale
			step = 0.2 * v[i]
		}
		on = append(on, moved)
		off = append(off, sh.with(moved, i, moved[i]-step), sh.with(moved, i, moved[i]+step))
	}
	return on, off
}

// with is a state with one symbol given another value.
func (sh *shelf) with(v []float64, i int, x float64) []float64 {
	out := slices.Clone(v)
	out[i] = x
	statics.Define(sh.scenario.Definitions(), out)
	return out
}

// solveFor sets symbol i so that sum vanishes, if sum is linear in it.
func (sh *shelf) solveFor(sum statics.Sum, i int, v []float64) bool {
	at := func(x float64) float64 {
		v[i] = x
		statics.Define(sh.scenario.Definitions(), v)
		return sum.Eval(v)
	}
	x := v[i]
	if x == 0 {
		x = 1
	}
	f0, f1, f2 := at(0), at(x), at(2*x)
	slope := f1 - f0
	if math.IsNaN(f0) || abs(slope) < exact*(abs(f0)+abs(f1)) || abs(f2-f1-slope) > exact*(abs(f1)+abs(f2)) {
		return false
	}
	root := -f0 / slope * x
	r := at(root)
	return !math.IsNaN(r) && abs(r) <= exact*(abs(f0)+abs(f1))
}

// ownSheet is a sheet at a problem's own givens.
type ownSheet struct {
	*sheet
	on  [][]float64
	off [][]float64

	once   sync.Once
	broken broken
}

// ledger is the books of a row in the learner's frame.
func (g *Grader) ledger(row statics.RowKind) []*book {
	g.mu.Lock()
	defer g.mu.Unlock()
	l, ok := g.ledgers[row]
	if !ok {
		l = g.shelf.ledger(g.body, row, g.frame)
		g.ledgers[row] = l
	}
	return l
}

// sheetOf is the sheet of a row in the learner's frame, or about another
// point.
func (g *Grader) sheetOf(row statics.RowKind, fr statics.Frame) *ownSheet {
	return g.sheetOn(g.body, row, fr)
}

// sheetOn is the sheet of a row of any body.
func (g *Grader) sheetOn(b *statics.Body, row statics.RowKind, fr statics.Frame) *ownSheet {
	key := sheetKey{b.Name, row, fr.Pivot.Name}
	g.mu.Lock()
	defer g.mu.Unlock()
	s, ok := g.sheets[key]
	if !ok {
		s = &ownSheet{sheet: g.shelf.sheet(b, row, fr)}
		if !s.blank {
			s.on, s.off = g.shelf.onRow(s.sum, g.own)
		}
		g.sheets[key] = s
	}
	return s
}

// sheetKey tells a grader's sheets apart: they differ in body, row and pivot
// alone.
type sheetKey struct {
	body  string
	row   statics.RowKind
	pivot string
}

// about is the learner's frame with another pivot.
func (g *Grader) about(pivot statics.Point) statics.Frame {
	fr := g.frame
	fr.Pivot = pivot
	return fr
}

// own is what slips come to at the problem's own givens.
func (s *ownSheet) own(g *Grader) *broken {
	s.once.Do(func() {
		s.broken = broken{groups: 1, each: len(g.own), sums: evalAll(s.sum, g.own)}
		s.broken.fill(s.books, func(w *written) []float64 { return evalAll(w.term, g.own) })
	})
	return &s.broken
}

// otherSheets are the other rows, and moments about the body's other points;
// then the rows of the other bodies.
func (g *Grader) otherSheets(row statics.RowKind) []*ownSheet {
	var out []*ownSheet
	for _, kind := range statics.Rows {
		if kind != row {
			out = append(out, g.sheetOf(kind, g.frame))
		}
	}
	for _, p := range g.body.Points {
		if !strings.EqualFold(p.Name, g.frame.Pivot.Name) {
			fr := g.frame
			fr.Pivot = p
			out = append(out, g.sheetOf(statics.RowMoment, fr))
		}
	}
	for i := range g.p.Bodies {
		b := &g.p.Bodies[i]
		if b.Name == g.body.Name {
			continue
		}
		for _, kind := range []statics.RowKind{statics.RowX, statics.RowY} {
			out = append(out, g.sheetOn(b, kind, g.about(b.Points[0])))
		}
		for _, p := range b.Points {
			out = append(out, g.sheetOn(b, statics.RowMoment, g.about(p)))
		}
	}
	return slices.DeleteFunc(out, func(s *ownSheet) bool { return s.blank })
}
