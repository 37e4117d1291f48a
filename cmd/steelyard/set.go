package main

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/journal"
	"steelyard/tutor/screen"
	"steelyard/tutor/set"
)

// round is a set being worked by a learner.
type round struct {
	set      *set.Set
	works    []*set.Work
	onScreen bool // the full screen is run, which shows papers itself once they are back
}

// loadSet reads a set's file.
func (a *app) loadSet(file string) (*set.Set, *problems.Bank, error) {
	data, err := a.readScenario(file)
	if err != nil {
		return nil, nil, short(fmt.Errorf("the set cannot be read: %w", err))
	}
	bank, err := a.bank()
	if err != nil {
		return nil, nil, err
	}
	s, err := set.Read(file, data, bank)
	return s, bank, short(err)
}

// readSet reads the set to be worked, if it is open now.
func (h *house) readSet(file string) error {
	s, bank, err := h.app.loadSet(file)
	if err != nil {
		return err
	}
	if err := s.Admit(time.Now()); err != nil {
		return short(err)
	}
	h.round, h.bank = &round{set: s}, bank
	return nil
}

// openSet finds what of the set is done, and opens the problem asked for, or
// the only one.
func (h *house) openSet(id string) (*tutor.Desk, error) {
	if err := h.look(); err != nil {
		return nil, err
	}
	h.handInLate()
	b := &problems.Bank{Scenarios: set.Listed(h.round.works)}
	h.bank = b
	if id == "" && len(b.Scenarios) == 1 {
		id = b.Scenarios[0].ID
	}
	if id == "" {
		return nil, nil
	}
	d, err := h.beginItem(id)
	if why := (*tutor.Refusal)(nil); errors.As(err, &why) {
		h.notices = append(h.notices, why.Message+".")
		return nil, nil
	}
	return d, err
}

// look reads what of the set is in the journal.
func (h *house) look() error {
	r := h.round
	if r.works != nil {
		return nil
	}
	events, err := eventsOf(h.journal, r.set, h.app.learner)
	if err != nil {
		return short(err)
	}
	r.works, err = r.set.Find(h.app.learner, h.bank, discriminates, events)
	return short(err)
}

// eventsOf are a learner's events at a set.
func eventsOf(j *journal.Journal, s *set.Set, learner string) ([]tutor.Event, error) {
	var events []tutor.Event
	for e, err := range j.Events(journal.Filter{Learner: learner}) {
		if err != nil {
			return nil, err
		}
		if e.Set == s.ID() {
			events = append(events, e)
		}
	}
	return events, nil
}

// beginItem begins a problem of the set by its name, or the first of that id
// that is not done, or goes on with it. What there is none of, or no longer, is
// refused.
func (h *house) beginItem(id string) (*tutor.Desk, error) {
	known := false
	for _, w := range h.called(id) {
		known = true
		switch {
		case w.Done():
		case w.Begun():
			return h.sit(w)
		default:
			return h.start(w)
		}
	}
	if done := h.paperOf(id); done != nil {
		return h.sit(done)
	}
	if !known {
		return nil, &tutor.Refusal{Message: fmt.Sprintf("%s is not in this set; choose one that is", printable(id))}
	}
	if h.round.set.Mode == tutor.Exam {
		return nil, &tutor.Refusal{Message: "The problem " + id + " is handed in; choose another, or quit for what is done"}
	}
	return nil, &tutor.Refusal{Message: "The set has no more of " + id + "; choose another, or quit for the receipt"}
}

// called is the problems of the set of a name, or of an id, in order.
func (h *house) called(id string) []*set.Work {
	var out []*set.Work
	for i, name := range set.Names(h.round.works) {
		if w := h.round.works[i]; id == name || id == w.Problem.ID {
			out = append(out, w)
		}
	}
	return out
}

// paperOf is a problem of that name or id whose paper may be read again.
func (h *house) paperOf(id string) *set.Work {
	if !h.round.exam() || !h.round.onScreen || h.round.sealed() {
		return nil
	}
	for _, w := range h.called(id) {
		if w.Done() {
			return w
		}
	}
	return nil
}

// start begins a problem of the set.
func (h *house) start(w *set.Work) (*tutor.Desk, error) {
	now := time.Now()
	if err := h.round.set.Admit(now); err != nil {
		return nil, &tutor.Refusal{Message: err.Error()}
	}
	terms := h.round.set.Terms(now, set.Used(h.round.works, now))
	if terms.Limit > 0 && terms.Used >= terms.Limit {
		return nil, &tutor.Refusal{Message: "The time is up, so no other problem can be begun"}
	}
	terms.Help = h.round.set.Help(h.round.works, w)
	s, err := tutor.Start(w.Problem, terms)
	if err != nil {
		return nil, short(err)
	}
	d, err := tutor.Sit(s, &noting{h.journal.Recorder(h.app.learner, ""), w}, nil)
	if err != nil {
		return nil, short(err)
	}
	w.Session = s
	d.Sealed = h.round.withheld
	return d, nil
}

