package tutor

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Paper is an exam's problem as it comes back: every line with its marks.
type Paper struct {
	Title   string
	Problem string
	Seed    uint64
	Lines   []PaperLine
}

// PaperLine is one line of a paper.
type PaperLine struct {
	Body     string // "" where there is one body, and for values and doubts
	Step     Step
	Cell     string
	Title    string
	Typed    string // as it was typed; hostile
	Reads    string // as it was understood
	Verdict  grading.Verdict
	Standing Standing
	Mend     string // for a line that follows from others: the one to mend
	Marks    Marks
	Right    string // a line that would have been right; "" if this one is
}

// Total adds up the marks.
func (p *Paper) Total() Marks {
	var m Marks
	for _, l := range p.Lines {
		m = m.Add(l.Marks)
	}
	return m
}

// Paper marks a paper that is handed in, by the [MarkRule]. It is false until
// then.
func (s *Session) Paper() (*Paper, bool) {
	if !s.handed || s.anyTaken() {
		return nil, false
	}
	defer func(was *page) { s.page = was }(s.page)
	m := &marker{Session: s, paper: &Paper{Title: s.problem.Title, Problem: s.problem.ID, Seed: s.problem.Seed}}
	for _, pg := range s.marked() {
		s.page = pg
		m.body()
	}
	s.page = s.pages[0]
	m.own = s.ownRows()
	for _, u := range s.problem.Unknowns {
		m.value(s.Find(StepValue, u.Symbol))
	}
	for _, t := range s.tasks {
		if t.Step == StepDoubt {
			s.at = slices.Index(s.tasks, t)
			s.follow()
			m.line(t)
		}
	}
	s.at = len(s.tasks)
	return m.paper, true
}

// Worth is how many marks a problem carries.
func Worth(p *problems.Problem) (float64, error) {
	s, err := New(p, Exam)
	if err != nil {
		return 0, err
	}
	s.handed = true
	paper, _ := s.Paper()
	return paper.Total().Of, nil
}

// marked are the bodies that a paper is marked on: those the learner wrote on,
// and then others in order until they fix every unknown.
func (s *Session) marked() []*page {
	var out []*page
	var names []string
	add := func(written bool) {
		for _, pg := range s.pages {
			wrote := slices.ContainsFunc(s.ledger(pg), func(t *Task) bool { return t.Typed != "" }) || len(pg.lines) > 0
			if wrote != written || !written && len(names) > 0 && s.problem.Fixes(names...) {
				continue
			}
			out, names = append(out, pg), append(names, pg.body.Name)
		}
	}
	add(true)
	add(false)
	slices.SortFunc(out, func(a, b *page) int { return slices.Index(s.pages, a) - slices.Index(s.pages, b) })
	return out
}

// marker writes a paper.
type marker struct {
	*Session
	paper *Paper
	own   []ownRow
	slips map[string][]string // by force of the body in hand, of its line in the list
}

func (m *marker) add(l PaperLine) {
	if len(m.pages) > 1 && l.Step.OfBody() {
		l.Body = m.page.body.Name
	}
	l.Marks.Got = l.Marks.Of * partOf(l.Standing)
	if l.Standing == StandsRight || l.Standing == StandsRemark {
		l.Right = ""
	}
	m.paper.Lines = append(m.paper.Lines, l)
}

// plainLine is a task's line with its verdict, and nothing said of its marks.
func (m *marker) plainLine(t *Task) PaperLine {
	l := PaperLine{Step: t.Step, Cell: t.Cell, Title: m.Title(t), Typed: t.Typed, Reads: t.Reads, Standing: StandsEmpty}
	if right, err := m.Session.line(t); err == nil {
		l.Right = m.pretty(t, right)
	}
	if t.Typed != "" {
		l.Verdict = m.Session.verdict(t, t.Typed).Verdict
		l.Standing = standingOf(l.Verdict)
	}
	return l
}

// line marks a task by its verdict alone.
func (m *marker) line(t *Task) {
	l := m.plainLine(t)
	l.Marks.Of = weightOf(t.Step)
	m.add(l)
}

// body marks the ledger of the body in hand.
func (m *marker) body() {
	m.line(m.Find(StepPivot, ""))
	m.list()
	for _, row := range statics.Rows {
		m.row(row)
	}
}

// list marks the list of forces, line by line.
func (m *marker) list() {
	m.slips = map[string][]string{}
	pg, from, got := m.page, len(m.paper.Lines), 0.0
	seen := map[string]bool{}
	for i, line := range pg.lines {
		v, _ := pg.grader.ForceLine(line)
		symbol := pg.list[i].Symbol
		l := PaperLine{Step: StepForces, Cell: symbol, Title: "force " + notation.Display(symbol, m.ASCII), Typed: line,
			Reads: notation.Printable(line), Verdict: v, Standing: standingOf(v)}
		switch {
		case !m.acts(symbol) || seen[symbol]:
			l.Standing = StandsExtra
		default:
			l.Marks.Of = weightOf(StepForces)
			l.Right = m.rightForce(symbol)
			m.slips[symbol] = v.Slips
			got += l.Marks.Of * partOf(l.Standing)
		}
		seen[symbol] = true
		m.add(l)
	}
	for _, symbol := range m.forces() {
		if !seen[symbol] && !m.mayBeLeftOut(symbol) {
			m.add(PaperLine{Step: StepForces, Cell: symbol, Title: "force " + notation.Display(symbol, m.ASCII), Standing: StandsEmpty,
				Right: m.rightForce(symbol), Marks: Marks{Of: weightOf(StepForces)}})
		}
	}
	for i := from; i < len(m.paper.Lines); i++ {
		if l := &m.paper.Lines[i]; l.Standing == StandsExtra {
			l.Marks.Got = -min(got, weightOf(StepForces))
			got += l.Marks.Got
		}
	}
}

