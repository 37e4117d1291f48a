package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor/journal"
)

// exportFlags are what is asked of an export.
type exportFlags struct {
	format, file, home string
	bom                bool
}

func (a *app) exportCommand() *cobra.Command {
	var f exportFlags
	c := &cobra.Command{
		Use:   "export [LOG...]",
		Short: "Write the journal's log: as JSON Lines, CSV, xAPI statements or grades",
		Long: `Writes every event of the journal, or of one learner with --learner, to
standard output or to a file. With logs named, their events are written in
place of the journal's, each once however often it is there; - is standard
input. A log may be compressed with gzip.

  jsonl   the exact record, one event a line: for review, for backup, for import
  csv     a table of the same for a spreadsheet
  xapi    statements of xAPI 2.0 (IEEE 9274.1.1), a JSON array, one a line; an
          actor is the alias, at the address given with --home
  grades  a table of learners by problems, 10 points each

The tables are UTF-8. --bom marks them so, for a spreadsheet that shows letters
like alpha wrong without. No cell of theirs is a formula.

How grades are found. ` + journal.Rule,
		Example: "  steelyard export --file lab3.jsonl\n  steelyard export --format csv --learner kestrel\n  steelyard export lab3/*.jsonl --format grades --file lab3.csv",
		RunE: func(c *cobra.Command, logs []string) error {
			filter := journal.Filter{}
			if c.Flags().Changed("learner") {
				filter.Learner = a.learner
			}
			return a.export(f, filter, logs)
		},
	}
	c.Flags().StringVar(&f.format, "format", "jsonl", "jsonl, csv, xapi or grades")
	c.Flags().StringVar(&f.file, "file", "", "the file to write (default: standard output)")
	c.Flags().StringVar(&f.home, "home", journal.XAPIHome, "xapi: the address that accounts and activities are at")
	c.Flags().BoolVar(&f.bom, "bom", false, "csv and grades: begin with a byte order mark")
	return c
}

// exporting is one export under way.
type exporting struct {
	app     *app
	context context.Context
	journal *journal.Journal
	filter  journal.Filter
	flags   exportFlags

	progress *progress
}

// formats are the ways a log can be written. Each says how many of what it
// wrote.
var formats = map[string]struct {
	of    string
	table bool
	write func(*exporting, io.Writer) (int, error)
}{
	"jsonl":  {"events", false, (*exporting).lines},
	"csv":    {"events", true, (*exporting).table},
	"xapi":   {"statements", false, (*exporting).statements},
	"grades": {"learners", true, (*exporting).grades},
}

