package review

import (
	"slices"
	"time"

	"github.com/google/uuid"

	"steelyard/grading"
	"steelyard/tutor"
)

// replay grades a session whose lines were judged later than they were
// entered. There a verdict depends on all that was entered (a value may follow
// from the learner's own equations), so that the tutor's own session is worked
// through again, and asked for each verdict where the log has one.
func (w *worker) replay(s *session) {
	a := w.altered(s)
	again, err := tutor.Start(w.problem.p, tutor.TermsOf(w.st.str(s.mode)))
	if err != nil {
		w.trust(s)
		return
	}
	clear(w.tries)
	for _, i := range s.events {
		e := w.st.event(i)
		full := w.full(s, e)
		if (e.kind == answered || e.kind == unread) && full.Step != "" {
			if isLine(tutor.Step(full.Step)) {
				w.regraded++
			}
			w.compare(&a, e, w.due(again, e, full), full.Step)
		}
		again.Apply(full)
	}
	w.judge(s, a)
}

// due is the verdict that the session gives next, if it is for the line that
// the log has one for.
func (w *worker) due(again *tutor.Session, e *event, full tutor.Event) result {
	if !isLine(tutor.Step(full.Step)) { // a choice, or a question of the tutor's
		return result{e.verdict, e.slips}
	}
	next, _, ok := again.Due()
	same := ok && next.Step == full.Step && next.Cell == full.Cell && next.Typed == full.Typed
	switch {
	case same && (next.Kind == tutor.Answered || next.Kind == tutor.Unread):
		return result{uint8(max(slices.Index(verdicts, grading.Outcome(next.Verdict)), 0)), w.intern(next.Slip)}
	case e.kind == unread: // it was not read when it was entered
		return result{outcome: unreadable}
	}
	return result{}
}

// full is an event as it was recorded.
func (w *worker) full(s *session, e *event) tutor.Event {
	st, t := w.st, w.st.tasks.list[e.task]
	w.mu.Lock()
	slips := st.codes(e.slips)
	w.mu.Unlock()
	return tutor.Event{V: tutor.Version, ID: uuid.UUID(e.id).String(), At: time.Unix(0, e.at).UTC(), Learner: st.str(s.learner),
		Session: uuid.UUID(s.sessionKey.id).String(), Problem: st.str(w.problem.at.problem), Seed: w.problem.at.seed, Given: st.str(w.problem.at.given),
		ScenarioHash: st.str(s.hash), Mode: st.str(s.mode), Kind: kinds[e.kind], Step: st.str(t.step), Body: st.str(t.body), Cell: st.str(t.cell),
		Pivot: st.str(e.pivot), Positive: turnings[e.positive], Typed: st.str(e.typed), Verdict: string(verdicts[e.verdict]), Slip: slips,
		Try: int(e.try), HintDepth: int(e.hint), Seconds: float64(e.seconds)}
}
