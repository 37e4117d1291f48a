package review

import (
	"math"
	"slices"
	"time"

	"github.com/google/uuid"

	"steelyard/grading"
	"steelyard/tutor"
)

// replay grades a session by working through it again with the tutor's own
// session, which is asked for each line that the log has: what it takes the
// line for, and what it says of it. It needs nothing to be known of how
// verdicts come about, so that what it does not agree with was not written by
// the tutor. A session whose lines are judged later than they are entered is
// graded so, for there a verdict depends on all that was entered; and so is one
// that a walk has found something in.
func (w *worker) replay(s *session) Altered {
	a := w.altered(s)
	again, err := tutor.New(w.problem.p, w.st.str(s.mode))
	if err != nil {
		w.trust(s)
		return a
	}
	judged := w.judged(s)
	for _, i := range s.events {
		e := w.st.event(i)
		full := w.full(s, e)
		switch {
		case full.Step != "" && (e.kind == answered || e.kind == unread):
			full = w.again(s, &a, e, again, full)
		case e.kind == moved && full.Typed != "" && !judged[typedLine{e.task, e.typed}]:
			w.kept(s, &a, e, again, full)
		case e.kind == finished:
			next, _, ok := again.Due()
			s.gap = s.gap || !again.Finished() && !(ok && next.Kind == tutor.Finished)
		}
		again.Apply(full)
	}
	return a
}

// typedLine is a line as typed.
type typedLine struct{ task, typed uint32 }

// judged are the lines that have a verdict: what is kept of them is compared
// when they get it.
func (w *worker) judged(s *session) map[typedLine]bool {
	out := map[typedLine]bool{}
	for _, i := range s.events {
		if e := w.st.event(i); e.kind == answered {
			out[typedLine{e.task, e.typed}] = true
		}
	}
	return out
}

// again compares a line that has a verdict with what the session makes of it,
// and gives the event with the verdict that it should have: what comes after it
// was written by who had been told that one.
func (w *worker) again(s *session, a *Altered, e *event, again *tutor.Session, full tutor.Event) tutor.Event {
	if e.kind == unread && full.Typed == "" && e.verdict == noVerdict {
		e.outcome, e.graded = e.verdict, e.slips
		return full // nothing was typed where a line would have been shown
	}
	next, due := w.next(again, full)
	same := next.Kind == full.Kind && next.Step == full.Step && next.Cell == full.Cell && next.Typed == full.Typed &&
		next.Pivot == full.Pivot && next.Positive == full.Positive
	r := result{}
	if same {
		r = result{outcomeOf(next), w.intern(next.Slip)}
	}
	w.compare(a, e, r, full.Step)
	switch {
	case due && (next.Step != full.Step || next.Cell != full.Cell), same && full.Try > next.Try:
		s.gap = true
	case same && full.Try < next.Try && r.outcome == e.verdict && r.slips == e.slips:
		w.differs(a, e, full.Step) // as if it had been got right sooner
	}
	if same {
		full.Verdict, full.Slip = next.Verdict, next.Slip
	}
	return full
}

// next is the event that the session gives for a line of the log; due reports
// whether it was to come unasked.
func (w *worker) next(again *tutor.Session, full tutor.Event) (next tutor.Event, due bool) {
	if step := tutor.Step(full.Step); step == tutor.StepPositive || step == tutor.StepAxes {
		next, err := again.Choose(step, full.Typed)
		if err != nil {
			next = tutor.Event{Kind: tutor.Unread, Step: full.Step}
		}
		return next, false
	}
	if next, _, due = again.Due(); due && (next.Kind == tutor.Answered || next.Kind == tutor.Unread) {
		return next, true
	}
	next, _ = again.Answer(full.Typed)
	return next, false
}

// kept compares a line that was kept to be judged later with what the session
// takes it for.
func (w *worker) kept(s *session, a *Altered, e *event, again *tutor.Session, full tutor.Event) {
	switch step := tutor.Step(full.Step); {
	case again.Judges() || step == tutor.StepClock || step == tutor.StepHelp || step == tutor.StepChecking || step == tutor.StepHandIn:
		return
	}
	if next, _ := again.Answer(full.Typed); next.Kind != full.Kind || next.Step != full.Step || next.Cell != full.Cell || next.Typed != full.Typed {
		w.differs(a, e, full.Step)
	}
}

func outcomeOf(e tutor.Event) uint8 {
	return uint8(max(slices.Index(verdicts, grading.Outcome(e.Verdict)), 0))
}

// full is an event as it was recorded.
func (w *worker) full(s *session, e *event) tutor.Event {
	st, t := w.st, w.st.tasks.list[e.task]
	w.mu.Lock()
	slips := st.codes(e.slips)
	w.mu.Unlock()
	// A recorder counts seconds to the thousandth, of which fewer digits are
	// kept; the time that an exam has left is to the same thousandth.
	seconds := math.Round(1000*float64(e.seconds)) / 1000
	return tutor.Event{V: tutor.Version, ID: uuid.UUID(e.id).String(), At: time.Unix(0, e.at).UTC(), Learner: st.str(s.learner),
		Session: uuid.UUID(s.sessionKey.id).String(), Problem: st.str(w.problem.at.problem), Seed: w.problem.at.seed, Given: st.str(w.problem.at.given),
		ScenarioHash: st.str(s.hash), Mode: st.str(s.mode), Kind: kinds[e.kind], Step: st.str(t.step), Body: st.str(t.body), Cell: st.str(t.cell),
		Pivot: st.str(e.pivot), Positive: turnings[e.positive], Typed: st.str(e.typed), Verdict: string(verdicts[e.verdict]), Slip: slips,
		Try: int(e.try), HintDepth: int(e.hint), Seconds: seconds}
}
