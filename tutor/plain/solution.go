package plain

import (
	"fmt"
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// solution tells the equations, the learner's and the reference's, body by body,
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
		s.ASCII = t.o.ASCII
		e, err := s.Turn(body)
		if err != nil {
			return err
		}
		s.Apply(e)
		t.say("The %s, with moments about %s.", notation.Printable(body), s.Choice().Pivot)
		for _, row := range statics.Rows {
			if s.Find(tutor.StepEquation, string(row)) == nil {
				continue
			}
			yours, ok := s.Sum(row)
			if !ok {
				yours = "not written"
			}
			t.say("For %s: yours %s; reference %s.", grading.RowName(row, s.Grader().Frame()), yours, s.Grader().Row(row, t.o.ASCII))
		}
	}
	return t.closing()
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
			t.say("%s %s.", a.Question, strings.TrimSuffix(fmt.Sprintf("%s: %s", a.Answers[at].Text, p.Because(i, at, t.o.ASCII)), "."))
		}
	}
	return nil
}
