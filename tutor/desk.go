package tutor

import (
	"slices"
	"strings"
	"time"

	"steelyard/grading"
)

// Recorder makes events durable. Record fills in what belongs to it (id, time,
// learner, session, seconds) and returns only when the event is safe.
type Recorder interface {
	Record(e *Event) error
}

// Desk is a session with its recorder: each thing the learner does is recorded
// before it is applied, and so before anything is said about it. If recording
// fails, nothing has happened, and the error says why.
type Desk struct {
	*Session
	rec    Recorder
	events []Event
	wrong  map[key]string // what was said of lines when they were judged, of those that were wrong

	// Sealed, if set, reports whether the paper, though handed in, is not yet to
	// be shown: other papers of the exam are still being written.
	Sealed func() bool
}

// Returned is the marked paper, once it may be shown.
func (d *Desk) Returned() (*Paper, bool) {
	if d.Sealed != nil && d.Sealed() {
		return nil, false
	}
	return d.Paper()
}

// Sit begins a session, or goes on with one whose events are given. One that
// was cut off between its last line and its end is ended now.
func Sit(s *Session, rec Recorder, events []Event) (*Desk, error) {
	d := &Desk{Session: s, rec: rec, events: events, wrong: map[key]string{}}
	if len(events) > 0 {
		if err := d.settle(nil); err != nil {
			return d, err
		}
		ended := slices.ContainsFunc(d.events, func(e Event) bool { return e.Kind == Finished })
		return d, d.finish(ended)
	}
	if err := d.do(s.Begin()); err != nil {
		return nil, err
	}
	return d, d.settle(nil)
}

// settle records what follows from what was recorded, and counts verdicts on
// lines that were taken before.
func (d *Desk) settle(c *tally) error {
	judged := map[key]bool{}
	for {
		e, r, ok := d.Session.Due()
		if !ok {
			return nil
		}
		title, at := "", key{}
		if t := d.Session.Current(); t != nil {
			title, at = d.Session.Title(t), t.key()
		}
		if err := d.do(e); err != nil {
			return err
		}
		if c == nil || e.Kind != Answered && e.Kind != Unread {
			continue
		}
		c.add(title, r, e.Typed)
		if !judged[at] {
			judged[at] = true
			delete(d.wrong, at)
		}
		if r.Outcome == grading.Wrong {
			reads := r.ReadsAs
			switch {
			case r.Step == StepForces && ListDone(e.Typed):
				reads = "" // of the list as a whole: its lines were judged before
			case reads != "":
				reads += ". "
			}
			d.wrong[at] = strings.TrimSpace(d.wrong[at] + " " + reads + r.Message)
		}
	}
}

// Said is what was said of a task's line when it was last judged with others
// and found wrong, or "". It is not kept beyond this sitting.
func (d *Desk) Said(t *Task) string { return d.wrong[t.key()] }

// Tick hands the paper in if time is up at a moment, and reports whether it
// did. A front with a clock calls it now and then; without, the next line does.
func (d *Desk) Tick(now time.Time) (bool, error) {
	left, limited := d.Remaining(now)
	if !limited || left > 0 || d.HandedIn() || d.Finished() {
		return false, nil
	}
	e := d.Session.event(Moved, &Task{Step: StepHandIn})
	e.Typed = timeIsUp
	if err := d.do(e); err != nil {
		return false, err
	}
	return true, d.settle(nil)
}

func (d *Desk) do(e Event) error {
	if err := d.rec.Record(&e); err != nil {
		return err
	}
	d.events = append(d.events, e)
	d.Session.Apply(e)
	return nil
}

// Events is all that has happened, in order.
func (d *Desk) Events() []Event { return d.events }

// Answer grades a line, records it, and moves on if it was right.
func (d *Desk) Answer(text string) (Reply, error) {
	done := d.Finished()
	e, r := d.Session.Answer(text)
	if err := d.do(e); err != nil {
		return Reply{}, err
	}
	if d.late() && !d.HandedIn() && !done {
		r = unreadable("Time is up: that line came too late. The paper is handed in as it was.")
	}
	var c tally
	checking := d.Session.judging && !d.HandedIn()
	if err := d.settle(&c); err != nil {
		return Reply{}, err
	}
	if checking {
		r = c.reply()
	}
	return r, d.finish(done)
}

// finish records that the last task is done, once.
func (d *Desk) finish(before bool) error {
	if before || !d.Finished() || d.lastDone() == Finished {
		return nil
	}
	return d.do(d.Session.Finish())
}

// lastDone is the kind of the last event; a reason that is asked for is none.
func (d *Desk) lastDone() Kind {
	for _, e := range slices.Backward(d.events) {
		if e.Kind != Asked {
			return e.Kind
		}
	}
	return ""
}

// Hint gives the next deeper hint on the current task; "" if there is none.
func (d *Desk) Hint() (string, error) {
	done := d.Finished()
	if why := d.noHint(); why != "" {
		return why, nil
	}
	e, text, ok := d.Session.Hint()
	if !ok {
		return "", nil
	}
	if err := d.do(e); err != nil {
		return "", err
	}
	if err := d.settle(nil); err != nil {
		return "", err
	}
	return text, d.finish(done)
}

// noHint says why the next deeper hint is not to be had, or "". It is the
// desk's to say, which is where the learner sits: the session knows every line.
func (d *Desk) noHint() string {
	t := d.Current()
	if t == nil || t.Done() || t.Hints < d.terms.Hints {
		return ""
	}
	switch {
	case d.mode == Exam && d.terms.Hints == 0:
		return "An exam gives no hints."
	case d.terms.Hints == 0:
		return "This set gives no hints."
	case t.Hints >= MaxHints:
		return ""
	}
	return "There is no deeper hint in this set."
}

// Undo takes back the line earned last; false if there is none.
func (d *Desk) Undo() (bool, error) {
	e, ok := d.Session.Undo()
	if !ok {
		return false, nil
	}
	return true, d.do(e)
}

// Go moves to another task; false if there is no such task.
func (d *Desk) Go(step Step, cell string) (bool, error) {
	e, ok := d.Session.Go(step, cell)
	if !ok {
		return false, nil
	}
	return true, d.do(e)
}

// Turn takes another body in hand. An error that is not from recording says
// which bodies there are.
func (d *Desk) Turn(body string) error {
	e, err := d.Session.Turn(body)
	if err != nil {
		return err
	}
	return d.do(e)
}

// Choose takes a sign convention or a tilt of the axes. An error that is not
// from recording says what may be chosen.
func (d *Desk) Choose(step Step, value string) error {
	e, err := d.Session.Choose(step, value)
	if err != nil {
		return err
	}
	return d.do(e)
}

// Leave records that the learner goes away; a finished problem is only left.
func (d *Desk) Leave() error {
	if d.Finished() {
		return nil
	}
	return d.do(d.Session.Leave())
}
