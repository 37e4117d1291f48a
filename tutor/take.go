package tutor

import (
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// NotJudged is the outcome of a line that was read and kept, and will be
// judged later. No event has it for a verdict.
const NotJudged grading.Outcome = "taken"

// IsTaken reports whether the line was kept without being judged.
func (r Reply) IsTaken() bool { return r.Outcome == NotJudged }

// Lines that ask for something, as tasks at the end of the list.
const (
	StepChecking Step = "checking" // practice: judge what is not judged yet
	StepHandIn   Step = "hand-in"  // exam: hand the paper in
	StepClock    Step = "clock"    // no task: the clock was set back
)

// closing is what is typed at a mode's last task, and the task.
var closing = map[string]struct {
	step  Step
	typed string
	asks  string
	title string
}{
	Practice: {StepChecking, "check", "Say check to have your lines checked, or go to a line to change it.", "checking"},
	Exam:     {StepHandIn, "hand in", "Say hand in to hand the paper in, or go to a line to change it.", "handing in"},
}

// Brief says how lines are taken where they are not judged as they are entered,
// and what is worked for the learner; "" otherwise.
func (s *Session) Brief() string {
	switch s.terms.Help {
	case HelpWorked:
		return "This one is worked for you: press Enter for each line and its reason; say own to go on alone."
	case HelpHalf:
		return "Half of this one is filled in: the pivot, the forces and every second entry. The rest is yours."
	}
	switch s.mode {
	case Practice:
		return "Practice: what you type is read back and kept. Say check when you want it checked."
	case Exam:
		return "Exam: what you type is read back and kept, and not judged until you say hand in. Until then any line may be changed: go to it and type it again."
	}
	return ""
}

func isClosing(step Step) bool { return step == StepChecking || step == StepHandIn }

// took handles a line in a mode that judges later: what can be read is kept,
// and read back, and nothing is said of it.
func (s *Session) took(text string) (Event, Reply) {
	words := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if words == closing[s.mode].typed {
		return s.close()
	}
	if drop, ok := strings.CutPrefix(words, "drop "); ok {
		if e, r, ok := s.drop(drop); ok {
			return e, r
		}
	}
	t := s.takeAsTyped(text)
	if t == nil || isClosing(t.Step) {
		e := s.event(Unread, t)
		e.Typed, e.Verdict = clip(text), string(grading.Unreadable)
		return e, unreadable(closing[s.mode].asks)
	}
	r := s.grade(t, text)
	if strings.Contains(text, "=") && (t.IsCell() || t.Step == StepPivot) {
		r = unreadable(s.whichEquation())
	}
	if r.Outcome == grading.Unreadable {
		e := s.event(Unread, t)
		e.Typed, e.Verdict = clip(text), string(r.Outcome)
		return e, r
	}
	// What reading gives is the same whether the line is right or wrong.
	reads := notation.Printable(strings.Join(ListLines(text), "; "))
	if ListDone(text) && t.Step == StepForces {
		reads = notation.Printable(strings.Join(s.page.lines, "; "))
	}
	if t.Step != StepForces {
		reads = s.reads(&Task{Step: t.Step, Cell: t.Cell, Typed: text})
	}
	if t.Step == StepPivot || t.Step == StepDoubt {
		reads = r.ReadsAs
	}
	note := ""
	if t.Step == StepForces && !ListDone(text) && !t.Done() {
		note = "Another force, or: done."
	}
	e := s.event(Moved, t)
	e.Typed = clip(text)
	return e, Reply{Step: t.Step, Cell: t.Cell, Note: note, Verdict: grading.Verdict{Outcome: NotJudged, ReadsAs: reads}}
}

// whichEquation asks for the line of an equation whose row its place does not
// tell.
func (s *Session) whichEquation() string {
	var names []string
	for _, t := range s.Ledger() {
		if t.Step == StepEquation {
			names = append(names, "go equation "+t.Cell)
		}
	}
	return "Which equation is that? Go to its line first: " + strings.Join(names, ", ") + "."
}

func unreadable(message string) Reply {
	return Reply{Verdict: grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: message}}
}

// close is the event of asking to be checked, or of handing in. Who hands in
// from another line is taken to the last one first, and asked once more.
func (s *Session) close() (Event, Reply) {
	c := closing[s.mode]
	e := s.event(Moved, &Task{Step: c.step})
	r := Reply{Step: c.step, Verdict: grading.Verdict{Outcome: NotJudged}}
	if s.mode == Exam && s.Current().Step != StepHandIn {
		r.Message = count(s.open(), "line is", "lines are") + " still open. " + c.asks
		return e, r
	}
	if s.mode == Practice && !s.anyTaken() {
		e = s.event(Unread, nil)
		e.Typed, e.Verdict = c.typed, string(grading.Unreadable)
		return e, unreadable("There is nothing to check yet: no line was written since the last time.")
	}
	e.Typed = c.typed
	if s.mode == Exam {
		r.Message = "The paper is handed in."
	}
	return e, r
}

// drop takes a force off the list, by its symbol.
func (s *Session) drop(name string) (Event, Reply, bool) {
	t := s.Current()
	if t == nil || t.Step != StepForces {
		return Event{}, Reply{}, false
	}
	for i, l := range s.page.list {
		if strings.EqualFold(l.Symbol, name) && i < len(s.page.lines) {
			e := s.event(Undone, &Task{Body: s.page.body.Name, Step: StepForces, Cell: l.Symbol})
			return e, Reply{Step: StepForces, Verdict: grading.Verdict{Outcome: NotJudged, ReadsAs: "without " + notation.Display(l.Symbol, s.ASCII)}}, true
		}
	}
	return Event{}, Reply{}, false
}

