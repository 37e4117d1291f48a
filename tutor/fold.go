package tutor

import (
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems/statics"
)

// Apply folds an event into the session. An event that does not fit the
// session as it stands changes nothing.
func (s *Session) Apply(e Event) {
	s.clock.tick(e)
	if s.over || s.late() && !s.judging && (e.Kind == Answered || e.Kind == Hinted || e.Kind == Undone) {
		return // the time was up, or the paper is handed in
	}
	if e.Body != "" && Step(e.Step) != StepReason {
		s.page = s.pageOf(e.Body)
	}
	defer s.follow()
	defer s.applyReason(e)
	step := Step(e.Step)
	t := s.Find(step, e.Cell)
	switch e.Kind {
	case Began:
		if terms := termsIn(e); terms != s.terms {
			s.keep(terms)
			s.clock.tick(e)
		}
	case Unread:
		if s.judging {
			s.judged(t, e)
		}
	case Answered:
		if s.judgesLater() && step != StepPositive && step != StepAxes {
			s.judged(t, e)
			return
		}
		s.answered(step, t, e)
	case Hinted:
		if t != nil {
			t.Hints = max(t.Hints, e.HintDepth)
			if e.HintDepth >= 3 && e.Typed != "" {
				s.settle(t, Shown, e)
			}
		}
	case Moved:
		s.moved(step, t, e)
	case Undone:
		switch {
		case t != nil:
			s.undo(t)
		case step == StepForces:
			s.unlist(e.Cell)
		}
	case Finished:
		s.at = len(s.tasks)
		s.judging, s.over = false, s.handed
	}
}

// moved goes to a task. In a mode that judges later it may be the next one
// after a line that is kept; and there are moves that are no task's: to
// judging, and a note about the clock.
func (s *Session) moved(step Step, t *Task, e Event) {
	switch i := slices.Index(s.tasks, t); {
	case step == StepClock:
		s.clock.back = 0
	case step == StepHelp:
		s.terms.Help = ""
	case isClosing(step) && e.Typed != "":
		s.beginJudging(e)
	case s.handed:
	case e.Typed != "" && s.judgesLater():
		s.takeLine(t, e)
	case t != nil && i >= 0:
		s.judging = false
		s.at = i
	}
}

// follow takes in hand the body that the current task is about.
func (s *Session) follow() {
	t := s.Current()
	switch {
	case t == nil:
	case t.Body != "":
		s.page = s.pageOf(t.Body)
	case t.Cell == DoubtCheck && (s.judging || s.handed) && t.on != "":
		s.page = s.pageOf(t.on)
	case t.Cell == DoubtCheck && !s.page.wide():
		s.page = s.pages[slices.IndexFunc(s.pages, (*page).wide)]
	}
}