// forces are the symbols of what acts on the body in hand.
func (m *marker) forces() []string {
	var out []string
	for _, f := range m.page.body.Forces {
		out = append(out, f.Symbol)
	}
	for _, c := range m.page.body.Couples {
		out = append(out, c.Symbol)
	}
	return out
}

func (m *marker) acts(symbol string) bool { return slices.Contains(m.forces(), symbol) }

// mayBeLeftOut reports whether a list without the force is whole: the inertia
// force, with moments about the centre of mass.
func (m *marker) mayBeLeftOut(symbol string) bool {
	st := m.problem.Steady
	return st != nil && symbol == st.Inertia && m.page.choice.Pivot == st.Centre
}

// rightForce is how a force would rightly be listed.
func (m *marker) rightForce(symbol string) string {
	for _, line := range strings.Split(m.referenceForces(), "; ") {
		if name, _, _ := strings.Cut(line, " "); name == symbol {
			return line
		}
	}
	return ""
}

// row marks a column of the ledger: the whole equation, if there is one, or
// else its entries.
func (m *marker) row(row statics.RowKind) {
	worth := 1.0
	if m.page.grader.Blank(row) {
		worth = 0
	}
	eq := m.Find(StepEquation, string(row))
	whole := eq != nil && eq.Typed != ""
	if whole {
		l := m.plainLine(eq)
		l.Marks.Of = worth * weightOf(StepEquation) * float64(len(m.forces()))
		if l.Standing == StandsWrong && len(l.Verdict.Slips) == 1 {
			l.Standing = StandsSlip
		}
		m.add(l)
	}
	symbols := m.forces()
	for _, l := range m.page.list {
		if !slices.Contains(symbols, l.Symbol) {
			symbols = append(symbols, l.Symbol)
		}
	}
	for _, symbol := range symbols {
		t := m.find(m.page, Step(row), symbol)
		if t == nil {
			t = &Task{Body: m.page.body.Name, Step: Step(row), Cell: symbol}
		}
		if whole || worth == 0 || !m.acts(symbol) {
			if t.Typed != "" && !whole {
				l := m.plainLine(t)
				if !m.acts(symbol) {
					l.Standing, l.Right = StandsExtra, ""
				}
				m.add(l)
			}
			continue
		}
		l := m.plainLine(t)
		l.Marks.Of = weightOf(t.Step)
		if l.Standing == StandsWrong && m.followsList(symbol, l.Verdict.Slips) {
			l.Standing, l.Mend = StandsFollows, "force "+notation.Display(symbol, m.ASCII)
		}
		m.add(l)
	}
}

// placed are the slips of an entry that come of a force listed elsewhere than
// it acts.
var placed = []string{"weight-at-end", "wrong-point", "arm-elsewhere"}

// followsList reports whether an entry's one slip is the one that was made
// where its force was listed.
func (m *marker) followsList(symbol string, slips []string) bool {
	if len(slips) != 1 {
		return false
	}
	listed := m.slips[symbol]
	return slices.Contains(listed, slips[0]) || slices.Contains(listed, "misplaced") && slices.Contains(placed, slips[0])
}

// value marks a value: right, or right for the learner's own lines.
func (m *marker) value(t *Task) {
	l := m.plainLine(t)
	l.Marks.Of = weightOf(t.Step)
	if l.Standing == StandsWrong {
		if mend, ok := m.followsOwn(t, m.own); ok {
			l.Standing, l.Mend = StandsFollows, mend
		}
	}
	m.add(l)
}

// Text is the paper in lines of text, safe for any terminal.
func (p *Paper) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Problem %s, seed %d: %s.\n", notation.Printable(p.Title), p.Problem, p.Seed, p.Total())
	body := ""
	for _, l := range p.Lines {
		if l.Body != body {
			if body = l.Body; body != "" {
				fmt.Fprintf(&b, "The %s.\n", notation.Printable(body))
			}
		}
		fmt.Fprintf(&b, "  %s: %s. %s, %s.", notation.Printable(l.Title), l.wrote(), l.Marks, l.Standing)
		for _, more := range []struct{ before, text string }{
			{" Mend: ", l.Mend}, {" ", l.said()}, {" Right would be: ", l.Right},
		} {
			if more.text != "" {
				fmt.Fprintf(&b, "%s%s", more.before, ended(notation.Printable(more.text)))
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// ended is a text with a stop at its end.
func ended(text string) string {
	if text = strings.TrimSpace(text); strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") || strings.HasSuffix(text, ")") {
		return text
	}
	return text + "."
}

func (l *PaperLine) wrote() string {
	if l.Typed == "" {
		return "nothing"
	}
	return notation.PrintableMax(l.Reads, 160)
}

// said is the message, of a line that is not simply right.
func (l *PaperLine) said() string {
	if l.Standing == StandsRight || l.Standing == StandsEmpty {
		return ""
	}
	return strings.ReplaceAll(strings.TrimPrefix(l.Verdict.Message, "Right. "), "\n", " ")
}
