package grading

import (
	"fmt"
	"slices"

	"steelyard/grading/slip"
	"steelyard/problems/notation"
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
	bk := g.shelf.bookOf(g.body, i, row, g.frame)
	if g.matches(t, e, bk.right.states) {
		return right(t.reads), nil
	}
	if v, ok := g.single(t, e, bk); ok {
		return v, nil
	}
	var own []float64
	if t.hasNumbers() {
		if own, err = t.evalAll(g.own); err != nil {
			return *unreadable(err), nil
		}
		if v, ok := g.numeric(t, own, bk); ok {
			return v, nil
		}
	}
	if v, ok := g.odd(t, e, own, i, bk); ok {
		return v, nil
	}
	if v, ok := g.pair(t, e, own, bk); ok {
		return v, nil
	}
	return Verdict{Outcome: Wrong, ReadsAs: t.reads, Message: slip.Unknown(bk.right.entry)}, nil
}

// matches compares typed values with wanted ones, relative to the size of the
// terms they were made from.
func (g *Grader) matches(t *typed, got, want []float64) bool {
	for k, v := range g.shelf.states {
		d := abs(got[k] - want[k])
		if d == 0 {
			continue
		}
		if size := max(abs(got[k]), abs(want[k])); d > exact*size && d > exact*max(size, t.size(v)) {
			return false
		}
	}
	return true
}

// single looks for slips that alone would have written this. The simplest is
// named; others that write the same are listed beside it.
func (g *Grader) single(t *typed, e []float64, bk *book) (Verdict, bool) {
	var v Verdict
	for _, w := range bk.singles {
		if !g.matches(t, e, w.states) {
			continue
		}
		switch {
		case v.Outcome == "":
			v = g.named(t.reads, w)
		case !slices.Contains(v.Slips, w.codes[0]) && !slices.Contains(v.Also, w.codes[0]):
			v.Also = append(v.Also, w.codes[0])
		}
	}
	return v, v.Outcome != ""
}

const earlyFigures = "Right. Symbols carry further than numbers: put the numbers in at the end."

// numeric grades an answer that has numbers in place of symbols, at the
// problem's own givens: right within the rounding that its digits imply, and
// within the tolerance.
func (g *Grader) numeric(t *typed, own []float64, bk *book) (Verdict, bool) {
	ref := evalAll(bk.right.term, g.own)
	worst, implied := 0.0, 0.0
	for k, v := range g.own {
		size := max(abs(ref[k]), exact*t.size(v))
		if size == 0 {
			size = 1
		}
		worst = max(worst, abs(own[k]-ref[k])/size)
		implied = max(implied, t.implied(v)/size)
	}
	if worst <= allowed(t, implied) {
		return remark(t.reads, earlyFigures), true
	}
	if t.hasDecimals() && (worst <= 1.05*implied && implied < 0.25 || worst <= 2*Tolerance) {
		return g.slipped(t.reads, "rounded-early", bk.right.entry), true
	}
	if bk.right.entry.Couple == nil && bk.right.entry.Force.Unknown || bk.right.entry.Couple != nil && bk.right.entry.Couple.Unknown {
		if g.valueEarly(t, own, bk) {
			return g.slipped(t.reads, "value-early", bk.right.entry), true
		}
	}
	if w, ok := g.closest(t, own, bk.singles); ok {
		return g.named(t.reads, w), true
	}
	return Verdict{}, false
}

// allowed is the relative error that typed digits excuse: none for whole
// numbers; for decimals what they imply, at least a little for a last digit
// cut off rather than rounded, at most the tolerance.
func allowed(t *typed, implied float64) float64 {
	if !t.hasDecimals() {
		return exact
	}
	return min(max(1.05*implied, 0.002), Tolerance)
}

// closest is the slip whose numbers come nearest to those typed, if near
// enough to be the same.
func (g *Grader) closest(t *typed, own []float64, list []written) (written, bool) {
	best, at := Tolerance, -1
	if !t.hasDecimals() {
		best = 10 * exact
	}
	for i, w := range list {
		if d := g.apart(own, w, best); d < best {
			best, at = d, i
		}
	}
	if at < 0 {
		return written{}, false
	}
	return list[at], true
}

// apart is the largest relative difference from what a slip writes, or a value
// above limit.
func (g *Grader) apart(own []float64, w written, limit float64) float64 {
	worst := 0.0
	for k, v := range g.own {
		x := w.term.Eval(v)
		size := max(abs(x), abs(own[k]))
		if size == 0 {
			continue
		}
		worst = max(worst, abs(own[k]-x)/size)
		if worst >= limit {
			break
		}
	}
	return worst
}

