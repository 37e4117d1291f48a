package grading

import (
	"slices"

	"steelyard/grading/slip"
	"steelyard/problems"
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
	e := &equation{g: g, t: t, row: row, sheet: g.sheetOf(row, g.frame)}
	v, err := e.grade()
	if err != nil {
		return *unreadable(err), nil
	}
	return g.either(v, func(p *Grader) (Verdict, error) { return p.Equation(row, answer) }), nil
}

// equation is one typed equation being graded.
type equation struct {
	g     *Grader
	t     *typed
	row   statics.RowKind
	sheet *ownSheet
}

func (e *equation) grade() (Verdict, error) {
	g, t, sh := e.g, e.t, e.sheet
	switch sense, err := e.sense(); {
	case err != nil:
		return Verdict{}, err
	case sense == none && sh.blank:
		return remark(t.reads, "No force has a part in this row, so it says that nothing is nothing. Go on to the next."), nil
	case sense == none:
		return e.slip("says-nothing", ""), nil
	case sense == lost:
		return t.tooCoarse(), nil
	}
	if sh.blank {
		return e.wrong("No force has a part in this row: there is nothing to add up but 0 = 0."), nil
	}
	switch holds, err := t.vanishes(sh.sheet.on); {
	case err != nil:
		return Verdict{}, err
	case holds && e.mixes():
		return e.slip("mixed-rows", ""), nil
	case holds && e.nothingHere():
		return e.slip("says-nothing", ""), nil
	case holds && e.extraFactor():
		return e.wrong(strayFactor), nil
	case holds:
		return right(t.reads), nil
	}
	numbers := t.hasNumbers()
	if numbers {
		g.numbers(t)
		if v, ok := e.numeric(); ok {
			return v, nil
		}
	}
	if g.usesUnknown(t) {
		if v, ok := e.another(numbers); ok {
			return v, nil
		}
	}
	if v, ok := e.broken(numbers); ok {
		return v, nil
	}
	return e.wrong("This is not the sum for " + RowName(e.row, g.frame) + ". Write it force by force in the ledger: each entry is then checked by itself."), nil
}

func (e *equation) wrong(message string) Verdict {
	return Verdict{Outcome: Wrong, ReadsAs: e.t.reads, Message: message}
}

func (e *equation) slip(code, given string) Verdict {
	return e.g.slipped(e.t.reads, code, slip.Entry{Problem: e.g.p.Scenario, Body: e.g.body, Row: e.row, Frame: e.g.frame, Given: given})
}

const (
	// nothing is how many times the bound on rounding a value may be and still
	// count as zero: the state may be off the row by its own rounding.
	nothing = 1e4
	// something is how many times it must be somewhere for a line to be read.
	something = 1e8
)

// vanishes reports whether the value is zero at every state.
func (t *typed) vanishes(states [][]float64) (bool, error) {
	for _, v := range states {
		d, err := t.prog.Eval(v)
		if err != nil {
			return false, err
		}
		if d != 0 && abs(d) > nothing*t.dust(v) {
			return false, nil
		}
	}
	return true, nil
}

// sense is whether an equation says anything.
type sense int

const (
	some sense = iota
	none       // true whatever the values are
	lost       // so much cancels that nothing can be told
)

func (e *equation) sense() (sense, error) {
	most := 0.0
	for _, v := range e.g.shelf.states {
		d, err := e.t.prog.Eval(v)
		if err != nil {
			return some, err
		}
		if d == 0 {
			continue
		}
		if most = max(most, abs(d)/e.t.dust(v)); most > something {
			return some, nil
		}
	}
	if most > nothing {
		return lost, nil
	}
	return none, nil
}

func (g *Grader) usesUnknown(t *typed) bool {
	return slices.ContainsFunc(g.p.LinearUnknowns(), t.prog.Uses) || g.p.Search() >= 0 && t.prog.Uses(g.p.Search())
}

// mixes reports whether an equation that holds on the row holds on another one
// too, so that it says less than the row: a product of both, say.
func (e *equation) mixes() bool {
	for _, sh := range e.g.otherSheets(e.row) {
		if holds, err := e.t.vanishes(sh.sheet.on); err == nil && holds && !e.sheet.same(sh) {
			return true
		}
	}
	return false
}

// same reports whether two rows are one: moments about two points of a line
// along which all that differs has no arm.
func (s *ownSheet) same(o *ownSheet) bool {
	for _, v := range o.sheet.on {
		if abs(s.sum.Eval(v)) > exact*s.sum.Size(v) {
			return false
		}
	}
	return true
}

// idle reports whether the equation is as good as true for any values: numbers
// that agree, with no bearing on the unknowns.
func (e *equation) idle(tolerance float64) bool {
	for _, v := range slices.Concat(e.g.own, e.sheet.off) {
		if worst, _ := e.residual([][]float64{v}); worst > 3*tolerance {
			return false
		}
	}
	return true
}

