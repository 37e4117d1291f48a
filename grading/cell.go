package grading

import (
	"fmt"
	"slices"

	"steelyard/grading/slip"
	"steelyard/problems/statics"
)

// Cell grades one entry of the ledger: what a force adds to a row. The force
// is named by its symbol, or by its size.
func (g *Grader) Cell(row statics.RowKind, force, answer string) (Verdict, error) {
	i, err := g.entry(force)
	if err != nil {
		return Verdict{}, err
	}
	t, bad := g.expression(answer)
	if bad != nil {
		return *bad, nil
	}
	e, err := t.evalAll(g.shelf.states)
	if err != nil {
		return *unreadable(err), nil
	}
	c := &cell{g: g, t: t, i: i, row: row, ledger: g.ledger(row), e: e}
	return g.either(c.grade(), func(p *Grader) (Verdict, error) { return p.Cell(row, force, answer) }), nil
}

// cell is one typed entry being graded.
type cell struct {
	g      *Grader
	t      *typed
	i      int
	row    statics.RowKind
	ledger []*book
	e      []float64 // the typed value at each of the shelf's states
	dusts  []float64 // what rounding can have done to it, found when asked for
}

func (c *cell) book() *book { return c.ledger[c.i] }

func (c *cell) grade() Verdict {
	bk := c.book()
	same := c.matches(bk.right.states)
	switch exactly := c.dusts == nil; {
	case same && exactly:
		return right(c.t.reads)
	case c.coarse():
		return c.t.tooCoarse()
	case same:
		return right(c.t.reads)
	}
	if bk.right.term.IsZero() {
		return c.uninvited()
	}
	if v, ok := c.single(); ok {
		return v
	}
	if c.t.hasNumbers() {
		if v, ok := c.numeric(); ok {
			return v
		}
	}
	if v, ok := c.foreign(); ok {
		return v
	}
	if v, ok := c.pair(); ok {
		return v
	}
	return Verdict{Outcome: Wrong, ReadsAs: c.t.reads, Message: slip.Unknown(bk.right.entry)}
}

const (
	// equal is how far apart, relative, two values may be and still be the
	// same: floating point leaves less of a dozen operations.
	equal = 1e-12
	// dustFactor is the room left around a bound on rounding.
	dustFactor = 64
)

// matches reports whether the typed values are the wanted ones at every state.
func (c *cell) matches(want []float64) bool {
	for k, got := range c.e {
		d := abs(got - want[k])
		if d <= equal*max(abs(got), abs(want[k])) {
			continue
		}
		if d > dustFactor*c.dust(k) {
			return false
		}
	}
	return true
}

func (c *cell) dust(k int) float64 {
	if c.dusts == nil {
		c.dusts = make([]float64, len(c.e))
		for j, v := range c.g.shelf.states {
			c.dusts[j] = c.t.dust(v)
		}
	}
	return c.dusts[k]
}

// coarse reports whether so much cancels in the line that what is left could
// be anything.
func (c *cell) coarse() bool {
	right := &c.book().right
	for k, v := range c.g.shelf.states {
		scale := max(abs(right.states[k]), abs(right.entry.Size.Eval(v)))
		if dustFactor*c.dust(k) > 1e-6*scale {
			return true
		}
	}
	return false
}

// single looks for slips that alone would have written this. The simplest is
// named; others that write the same are listed beside it.
func (c *cell) single() (Verdict, bool) {
	var v Verdict
	singles := c.book().singles
	for k := range singles {
		if w := &singles[k]; c.matches(w.states) {
			if v.Outcome == "" {
				v = c.g.named(c.t.reads, *w)
			} else {
				v.addAlso(w.codes[0])
			}
		}
	}
	return v, v.Outcome != ""
}

// pair looks for two slips that together would have written this.
func (c *cell) pair() (Verdict, bool) {
	pairs := c.g.shelf.twos(c.book())
	for k := range pairs {
		if c.matches(pairs[k].states) {
			return c.g.named(c.t.reads, pairs[k]), true
		}
	}
	if c.t.hasNumbers() {
		return c.closest(pairs)
	}
	return Verdict{}, false
}

