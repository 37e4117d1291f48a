// Package tutor is a learner's session with one problem: steps, hints, events.
// It is a pure state machine. It knows no terminal, no clock and no disk:
// whoever runs it records each event first, and then applies it.
package tutor

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
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
	begun  bool
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
func (s *Session) PivotChosen() bool { return s.find(StepPivot, "").Done() }

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
func (s *Session) Find(step Step, cell string) *Task { return s.find(step, cell) }

func (s *Session) find(step Step, cell string) *Task {
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
	if t := s.find(StepForces, ""); t.Done() {
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
	t := s.find(step, cell)
	if t == nil {
		return Event{}, false
	}
	return s.event(Moved, t), true
}

// Undo is the event of taking back the line earned last, or the force listed
// last while the list is being written; false if there is none.
func (s *Session) Undo() (Event, bool) {
	if f := s.find(StepForces, ""); !f.Done() && len(s.list) > 0 {
		return s.event(Undone, &Task{Step: StepForces, Cell: s.list[len(s.list)-1].Symbol}), true
	}
	if len(s.earned) == 0 {
		return Event{}, false
	}
	last := s.earned[len(s.earned)-1]
	t := s.find(last.Step, last.Cell)
	if t == nil {
		return Event{}, false
	}
	return s.event(Undone, t), true
}

// Apply folds an event into the session. An event that does not fit the
// session as it stands changes nothing.
func (s *Session) Apply(e Event) {
	step := Step(e.Step)
	t := s.find(step, e.Cell)
	switch e.Kind {
	case Began:
		s.begun = true
	case Answered:
		s.answered(step, t, e)
	case Hinted:
		if t != nil {
			t.Hints = max(t.Hints, e.HintDepth)
			if e.HintDepth >= 3 && e.Typed != "" {
				s.settle(t, Shown, e)
			}
		}
	case Moved:
		if i := slices.Index(s.tasks, t); t != nil && i >= 0 {
			s.at = i
		}
	case Undone:
		switch {
		case t != nil:
			s.undo(t)
		case step == StepForces:
			s.unlist(e.Cell)
		}
	case Finished:
		s.at = len(s.tasks)
	}
}

func (s *Session) answered(step Step, t *Task, e Event) {
	earned := e.Verdict == string(grading.Right) || e.Verdict == string(grading.Remarked)
	switch step {
	case StepPositive:
		if earned {
			s.choice.Clockwise = e.Typed == "cw"
			s.regrade(StepMoment)
		}
		return
	case StepAxes:
		if tilt, err := strconv.ParseFloat(e.Typed, 64); err == nil && earned {
			s.choice.Tilt = tilt
			s.regrade(StepX, StepY)
		}
		return
	}
	if t == nil {
		return
	}
	t.Tries++
	t.Last = grading.Verdict{Outcome: grading.Outcome(e.Verdict), Slips: e.Slip}
	if step == StepForces && earned && !isDone(e.Typed) {
		t.Tries-- // the list counts as one attempt, when it is called done
		s.listForces(e.Typed)
		return
	}
	if earned {
		s.settle(t, Earned, e)
	}
}

// settle closes a task and moves on to the next open one.
func (s *Session) settle(t *Task, st Status, e Event) {
	changed := t.Step == StepPivot && e.Typed != "" && s.setPivot(e.Typed)
	t.Status, t.Typed = st, e.Typed
	if st == Shown && t.Step == StepForces {
		s.list, s.lines = nil, nil
		s.listForces(e.Typed)
	}
	t.Reads = s.reads(t)
	if st == Earned {
		s.earned = append(s.earned, t.key())
	}
	if changed {
		s.regrade(StepMoment)
	}
	if t.Step == StepForces {
		s.excused()
		s.rebuild()
		s.plan()
	}
	s.cover()
	s.advance(t)
}

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
	}
	return notation.Printable(t.Typed)
}

// setPivot takes the learner's pivot and reports whether it is a new one.
func (s *Session) setPivot(typed string) bool {
	v, p := s.grader.Pivot(typed)
	if !v.Earned() || p.Name == s.choice.Pivot {
		return false
	}
	s.choice.Pivot = p.Name
	return true
}

// listForces adds typed lines to the list of forces.
func (s *Session) listForces(typed string) {
	for _, line := range splitLines(typed) {
		v, l := s.grader.ForceLine(line)
		known := slices.ContainsFunc(s.list, func(o grading.Listed) bool { return o.Symbol == l.Symbol })
		if v.Earned() && !known {
			s.list, s.lines = append(s.list, l), append(s.lines, line)
		}
	}
}

// unlist takes a force off a list that is still being written.
func (s *Session) unlist(symbol string) {
	i := slices.IndexFunc(s.list, func(l grading.Listed) bool { return l.Symbol == symbol })
	if i < 0 || i >= len(s.lines) || s.find(StepForces, "").Done() {
		return
	}
	s.list, s.lines = slices.Delete(s.list, i, i+1), slices.Delete(s.lines, i, i+1)
	s.at = max(slices.Index(s.tasks, s.find(StepForces, "")), 0)
}

