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

	"steelyard/problems/notation"
	"steelyard/tutor"
	"steelyard/tutor/journal"
	"steelyard/tutor/set"
)

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
	sealed := (&round{set: s, works: works}).sealed()
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
