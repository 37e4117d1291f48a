package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
	"steelyard/tutor/journal"
	"steelyard/tutor/set"
)

// round is a set being worked by a learner.
type round struct {
	set   *set.Set
	works []*set.Work
}

// onScreen reports whether the full screen can show the set: a line that is
// taken and not judged is shown in plain lines only.
func (r *round) onScreen() bool { return r.set.Mode == tutor.Guided }

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
	b := &problems.Bank{}
	for _, w := range h.round.works {
		b.Scenarios = append(b.Scenarios, w.Problem.Scenario)
	}
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

// beginItem begins the first problem of that id that is not done, or goes on
// with it. What there is none of, or no longer, is refused.
func (h *house) beginItem(id string) (*tutor.Desk, error) {
	known := false
	for _, w := range h.round.works {
		if w.Problem.ID != id {
			continue
		}
		known = true
		switch {
		case w.Done():
		case w.Begun():
			return h.sit(w)
		default:
			return h.start(w)
		}
	}
	if !known {
		return nil, &tutor.Refusal{Message: fmt.Sprintf("%s is not in this set; choose one that is", printable(id))}
	}
	if h.round.set.Mode == tutor.Exam {
		return nil, &tutor.Refusal{Message: "The problem " + id + " is handed in; choose another, or say quit for what is done"}
	}
	return nil, &tutor.Refusal{Message: "The set has no more of " + id + "; choose another, or say quit for the receipt"}
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
	d.Sealed = h.round.exam
	return d, nil
}