func (a *app) export(f exportFlags, filter journal.Filter, logs []string) error {
	format, ok := formats[f.format]
	switch {
	case !ok:
		return fmt.Errorf("--format is jsonl, csv, xapi or grades, not %q", printable(f.format))
	case f.bom && !format.table:
		return fmt.Errorf("--bom is for csv and grades; JSON has none")
	}
	if _, err := journal.NewXAPI(f.home); err != nil {
		return fmt.Errorf("--home: %w", err)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	x := &exporting{app: a, context: ctx, filter: filter, flags: f}
	if f.file != "" || !isTerminal(a.out) { // where a log runs over the screen, a bar is in its way
		x.progress = a.progress()
	}
	defer x.progress.end()
	fell, err := x.open(logs)
	if err != nil {
		return short(err)
	}
	defer x.journal.Close()

	n, err := x.to(f.file, func(w io.Writer) (int, error) {
		if f.bom {
			if _, err := io.WriteString(w, "\ufeff"); err != nil {
				return 0, err
			}
		}
		return format.write(x, w)
	})
	x.progress.end()
	if err != nil && !partly(err) {
		return short(err)
	}
	fmt.Fprintf(a.words, "%d %s\n", n, format.of)
	if err != nil {
		return short(err)
	}
	if fell {
		return errShort
	}
	return nil
}

// open opens the journal, or reads the logs named into one in memory. It says
// which lines could not be read, and reports whether there were any.
func (x *exporting) open(logs []string) (fell bool, err error) {
	if len(logs) > 0 {
		if x.journal, err = journal.OpenMemory(); err != nil {
			return false, err
		}
		return x.app.importLogs(x.context, x.journal, logs, func(string, journal.Imported) {})
	}
	path, err := x.app.journalPath()
	if err != nil {
		return false, err
	}
	if _, err := os.Stat(path); err != nil {
		return false, fmt.Errorf("no journal at %s; name its folder with --data DIR, or name logs", printable(path))
	}
	if x.journal, err = journal.Open(path); err != nil {
		return false, err
	}
	if aside := x.journal.SetAside(); aside != "" {
		x.journal.Close()
		return false, fmt.Errorf("the journal was damaged; it is kept as %s, and there is nothing else to export", printable(aside))
	}
	return false, nil
}

func (x *exporting) lines(w io.Writer) (int, error) {
	x.writing()
	return journal.ExportJSONL(w, x.events())
}

func (x *exporting) table(w io.Writer) (int, error) {
	x.writing()
	return journal.ExportCSV(w, x.events())
}

// statements are those of the events, a finished session's with its score if
// it can be marked.
func (x *exporting) statements(w io.Writer) (int, error) {
	as, err := journal.NewXAPI(x.flags.home)
	if err != nil {
		return 0, err
	}
	marks, err := x.marks()
	var unmarked *journal.UnmarkedError
	if err != nil && !errors.As(err, &unmarked) {
		return 0, err
	}
	scaled := map[string]float64{}
	for _, m := range marks {
		scaled[m.Session.Session] = m.Scaled()
	}
	as.Scaled = func(session string) (float64, bool) { v, ok := scaled[session]; return v, ok }
	x.writing()
	n, err := as.Export(w, x.events())
	if err == nil && unmarked != nil {
		return n, unmarked
	}
	return n, err
}

func (x *exporting) grades(w io.Writer) (int, error) {
	marks, err := x.marks()
	var unmarked *journal.UnmarkedError
	if err != nil && !errors.As(err, &unmarked) {
		return 0, err
	}
	x.progress.end()
	for _, m := range marks {
		if m.Changed > 0 {
			fmt.Fprintf(x.app.words, "session %s, %s at %s: %d answers are graded otherwise now than the log says; look at it with review\n",
				m.Session.Session, printable(m.Session.Learner), printable(m.Session.Problem), m.Changed)
		}
	}
	n, err := journal.ExportGrades(w, marks)
	if err == nil && unmarked != nil {
		return n, unmarked
	}
	return n, err
}

func (x *exporting) marks() ([]journal.Mark, error) {
	b, err := x.app.bank()
	if err != nil {
		return nil, err
	}
	x.marking()
	return x.journal.Marks(x.filter.Learner, func(s journal.SessionSummary) (*problems.Problem, error) {
		x.progress.add(1)
		if err := x.context.Err(); err != nil {
			return nil, err
		}
		sc, err := b.Scenario(s.Problem)
		if err != nil {
			return nil, err
		}
		if sc.Hash != s.ScenarioHash {
			return nil, fmt.Errorf("the scenario has changed since; mark it with the edition it was worked in, or read that one with --bank DIR")
		}
		return sc.Enter(s.Seed, strings.Fields(s.Given), grading.Discriminates)
	})
}

// partly reports whether what was written is whole but for what err tells of.
func partly(err error) bool {
	var left *journal.LeftOutError
	var unmarked *journal.UnmarkedError
	return errors.As(err, &left) || errors.As(err, &unmarked)
}

// to writes to a file that is there whole or not at all, or to standard output
// if no file is named.
func (x *exporting) to(file string, write func(io.Writer) (int, error)) (int, error) {
	if file == "" {
		return write(&stoppable{x.context, x.app.out})
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".steelyard-*")
	if err != nil {
		return 0, err
	}
	defer os.Remove(tmp.Name())
	n, err := write(&stoppable{x.context, tmp})
	if stopped := x.context.Err(); stopped != nil {
		err = errStopped
	}
	if err := errors.Join(tmp.Sync(), tmp.Close()); err != nil {
		return n, err
	}
	if err != nil && !partly(err) {
		return n, err
	}
	return n, errors.Join(os.Rename(tmp.Name(), file), err)
}

var errStopped = errors.New("it was stopped")

// stoppable is a writer that fails once its context is done.
type stoppable struct {
	context context.Context
	io.Writer
}

func (s *stoppable) Write(b []byte) (int, error) {
	if s.context.Err() != nil {
		return 0, errStopped
	}
	return s.Writer.Write(b)
}
