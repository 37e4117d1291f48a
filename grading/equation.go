package grading

import (
	"math"
	"slices"

	"steelyard/grading/slip"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Equation grades a whole equation for a row, however it is arranged: it is
// right if it holds wherever the row holds and fails where the row fails.
func (g *Grader) Equation(row statics.RowKind, answer string) (Verdict, error) {
	t, bad := g.equation(answer)
	if bad != nil {
		return *bad, nil
	}
	if v, ok := g.saysNothing(t); ok {
		return v, nil
	}
	sh := g.sheetOf(row, g.frame)
	if sh.blank {
		return Verdict{Outcome: Wrong, ReadsAs: t.reads, Message: "No force has a part in this row: there is nothing to write here, and 0 = 0 helps nobody. Go on to the next."}, nil
	}
	switch holds, err := g.holds(t, sh.on, exact); {
	case err != nil:
		return *unreadable(err), nil
	case holds:
		return right(t.reads), nil
	}
	if g.usesUnknown(t) {
		if v, ok := g.anotherRow(t, row); ok {
			return v, nil
		}
	}
	numbers := t.hasNumbers()
	if numbers {
		if v, ok := g.numericRow(t, sh); ok {
			return v, nil
		}
	}
	if v, ok := g.brokenRow(t, sh, numbers); ok {
		return v, nil
	}
	if holds, err := g.holds(t, g.shelf.solved, exact); err == nil && holds && len(g.shelf.solved) > 0 {
		return g.rowSlip(t, "mixed-rows", row, ""), nil
	}
	return Verdict{Outcome: Wrong, ReadsAs: t.reads, Message: "This is not the sum for " + RowName(row, g.frame) + ". Write it force by force in the ledger: each entry is then checked by itself."}, nil
}

func (g *Grader) rowSlip(t *typed, code string, row statics.RowKind, given string) Verdict {
	return g.slipped(t.reads, code, slip.Entry{Problem: g.p.Scenario, Body: g.body, Row: row, Frame: g.frame, Given: given})
}

// sheet is one row ready to test equations against.
type sheet struct {
	row   statics.RowKind
	books []*book
	sum   statics.Sum
	on    [][]float64 // random states made to satisfy the row
	ownOn [][]float64 // the same with the problem's own givens
	blank bool        // no entry: 0 = 0
}

func (g *Grader) sheetOf(row statics.RowKind, fr statics.Frame) *sheet {
	sh := &sheet{row: row, blank: true}
	for i := range g.count() {
		bk := g.shelf.bookOf(g.body, i, row, fr)
		sh.books = append(sh.books, bk)
		sh.sum = sh.sum.Plus(bk.right.term)
		sh.blank = sh.blank && bk.right.term.IsZero()
	}
	if !sh.blank {
		sh.on = g.onRow(sh.sum, g.shelf.states)
		sh.ownOn = g.onRow(sh.sum, g.own)
	}
	return sh
}

// onRow moves each state onto the row by solving the row for one symbol in
// which it is linear: an unknown if one occurs, else a given.
func (g *Grader) onRow(sum statics.Sum, states [][]float64) [][]float64 {
	tryThese := slices.Clone(g.p.LinearUnknowns())
	linear := len(tryThese)
	if z := g.p.Search(); z >= 0 {
		tryThese = append(tryThese, z)
	}
	for _, given := range g.p.Givens {
		tryThese = append(tryThese, given.Index)
	}
	var out [][]float64
	for k, v := range states {
		for n := range tryThese {
			i := tryThese[n]
			if n < linear { // take turns, so that no unknown is always the one moved
				i = tryThese[(n+k)%linear]
			}
			moved := slices.Clone(v)
			if g.solveFor(sum, i, moved) {
				out = append(out, moved)
				break
			}
		}
	}
	return out
}

// solveFor sets symbol i so that sum vanishes, if sum is linear in it.
func (g *Grader) solveFor(sum statics.Sum, i int, v []float64) bool {
	at := func(x float64) float64 {
		v[i] = x
		statics.Define(g.p.Definitions(), v)
		return sum.Eval(v)
	}
	x := v[i]
	if x == 0 {
		x = 1
	}
	f0, f1, f2 := at(0), at(x), at(2*x)
	slope := f1 - f0
	if math.IsNaN(f0) || math.Abs(slope) < exact*(math.Abs(f0)+math.Abs(f1)) || math.Abs(f2-f1-slope) > exact*(math.Abs(f1)+math.Abs(f2)) {
		return false
	}
	root := -f0 / slope * x
	r := at(root)
	return !math.IsNaN(r) && root != 0 && math.Abs(r) <= 1e-9*(math.Abs(f0)+math.Abs(f1))
}

// holds reports whether the equation is satisfied at every state, relative to
// the size of its terms.
func (g *Grader) holds(t *typed, states [][]float64, tolerance float64) (bool, error) {
	for _, v := range states {
		d, err := t.prog.Eval(v)
		if err != nil {
			return false, err
		}
		if abs(d) > tolerance*t.size(v) {
			return false, nil
		}
	}
	return true, nil
}

// saysNothing catches 0 = 0 and its disguises, and equations that do not
// depend on any state.
func (g *Grader) saysNothing(t *typed) (Verdict, bool) {
	holds, err := g.holds(t, g.shelf.states, exact)
	if err != nil {
		return *unreadable(err), true
	}
	if !holds {
		return Verdict{}, false
	}
	return g.rowSlip(t, "says-nothing", statics.RowMoment, ""), true
}

func (g *Grader) usesUnknown(t *typed) bool {
	for _, u := range g.p.Unknowns {
		if t.prog.Uses(u.Index) {
			return true
		}
	}
	return false
}

// anotherRow recognises the right equation of another row, or of moments about
// another point.
func (g *Grader) anotherRow(t *typed, row statics.RowKind) (Verdict, bool) {
	try := func(kind statics.RowKind, fr statics.Frame) (Verdict, bool) {
		sh := g.sheetOf(kind, fr)
		if sh.blank {
			return Verdict{}, false
		}
		if holds, err := g.holds(t, sh.on, exact); err == nil && holds {
			return g.rowSlip(t, "another-row", row, RowName(kind, fr)), true
		}
		return Verdict{}, false
	}
	for _, kind := range statics.Rows {
		if kind == row {
			continue
		}
		if v, ok := try(kind, g.frame); ok {
			return v, true
		}
	}
	if row != statics.RowMoment {
		return Verdict{}, false
	}
	for _, p := range g.body.Points {
		if p.Name == g.frame.Pivot.Name {
			continue
		}
		fr := g.frame
		fr.Pivot = p
		if v, ok := try(statics.RowMoment, fr); ok {
			return v, true
		}
	}
	return Verdict{}, false
}

// numericRow grades an equation that has numbers in place of symbols, at the
// problem's own givens.
func (g *Grader) numericRow(t *typed, sh *sheet) (Verdict, bool) {
	worst, implied := 0.0, 0.0
	for _, v := range sh.ownOn {
		d, err := t.prog.Eval(v)
		if err != nil {
			return *unreadable(err), true
		}
		size := t.size(v) / 2
		worst, implied = max(worst, abs(d)/size), max(implied, t.implied(v)/size)
	}
	if worst <= allowed(t, implied) {
		return remark(t.reads, earlyFigures), true
	}
	if t.hasDecimals() && worst <= 1.05*implied && implied < 0.1 {
		return g.rowSlip(t, "rounded-early", sh.row, ""), true
	}
	return Verdict{}, false
}

// brokenRow looks for the entries whose slips turn the right row into the
// equation typed, up to a factor that does not depend on the unknowns.
func (g *Grader) brokenRow(t *typed, sh *sheet, numbers bool) (Verdict, bool) {
	d, err := t.evalAll(g.shelf.grid)
	if err != nil {
		return *unreadable(err), true
	}
	sums := evalAll(sh.sum, g.shelf.grid)
	sym := &trial{d: d, groups: gridGivens, each: gridFree, tolerance: 1e-7}
	if v, ok := g.search(t, sh, sym, sums, func(w *written) []float64 { return w.grid }); ok {
		return v, true
	}
	if v, ok := g.uninvited(t, sh); ok {
		return v, true
	}
	if !numbers {
		return Verdict{}, false
	}
	own, err := t.evalAll(g.own)
	if err != nil {
		return *unreadable(err), true
	}
	num := &trial{d: own, groups: 1, each: len(g.own), tolerance: Tolerance / 2}
	if !t.hasDecimals() {
		num.tolerance = 1e-7
	}
	return g.search(t, sh, num, evalAll(sh.sum, g.own), func(w *written) []float64 { return evalAll(w.term, g.own) })
}

// trial is a typed equation's values on a grid: groups of states that share
// their givens.
type trial struct {
	d            []float64
	groups, each int
	tolerance    float64
}

// fits reports whether d is a multiple of row, the multiple being the same
// within each group, and how far off it is at the worst.
func (tr *trial) fits(row []float64) (float64, bool) {
	worst := 0.0
	for k := range tr.groups {
		d, r := tr.d[k*tr.each:(k+1)*tr.each], row[k*tr.each:(k+1)*tr.each]
		var dd, rr, dr float64
		for j := range d {
			dd, rr, dr = dd+d[j]*d[j], rr+r[j]*r[j], dr+d[j]*r[j]
		}
		if dd == 0 || rr == 0 {
			return 1, false
		}
		// sin² of the angle between the two as vectors, without cancellation
		// being mistaken for a fit.
		factor := dr / rr
		var off float64
		for j := range d {
			x := d[j] - factor*r[j]
			off += x * x
		}
		worst = max(worst, math.Sqrt(off/dd))
		if worst > tr.tolerance {
			return worst, false
		}
	}
	return worst, true
}

// search tries every single slip in every entry, then two entries with a
// slip each, then two slips in one entry.
func (g *Grader) search(t *typed, sh *sheet, tr *trial, sums []float64, at func(*written) []float64) (Verdict, bool) {
	if !varies(sums, tr) {
		return Verdict{}, false
	}
	type change struct {
		w     *written
		cell  int
		delta []float64
	}
	var changes []change
	row := make([]float64, len(sums))
	best, found := tr.tolerance, -1
	var also []string
	for c, bk := range sh.books {
		ref := at(&bk.right)
		for i := range bk.singles {
			w := &bk.singles[i]
			delta := slices.Clone(at(w))
			for k := range delta {
				delta[k] -= ref[k]
				row[k] = sums[k] + delta[k]
			}
			changes = append(changes, change{w, c, delta})
			off, ok := tr.fits(row)
			switch {
			case !ok || !varies(row, tr):
			case found < 0 || off < best/10:
				best, found, also = off, len(changes)-1, nil
			case off <= best+tr.tolerance/100:
				also = append(also, w.codes[0])
			}
		}
	}
	if found >= 0 {
		v := g.named(t.reads, *changes[found].w)
		for _, code := range also {
			if !slices.Contains(v.Slips, code) && !slices.Contains(v.Also, code) {
				v.Also = append(v.Also, code)
			}
		}
		return v, true
	}
	for i := range changes {
		for j := i + 1; j < len(changes); j++ {
			a, b := &changes[i], &changes[j]
			if a.cell == b.cell {
				continue
			}
			for k := range row {
				row[k] = sums[k] + a.delta[k] + b.delta[k]
			}
			if _, ok := tr.fits(row); ok && varies(row, tr) {
				v := g.named(t.reads, *a.w)
				w := g.named(t.reads, *b.w)
				v.Message += " Also: " + w.Message
				if !slices.Contains(v.Slips, w.Slips[0]) {
					v.Slips = append(slices.Clone(v.Slips), w.Slips...)
				}
				return v, true
			}
		}
	}
	for _, bk := range sh.books {
		ref := at(&bk.right)
		pairs := g.shelf.twos(bk)
		for i := range pairs {
			x := at(&pairs[i])
			for k := range row {
				row[k] = sums[k] - ref[k] + x[k]
			}
			if _, ok := tr.fits(row); ok && varies(row, tr) {
				return g.named(t.reads, pairs[i]), true
			}
		}
	}
	return Verdict{}, false
}

// varies reports whether a row depends on the unknowns: only then does being
// a multiple of it mean anything.
func varies(row []float64, tr *trial) bool {
	for k := range tr.groups {
		r := row[k*tr.each : (k+1)*tr.each]
		for _, x := range r[1:] {
			if !near(x, r[0], max(abs(x), abs(r[0])), 1e-6) {
				return true
			}
		}
	}
	return false
}

// uninvited finds an unknown force that has no entry in this row but is in the
// equation, which would be right without it.
func (g *Grader) uninvited(t *typed, sh *sheet) (Verdict, bool) {
	for c, bk := range sh.books {
		i, ok := g.p.Table.Index(g.symbolOf(c))
		if !ok || !bk.right.term.IsZero() || !t.prog.Uses(i) || !slices.Contains(g.p.LinearUnknowns(), i) {
			continue
		}
		ok = true
		for _, v := range sh.on {
			w := slices.Clone(v)
			w[i] = 0
			statics.Define(g.p.Definitions(), w)
			d, err := t.prog.Eval(w)
			if err != nil || abs(d) > exact*t.size(w) {
				ok = false
				break
			}
		}
		if !ok {
			continue
		}
		code := "no-component"
		if sh.row == statics.RowMoment {
			code = "through-pivot"
		}
		return g.slipped(t.reads, code, bk.right.entry), true
	}
	return Verdict{}, false
}

// Row is the reference row in the learner's frame, written as a textbook does.
func (g *Grader) Row(row statics.RowKind, ascii bool) string {
	return g.body.Row(row, g.frame).Text(ascii, g.p.Values)
}

// Blank reports whether no force has an entry in a row, so that there is
// nothing to write.
func (g *Grader) Blank(row statics.RowKind) bool {
	for _, c := range g.body.Row(row, g.frame).Cells {
		if !c.Coef.IsZero() {
			return false
		}
	}
	return true
}

// Sum reads the entries typed for a row as one line: what the ledger's column
// adds up to.
func Sum(entries []notation.Node, ascii bool) string {
	line := ""
	for _, n := range entries {
		if x, ok := n.(*notation.Number); ok && x.Value == 0 {
			continue
		}
		line = statics.JoinTerms(line, notation.ReadBack(n, ascii), ascii)
	}
	if line == "" {
		line = "0"
	}
	return line + " = 0"
}
