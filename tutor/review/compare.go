package review

import "github.com/google/uuid"

// altered begins to compare a session with its log.
func (w *worker) altered(s *session) Altered {
	w.named = 0
	return Altered{Learner: w.st.str(s.learner), Session: uuid.UUID(s.id).String(), Problem: w.st.str(w.problem.at.problem)}
}

// compare notes what a line is graded, and whether the log says so.
func (w *worker) compare(a *Altered, e *event, r result, step string) {
	a.Of++
	e.outcome, e.graded = r.outcome, r.slips
	if e.outcome != e.verdict || e.graded != e.slips {
		w.differs(a, e, step)
		if e.verdict == wrong && e.outcome == wrong && e.slips == 0 && w.isOwn(e.graded) {
			w.named++
		}
	}
}

// isOwn reports whether slips are one of the scenario's own.
func (w *worker) isOwn(slips uint32) bool {
	if slips == 0 || len(w.problem.p.Slips) == 0 {
		return false
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	codes := w.st.codes(slips)
	_, own := w.problem.p.OwnSlip(codes[0])
	return own && len(codes) == 1
}

func (w *worker) differs(a *Altered, e *event, step string) {
	if a.Lines++; a.Lines == 1 {
		a.First = w.differing(e, step)
	}
}

// judge says what becomes of verdicts that differ. Where the log's choices are
// not known for certain, its verdicts are taken as they are. Of a scenario that
// has since been given slips of its own, what is named now that had no name is
// what they are for.
func (w *worker) judge(s *session, a Altered) {
	switch {
	case w.st.str(s.hash) != w.problem.p.Hash && a.Lines > 0 && a.Lines == w.named && !s.gap:
		return
	case w.st.str(s.hash) != w.problem.p.Hash:
		a.Reason = Edition
	case s.gap:
		a.Reason = Gap
	default:
		a.Reason = Edited
	}
	if a.Reason != Edited {
		w.trust(s)
	}
	if a.Lines > 0 || a.Reason == Gap {
		w.mu.Lock()
		defer w.mu.Unlock()
		w.found = append(w.found, a)
	}
}

func (w *worker) differing(e *event, step string) Differing {
	w.mu.Lock()
	defer w.mu.Unlock()
	return Differing{ID: uuid.UUID(e.id).String(), Step: step, Cell: w.st.str(w.st.tasks.list[e.task].cell), Typed: w.st.str(e.typed),
		Logged: string(verdicts[e.verdict]), LogSlips: w.st.codes(e.slips), Graded: string(verdicts[e.outcome]), Slips: w.st.codes(e.graded)}
}