// numeric grades an equation that has numbers in place of symbols, at the
// problem's own givens.
func (e *equation) numeric() (Verdict, bool) {
	worst, implied := e.residual(e.sheet.on)
	if e.idle(e.g.allowed(e.t, implied)) || !e.g.replaces(e.t, e.sheet.sum, e.like(e.sheet)) {
		return e.early()
	}
	if worst <= e.g.allowed(e.t, implied) {
		return remark(e.t.reads, earlyFigures), true
	}
	if len(e.t.digits) > 0 && worst <= 1.05*implied && implied < 0.1 {
		return e.atEvery("rounded-early", "")
	}
	return e.early()
}

// like reports whether the equation is satisfied within half the tolerance
// wherever the row is, whatever the givens, and also where every force is next
// to nothing: a number of its own would stand out there.
func (e *equation) like(sh *ownSheet) func() bool {
	return func() bool {
		for _, v := range sh.sheet.on {
			small := slices.Clone(v)
			for _, i := range e.g.sizes() {
				small[i] *= 1e-6
			}
			statics.Define(e.g.p.Definitions(), small)
			if worst, _ := e.residual([][]float64{v, small}); worst > e.g.tolerance/2 {
				return false
			}
		}
		return true
	}
}

// sizes are symbols such that every force and couple is in proportion to one.
func (g *Grader) sizes() []int {
	out := slices.Clone(g.p.LinearUnknowns())
	for i := range g.count() {
		size := g.sizeOf(i)
		at := slices.IndexFunc(g.p.Givens, func(given problems.Given) bool { return size.Uses(given.Index) })
		if at >= 0 && !slices.Contains(out, g.p.Givens[at].Index) {
			out = append(out, g.p.Givens[at].Index)
		}
	}
	return out
}

// residual is how far, relative to half the size of its terms, the equation
// is from being satisfied at states, and what its digits imply.
func (e *equation) residual(states [][]float64) (worst, implied float64) {
	for _, v := range states {
		size := e.t.size(v) / 2
		if !(size > 0) {
			return 1, 0
		}
		d := e.t.value(v)
		if !(abs(d) <= size) {
			return 1, 0
		}
		worst, implied = max(worst, abs(d)/size), max(implied, e.t.implied(v, false)/size)
	}
	return worst, implied
}

// early finds the value of an unknown in the place of its symbol: what is left
// is the row, or the row turned about, with that value in it.
func (e *equation) early() (Verdict, bool) {
	g := e.g
	if len(e.t.digits) == 0 {
		return Verdict{}, false
	}
	missing := ""
	var at []int
	for _, u := range g.p.Unknowns {
		if e.sheet.sum.Uses(u.Index) && !e.t.prog.Uses(u.Index) {
			missing = notation.Display(u.Symbol, false)
			at = append(at, u.Index)
		}
	}
	for _, sign := range []float64{1, -1} {
		ok := missing != ""
		for _, v := range g.own {
			v = slices.Clone(v)
			for _, i := range at {
				v[i] = g.p.Values[i]
			}
			_, implied := e.residual([][]float64{v})
			ok = ok && near(e.t.value(v), sign*e.sheet.sum.Eval(v), e.t.size(v), max(e.g.allowed(e.t, implied), exact))
		}
		if !ok {
			continue
		}
		return e.atEvery("value-early", missing)
	}
	return Verdict{}, false
}

// atEvery names the slip that explains the line whatever the numbers are, with
// what explains it at these as possible too; that alone where there is no such
// slip.
func (e *equation) atEvery(here, given string) (Verdict, bool) {
	if tr := e.sheet.grid.try(e.valuesAt(e.g.shelf.grid), 1e-7); tr.usable() {
		if v, found := e.listed(tr.singles()); found {
			v.addAlso(here)
			return v, true
		}
	}
	return e.slip(here, given), true
}

// another recognises the right equation of another row, or of moments about
// another point.
func (e *equation) another(numbers bool) (Verdict, bool) {
	for _, sh := range e.g.otherSheets(e.row) {
		if holds, err := e.t.vanishes(sh.sheet.on); err == nil && holds {
			return e.slip("another-row", e.g.nameOf(sh)), true
		}
	}
	if !numbers {
		return Verdict{}, false
	}
	for _, sh := range e.g.otherSheets(e.row) {
		if worst, implied := e.residual(sh.on); worst <= e.g.allowed(e.t, implied) && e.g.replaces(e.t, sh.sum, e.like(sh)) {
			return e.slip("another-row", e.g.nameOf(sh)), true
		}
	}
	return Verdict{}, false
}