// sit goes on with a problem of the set.
func (h *house) sit(w *set.Work) (*tutor.Desk, error) {
	rec := &noting{h.journal.Recorder(h.app.learner, w.Events[0].Session), w}
	d, err := tutor.Sit(w.Session, rec, slices.Clone(w.Events))
	if err != nil {
		return nil, short(err)
	}
	d.Sealed = h.round.withheld
	return d, nil
}

// noting records events, and notes them as what was done on a problem.
type noting struct {
	tutor.Recorder
	work *set.Work
}

func (n *noting) Record(e *tutor.Event) error {
	if err := n.Recorder.Record(e); err != nil {
		return err
	}
	n.work.Events = append(n.work.Events, *e)
	return nil
}

func (h *house) resumeItem(session string) (*tutor.Desk, error) {
	for _, w := range h.round.works {
		if w.Begun() && w.Events[0].Session == session {
			return h.sit(w)
		}
	}
	return nil, &tutor.Refusal{Message: "That is not of this set"}
}

func (h *house) inExam() bool { return h.round != nil && h.round.exam() }

func (r *round) exam() bool { return r.set.Mode == tutor.Exam }

// withheld reports whether papers are not to be shown: in lines of text they
// come back with the receipt, all at once; on the screen each can be read when
// all are in.
func (r *round) withheld() bool { return r.exam() && (!r.onScreen || r.sealed()) }

// sealed reports whether papers are not yet to be shown: others of the exam
// can still be written.
func (r *round) sealed() bool {
	if r.set.Mode != tutor.Exam || set.AllDone(r.works) {
		return false
	}
	now := time.Now()
	return r.set.Admit(now) == nil && (r.set.Limit == 0 || set.Used(r.works, now) < r.set.Limit)
}

// handInLate hands in what of an exam was left when its time ran out, and ends
// what was cut off before its end.
func (h *house) handInLate() {
	for _, w := range h.round.works {
		ended := slices.ContainsFunc(w.Events, func(e tutor.Event) bool { return e.Kind == tutor.Finished })
		if !w.Begun() || ended {
			continue
		}
		d, err := h.sit(w)
		if err == nil {
			_, err = d.Tick(time.Now())
		}
		if err != nil {
			h.notices = append(h.notices, err.Error())
		}
	}
}

// leftInSet is what of the set may be gone on with.
func (h *house) leftInSet() []tutor.Unfinished {
	var out []tutor.Unfinished
	listed := set.Listed(h.round.works)
	for i, w := range h.round.works {
		if w.Begun() && !w.Done() {
			out = append(out, tutor.Unfinished{Session: w.Events[0].Session, Problem: listed[i].ID, Title: listed[i].Title,
				Seed: w.Problem.Seed, At: w.Events[len(w.Events)-1].At})
		}
	}
	slices.SortStableFunc(out, func(a, b tutor.Unfinished) int { return b.At.Compare(a.At) })
	return out
}

// setHouse is the house with the set's problems alone in it.
func (h *house) setHouse() tutor.House {
	return tutor.House{
		Bank:       h.bank,
		Begin:      func(id string, _ uint64) (*tutor.Desk, error) { return h.beginItem(id) },
		Resume:     h.resumeItem,
		Unfinished: func() ([]tutor.Unfinished, error) { return h.leftInSet(), nil },
		Done:       func() (map[string]int, error) { return h.doneInSet(), nil },
		NewSeed:    newSeed,
		Progress:   func() []string { return h.round.set.Progress(h.round.works, time.Now()) },
		Notices:    h.notices,
	}
}

// doneInSet is how often each problem of the set is done, by name.
func (h *house) doneInSet() map[string]int {
	done := map[string]int{}
	for i, name := range set.Names(h.round.works) {
		if h.round.works[i].Done() {
			done[name]++
		}
	}
	return done
}

// progress is how far the set is, as the screen shows it; nil if none is
// worked.
func (h *house) progress() func() screen.Progress {
	r := h.round
	if r == nil {
		return nil
	}
	return func() screen.Progress {
		p := screen.Progress{Timed: r.set.Limit > 0}
		for _, w := range r.works {
			p.Of = append(p.Of, w.State())
		}
		now := time.Now()
		if left := r.set.Limit - set.Used(r.works, now); left > time.Minute {
			now = now.Add(left % time.Minute) // whole minutes, so that it changes once in one
		}
		// The lines that tell each problem stand in the middle; the list tells them.
		lines := r.set.Progress(r.works, now)
		p.Said = append(lines[:1:1], lines[1+len(r.works):]...)
		return p
	}
}

// inspectSet says what is wrong with a set's file.
func (a *app) inspectSet(file string, data []byte) []grading.Finding {
	bank, err := a.bank()
	if err != nil {
		return []grading.Finding{unreadable(file, err)}
	}
	_, err = set.Read(file, data, bank)
	var faults problems.Faults
	errors.As(err, &faults)
	var out []grading.Finding
	for _, f := range faults {
		out = append(out, grading.Finding{File: f.File, Line: f.Line, Column: f.Column, Gravity: grading.Fault, Code: "set", Message: f.Message})
	}
	return out
}