// excused puts a force that the learner rightly left out of the list (the
// inertia force, with moments about the centre of mass) in the ledger, where
// it stands as mass times acceleration.
func (s *Session) excused() {
	b := &s.problem.Bodies[0]
	for _, f := range b.Forces {
		if !slices.ContainsFunc(s.list, func(l grading.Listed) bool { return l.Symbol == f.Symbol }) {
			s.list = append(s.list, grading.Listed{Symbol: f.Symbol, At: f.At})
		}
	}
	for _, c := range b.Couples {
		if !slices.ContainsFunc(s.list, func(l grading.Listed) bool { return l.Symbol == c.Symbol }) {
			s.list = append(s.list, grading.Listed{Symbol: c.Symbol})
		}
	}
}

// rebuild makes the grader for the present choices.
func (s *Session) rebuild() {
	s.choice.Reversed = map[string]bool{}
	for _, l := range s.list {
		if l.Reversed {
			s.choice.Reversed[l.Symbol] = true
		}
	}
	if g, err := grading.New(s.problem, s.choice); err == nil {
		s.grader = g
	}
}

// regrade makes the grader for a new choice, and opens again the lines that
// the choice has changed.
func (s *Session) regrade(steps ...Step) {
	s.rebuild()
	for _, t := range s.tasks {
		row := Step(t.Cell)
		if slices.Contains(steps, t.Step) || t.Step == StepEquation && slices.Contains(steps, row) {
			s.reopen(t)
		}
	}
	s.plan()
	s.cover()
	if c := s.Current(); c == nil || c.Done() {
		s.at = s.nextOpen(0)
	}
}

func (s *Session) reopen(t *Task) {
	t.Status, t.Typed, t.Reads = Open, "", ""
	s.earned = slices.DeleteFunc(s.earned, func(k key) bool { return k == t.key() })
}

func (s *Session) undo(t *Task) {
	s.reopen(t)
	if t.Step == StepForces {
		s.list, s.lines = nil, nil
		s.rebuild()
		s.plan()
	}
	s.cover()
	s.at = max(slices.Index(s.tasks, t), 0)
}

// cover settles what the other way of writing a row makes unnecessary: cells
// whose whole equation is earned, and equations whose cells all are. The cells
// of a row in which no force has a part go with the other rows.
func (s *Session) cover() {
	written := func(t *Task) bool { return t.Status == Earned || t.Status == Shown }
	every := true // each equation there is has been written whole
	for _, t := range s.tasks {
		every = every && (t.Step != StepEquation || written(t))
	}
	for _, row := range statics.Rows {
		eq := s.find(StepEquation, string(row))
		var cells []*Task
		for _, t := range s.tasks {
			if t.Step == Step(row) {
				cells = append(cells, t)
			}
		}
		all := len(cells) > 0 && !slices.ContainsFunc(cells, func(t *Task) bool { return !written(t) })
		for _, t := range cells {
			toggle(t, eq != nil && written(eq) || eq == nil && every)
		}
		if eq != nil {
			toggle(eq, all)
		}
	}
}

func toggle(t *Task, covered bool) {
	switch {
	case covered && t.Status == Open:
		t.Status = Covered
	case !covered && t.Status == Covered:
		t.Status = Open
	}
}

// advance moves on from a settled task. A line typed straight off leaves the
// learner where they were; who writes whole equations is asked for the next
// one.
func (s *Session) advance(t *Task) {
	if c := s.Current(); c != nil && !c.Done() {
		return
	}
	if t.Step == StepEquation {
		for i, o := range s.tasks {
			if o.Step == StepEquation && !o.Done() {
				s.at = i
				return
			}
		}
		s.at = s.nextOpen(0)
		return
	}
	s.at = s.nextOpen(slices.Index(s.tasks, t) + 1)
}

func (s *Session) nextOpen(from int) int {
	for k := range s.tasks {
		i := (from + k) % len(s.tasks)
		if !s.tasks[i].Done() {
			return i
		}
	}
	return len(s.tasks)
}

func isDone(text string) bool {
	switch strings.ToLower(strings.TrimSpace(strings.Trim(text, "; \n."))) {
	case "done", "that is all", "that's all", "all":
		return true
	}
	return false
}

func splitLines(text string) []string {
	var out []string
	for _, l := range strings.FieldsFunc(text, func(c rune) bool { return c == ';' || c == '\n' }) {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// Sum is a row's equation as the learner wrote it: the whole equation, or the
// sum of the column's entries once all are there.
func (s *Session) Sum(row statics.RowKind) (string, bool) {
	if eq := s.find(StepEquation, string(row)); eq != nil && (eq.Status == Earned || eq.Status == Shown) {
		return s.readEquation(eq.Typed), true
	}
	var entries []notation.Node
	for _, t := range s.tasks {
		if t.Step != Step(row) {
			continue
		}
		n, err := s.problem.Table.Parse(t.Typed)
		if err != nil || t.Status != Earned && t.Status != Shown {
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
