package grading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// System grades a set of whole equations as the setup of the body, or of all
// bodies where there are several and none was chosen: right if each holds
// wherever all the rows hold, and together they fix as many
// unknowns as the rows do. A line may be any row, about any point, or a
// combination of rows. A definition ("f = mu N") and 0 = 0 for a row without
// forces may stand among them, and count for nothing.
//
// The error is of a choice of senses that leaves the rows without a solution.
func (g *Grader) System(equations []string) (Verdict, error) {
	if len(equations) > MaxListed {
		return Verdict{Outcome: Unreadable, At: 1, Message: fmt.Sprintf("That is %d lines; a body has three independent equations. Write each once.", len(equations))}, nil
	}
	s := &system{g: g, rows: g.candidates()}
	if err := s.solve(); err != nil {
		return Verdict{}, err
	}
	var reads []string
	read := map[string]line{} // a line written twice is judged once
	for i, text := range equations {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		l, twice := read[text]
		if l.n = i + 1; !twice {
			var bad *Verdict
			if l, bad = s.read(i+1, text); bad != nil {
				return *bad, nil
			}
			read[text] = l
		}
		reads = append(reads, l.t.reads)
		s.lines = append(s.lines, l)
	}
	if len(s.lines) == 0 {
		return Verdict{Outcome: Unreadable, At: 1, Message: "Write the equations one a line: sums along an axis, or moments about a point, each set equal to 0."}, nil
	}
	v := s.grade()
	v.ReadsAs = strings.Join(reads, "; ")
	return v, nil
}

// system is a set of equations being graded.
type system struct {
	g    *Grader
	rows []candidate

	vars  []int       // the unknowns that the rows are solved for
	basis []candidate // the rows of the learner's own frame that have entries
	sol   [][]float64 // full solutions, at the problem's own givens and then at random ones
	need  int         // how many equations fix what the rows can

	lines []line
}

// candidate is a row that an equation may be meant for.
type candidate struct {
	g     *Grader // whose frame it is in
	basic bool    // of a body by itself, in the learner's own frame
	row   statics.RowKind
	sheet *ownSheet
}

// of is an equation taken for that row.
func (c candidate) of(t *typed) *equation { return &equation{g: c.g, t: t, row: c.row, sheet: c.sheet} }

// line is one equation of a set, read and judged by itself.
type line struct {
	n       int // its number, from 1
	t       *typed
	is      []candidate // the rows that it is, if it is a row
	idle    bool        // a definition, or 0 = 0 where there is nothing to add
	verdict Verdict
	slope   func([]float64) float64 // what has the line's slopes
}

// candidates are the rows in the learner's frame, and moments about the
// body's other points.
func (g *Grader) candidates() []candidate {
	var out []candidate
	for _, row := range statics.Rows {
		out = append(out, candidate{g, true, row, g.sheetOf(row, g.frame)})
	}
	out = append(out, g.moments(g.frame.Pivot.Name)...)
	for i := range g.p.Bodies {
		b := &g.p.Bodies[i]
		if !g.all || b.Name == g.body.Name {
			continue
		}
		on := g.on(b, b.Points[0])
		for _, row := range statics.Rows {
			out = append(out, candidate{on, !b.Whole(), row, on.sheetOf(row, on.frame)})
		}
		out = append(out, on.moments(b.Points[0].Name)...)
	}
	return slices.DeleteFunc(out, func(c candidate) bool { return c.sheet.blank })
}

// moments are the moment rows about the body's points but one.
func (g *Grader) moments(but string) []candidate {
	var out []candidate
	for _, p := range g.body.Points {
		if !strings.EqualFold(p.Name, but) {
			about := g.on(g.body, p)
			out = append(out, candidate{about, false, statics.RowMoment, about.sheetOf(statics.RowMoment, about.frame)})
		}
	}
	return out
}

// on is a grader of a body about a point, for the same choices.
func (g *Grader) on(b *statics.Body, pivot statics.Point) *Grader {
	return &Grader{p: g.p, body: b, frame: g.about(pivot), shelf: g.shelf, own: g.own, tolerance: g.tolerance,
		ledgers: map[statics.RowKind][]*book{}, sheets: map[sheetKey]*ownSheet{}}
}

// read reads line n and judges it by itself; what cannot be read comes back
// as the verdict on the whole.
func (s *system) read(n int, text string) (line, *Verdict) {
	of := func(v Verdict) *Verdict {
		v.Message = fmt.Sprintf("Line %d: %s", n, v.Message)
		return &v
	}
	t, bad := s.g.equation(text)
	if bad != nil {
		return line{}, of(*bad)
	}
	l := line{n: n, t: t, slope: t.value}
	e := &equation{g: s.g, t: t, row: statics.RowMoment, sheet: s.g.sheetOf(statics.RowMoment, s.g.frame)}
	what, err := e.sense()
	switch {
	case err != nil:
		return line{}, of(*unreadable(err))
	case what == lost:
		return line{}, of(t.tooCoarse())
	case what == none && (s.defines(t) || len(s.basis) < len(statics.Rows) && !s.g.usesUnknown(t)):
		l.idle, l.verdict = true, right(t.reads)
		return l, nil
	case what == none:
		l.verdict = e.slip("says-nothing", "")
		return l, nil
	}
	if t.hasNumbers() {
		s.g.numbers(t)
	}
	if err := s.judge(&l); err != nil {
		return line{}, of(*unreadable(err))
	}
	return l, nil
}