// sit goes on with a problem of the set.
func (h *house) sit(w *set.Work) (*tutor.Desk, error) {
	rec := &noting{h.journal.Recorder(h.app.learner, w.Events[0].Session), w}
	d, err := tutor.Sit(w.Session, rec, slices.Clone(w.Events))
	if err != nil {
		return nil, short(err)
	}
	d.Sealed = h.round.exam
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

// exam reports whether papers come back with the receipt, all at once.
func (r *round) exam() bool { return r.set.Mode == tutor.Exam }

// sealed reports whether papers are not yet to be shown: others of the exam
// can still be written.
func (r *round) sealed() bool {
	if r.set.Mode != tutor.Exam || set.AllDone(r.works) {
		return false
	}
	now := time.Now()
	return r.set.Admit(now) == nil && (r.set.Limit == 0 || set.Used(r.works, now) < r.set.Limit)
}

// handInLate hands in what of an exam was left when its time ran out.
func (h *house) handInLate() {
	for _, w := range h.round.works {
		if !w.Begun() || w.Done() {
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
	for _, w := range h.round.works {
		if w.Begun() && !w.Done() {
			out = append(out, tutor.Unfinished{Session: w.Events[0].Session, Problem: w.Problem.ID, Title: w.Problem.Title,
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
		Done: func() (map[string]int, error) {
			done := map[string]int{}
			for _, w := range h.round.works {
				if w.Done() {
					done[w.Problem.ID]++
				}
			}
			return done, nil
		},
		NewSeed:  newSeed,
		Progress: func() []string { return h.round.set.Progress(h.round.works, time.Now()) },
		Notices:  h.notices,
	}
}

// farewell says, when a set is left, how far it is; and when all of it is done
// gives the papers and the receipt.
func (h *house) farewell() error {
	r := h.round
	if r == nil || r.works == nil {
		return nil
	}
	h.handInLate()
	out := h.app.out
	if r.sealed() || !r.exam() && !set.AllDone(r.works) {
		for _, line := range r.set.Progress(r.works, time.Now()) {
			fmt.Fprintln(out, line)
		}
		_, err := fmt.Fprintf(out, "Go on with it as you began it. The receipt comes at the end; %s gives it sooner.\n", h.app.receiptLine(r.set))
		return short(err)
	}
	return short(h.app.writeReceipt(out, r.set, h.app.learner, r.works))
}

func (a *app) receiptLine(s *set.Set) string {
	return fmt.Sprintf("steelyard receipt %s --learner %s", printable(s.File), printable(a.learner))
}

// writeReceipt writes the papers of an exam, and the receipt.
func (a *app) writeReceipt(w io.Writer, s *set.Set, learner string, works []*set.Work) error {
	text := func(line string) string {
		if a.ascii {
			return notation.Spell(line)
		}
		return line
	}
	sealed := (&round{s, works}).sealed()
	for _, work := range works {
		if !work.Begun() || sealed {
			continue
		}
		if paper, ok := work.Session.Paper(); ok && s.Mode == tutor.Exam {
			fmt.Fprintln(w, text(paper.Text()))
		}
	}
	if sealed {
		_, err := fmt.Fprintln(w, "The exam is still being written. The receipt comes with the papers, when all are handed in or the time is up.")
		return err
	}
	receipt, err := s.Receipt(learner, works)
	if err != nil {
		return err
	}
	fmt.Fprintln(w, text(strings.TrimSpace(receipt)))
	_, err = fmt.Fprintf(w, "Hand this in with the log: steelyard export --learner %s --file %s.jsonl\n", printable(learner), printable(learner))
	return err
}

func (a *app) receiptCommand() *cobra.Command {
	var log string
	c := &cobra.Command{
		Use:   "receipt SET",
		Short: "Give the receipt for a set: from the journal, or from a log that was handed in",
		Long: `Writes the receipt of a learner (--learner) for a set: what was done on each
problem, an exam's papers and marks, and a check code. With --log it is made
from exported logs instead, for every learner in them, so that an instructor
can hold it against the receipt that was handed in: if a line of the log was
changed or is missing, the code is another.`,
		Example: "  steelyard receipt lab3.toml --learner kestrel\n  steelyard receipt lab3.toml --log kestrel.jsonl",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return a.receipt(c, args[0], log)
		},
	}
	c.Flags().StringVar(&log, "log", "", "an exported log, a `FILE`")
	return c
}

func (a *app) receipt(c *cobra.Command, file, log string) error {
	s, bank, err := a.loadSet(file)
	if err != nil {
		return err
	}
	j, fell, err := a.openLog(c, log)
	if err != nil {
		return short(err)
	}
	defer j.Close()
	learners := []string{a.learner}
	if log != "" {
		all, err := j.Sessions("")
		if err != nil {
			return short(err)
		}
		named := map[string]bool{}
		for _, u := range all {
			if u.Set == s.ID() {
				named[u.Learner] = true
			}
		}
		if learners = slices.Sorted(maps.Keys(named)); len(learners) == 0 {
			return short(fmt.Errorf("there is no work on %s in that log; it may be of another edition of the set's file", printable(s.ID())))
		}
	}
	for _, learner := range learners {
		events, err := eventsOf(j, s, learner)
		if err != nil {
			return short(err)
		}
		works, err := s.Find(learner, bank, discriminates, events)
		if err != nil {
			return short(err)
		}
		for _, w := range works {
			if err := w.HandIn(time.Now()); err != nil {
				return short(err)
			}
		}
		if err := a.writeReceipt(a.out, s, learner, works); err != nil {
			return short(err)
		}
	}
	if fell {
		return errShort
	}
	return nil
}

// openLog opens the journal, or reads a log into one in memory.
func (a *app) openLog(c *cobra.Command, log string) (j *journal.Journal, fell bool, err error) {
	if log != "" {
		if j, err = journal.OpenMemory(); err != nil {
			return nil, false, err
		}
		fell, err = a.importLogs(c.Context(), j, []string{log}, func(string, journal.Imported) {})
		if err != nil {
			j.Close()
		}
		return j, fell, err
	}
	path, err := a.journalPath()
	if err != nil {
		return nil, false, err
	}
	if _, err := os.Stat(path); err != nil {
		return nil, false, errors.New("there is no journal yet, so nothing is done; name its folder with --data DIR")
	}
	j, err = journal.Open(path)
	return j, false, err
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
