package tutor

import (
	"slices"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// ownRow is a row as the learner wrote it, whole or in entries.
type ownRow struct {
	text    string // an equation as it can be typed
	title   string
	right   bool
	symbols []int // of the problem's table, that occur in it
}

// ownRows are the learner's own equations, of every body, right or wrong.
func (s *Session) ownRows() []ownRow {
	defer func(was *page) { s.page = was }(s.page)
	var out []ownRow
	for _, pg := range s.pages {
		s.page = pg
		for _, row := range statics.Rows {
			if r, ok := s.ownRow(row); ok {
				if len(s.pages) > 1 {
					r.title += " on the " + pg.body.Name
				}
				out = append(out, r)
			}
		}
	}
	return out
}

// ownRow is the row of the body in hand. Entries that are not written are left
// out of it.
func (s *Session) ownRow(row statics.RowKind) (ownRow, bool) {
	r := ownRow{title: grading.RowName(row, s.page.grader.Frame())}
	if eq := s.Find(StepEquation, string(row)); eq != nil && eq.Typed != "" {
		left, right, err := s.problem.Table.ParseEquation(eq.Typed)
		if err != nil {
			return r, false
		}
		r.text, r.right = eq.Typed, s.grade(eq, eq.Typed).Earned()
		r.symbols = slices.Concat(notation.Symbols(left), notation.Symbols(right))
		return r, true
	}
	var entries []notation.Node
	r.right = true
	for _, t := range s.Ledger() {
		if t.Step != Step(row) {
			continue
		}
		n, err := s.problem.Table.Parse(t.Typed)
		if t.Typed == "" || err != nil {
			r.right = false
			continue
		}
		r.right = r.right && s.grade(t, t.Typed).Earned()
		entries = append(entries, n)
		r.symbols = append(r.symbols, notation.Symbols(n)...)
	}
	r.text = grading.Sum(entries, true)
	return r, len(r.symbols) > 0
}

// followsOwn reports whether a value that is wrong is right for the learner's
// own lines, and names the one to mend. All their equations are tried together,
// and then each by itself with the values they wrote before in it.
func (s *Session) followsOwn(t *Task, own []ownRow) (mend string, ok bool) {
	var all []string
	for _, r := range own {
		all = append(all, r.text)
	}
	carried := func(equations []string) bool {
		if len(equations) == 0 || len(equations) > grading.MaxListed {
			return false
		}
		v, err := s.page.grader.Value(t.Cell, t.Typed, equations)
		return err == nil && v.Outcome == grading.Remarked && slices.Contains(v.Slips, "carried-error")
	}
	if carried(all) {
		for _, r := range own {
			if !r.right {
				return r.title, true
			}
		}
	}
	u, _ := s.problem.Unknown(t.Cell)
	values, titles := s.ownValues(t)
	for _, r := range own {
		if !slices.Contains(r.symbols, u.Index) || !carried(append([]string{r.text}, values...)) {
			continue
		}
		if r.right && len(titles) > 0 {
			return strings.Join(titles, ", "), true
		}
		return r.title, true
	}
	return "", false
}

// ownValues are the values that the learner wrote before another, as equations
// in SI units, and the titles of those that are wrong.
func (s *Session) ownValues(before *Task) (equations, wrong []string) {
	for _, u := range s.problem.Unknowns {
		t := s.Find(StepValue, u.Symbol)
		if t == nil || t.Typed == "" || t.turn >= before.turn {
			continue
		}
		q, err := s.problem.Table.ParseValue(t.Typed)
		if err != nil || len(notation.Symbols(q.Expr)) > 0 {
			continue
		}
		v := strconv.FormatFloat(q.SI(s.problem.Values), 'f', -1, 64)
		equations = append(equations, u.Symbol+" = "+v)
		if !s.grade(t, t.Typed).Earned() {
			wrong = append(wrong, s.Title(t))
		}
	}
	return equations, wrong
}