// nameOf names a row, and its body where that is not the one in hand.
func (g *Grader) nameOf(sh *ownSheet) string {
	name := RowName(sh.row, sh.frame)
	if sh.body.Name != g.body.Name {
		name += " on the " + sh.body.Name
	}
	return name
}

// broken looks for the entries whose slips turn the right row into the
// equation typed, up to a factor that does not depend on the unknowns.
func (e *equation) broken(numbers bool) (Verdict, bool) {
	g, sh := e.g, e.sheet
	symbols := sh.grid.try(e.valuesAt(g.shelf.grid), 1e-7)
	if v, ok := e.simple(symbols); ok {
		return v, true
	}
	if v, ok := e.own(symbols, g.shelf.grid); ok {
		return v, true
	}
	if v, ok := e.uninvited(); ok {
		return v, true
	}
	if holds, err := e.t.vanishes(g.shelf.solved); err == nil && holds && len(g.shelf.solved) > 0 {
		return e.slip("mixed-rows", ""), true
	}
	if v, ok := e.double(symbols, func(w *written) []float64 { return w.grid }); ok {
		return v, true
	}
	if !numbers {
		return Verdict{}, false
	}
	tolerance := 1e-7
	if e.t.rounds() {
		_, implied := e.residual(g.own)
		tolerance = min(max(1.05*implied, 0.002), g.likeness()/2)
	}
	own := sh.own(g).try(e.valuesAt(g.own), tolerance)
	if !e.t.given && !g.lacks(e.t, g.closure(sh.sum)) {
		return e.brought(own)
	}
	if v, ok := e.simple(own); ok {
		return v, true
	}
	if v, ok := e.own(own, g.own); ok {
		return v, true
	}
	return e.double(own, func(w *written) []float64 { return evalAll(w.term, g.own) })
}

// valuesAt is what the line comes to at each state.
func (e *equation) valuesAt(states [][]float64) []float64 {
	out := make([]float64, len(states))
	for k, v := range states {
		out[k] = e.t.value(v)
	}
	return out
}

// brought tries the slips that bring a number into a row with none of its own:
// a weight in the sum of the parts along x.
func (e *equation) brought(tr *trial) (Verdict, bool) {
	if !tr.usable() {
		return Verdict{}, false
	}
	found := slices.DeleteFunc(tr.singles(), func(c *change) bool { return !e.g.lacks(e.t, e.g.closure(c.w.term)) })
	return e.listed(found)
}

// simple tries every single slip in every entry, then one slip made in every
// entry that it can be made in.
func (e *equation) simple(tr *trial) (Verdict, bool) {
	if !tr.usable() {
		return Verdict{}, false
	}
	if v, ok := e.listed(tr.singles()); ok {
		return v, true
	}
	if c := tr.throughout(); c != nil {
		return e.g.named(e.t.reads, *c.w), true
	}
	return Verdict{}, false
}

// listed names the first of the slips found, and the others as possible.
func (e *equation) listed(found []*change) (Verdict, bool) {
	if len(found) == 0 {
		return Verdict{}, false
	}
	v := e.g.named(e.t.reads, *found[0].w)
	for _, c := range found[1:] {
		v.addAlso(c.w.codes[0])
	}
	return v, true
}

// double tries two entries with a slip each, then two slips in one entry.
func (e *equation) double(tr *trial, at func(*written) []float64) (Verdict, bool) {
	g := e.g
	if !tr.usable() {
		return Verdict{}, false
	}
	if a, b := tr.couples(); a != nil {
		v, w := g.named(e.t.reads, *a.w), g.named(e.t.reads, *b.w)
		v.Message = both(v.Message, w.Message)
		if !slices.Contains(v.Slips, w.Slips[0]) {
			v.Slips = append(slices.Clone(v.Slips), w.Slips...)
		}
		return v, true
	}
	tr.fillPairs(g.shelf, e.sheet.books, at)
	if w := tr.inOne(); w != nil {
		return g.named(e.t.reads, *w), true
	}
	return Verdict{}, false
}

// uninvited finds an unknown force that has no entry in this row but is in the
// equation, which would be right without it.
func (e *equation) uninvited() (Verdict, bool) {
	g := e.g
	for c, bk := range e.sheet.books {
		i, ok := g.p.Table.Index(g.symbolOf(c))
		if !ok || !bk.right.term.IsZero() || !e.t.prog.Uses(i) || !slices.Contains(g.p.LinearUnknowns(), i) {
			continue
		}
		var without [][]float64
		for _, v := range e.sheet.sheet.on {
			w := slices.Clone(v)
			w[i] = 0
			statics.Define(g.p.Definitions(), w)
			without = append(without, w)
		}
		if holds, err := e.t.vanishes(without); err == nil && holds {
			return g.slipped(e.t.reads, uninvitedCode(e.row), bk.right.entry), true
		}
	}
	return Verdict{}, false
}
