package review

import (
	"cmp"
	"slices"
	"time"

	"steelyard/problems"
	"steelyard/tutor"
)

// class is what all sessions come to, before it is put into the words of a
// report.
type class struct {
	st   *store
	bank *problems.Bank

	mets    []met // by session, in the order the lines were met
	ends    []end // by session
	wrongs  map[wrongKey]*wrongLine
	minutes map[string]float64 // by slip
	answers int

	scenarios map[uint32]*problems.Scenario // by text of the problem; nil where the bank has none
}

// met is one line of a problem as one learner met it.
type met struct {
	session  uint32
	task     uint32
	slips    uint32 // of the first attempt
	attempts int32
	wrong    int32
	unread   int32
	hints    int32
	seconds  float32
	deepest  uint8
	first    bool // right at the first attempt, without a hint
	earned   bool
	shown    bool
}

// end is how a session went as a whole.
type end struct {
	finished  bool
	left      uint32 // the line it was left at, if it was not finished
	seconds   float32
	longWaits int32
	days      []int32
}

// wrongKey is a wrong line as typed, at one problem.
type wrongKey struct {
	instance, task, pivot, typed, slips uint32
	positive                            uint8
}

// wrongLine is who typed it.
type wrongLine struct {
	count    int
	learners []uint32 // sorted, each once, after the fold
}

func newClass(st *store, g *regrader) *class {
	c := &class{st: st, bank: g.bank, wrongs: map[wrongKey]*wrongLine{}, minutes: map[string]float64{},
		scenarios: map[uint32]*problems.Scenario{}, ends: make([]end, len(st.sessions))}
	f := fold{class: c, at: map[uint32]int{}, general: map[uint32]uint32{}}
	for i := range st.sessions {
		f.session(uint32(i))
	}
	for _, w := range c.wrongs {
		slices.Sort(w.learners)
		w.learners = slices.Compact(w.learners)
	}
	return c
}

// fold folds one session after another.
type fold struct {
	*class
	at      map[uint32]int    // task -> index in mets, for the session in hand
	general map[uint32]uint32 // task -> the same without the body, where it is of no body
	owed    owed
}

// owed is the wrong answer whose time is running.
type owed struct {
	task  uint32
	slips []string
}

// anyBody is the task that a line counts for: a value or a doubt is of no body,
// whichever was in hand.
func (f *fold) anyBody(i uint32) uint32 {
	if to, ok := f.general[i]; ok {
		return to
	}
	to, t := i, f.st.tasks.list[i]
	if !tutor.Step(f.st.str(t.step)).OfBody() {
		t.body = 0
		to = f.st.tasks.add(t)
	}
	f.general[i] = to
	return to
}

func (f *fold) session(i uint32) {
	clear(f.at)
	f.owed = owed{}
	s := &f.st.sessions[i]
	e := &f.ends[i]
	for _, k := range s.events {
		f.event(i, s, e, f.st.event(k))
	}
	if e.finished {
		e.left = 0
	}
}

// counted is how much of a wait counts as work, in seconds.
func counted(seconds float32) float32 { return min(max(seconds, 0), float32(MaxWait/time.Second)) }

func (f *fold) event(i uint32, s *session, end *end, e *event) {
	wait := counted(e.seconds)
	end.seconds += wait
	if float64(e.seconds) > LongWait.Seconds() {
		end.longWaits++
	}
	if day := int32(e.at / int64(24*time.Hour)); len(end.days) == 0 || end.days[len(end.days)-1] != day {
		end.days = append(end.days, day)
	}
	task := f.anyBody(e.task)
	step := tutor.Step(f.st.str(f.st.tasks.list[task].step))
	if step != "" && step != tutor.StepReason {
		end.left = task
	}
	switch {
	case e.kind == finished:
		end.finished = true
	case e.kind == undone:
		end.finished = false
	}
	if !isLine(step) {
		return
	}
	if task == f.owed.task {
		for _, code := range f.owed.slips {
			f.minutes[code] += float64(wait) / 60 / float64(len(f.owed.slips))
		}
	}
	if task != f.owed.task || e.kind == answered {
		f.owed = owed{}
	}
	switch e.kind {
	case answered, unread:
		f.answers++
		f.answered(i, s, e, task, step, wait)
	case moved:
		if e.typed != 0 { // entered, to be judged later
			f.met(i, task).seconds += wait
		}
	case hinted:
		m := f.met(i, task)
		m.seconds += wait
		m.hints++
		m.deepest = max(m.deepest, e.hint)
		if e.hint == 3 {
			m.shown, m.earned = true, false
		}
	case undone:
		if at, ok := f.at[task]; ok {
			f.mets[at].earned = false
		}
	}
}