// open counts the lines that nothing is written in; an equation is not one
// where its entries can be written.
func (s *Session) open() int {
	n := 0
	for _, t := range s.tasks {
		if t.Status != Open || isClosing(t.Step) || t.Step == StepEquation && s.find(s.pageOf(t.Body), StepForces, "").Done() {
			continue
		}
		n++
	}
	return n
}

func (s *Session) anyTaken() bool {
	return slices.ContainsFunc(s.tasks, func(t *Task) bool { return t.Status == Taken })
}

// takeAsTyped decides which task a line is for by its form alone, so that
// nothing of the verdict shows: a value is for its symbol, an equation in an
// entry for the entry's own row.
func (s *Session) takeAsTyped(text string) *Task {
	t := s.Current()
	if !strings.Contains(text, "=") || t != nil && t.Step == StepValue {
		return t
	}
	if q, err := s.problem.Table.ParseValue(text); err == nil && q.Symbol != "" && len(notation.Symbols(q.Expr)) == 0 {
		if v := s.Find(StepValue, q.Symbol); v != nil {
			return v
		}
	}
	if t != nil && t.IsCell() {
		if eq := s.Find(StepEquation, string(t.Step)); eq != nil {
			return eq
		}
	}
	return t
}

// listing reads lines of a list of forces that will be judged later, or the
// word that says it is whole.
func (s *Session) listing(text string) grading.Verdict {
	if ListDone(text) {
		if len(s.page.lines) == 0 {
			return grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: emptyList}
		}
		return grading.Verdict{Outcome: NotJudged}
	}
	lines := ListLines(text)
	if len(lines)+len(s.page.list) > grading.MaxListed {
		return unreadable("That makes more lines than any list here has. Take one off, like: drop W.").Verdict
	}
	for _, line := range lines {
		if v, _ := s.page.grader.ForceLine(line); v.Outcome == grading.Unreadable {
			return v
		}
	}
	return grading.Verdict{Outcome: NotJudged}
}

// takeLine folds a line in that is judged later.
func (s *Session) takeLine(t *Task, e Event) {
	if t == nil || isClosing(t.Step) || s.late() {
		return
	}
	if t.Step == StepForces && !ListDone(e.Typed) {
		s.listTaken(e.Typed)
		if t.Done() {
			t.Typed = strings.Join(s.page.lines, "; ")
			t.Reads = notation.Printable(t.Typed)
			s.rebuild()
			s.plan()
			s.cover()
		}
		return
	}
	s.turns++
	t.Status, t.Typed, t.turn, t.on = Taken, e.Typed, s.turns, s.page.body.Name
	switch t.Step {
	case StepPivot:
		if s.setPivot(e.Typed) {
			s.regrade(StepMoment)
		}
	case StepForces:
		t.Typed = strings.Join(s.page.lines, "; ")
		s.excusedTaken()
		s.rebuild()
		s.plan()
	}
	t.Reads = s.reads(t)
	s.earned = append(slices.DeleteFunc(s.earned, func(k key) bool { return k == t.key() }), t.key())
	s.cover()
	s.advance(t)
}

// listTaken puts typed lines in the list, right or wrong. A line about a force
// that is there already takes its place. One by a name of the learner's own is
// of the force that acts so, unless that is listed by its name.
func (s *Session) listTaken(typed string) {
	for _, line := range ListLines(typed) {
		v, l := s.page.grader.ForceLine(line)
		if v.Outcome == grading.Unreadable {
			continue
		}
		listed := func() int {
			return slices.IndexFunc(s.page.list, func(o grading.Listed) bool { return o.Symbol == l.Symbol })
		}
		renamed := slices.Contains(v.Slips, "not-on-body")
		if l.Symbol == "" || renamed && listed() >= 0 {
			l.Symbol = s.page.grader.NameIn(line)
		}
		i := listed()
		switch {
		case i >= 0 && i < len(s.page.lines):
			s.page.list[i], s.page.lines[i] = l, line
		case i < 0 && len(s.page.list) < grading.MaxListed:
			at := len(s.page.lines) // before what was added to it unasked
			s.page.list, s.page.lines = slices.Insert(s.page.list, at, l), append(s.page.lines, line)
		}
	}
}

// excusedTaken puts the inertia force in the ledger, listed or not: it may be
// left out of the list, and then stands there as mass times acceleration.
func (s *Session) excusedTaken() {
	st := s.problem.Steady
	if st == nil {
		return
	}
	if _, here := s.page.body.Force(st.Inertia); !here {
		return
	}
	if !slices.ContainsFunc(s.page.list, func(l grading.Listed) bool { return l.Symbol == st.Inertia }) {
		s.page.list = append(s.page.list, grading.Listed{Symbol: st.Inertia, At: st.Centre})
	}
}

// foreign grades an entry of a force that the body has not: it is read, and
// nothing in it can be right.
func (s *Session) foreign(t *Task, text string) (grading.Verdict, error) {
	some := ""
	switch b := s.page.body; {
	case len(b.Forces) > 0:
		some = b.Forces[0].Symbol
	case len(b.Couples) > 0:
		some = b.Couples[0].Symbol
	}
	v, err := s.page.grader.Cell(statics.RowKind(t.Step), some, text)
	if err != nil || v.Outcome == grading.Unreadable {
		return v, err
	}
	return grading.Verdict{Outcome: grading.Wrong, Slips: []string{"not-on-body"}, ReadsAs: v.ReadsAs,
		Message: notation.Display(t.Cell, s.ASCII) + " is no force on the " + s.page.body.Name + ", so it adds nothing to this row."}, nil
}

// isForeign reports whether an entry is of a force that the body has not.
func (s *Session) isForeign(t *Task) bool {
	_, err := s.page.grader.Entry(statics.RowKind(t.Step), t.Cell)
	return err != nil
}
