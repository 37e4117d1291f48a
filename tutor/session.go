// Package tutor is a learner's session with one problem: steps, hints, events.
// It is a pure state machine. It knows no terminal, no clock and no disk:
// whoever runs it records each event first, and then applies it.
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

// Session is a learner's work on one problem: the fold of its events.
//
// A line is handled in two moves, so that nothing is said that is not yet
// recorded: [Session.Answer] (or Hint, Undo, Go, Leave) makes the event and
// changes nothing; [Session.Apply] folds the event in.
type Session struct {
	ASCII bool // texts are for a terminal without Unicode

	problem *problems.Problem
	mode    string
	terms   Terms
	clock   clock
	pages   []*page // one for each body
	page    *page   // of the body in hand
	tasks   []*Task
	at      int   // index of the current task
	earned  []key // in order, for undo

	kept        map[key]*Task // every line there was, in a mode that judges later: what is written in one that comes back is there again
	turns       int           // lines taken
	judging     bool          // verdicts are being given on what was taken
	judgedLines int           // of the list of forces being judged
	handed      bool          // the paper is handed in
	over        bool          // and every line of it judged

	reasons reasons // that were asked for
}

// page is a learner's work on one body.
type page struct {
	body   *statics.Body
	choice grading.Choice
	grader *grading.Grader
	list   []grading.Listed // the forces listed so far, in the learner's order
	lines  []string         // as typed
	spared bool             // not asked for: the other bodies fix every unknown
}

// wide reports whether moments may be taken about more than one point of the
// body: all forces on a particle pass through its one.
func (pg *page) wide() bool {
	n := 0
	for _, p := range pg.body.Points {
		if !p.Mark {
			n++
		}
	}
	return n > 1
}

// New starts a session with nothing done, on the terms of the mode alone.
func New(p *problems.Problem, mode string) (*Session, error) { return newSession(p, TermsOf(mode)) }

// Start starts a session with nothing done, on terms. An error says which of the terms
// cannot be kept.
func Start(p *problems.Problem, t Terms) (*Session, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	return newSession(p, t)
}