// defines reports whether an equation that is always true says how a symbol is
// defined: it fails where that symbol alone has another value.
func (s *system) defines(t *typed) bool {
	for _, u := range s.g.p.Definitions() {
		v := slices.Clone(s.sol[0])
		v[u.Index] *= 1.5
		if abs(t.value(v)) > exact*t.size(v) {
			return true
		}
	}
	return false
}

// judge finds whether a line holds wherever all rows hold, and if not, what
// Equation says of it as the row that it is nearest to.
func (s *system) judge(l *line) error {
	holds, err := l.t.vanishes(s.sol)
	if err != nil {
		return err
	}
	if holds && s.combines(l.t) {
		for _, c := range s.rows {
			if on, err := l.t.vanishes(c.sheet.sheet.on); err != nil || !on {
				continue
			}
			if e := c.of(l.t); e.extraFactor() {
				l.verdict = e.wrong(strayFactor)
				return nil
			}
			l.is = append(l.is, c)
		}
		l.verdict = right(l.t.reads)
		return nil
	}
	if holds { // true at the answer, but level there: a row's square, or a product of rows
		for _, c := range s.rows {
			e := c.of(l.t)
			if v, err := e.grade(); err == nil && v.Outcome == Right {
				l.is, l.verdict, l.slope = []candidate{c}, v, c.sheet.sum.Eval
				return nil
			}
		}
		c := s.nearest(l.t)
		e := c.of(l.t)
		if l.verdict = e.slip("mixed-rows", ""); e.nothingHere() {
			l.verdict = e.slip("says-nothing", "")
		}
		return nil
	}
	for _, c := range s.rows {
		v, err := c.of(l.t).grade()
		switch {
		case err != nil:
			return err
		case v.Earned() && len(l.is) == 0:
			l.verdict = v
			fallthrough
		case v.Earned():
			l.is = append(l.is, c)
		case len(l.is) == 0 && (l.verdict.Outcome == "" || plainer(v, l.verdict)):
			l.verdict = v
		}
	}
	if len(l.is) > 0 {
		return nil
	}
	switch c := s.nearest(l.t); {
	case s.isValue(l.t):
		l.verdict = c.g.slipped(l.t.reads, "value-early", slip.Entry{Given: s.names(l.t.prog.Uses)})
	case explained(l.verdict) && said(l.verdict) == 1:
	case s.combinesNumbers(l.t):
		l.verdict = remark(l.t.reads, earlyFigures)
	case len(l.verdict.Slips) == 0:
		l.verdict.Message = "This is not the sum for " + RowName(c.row, c.g.frame) + ", nor another. Write it force by force in the ledger: each entry is then checked by itself."
	}
	return nil
}

// explained reports whether a slip is named that no right line could show.
func explained(v Verdict) bool {
	return slices.ContainsFunc(v.Slips, func(code string) bool {
		return code != "mixed-rows" && code != "value-early"
	})
}

// plainer reports whether a diagnosis is simpler than another: fewer slips, of
// those that say what is wrong with an entry, and the simpler ones.
func plainer(a, b Verdict) bool {
	x, y := explained(a), explained(b)
	if !x && !y {
		return len(a.Slips) > len(b.Slips)
	}
	at := func(v Verdict) int {
		return slices.IndexFunc(slip.Catalogue, func(s slip.Slip) bool { return s.Code == v.Slips[0] })
	}
	return x && (!y || cmp.Or(cmp.Compare(said(a), said(b)), cmp.Compare(at(a), at(b))) < 0)
}

// said is how many slips a verdict tells of, the same one twice counted twice.
func said(v Verdict) int { return max(len(v.Slips), 1+strings.Count(v.Message, " Also: ")) }

// names lists the unknowns marked, as they are shown: "T, H and V".
func (s *system) names(in func(int) bool) string {
	var out []string
	for _, i := range s.vars {
		if in(i) {
			out = append(out, notation.Display(s.g.p.Table.Name(i), false))
		}
	}
	return listed(out)
}

// listed joins words: "A, B and C".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// grade says whether the lines, each judged, are together a setup.
func (s *system) grade() Verdict {
	var wrong, counted []line
	v := Verdict{Outcome: Right}
	for _, l := range s.lines {
		switch {
		case !l.verdict.Earned():
			wrong = append(wrong, l)
		case !l.idle:
			counted = append(counted, l)
		}
		if l.verdict.Outcome == Remarked {
			v = l.verdict
		}
	}
	if len(wrong) > 0 {
		return s.diagnosed(wrong)
	}
	if why := s.together(counted); why.Outcome != "" {
		return why
	}
	return v
}

// diagnosed names each wrong line, and says of the first two what Equation
// says of them.
func (s *system) diagnosed(wrong []line) Verdict {
	v := Verdict{Outcome: Wrong}
	var parts, rest []string
	for i, l := range wrong {
		for _, code := range l.verdict.Slips {
			if !slices.Contains(v.Slips, code) {
				v.Slips = append(v.Slips, code)
			}
		}
		if i < 2 {
			parts = append(parts, fmt.Sprintf("Line %d: %s", l.n, l.verdict.Message))
		} else {
			rest = append(rest, fmt.Sprint(l.n))
		}
	}
	for _, l := range wrong {
		for _, code := range l.verdict.Also {
			v.addAlso(code)
		}
	}
	v.Message = both(parts...)
	switch len(rest) {
	case 0:
	case 1:
		v.Message += fmt.Sprintf(" Line %s needs mending too.", rest[0])
	default:
		v.Message += fmt.Sprintf(" Lines %s need mending too.", listed(rest))
	}
	return v
}
