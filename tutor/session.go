// Package tutor is a learner's session with one problem: steps, hints, events.
// It is a pure state machine. It knows no terminal, no clock and no disk:
// whoever runs it records each event first, and then applies it.
package tutor

import (
	"fmt"
	"slices"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/statics"
)

// Guided is the mode in which each line is checked as it is entered.
const Guided = "guided"

// Session is a learner's work on one problem: the fold of its events.
//
// A line is handled in two moves, so that nothing is said that is not yet
// recorded: [Session.Answer] (or Hint, Undo, Go, Leave) makes the event and
// changes nothing; [Session.Apply] folds the event in.
type Session struct {
	ASCII bool // texts are for a terminal without Unicode

	problem *problems.Problem
	mode    string
	choice  grading.Choice
	grader  *grading.Grader

	list   []grading.Listed // the forces listed so far, in the learner's order
	lines  []string         // as typed
	tasks  []*Task
	at     int   // index of the current task
	earned []key // in order, for undo
}

// New starts a session with nothing done.
func New(p *problems.Problem, mode string) (*Session, error) {
	g, err := grading.New(p, grading.Choice{})
	if err != nil {
		return nil, err
	}
	s := &Session{problem: p, mode: mode, grader: g}
	s.choice.Pivot = p.Bodies[0].Points[0].Name
	s.plan()
	return s, nil
}

// Resume makes the session that events fold to. Events of another problem are
// an error; an event that no longer fits is skipped, so that a record made by
// an older edition still opens.
func Resume(p *problems.Problem, events []Event) (*Session, error) {
	mode := Guided
	if len(events) > 0 && events[0].Mode != "" {
		mode = events[0].Mode
	}
	s, err := New(p, mode)
	if err != nil {
		return nil, err
	}
	for _, e := range events {
		if e.Problem != p.ID {
			return nil, fmt.Errorf("event %s is of problem %s, not %s", e.ID, e.Problem, p.ID)
		}
		s.Apply(e)
	}
	return s, nil
}

// Problem is the problem being worked.
func (s *Session) Problem() *problems.Problem { return s.problem }

// Grader grades for the learner's present choices.
func (s *Session) Grader() *grading.Grader { return s.grader }

// Choice is the learner's pivot, axes and signs.
func (s *Session) Choice() grading.Choice { return s.choice }

// PivotChosen reports whether the learner has chosen a pivot yet.
func (s *Session) PivotChosen() bool { return s.Find(StepPivot, "").Done() }

// Listed is the forces listed so far, in the learner's order.
func (s *Session) Listed() []grading.Listed { return s.list }

// Lines is the list of forces as it was typed.
func (s *Session) Lines() []string { return s.lines }

// Tasks is every line asked for, in order. The ledger's cells are there once
// the forces are listed.
func (s *Session) Tasks() []*Task { return s.tasks }

// Current is the task now asked for, or nil when all are done.
func (s *Session) Current() *Task {
	if s.at < len(s.tasks) {
		return s.tasks[s.at]
	}
	return nil
}

// Finished reports whether every task is done.
func (s *Session) Finished() bool {
	return !slices.ContainsFunc(s.tasks, func(t *Task) bool { return !t.Done() })
}

// Find is the task of a step and cell, or nil.
func (s *Session) Find(step Step, cell string) *Task {
	for _, t := range s.tasks {
		if t.Step == step && t.Cell == cell {
			return t
		}
	}
	return nil
}

// plan lists the tasks for the present list of forces, keeping what is known
// of those that stay.
func (s *Session) plan() {
	old := map[key]*Task{}
	for _, t := range s.tasks {
		old[t.key()] = t
	}
	s.tasks = nil
	add := func(step Step, cell string) {
		t, ok := old[key{step, cell}]
		if !ok {
			t = &Task{Step: step, Cell: cell}
		}
		s.tasks = append(s.tasks, t)
	}
	add(StepPivot, "")
	add(StepForces, "")
	if t := s.Find(StepForces, ""); t.Done() {
		for _, l := range s.list {
			for _, step := range cellSteps {
				add(step, l.Symbol)
			}
		}
	}
	for _, row := range statics.Rows {
		if !s.grader.Blank(row) {
			add(StepEquation, string(row))
		}
	}
	for _, u := range s.problem.Unknowns {
		add(StepValue, u.Symbol)
	}
	add(StepDoubt, DoubtCheck)
	if s.problem.Limit != nil {
		add(StepDoubt, DoubtLimit)
	}
}

// event is a new event about a task, with all that the session knows filled in.
func (s *Session) event(kind Kind, t *Task) Event {
	e := Event{V: Version, Problem: s.problem.ID, Seed: s.problem.Seed, Given: s.problem.Entered,
		ScenarioHash: s.problem.Hash, Mode: s.mode, Kind: kind, Body: s.problem.Bodies[0].Name,
		Pivot: s.choice.Pivot, Positive: "ccw"}
	if s.choice.Clockwise {
		e.Positive = "cw"
	}
	if t != nil {
		e.Step, e.Cell = string(t.Step), t.Cell
	}
	return e
}

// Begin is the event that opens the session.
func (s *Session) Begin() Event { return s.event(Began, nil) }

// Leave is the event of going away with the problem unfinished.
func (s *Session) Leave() Event { return s.event(Left, s.Current()) }

// Go is the event of moving to another task, or false if there is no such
// task.
func (s *Session) Go(step Step, cell string) (Event, bool) {
	t := s.Find(step, cell)
	if t == nil {
		return Event{}, false
	}
	return s.event(Moved, t), true
}

// Undo is the event of taking back the line earned last, or the force listed
// last while the list is being written; false if there is none.
func (s *Session) Undo() (Event, bool) {
	if f := s.Find(StepForces, ""); !f.Done() && len(s.list) > 0 {
		return s.event(Undone, &Task{Step: StepForces, Cell: s.list[len(s.list)-1].Symbol}), true
	}
	if len(s.earned) == 0 {
		return Event{}, false
	}
	last := s.earned[len(s.earned)-1]
	t := s.Find(last.Step, last.Cell)
	if t == nil {
		return Event{}, false
	}
	return s.event(Undone, t), true
}