// isLine reports whether a step asks for a line: not a choice that may be made
// at any time, nor one that no tutor has.
func isLine(step tutor.Step) bool {
	switch step {
	case tutor.StepPivot, tutor.StepForces, tutor.StepX, tutor.StepY, tutor.StepMoment, tutor.StepEquation, tutor.StepValue, tutor.StepDoubt:
		return true
	}
	return false
}

func (f *fold) met(i, task uint32) *met {
	at, ok := f.at[task]
	if !ok {
		at = len(f.mets)
		f.at[task] = at
		f.mets = append(f.mets, met{session: i, task: task})
	}
	return &f.mets[at]
}

func (f *fold) answered(i uint32, s *session, e *event, task uint32, step tutor.Step, wait float32) {
	m := f.met(i, task)
	m.seconds += wait
	if e.outcome == unreadable || e.outcome == noVerdict {
		m.unread++
		return
	}
	earned := e.outcome == right || e.outcome == remarked
	if step == tutor.StepForces && earned && !tutor.ListDone(f.st.str(e.typed)) {
		return // the list counts as one attempt, when it is called done
	}
	m.attempts++
	if m.attempts == 1 {
		m.first = earned && m.hints == 0
		m.slips = e.graded
	}
	m.earned = m.earned || earned
	if earned {
		return
	}
	m.wrong++
	f.owed = owed{task, f.st.codes(e.graded)}
	key := wrongKey{s.instance, task, e.pivot, e.typed, e.graded, e.positive}
	w := f.wrongs[key]
	if w == nil {
		w = &wrongLine{}
		f.wrongs[key] = w
	}
	w.count++
	if n := len(w.learners); n == 0 || w.learners[n-1] != s.learner {
		w.learners = append(w.learners, s.learner)
	}
}

// summary fills the counts at the head of a report.
func (c *class) summary(rep *Report) {
	rep.Learners = len(c.st.learnersInOrder())
	rep.Sessions = len(c.st.sessions)
	rep.Events = c.st.n
	rep.Answers = c.answers
	for _, e := range c.ends {
		if e.finished {
			rep.Finished++
		}
	}
	if c.st.n > 0 {
		rep.From, rep.To = time.Unix(0, c.st.first).UTC(), time.Unix(0, c.st.last).UTC()
	}
}

// problemTask is a line of a scenario, whatever its numbers.
type problemTask struct{ problem, task uint32 }

func (c *class) of(m *met) problemTask {
	s := &c.st.sessions[m.session]
	return problemTask{c.st.places.list[s.instance].problem, m.task}
}

func (c *class) learner(m *met) uint32 { return c.st.sessions[m.session].learner }

// scenario is the scenario of a problem's text, or nil.
func (c *class) scenario(problem uint32) *problems.Scenario {
	s, known := c.scenarios[problem]
	if !known {
		s, _ = c.bank.Scenario(c.st.str(problem))
		c.scenarios[problem] = s
	}
	return s
}

// crowd is a set of learners, gathered a few at a time.
type crowd struct {
	list []uint32
	neat int // so many of the list are in order, each once
}

func (c *crowd) add(learners []uint32) {
	c.list = append(c.list, learners...)
	if len(c.list) > 2*c.neat+64 {
		c.all()
	}
}

// all is the learners in order, each once.
func (c *crowd) all() []uint32 {
	if c.neat < len(c.list) {
		slices.Sort(c.list)
		c.list = slices.Compact(c.list)
		c.neat = len(c.list)
	}
	return c.list
}

func (c *crowd) count() int { return len(c.all()) }

// counts lists how often each name was seen, commonest first, at most as many.
func counts(of map[string]int, most int) []Count {
	out := make([]Count, 0, len(of))
	for name, n := range of {
		out = append(out, Count{name, n})
	}
	slices.SortFunc(out, func(a, b Count) int { return cmp.Or(b.Count-a.Count, cmp.Compare(a.Name, b.Name)) })
	return out[:min(most, len(out))]
}
