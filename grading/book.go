package grading

import (
	"slices"
	"sync"

	"steelyard/grading/slip"
	"steelyard/problems/statics"
)

// written is what one or two slips would have written in a cell.
type written struct {
	codes  []string
	rank   int // of the explanation: the lower, the simpler
	entry  slip.Entry
	first  *slip.Entry // of two slips, the entry with the first alone; nil of one
	term   statics.Sum
	states []float64 // term at shelf.states
	grid   []float64 // term at shelf.grid
}

// book is all that is known of one cell of one ledger.
type book struct {
	right   written
	singles []written // the simplest first

	once  sync.Once
	pairs []written // the simplest first
}

func (sh *shelf) write(e slip.Entry, rank int, codes ...string) written {
	term := e.Term()
	if sh.vanishes(term) {
		term = nil
	}
	return written{codes: codes, rank: rank, entry: e, term: term, states: evalAll(term, sh.states), grid: evalAll(term, sh.grid)}
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

func (sh *shelf) newBook(e slip.Entry) *book {
	bk := &book{right: sh.write(e, 0)}
	add := func(w written) {
		if !sameAt(w.states, bk.right.states) && !seen(bk.singles, w) {
			bk.singles = append(bk.singles, w)
		}
	}
	if bk.right.term.IsZero() {
		for _, edited := range uninvited(e) {
			add(sh.write(edited, 0, uninvitedCode(e.Row)))
		}
	}
	for rank, sl := range slip.Catalogue {
		if sl.Edit == nil {
			continue
		}
		for _, edited := range sl.Edit(e) {
			add(sh.write(edited, rank, sl.Code))
		}
	}
	sh.addOwn(e, add)
	return bk
}

// uninvitedCode names something where nothing belongs.
func uninvitedCode(row statics.RowKind) string {
	if row == statics.RowMoment {
		return "through-pivot"
	}
	return "no-component"
}

// uninvited are the entries one might give a force that has none in this row:
// its size, along an axis by itself or times a sine or cosine, about a pivot
// times a length or the arm about another point, either way round.
func uninvited(e slip.Entry) []slip.Entry {
	factors := []statics.Sum{statics.Const(1)}
	if e.Row == statics.RowMoment {
		for _, g := range e.Lengths() {
			factors = append(factors, g, g.Scale(0.5))
		}
		for _, p := range e.Body.Points {
			factors = append(factors, statics.Between(e.Frame.Pivot, p).Length(), statics.Between(p, e.At).Length())
			if e.Couple == nil {
				factors = append(factors, statics.Between(p, e.At).Arm(e.Force.Dir), statics.Between(e.Frame.Pivot, p).Arm(e.Force.Dir))
			}
		}
	} else {
		for _, g := range e.Problem.Givens {
			if e.Problem.Table.IsAngle(g.Index) {
				a := statics.Angle{Terms: []statics.AngleTerm{{Coef: 1, Index: g.Index, Name: g.Symbol}}}
				factors = append(factors, statics.Sin(a), statics.Cos(a))
			}
		}
	}
	var out []slip.Entry
	for _, f := range factors {
		if f.IsZero() {
			continue
		}
		for _, sign := range []float64{1, -1} {
			v := e
			v.Over, v.Arm = true, f.Scale(sign)
			out = append(out, v)
		}
	}
	return out
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
				for j, second := range slip.Catalogue[i+1:] {
					if second.Edit == nil || second.Code == "left-out" || !slip.Combine(first.Code, second.Code) {
						continue
					}
					for _, last := range second.Edit(mid) {
						w := sh.write(last, 2*i+j+1, first.Code, second.Code)
						w.first = &mid
						bk.add(w)
					}
				}
			}
		}
		slices.SortStableFunc(bk.pairs, func(a, b written) int { return a.rank - b.rank })
	})
	return bk.pairs
}

// add keeps a pair that writes what nothing simpler does.
func (bk *book) add(w written) {
	if w.term.IsZero() || sameAt(w.states, bk.right.states) {
		return
	}
	for i := range bk.singles {
		if sameAt(w.states, bk.singles[i].states) {
			return
		}
	}
	for i := range bk.pairs {
		if bk.pairs[i].states[0] == w.states[0] && sameAt(w.states, bk.pairs[i].states) {
			if w.rank < bk.pairs[i].rank {
				bk.pairs[i] = w
			}
			return
		}
	}
	bk.pairs = append(bk.pairs, w)
}