// uninvited is the verdict on something where nothing belongs.
func (c *cell) uninvited() Verdict {
	if v, ok := c.foreign(); ok {
		return v
	}
	v := c.g.slipped(c.t.reads, uninvitedCode(c.row), c.book().right.entry)
	if w, ok := c.single(); ok {
		for _, code := range slices.Concat(w.Slips, w.Also) {
			v.addAlso(code)
		}
	}
	return v
}

// foreign finds another force in this entry: beside the right one, in its
// place, or an unknown that does not belong.
func (c *cell) foreign() (Verdict, bool) {
	symbol, ok := c.otherEntries()
	if !ok {
		symbol, ok = c.otherUnknown()
	}
	if !ok {
		return Verdict{}, false
	}
	entry := c.book().right.entry
	entry.Given = symbol
	return c.g.slipped(c.t.reads, "other-force", entry), true
}

// otherEntries reports whether the answer is the sum of other forces' entries,
// with this one's or without, and names one of them.
func (c *cell) otherEntries() (string, bool) {
	own := c.book().right.states
	var others []int
	for j, bk := range c.ledger {
		if j != c.i && !bk.right.term.IsZero() && len(others) < 6 {
			others = append(others, j)
		}
	}
	sum := make([]float64, len(c.e))
	for set := 1; set < 1<<len(others); set++ {
		clear(sum)
		for bit, j := range others {
			if set>>bit&1 == 1 {
				for k, x := range c.ledger[j].right.states {
					sum[k] += x
				}
			}
		}
		for _, with := range []float64{1, 0} {
			if c.are(sum, own, 1, with) || c.are(sum, own, -1, with) {
				for bit, j := range others {
					if set>>bit&1 == 1 {
						return c.g.show(j), true
					}
				}
			}
		}
	}
	return "", false
}

// are reports whether the typed values are a sum + b own.
func (c *cell) are(sum, own []float64, a, b float64) bool {
	for k, got := range c.e {
		want := a*sum[k] + b*own[k]
		if !near(got, want, abs(got)+abs(sum[k])+abs(own[k]), exact) {
			return false
		}
	}
	return true
}

// otherUnknown finds an unknown force, not this entry's, that the answer
// depends on. What the entry's own size depends on (f = mu N) is its own.
func (c *cell) otherUnknown() (string, bool) {
	g := c.g
	mine := g.closure(g.sizeOf(c.i))
	for j := range g.count() {
		at, ok := g.p.Table.Index(g.symbolOf(j))
		if j == c.i || !ok || mine[at] || !c.t.prog.Uses(at) {
			continue
		}
		v := slices.Clone(g.shelf.states[0])
		before := c.t.value(v)
		v[at] *= 1.5
		statics.Define(g.p.Definitions(), v)
		if after := c.t.value(v); !near(before, after, abs(before)+abs(after), exact) {
			return g.show(j), true
		}
	}
	return "", false
}

// Line is the right entry as a textbook writes it, for the third depth of
// hint.
func (g *Grader) Line(row statics.RowKind, force string, ascii bool) (string, error) {
	i, err := g.entry(force)
	if err != nil {
		return "", err
	}
	e := g.ledger(row)[i].right.entry
	return statics.ProductText(e.Size, e.Coef(), ascii, g.p.Values), nil
}

// Entry is the right entry of a force in a row.
func (g *Grader) Entry(row statics.RowKind, force string) (slip.Entry, error) {
	i, err := g.entry(force)
	if err != nil {
		return slip.Entry{}, err
	}
	return g.ledger(row)[i].right.entry, nil
}

var rowNames = map[statics.RowKind]string{statics.RowX: "the x axis", statics.RowY: "the y axis", statics.RowMoment: "moments about %s"}

// RowName says which sum a row is, in words.
func RowName(row statics.RowKind, fr statics.Frame) string {
	if row == statics.RowMoment {
		return fmt.Sprintf(rowNames[row], fr.Pivot.Name)
	}
	return rowNames[row]
}
