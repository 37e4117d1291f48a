package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"steelyard/tutor/journal"
	"steelyard/tutor/practice"
)

func (a *app) planCommand() *cobra.Command {
	var exam, today string
	var minutes int
	var asJSON bool
	c := &cobra.Command{
		Use:   "plan",
		Short: "Say what you likely know, what to work next, and how to get ready for an exam",
		Long: `Reads the journal and says how likely each skill is known and on how much
evidence, which problem to work next and why, and how to begin it. With --exam
it lays out each day until then. Nothing is kept: the plan is made anew from the
journal each time, so that what was done or left out is in it. You may always
work something else.

The probabilities are knowledge tracing's: from the first attempt at each line,
and hints asked for before it. The target is 95 % for every skill.`,
		Example: "  steelyard plan\n  steelyard plan --exam 2026-12-14 --minutes 30",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if strings.TrimSpace(a.learner) == "" { // the journal takes no alias for all learners
				return errors.New("--learner is an alias of 1 to 64 printing characters")
			}
			ask := practice.Ask{Today: practice.DayOf(time.Now(), time.Local), Minutes: minutes}
			for _, d := range []struct {
				flag, text string
				day        *int
			}{{"--today", today, &ask.Today}, {"--exam", exam, &ask.Exam}} {
				if d.text == "" {
					continue
				}
				day, err := time.Parse(time.DateOnly, d.text)
				if err != nil {
					return fmt.Errorf("%s is a day like 2026-12-14, not %q", d.flag, printable(d.text))
				}
				*d.day = practice.DayOf(day, time.UTC)
			}
			p, err := a.plan(ask)
			if err != nil {
				return err
			}
			if asJSON {
				return a.writeJSON(p)
			}
			return short(practice.Writer{ASCII: a.ascii, Command: a.beginning}.Write(a.out, p))
		},
	}
	c.Flags().StringVar(&exam, "exam", "", "the day of the exam, as 2026-12-14")
	c.Flags().IntVar(&minutes, "minutes", 30, "minutes of practice a day")
	c.Flags().StringVar(&today, "today", "", "the day to plan from, as 2026-11-25; what came later is left out (default: today)")
	c.Flags().BoolVar(&asJSON, "json", false, "write one JSON object")
	return c
}

// plan makes the learner's plan from the bank and the journal.
func (a *app) plan(ask practice.Ask) (*practice.Plan, error) {
	b, err := a.bank()
	if err != nil {
		return nil, err
	}
	a.sayFaults(b)
	m := practice.NewModel(practice.NewCourse(b), time.Local)
	if err := a.retrace(m, ask.Today); err != nil {
		return nil, err
	}
	return m.Plan(ask)
}

// retrace folds what the journal has of the learner, up to a day, into a
// model. Where there is no journal yet there is nothing to fold.
func (a *app) retrace(m *practice.Model, today int) error {
	path, err := a.journalPath()
	if err != nil {
		return short(err)
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	j, err := journal.Open(path)
	if err != nil {
		return short(err)
	}
	defer j.Close()
	if aside := j.SetAside(); aside != "" {
		fmt.Fprintf(a.words, "The journal was damaged. It is kept as %s, and the plan begins anew.\n", printable(aside))
	}
	later, unread := 0, 0
	var first error
	for e, err := range j.Events(journal.Filter{Learner: a.learner}) {
		switch {
		case err != nil:
			if unread++; first == nil {
				first = err
			}
		case practice.DayOf(e.At, time.Local) > today:
			later++
		default:
			m.Update(&e)
		}
	}
	if unread > 0 {
		fmt.Fprintf(a.words, "%d events of the journal could not be read, and are left out; the first: %v\n", unread, first)
	}
	if later > 0 {
		fmt.Fprintf(a.words, "%d events are dated after %s, and are left out\n", later, practice.Date(today))
	}
	return nil
}

// beginning is the command line that begins a problem as this one was run.
func (a *app) beginning(c practice.Choice) string {
	out := fmt.Sprintf("steelyard --problem %s --seed %d", quoted(c.Problem), c.Seed)
	for _, f := range []struct{ flag, value, usual string }{{"--learner", a.learner, "me"}, {"--data", a.dataDir, ""}, {"--bank", a.bankDir, ""}} {
		if f.value != f.usual {
			out += " " + f.flag + " " + quoted(f.value)
		}
	}
	return out
}

// quoted is a word as a shell takes it.
func quoted(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./@:+", r)
	}
	if s != "" && !strings.ContainsFunc(s, func(r rune) bool { return !plain(r) }) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