func newSession(p *problems.Problem, t Terms) (*Session, error) {
	s := &Session{problem: p, mode: t.Mode, terms: t, clock: clock{used: t.Used}, kept: map[key]*Task{}}
	for i := range p.Bodies {
		pg := &page{body: &p.Bodies[i], choice: grading.Choice{Body: p.Bodies[i].Name, Pivot: p.Bodies[i].Points[0].Name, Tolerance: t.Tolerance}}
		g, err := grading.New(p, pg.choice)
		if err != nil {
			return nil, err
		}
		pg.grader = g
		s.pages = append(s.pages, pg)
	}
	s.page = s.pages[0]
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

// Body is the body in hand: the one whose ledger is being written.
func (s *Session) Body() *statics.Body { return s.page.body }

// Problem is the problem being worked.
func (s *Session) Problem() *problems.Problem { return s.problem }

// Grader grades for the learner's present choices.
func (s *Session) Grader() *grading.Grader { return s.page.grader }

// Choice is the learner's pivot, axes and signs.
func (s *Session) Choice() grading.Choice { return s.page.choice }

// PivotChosen reports whether the learner has chosen a pivot yet.
func (s *Session) PivotChosen() bool { return s.Find(StepPivot, "").Done() }

// Listed is the forces listed so far, in the learner's order.
func (s *Session) Listed() []grading.Listed { return s.page.list }

// Lines is the list of forces as it was typed.
func (s *Session) Lines() []string { return s.page.lines }

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

// Finished reports whether every task is done, or the paper is handed in and
// judged.
func (s *Session) Finished() bool {
	return s.over || s.mode != Exam && s.allEarned()
}

// Find is the task of a step and cell, or nil; of the body in hand, where the
// step is one of a body's ledger.
func (s *Session) Find(step Step, cell string) *Task {
	return s.find(s.page, step, cell)
}

func (s *Session) find(pg *page, step Step, cell string) *Task {
	body := ""
	if step.OfBody() {
		body = pg.body.Name
	}
	for _, t := range s.tasks {
		if t.key() == (key{body, step, cell}) {
			return t
		}
	}
	return nil
}

// Ledger is the lines asked for on the body in hand.
func (s *Session) Ledger() []*Task { return s.ledger(s.page) }

func (s *Session) ledger(pg *page) []*Task {
	var out []*Task
	for _, t := range s.tasks {
		if t.Body == pg.body.Name {
			out = append(out, t)
		}
	}
	return out
}

// plan lists the tasks for the present lists of forces, keeping what is known
// of those that stay.
func (s *Session) plan() {
	current := s.Current()
	old := map[key]*Task{}
	if s.judgesLater() {
		old = s.kept
	}
	for _, t := range s.tasks {
		old[t.key()] = t
	}
	s.tasks = nil
	add := func(body string, step Step, cell string) {
		t, ok := old[key{body, step, cell}]
		if !ok {
			t = &Task{Body: body, Step: step, Cell: cell}
		}
		s.tasks = append(s.tasks, t)
	}
	for _, pg := range s.pages {
		name := pg.body.Name
		add(name, StepPivot, "")
		add(name, StepForces, "")
		if s.find(pg, StepForces, "").Done() {
			for _, l := range pg.list {
				for _, step := range cellSteps {
					add(name, step, l.Symbol)
				}
			}
		}
		for _, row := range statics.Rows {
			if !pg.grader.Blank(row) {
				add(name, StepEquation, string(row))
			}
		}
	}
	for _, u := range s.problem.Unknowns {
		add("", StepValue, u.Symbol)
	}
	if slices.ContainsFunc(s.pages, func(pg *page) bool { return pg.wide() }) {
		add("", StepDoubt, DoubtCheck)
	}
	if s.problem.Limit != nil {
		add("", StepDoubt, DoubtLimit)
	}
	for i := range s.problem.Asks {
		add("", StepDoubt, AskCell(i))
	}
	if c, ok := closing[s.mode]; ok {
		add("", c.step, "")
	}
	if i := slices.Index(s.tasks, current); current != nil && i >= 0 {
		s.at = i
	}
}

// event is a new event about a task, with all that the session knows filled in.
func (s *Session) event(kind Kind, t *Task) Event {
	pg := s.page
	if t != nil && t.Body != "" {
		pg = s.pageOf(t.Body)
	}
	e := Event{V: Version, Problem: s.problem.ID, Seed: s.problem.Seed, Given: s.problem.Entered,
		ScenarioHash: s.problem.Hash, Set: s.terms.Set, Mode: s.mode, Kind: kind, Body: pg.body.Name,
		Pivot: pg.choice.Pivot, Positive: "ccw"}
	if pg.choice.Clockwise {
		e.Positive = "cw"
	}
	if t != nil {
		e.Step, e.Cell = string(t.Step), t.Cell
	}
	return e
}

// Begin is the event that opens the session. It holds the terms.
func (s *Session) Begin() Event {
	e := s.event(Began, nil)
	e.Typed = s.terms.text()
	return e
}

// Leave is the event of going away with the problem unfinished.
func (s *Session) Leave() Event { return s.event(Left, s.Current()) }

// Go is the event of moving to another task, or false if there is no such
// task.
func (s *Session) Go(step Step, cell string) (Event, bool) {
	t := s.Find(step, cell)
	if t == nil || s.over {
		return Event{}, false
	}
	return s.event(Moved, t), true
}

// Undo is the event of taking back the line earned last, or the force listed
// last while the list is being written; false if there is none.
func (s *Session) Undo() (Event, bool) {
	if s.over {
		return Event{}, false
	}
	if f := s.Find(StepForces, ""); !f.Done() && len(s.page.list) > 0 {
		return s.event(Undone, &Task{Step: StepForces, Cell: s.page.list[len(s.page.list)-1].Symbol}), true
	}
	if len(s.earned) == 0 {
		return Event{}, false
	}
	last := s.earned[len(s.earned)-1]
	i := slices.IndexFunc(s.tasks, func(t *Task) bool { return t.key() == last })
	if i < 0 {
		return Event{}, false
	}
	return s.event(Undone, s.tasks[i]), true
}

// pageOf is the page of a body, or the one in hand if there is no such body.
func (s *Session) pageOf(body string) *page {
	for _, pg := range s.pages {
		if pg.body.Name == body {
			return pg
		}
	}
	return s.page
}

// Bodies names the bodies, in the order in which they are offered.
func (s *Session) Bodies() []string {
	var out []string
	for _, pg := range s.pages {
		out = append(out, pg.body.Name)
	}
	return out
}

// Turn is the event of taking another body in hand: its first line that is
// open, or its first. The error says which bodies there are.
func (s *Session) Turn(body string) (Event, error) {
	at := slices.IndexFunc(s.pages, func(pg *page) bool { return strings.EqualFold(pg.body.Name, strings.TrimSpace(body)) })
	if at < 0 {
		return Event{}, fmt.Errorf("no body \"%s\" here; bodies are %s", notation.PrintableMax(body, 40), strings.Join(s.Bodies(), ", "))
	}
	lines := s.ledger(s.pages[at])
	for _, t := range lines {
		if !t.Done() {
			return s.event(Moved, t), nil
		}
	}
	return s.event(Moved, lines[0]), nil
}
