package plain

import (
	"fmt"
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// solution tells the worked solution beside the learner's lines, body by body,
// and the answers to the closing questions. The session at the desk stays as it
// is: a body is taken in hand in a copy of it, and nothing is recorded.
func (t *talk) solution() error {
	for _, body := range t.desk.Bodies() {
		if t.way(body) == notNeeded {
			t.say("The %s was %s.", notation.Printable(body), notNeeded)
			continue
		}
		s, err := tutor.Resume(t.desk.Problem(), t.desk.Events())
		if err != nil {
			return err
		}
		s.ASCII = t.plain()
		e, err := s.Turn(body)
		if err != nil {
			return err
		}
		s.Apply(e)
		t.say("The %s, with moments about %s.", notation.Printable(body), s.Choice().Pivot)
		if lines := s.Lines(); len(lines) > 0 {
			t.say("Forces, %s: %s.", how(s.Find(tutor.StepForces, "")), notation.Printable(strings.Join(lines, "; ")))
		}
		for _, row := range statics.Rows {
			t.row(s, row)
		}
	}
	for _, u := range t.desk.Problem().Unknowns {
		task := t.desk.Find(tutor.StepValue, u.Symbol)
		t.say("Value of %s, %s: yours %s; reference %s.", notation.Display(u.Symbol, t.plain()), how(task), task.Reads, t.value(u))
	}
	if err := t.closing(); err != nil {
		return err
	}
	if c := t.desk.Problem().Caution; c != "" {
		t.say("%s", c)
	}
	return nil
}

// row tells the entries of one row that the learner wrote, and its equation.
func (t *talk) row(s *tutor.Session, row statics.RowKind) {
	for _, task := range s.Ledger() {
		if task.Step != tutor.Step(row) || task.Status != tutor.Earned && task.Status != tutor.Shown {
			continue
		}
		line, _ := s.Grader().Line(row, task.Cell, t.plain())
		t.say("%s, %s: yours %s; reference %s.", capital(s.Title(task)), how(task), task.Reads, line)
	}
	eq := s.Find(tutor.StepEquation, string(row))
	if eq == nil {
		return
	}
	yours, ok := s.Sum(row)
	if !ok {
		yours = "not written"
	}
	t.say("For %s: yours %s; reference %s.", grading.RowName(row, s.Grader().Frame()), yours, s.Grader().Row(row, t.plain()))
}

// how says in words how a line was come by.
func how(task *tutor.Task) string {
	wrong := task.Tries
	if task.Status == tutor.Earned {
		wrong--
	}
	var out []string
	switch {
	case task.Status == tutor.Taken:
		return "written, and not checked yet"
	case task.Status == tutor.Open:
		out = append(out, "open")
	case task.Status == tutor.Covered:
		return "not asked"
	case task.Status == tutor.Shown:
		out = append(out, "shown")
	case task.FirstTime():
		return "right first time"
	default:
		out = append(out, "right")
	}
	switch {
	case wrong == 1:
		out = append(out, "after 1 mistake")
	case wrong > 1:
		out = append(out, fmt.Sprintf("after %d mistakes", wrong))
	}
	switch {
	case task.Status == tutor.Shown:
	case task.Hints == 1:
		out = append(out, "with 1 hint")
	case task.Hints > 1:
		out = append(out, fmt.Sprintf("with %d hints", task.Hints))
	}
	return strings.Join(out, " ")
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// closing tells the answers to the questions at the end.
func (t *talk) closing() error {
	p := t.desk.Problem()
	if p.Limit != nil {
		if trend, err := p.Trend(); err == nil {
			t.say("%s %s.", p.Limit.Question, trend)
		}
	}
	for i, a := range p.Asks {
		if at, err := p.Answer(i); err == nil {
			t.say("%s %s.", a.Question, strings.TrimSuffix(fmt.Sprintf("%s: %s", a.Answers[at].Text, p.Because(i, at, t.plain())), "."))
		}
	}
	return nil
}
