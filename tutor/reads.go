package tutor

import (
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// reads is what was understood of a settled task's line.
func (s *Session) reads(t *Task) string {
	switch {
	case t.IsCell():
		if n, err := s.problem.Table.Parse(t.Typed); err == nil {
			return notation.ReadBack(n, s.ASCII)
		}
	case t.Step == StepEquation:
		return s.readEquation(t.Typed)
	case t.Step == StepValue:
		if q, err := s.problem.Table.ParseValue(t.Typed); err == nil {
			return strings.TrimSpace(notation.ReadBack(q.Expr, s.ASCII) + " " + q.Unit.Name)
		}
	case t.Step == StepDoubt:
		if options := s.options(t); len(options) > 0 { // answered by a number, or in part of its words
			if at := pick(t.Typed, options); at >= 0 {
				return notation.Printable(options[at])
			}
		}
	}
	return notation.Printable(t.Typed)
}

// Sum is a row's equation as the learner wrote it: the whole equation, or the
// sum of the column's entries once all are there.
func (s *Session) Sum(row statics.RowKind) (string, bool) {
	if eq := s.Find(StepEquation, string(row)); eq != nil && (eq.Status == Earned || eq.Status == Shown || eq.Status == Taken) {
		return s.readEquation(eq.Typed), true
	}
	var entries []notation.Node
	for _, t := range s.Ledger() {
		if t.Step != Step(row) {
			continue
		}
		n, err := s.problem.Table.Parse(t.Typed)
		if err != nil || t.Status != Earned && t.Status != Shown && t.Status != Taken {
			return "", false
		}
		entries = append(entries, n)
	}
	if len(entries) == 0 {
		return "", false
	}
	return grading.Sum(entries, s.ASCII), true
}

func (s *Session) readEquation(typed string) string {
	l, r, err := s.problem.Table.ParseEquation(typed)
	if err != nil {
		return notation.Printable(typed)
	}
	return notation.ReadBackEquation(l, r, s.ASCII)
}
