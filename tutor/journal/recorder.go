package journal

import (
	"time"

	"steelyard/tutor"
)

// A Recorder appends one session's events, and fills in what the session does
// not know: who, when, and how long after the event before. It is a
// [tutor.Recorder].
type Recorder struct {
	journal *Journal
	learner string
	session string
	last    time.Time
}

// Recorder makes a recorder for a session; an empty session begins a new one.
func (j *Journal) Recorder(learner, session string) *Recorder {
	if session == "" {
		session = j.NewSession()
	}
	return &Recorder{journal: j, learner: learner, session: session}
}

// Session is the id that its events carry.
func (r *Recorder) Session() string { return r.session }

// Record makes an event durable.
func (r *Recorder) Record(e *tutor.Event) error {
	now := time.Now()
	e.Learner, e.Session, e.At = r.learner, r.session, now.UTC()
	if !r.last.IsZero() {
		// By the monotonic clock, so that a clock set back counts no less than 0.
		e.Seconds = max(0, now.Sub(r.last).Round(time.Millisecond).Seconds())
	}
	if err := r.journal.Append(e); err != nil {
		return err
	}
	r.last = now
	return nil
}
