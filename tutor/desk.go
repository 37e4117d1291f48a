package tutor

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
}

// Sit begins a session, or goes on with one whose events are given.
func Sit(s *Session, rec Recorder, events []Event) (*Desk, error) {
	d := &Desk{Session: s, rec: rec, events: events}
	if len(events) > 0 {
		return d, nil
	}
	return d, d.do(s.Begin())
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
	return r, d.finish(done)
}

// finish records that the last task is done, once.
func (d *Desk) finish(before bool) error {
	if before || !d.Finished() {
		return nil
	}
	return d.do(d.Session.Finish())
}

// Hint gives the next deeper hint on the current task; "" if there is none.
func (d *Desk) Hint() (string, error) {
	done := d.Finished()
	e, text, ok := d.Session.Hint()
	if !ok {
		return "", nil
	}
	if err := d.do(e); err != nil {
		return "", err
	}
	return text, d.finish(done)
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
