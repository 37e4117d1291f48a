package review

import (
	"strings"
	"time"

	"steelyard/grading"
)

// What a front needs beside the report: the work of one learner, and the words
// that all fronts share.

// TypedLine is a line as a learner typed it, or a hint they took, with what
// grading says of it.
type TypedLine struct {
	At      time.Time // UTC
	Problem string
	Seed    uint64
	Body    string
	Step    string
	Cell    string
	Pivot   string
	Typed   string
	Verdict grading.Outcome // as graded again; "" for a hint, and for a line that was not judged
	Slips   []string        // codes
	Hint    int             // the depth of a hint, from 1; 0 for a line
	Seconds float64         // since the event before
}

// LinesOf lists what a learner typed and which hints they took, session by
// session in order of time. Ask after [Reader.Report].
func (r *Reader) LinesOf(learner string) []TypedLine {
	var out []TypedLine
	for i := range r.store.sessions {
		s := &r.store.sessions[i]
		if r.store.str(s.learner) != learner {
			continue
		}
		at := r.store.places.list[s.instance]
		for _, k := range s.events {
			e := r.store.event(k)
			t := r.store.tasks.list[e.task]
			line := TypedLine{At: time.Unix(0, e.at).UTC(), Problem: r.store.str(at.problem), Seed: at.seed,
				Body: r.store.str(t.body), Step: r.store.str(t.step), Cell: r.store.str(t.cell), Pivot: r.store.str(e.pivot),
				Typed: r.store.str(e.typed), Seconds: float64(e.seconds)}
			switch e.kind {
			case answered, unread:
				line.Verdict, line.Slips = verdicts[e.outcome], r.store.codes(e.graded)
			case hinted:
				line.Hint = int(e.hint)
			default:
				continue
			}
			out = append(out, line)
		}
	}
	return out
}

// SessionOf is one session of a learner.
type SessionOf struct {
	At         time.Time // of its first event, UTC
	Problem    string
	Finished   bool
	RightFirst Rate // of the lines met
	Minutes    float64
}

// SessionsOf lists a learner's sessions in order of time. Ask after
// [Reader.Report].
func (r *Reader) SessionsOf(learner string) []SessionOf {
	st := r.store
	f := fold{class: &class{st: st, wrongs: map[wrongKey]*wrongLine{}, minutes: map[string]float64{}, ends: make([]end, len(st.sessions))},
		at: map[uint32]int{}, general: map[uint32]uint32{}}
	var out []SessionOf
	for i := range st.sessions {
		s := &st.sessions[i]
		if st.str(s.learner) != learner {
			continue
		}
		f.mets = f.mets[:0]
		f.session(uint32(i))
		first, n := 0, 0
		for _, m := range f.mets {
			if m.attempts == 0 && !m.shown {
				continue
			}
			if n++; m.first {
				first++
			}
		}
		e := &f.ends[i]
		out = append(out, SessionOf{At: time.Unix(0, st.event(s.events[0]).at).UTC(), Problem: st.str(st.places.list[s.instance].problem),
			Finished: e.finished, RightFirst: Wilson(first, n), Minutes: float64(e.seconds) / 60})
	}
	return out
}

// Where says which line of which problem is meant. All but the step may be "".
// What comes from logs in it is as it was: escape it before it is shown.
func Where(problem, body, step, cell, pivot string) string {
	return strings.TrimPrefix(where(problem, body, step, cell, pivot), ", ")
}

// Percent is a rate with its interval.
func Percent(r Rate) string { return percent(r) }

// Plural is a count of things.
func Plural(n int, what string) string { return plural(n, what) }

// Words says in words why a session's verdicts differ.
func (r AlteredReason) Words() string {
	if text, ok := alteredWords[r]; ok {
		return text
	}
	return string(r)
}
