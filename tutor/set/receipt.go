package set

import (
	"cmp"
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"slices"
	"strings"
	"time"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// Work is one problem of a learner's set, with what was done on it.
type Work struct {
	Item    Item
	Problem *problems.Problem
	Session *tutor.Session // nil if it was not begun
	Events  []tutor.Event  // in order
}

// Begun reports whether there is anything done on it.
func (w *Work) Begun() bool { return w.Session != nil }

// Done reports whether it is finished, or handed in.
func (w *Work) Done() bool { return w.Begun() && w.Session.Finished() }

// HandIn hands in what of an exam was left when its time ran out, as it would
// be if it were opened now. Nothing is recorded: the events stay as they are.
func (w *Work) HandIn(now time.Time) error {
	if !w.Begun() || w.Done() {
		return nil
	}
	d, err := tutor.Sit(w.Session, stamp(now), slices.Clone(w.Events))
	if err == nil {
		_, err = d.Tick(now)
	}
	return err
}

// stamp is a recorder that keeps nothing.
type stamp time.Time

func (s stamp) Record(e *tutor.Event) error {
	e.At = time.Time(s)
	return nil
}

// State says how far it is, in a few words.
func (w *Work) State() string {
	switch {
	case !w.Begun():
		return "not begun"
	case w.Session.HandedIn():
		return "handed in"
	case w.Done():
		return "done"
	}
	sum := w.Session.Summary(nil)
	return fmt.Sprintf("%d of %d lines written", sum.Lines-sum.Open, sum.Lines)
}

// Find puts sessions to the problems of a learner's set. The events are those
// of the set's sessions, in order; of two sessions at one problem the first
// counts. What cannot be folded is left out, and in the error.
func (s *Set) Find(alias string, bank *problems.Bank, accept problems.Accept, events []tutor.Event) ([]*Work, error) {
	var works []*Work
	for _, it := range s.For(alias) {
		sc, err := bank.Scenario(it.ID)
		if err != nil {
			return nil, err
		}
		p, err := sc.Enter(it.Seed, it.Given, accept)
		if err != nil {
			return nil, err
		}
		works = append(works, &Work{Item: it, Problem: p})
	}
	of := map[string]*Work{} // by session
	for _, e := range events {
		w, known := of[e.Session]
		if !known {
			i := slices.IndexFunc(works, func(w *Work) bool {
				return w.Events == nil && w.Problem.ID == e.Problem && w.Problem.Seed == e.Seed && w.Problem.Entered == e.Given
			})
			if i < 0 {
				continue
			}
			w = works[i]
			of[e.Session] = w
		}
		w.Events = append(w.Events, e)
	}
	for _, w := range works {
		if w.Events == nil {
			continue
		}
		if w.Events[0].ScenarioHash != w.Problem.Hash {
			return nil, fmt.Errorf("%s has changed since it was begun, so what was done cannot be read again; use the edition it was worked in", w.Problem.ID)
		}
		var err error
		if w.Session, err = tutor.Resume(w.Problem, w.Events); err != nil {
			return nil, err
		}
	}
	return works, nil
}

// Used is how much of the time limit is used at a moment: the time since the
// first of the problems was begun, as the one that has seen the most tells it.
func Used(works []*Work, now time.Time) time.Duration {
	var used time.Duration
	for _, w := range works {
		if w.Begun() {
			used = max(used, w.Session.Used(now))
		}
	}
	return used
}

// Help is how much of a problem is worked for the learner: by its place among
// those of its family, in the learner's order.
func (s *Set) Help(works []*Work, of *Work) string {
	if !s.Worked {
		return ""
	}
	before := 0
	for _, w := range works {
		if w == of {
			break
		}
		if w.Problem.Family == of.Problem.Family {
			before++
		}
	}
	return map[int]string{0: tutor.HelpWorked, 1: tutor.HelpHalf}[before]
}

// AllDone reports whether every problem is finished, or handed in.
func AllDone(works []*Work) bool {
	return !slices.ContainsFunc(works, func(w *Work) bool { return !w.Done() })
}

// Progress tells how far the set is, a line for each thing.
func (s *Set) Progress(works []*Work, now time.Time) []string {
	done := 0
	for _, w := range works {
		if w.Done() {
			done++
		}
	}
	out := []string{fmt.Sprintf("%s: %d of %d problems %s.", notation.Printable(s.Title), done, len(works), map[bool]string{false: "done", true: "handed in"}[s.Mode == tutor.Exam])}
	for i, n := range named(works) {
		w := works[i]
		out = append(out, fmt.Sprintf("%s, %s: %s.", notation.Printable(n.title(w.Problem.Title)), n, w.State()))
	}
	if s.Limit > 0 && !AllDone(works) {
		left := s.Limit - Used(works, now)
		switch begun := slices.ContainsFunc(works, (*Work).Begun); {
		case left <= 0:
			out = append(out, "The time is up.")
		case begun:
			out = append(out, "Time left: "+Span(left)+".")
		default:
			out = append(out, "Time allowed: "+Span(left)+", from the moment you begin the first problem.")
		}
	}
	return out
}

// letters are those of the check code: none that is easily taken for another.
var letters = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

// Code is the check code of events: the first 60 bits of the SHA-256 of their
// lines in an exported log, in order of id. A log that was changed, or from
// which a line is missing, has another.
func Code(events []tutor.Event) (string, error) {
	events = slices.Clone(events)
	slices.SortStableFunc(events, func(a, b tutor.Event) int { return cmp.Compare(a.ID, b.ID) })
	h := sha256.New()
	if _, err := journal.ExportJSONL(h, func(yield func(tutor.Event, error) bool) {
		for _, e := range events {
			if !yield(e, nil) {
				return
			}
		}
	}); err != nil {
		return "", err
	}
	text := letters.EncodeToString(h.Sum(nil)[:8])[:12]
	return text[:4] + "-" + text[4:8] + "-" + text[8:], nil
}

// Receipt is the text that a learner hands in with the log. It says what the
// log shows; the code ties it to the log.
func (s *Set) Receipt(alias string, works []*Work) (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, "Receipt\nLearner: %s\nSet: %s (%s, %s)\nMode: %s\n", notation.Printable(alias), notation.Printable(s.Title), notation.Printable(s.File), s.Hash, s.Mode)
	var all []tutor.Event
	var total tutor.Marks
	for i, w := range works {
		fmt.Fprintf(&b, "%d. %s (%s, seed %d", i+1, notation.Printable(w.Problem.Title), w.Problem.ID, w.Problem.Seed)
		if w.Problem.Entered != "" {
			fmt.Fprintf(&b, ", %s", w.Problem.Entered)
		}
		fmt.Fprintf(&b, "): %s.", w.State())
		if w.Begun() && s.Mode != tutor.Exam {
			fmt.Fprintf(&b, " %s", counts(w))
		}
		if s.Mode == tutor.Exam {
			m, err := w.marks()
			if err != nil {
				return "", err
			}
			total = total.Add(m)
			if w.Session != nil && !w.Session.HandedIn() {
				fmt.Fprintf(&b, " No marks, for it is not handed in; there are %s to be had.", tutor.Mark(m.Of))
			} else {
				fmt.Fprintf(&b, " Marks: %s.", m)
			}
		}
		b.WriteByte('\n')
		all = append(all, w.Events...)
	}
	if s.Mode == tutor.Exam {
		fmt.Fprintf(&b, "Marks in all: %s.\n", total)
	}
	if len(all) == 0 {
		b.WriteString("Nothing is done yet, so there is no check code.\n")
		return b.String(), nil
	}
	first := slices.MinFunc(all, func(a, b tutor.Event) int { return a.At.Compare(b.At) }).At
	last := slices.MaxFunc(all, func(a, b tutor.Event) int { return a.At.Compare(b.At) }).At
	fmt.Fprintf(&b, "From %s to %s, %s.\n", first.UTC().Format(time.RFC3339), last.UTC().Format(time.RFC3339), plural(len(all), "event"))
	if n := clockNotes(all); n > 0 {
		fmt.Fprintf(&b, "The clock was set back %s.\n", plural(n, "time"))
	}
	code, err := Code(all)
	if err != nil {
		return "", err
	}
	fmt.Fprintf(&b, "Check code: %s\n", code)
	return b.String(), nil
}

// counts says how the lines of a problem were come by. Of an exam the marks
// do.
func counts(w *Work) string {
	sum := w.Session.Summary(w.Events)
	return fmt.Sprintf("Of %s: %d right first time, %d later, %d shown, %d open; %s.", plural(sum.Lines, "line"),
		sum.FirstTime, sum.Later, sum.Shown, sum.Open+sum.Taken, plural(sum.Attempts, "attempt"))
}

// marks are those of an exam's problem; none of what it is worth if it is not
// handed in.
func (w *Work) marks() (tutor.Marks, error) {
	if w.Begun() {
		if paper, ok := w.Session.Paper(); ok {
			return paper.Total(), nil
		}
	}
	of, err := tutor.Worth(w.Problem)
	return tutor.Marks{Of: of}, err
}

func clockNotes(events []tutor.Event) int {
	n := 0
	for _, e := range events {
		if e.Step == string(tutor.StepClock) {
			n++
		}
	}
	return n
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