// valueEarly reports whether the answer is the entry with the unknown's own
// value already in it.
func (g *Grader) valueEarly(t *typed, own []float64, bk *book) bool {
	want := bk.right.term.Eval(g.p.Values)
	for k := range own {
		if !near(own[k], want, abs(want), Tolerance) || want == 0 {
			return false
		}
	}
	return true
}

// odd finds the slips that no single edited entry writes: something where
// nothing belongs, or another force in this entry.
func (g *Grader) odd(t *typed, e, own []float64, i int, bk *book) (Verdict, bool) {
	if other, ok := g.otherForce(t, i); ok {
		entry := bk.right.entry
		entry.Given = notation.Display(other, false)
		return g.slipped(t.reads, "other-force", entry), true
	}
	if bk.right.term.IsZero() && !allZero(e) {
		code := "no-component"
		if bk.right.entry.Row == statics.RowMoment {
			code = "through-pivot"
		}
		return g.slipped(t.reads, code, bk.right.entry), true
	}
	return Verdict{}, false
}

func allZero(e []float64) bool {
	return !slices.ContainsFunc(e, func(v float64) bool { return v != 0 })
}

// otherForce finds an unknown force, not this entry's, that the answer depends
// on. What the entry's own size depends on (f = mu N) is its own.
func (g *Grader) otherForce(t *typed, i int) (string, bool) {
	mine := g.sizeOf(i)
	for j := range g.count() {
		s := g.symbolOf(j)
		at, ok := g.p.Table.Index(s)
		if j == i || !ok || !t.prog.Uses(at) || mine.Uses(at) {
			continue
		}
		v := slices.Clone(g.shelf.states[0])
		before, err1 := t.prog.Eval(v)
		v[at] *= 1.5
		after, err2 := t.prog.Eval(v)
		if err1 == nil && err2 == nil && !near(before, after, t.size(v), exact) && !g.defines(i, at) {
			return s, true
		}
	}
	return "", false
}

// defines reports whether entry i's symbol is defined from symbol at.
func (g *Grader) defines(i, at int) bool {
	mine, _ := g.p.Table.Index(g.symbolOf(i))
	for _, d := range g.p.Definitions() {
		if d.Index == mine && slices.Contains(notation.Symbols(d.Is), at) {
			return true
		}
	}
	return false
}

func (g *Grader) count() int { return len(g.body.Forces) + len(g.body.Couples) }

func (g *Grader) symbolOf(i int) string {
	if i < len(g.body.Forces) {
		return g.body.Forces[i].Symbol
	}
	return g.body.Couples[i-len(g.body.Forces)].Symbol
}

func (g *Grader) sizeOf(i int) statics.Sum {
	if i < len(g.body.Forces) {
		return g.body.Forces[i].Magnitude
	}
	return g.body.Couples[i-len(g.body.Forces)].Magnitude
}

// pair looks for two slips that together would have written this.
func (g *Grader) pair(t *typed, e, own []float64, bk *book) (Verdict, bool) {
	pairs := g.shelf.twos(bk)
	for _, w := range pairs {
		if g.matches(t, e, w.states) {
			return g.named(t.reads, w), true
		}
	}
	if own != nil {
		if w, ok := g.closest(t, own, pairs); ok {
			return g.named(t.reads, w), true
		}
	}
	return Verdict{}, false
}

// Line is the right entry as a textbook writes it, for the third depth of
// hint.
func (g *Grader) Line(row statics.RowKind, force string, ascii bool) (string, error) {
	i, err := g.entry(force)
	if err != nil {
		return "", err
	}
	e := g.shelf.bookOf(g.body, i, row, g.frame).right.entry
	return statics.ProductText(e.Size, e.Coef(), ascii, g.p.Values), nil
}

// Entry is the right entry of a force in a row.
func (g *Grader) Entry(row statics.RowKind, force string) (slip.Entry, error) {
	i, err := g.entry(force)
	if err != nil {
		return slip.Entry{}, err
	}
	return entryOf(g.p.Scenario, g.body, i, row, g.frame), nil
}

var rowNames = map[statics.RowKind]string{statics.RowX: "the x axis", statics.RowY: "the y axis", statics.RowMoment: "moments about %s"}

// RowName says which sum a row is, in words.
func RowName(row statics.RowKind, fr statics.Frame) string {
	if row == statics.RowMoment {
		return fmt.Sprintf(rowNames[row], fr.Pivot.Name)
	}
	return rowNames[row]
}