func (s *Session) answered(step Step, t *Task, e Event) {
	earned := e.Verdict == string(grading.Right) || e.Verdict == string(grading.Remarked)
	switch step {
	case StepPositive:
		if earned {
			s.page.choice.Clockwise = e.Typed == "cw"
			s.regrade(StepMoment)
		}
		return
	case StepAxes:
		if _, err := s.problem.Axis(e.Typed); err == nil && earned {
			s.page.choice.Tilt = e.Typed
			s.regrade(StepX, StepY)
		}
		return
	}
	if t == nil {
		return
	}
	t.Tries++
	t.Last = grading.Verdict{Outcome: grading.Outcome(e.Verdict), Slips: e.Slip}
	if step == StepForces && earned && !ListDone(e.Typed) {
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
		s.page.list, s.page.lines = nil, nil
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

// setPivot takes the learner's pivot and reports whether it is a new one.
func (s *Session) setPivot(typed string) bool {
	v, p := s.page.grader.Pivot(typed)
	if !v.Earned() || p.Name == s.page.choice.Pivot {
		return false
	}
	s.page.choice.Pivot = p.Name
	return true
}

// listForces adds typed lines to the list of forces.
func (s *Session) listForces(typed string) {
	for _, line := range ListLines(typed) {
		v, l := s.page.grader.ForceLine(line)
		known := slices.ContainsFunc(s.page.list, func(o grading.Listed) bool { return o.Symbol == l.Symbol })
		if v.Earned() && !known {
			s.page.list, s.page.lines = append(s.page.list, l), append(s.page.lines, line)
		}
	}
}

// unlist takes a force off a list that is still being written.
func (s *Session) unlist(symbol string) {
	i := slices.IndexFunc(s.page.list, func(l grading.Listed) bool { return l.Symbol == symbol })
	t := s.Find(StepForces, "")
	if i < 0 || i >= len(s.page.lines) || t.Done() && t.Status != Taken {
		return
	}
	s.page.list, s.page.lines = slices.Delete(s.page.list, i, i+1), slices.Delete(s.page.lines, i, i+1)
	if t.Status == Taken {
		t.Typed = strings.Join(s.page.lines, "; ")
		t.Reads = s.reads(t)
		s.rebuild()
		s.plan()
		s.cover()
	}
	s.at = max(slices.Index(s.tasks, t), 0)
}

// excused puts a force that the learner rightly left out of the list (the
// inertia force, with moments about the centre of mass) in the ledger, where
// it stands as mass times acceleration.
func (s *Session) excused() {
	b := s.page.body
	for _, f := range b.Forces {
		if !slices.ContainsFunc(s.page.list, func(l grading.Listed) bool { return l.Symbol == f.Symbol }) {
			s.page.list = append(s.page.list, grading.Listed{Symbol: f.Symbol, At: f.At})
		}
	}
	for _, c := range b.Couples {
		if !slices.ContainsFunc(s.page.list, func(l grading.Listed) bool { return l.Symbol == c.Symbol }) {
			s.page.list = append(s.page.list, grading.Listed{Symbol: c.Symbol})
		}
	}
}

// rebuild makes each body's grader for the present choices. A force assumed
// the other way on one body is so on all.
func (s *Session) rebuild() {
	reversed := map[string]bool{}
	for _, pg := range s.pages {
		for _, l := range pg.list {
			if l.Reversed {
				reversed[l.Symbol] = true
			}
		}
	}
	for _, pg := range s.pages {
		pg.choice.Reversed, pg.choice.Settled = reversed, s.settledFor(pg)
		if g, err := grading.New(s.problem, pg.choice); err == nil {
			pg.grader = g
		}
	}
}

// settledFor are the forces whose sense was taken when another body was
// isolated.
func (s *Session) settledFor(pg *page) map[string]bool {
	out := map[string]bool{}
	for _, o := range s.pages {
		if o == pg || !s.find(o, StepForces, "").Done() {
			continue
		}
		for _, l := range o.list {
			out[l.Symbol] = true
		}
	}
	return out
}

// regrade makes the grader for a new choice, and opens again the lines that
// the choice has changed.
func (s *Session) regrade(steps ...Step) {
	s.rebuild()
	for _, t := range s.Ledger() {
		row := Step(t.Cell)
		if t.Status != Taken && (slices.Contains(steps, t.Step) || t.Step == StepEquation && slices.Contains(steps, row)) {
			s.reopen(t)
		}
	}
	s.plan()
	s.cover()
	if c := s.Current(); c == nil || c.Done() {
		first := slices.IndexFunc(s.tasks, func(t *Task) bool { return t.Body == s.page.body.Name })
		s.at = s.nextOpen(first)
	}
}

func (s *Session) reopen(t *Task) {
	t.Status, t.Typed, t.Reads = Open, "", ""
	s.earned = slices.DeleteFunc(s.earned, func(k key) bool { return k == t.key() })
}

func (s *Session) undo(t *Task) {
	s.reopen(t)
	if t.Step == StepForces {
		if !s.judgesLater() {
			s.page.list, s.page.lines = nil, nil
		}
		s.rebuild()
		s.plan()
	}
	s.cover()
	s.at = max(slices.Index(s.tasks, t), 0)
}

// cover settles what the other way of writing a row makes unnecessary, and the
// bodies that are not needed once others fix every unknown.
func (s *Session) cover() {
	var done []string
	for _, pg := range s.pages {
		pg.spared = false
		s.coverRows(pg)
		open := false
		for _, t := range s.ledger(pg) {
			if t.Status == Covered && (t.Step == StepPivot || t.Step == StepForces) {
				t.Status = Open
			}
			open = open || t.Status == Open
		}
		if !open {
			done = append(done, pg.body.Name)
		}
	}
	if len(done) == 0 || len(done) == len(s.pages) || !s.problem.Fixes(done...) {
		return
	}
	for _, t := range s.tasks {
		if t.Body != "" && t.Status == Open {
			t.Status = Covered
			s.pageOf(t.Body).spared = true
		}
	}
}

// coverRows settles cells whose whole equation is earned, and equations whose
// cells all are. The cells of a row in which no force has a part go with the
// other rows.
func (s *Session) coverRows(pg *page) {
	written := func(t *Task) bool { return t.Status == Earned || t.Status == Shown || t.Status == Taken }
	every := true // each equation there is has been written whole
	lines := s.ledger(pg)
	for _, t := range lines {
		every = every && (t.Step != StepEquation || written(t))
	}
	for _, row := range statics.Rows {
		eq := s.find(pg, StepEquation, string(row))
		var cells []*Task
		for _, t := range lines {
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
			if o.Step == StepEquation && o.Body == t.Body && !o.Done() {
				s.at = i
				return
			}
		}
		s.at = s.nextOpen(0)
		return
	}
	s.at = s.nextOpen(slices.Index(s.tasks, t) + 1)
	if c := s.Current(); c == nil || c.Body != "" || t.Body == "" {
		return
	}
	// The last line of a body: values come when the other bodies are done.
	if i := slices.IndexFunc(s.tasks, func(o *Task) bool { return o.Body != "" && o.Body != t.Body && !o.Done() }); i >= 0 {
		s.at = i
	}
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
