package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"steelyard/tutor/journal"
)

func (a *app) importCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "import LOG...",
		Short: "Put an exported log back into the journal",
		Long: `Records the events of exported logs that the journal does not have yet; what it
has stays as it is, so that a log may be imported twice. A backup is an export;
this is how it is had back. Lines that cannot be read are named and skipped.`,
		Example: "  steelyard export --file backup.jsonl\n  steelyard import backup.jsonl --data DIR",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, logs []string) error {
			path, err := a.journalPath()
			if err != nil {
				return short(err)
			}
			j, err := journal.Open(path)
			if err != nil {
				return short(err)
			}
			defer j.Close()
			if aside := j.SetAside(); aside != "" {
				fmt.Fprintf(a.words, "The journal was damaged. It is kept as %s, and a new one is begun.\n", printable(aside))
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			fell, err := a.importLogs(ctx, j, logs, func(log string, in journal.Imported) {
				fmt.Fprintf(a.words, "%s: %d events added, %d known, %d lines skipped\n", printable(log), in.Added, in.Known, in.Bad)
			})
			if err != nil {
				return short(err)
			}
			if fell {
				return errShort
			}
			return nil
		},
	}
}

// mostBadLines is how many bad lines of one log are shown.
const mostBadLines = 10

// importLogs records the events of logs, calling done after each. It says
// which lines were skipped, and reports whether there were any.
func (a *app) importLogs(ctx context.Context, j *journal.Journal, logs []string, done func(string, journal.Imported)) (fell bool, err error) {
	p := a.progress()
	p.begin("Reading", sizeOf(logs))
	for _, log := range logs {
		in, err := a.importLog(ctx, j, log, p)
		p.end()
		for i, b := range in.BadLines {
			if i == mostBadLines {
				fmt.Fprintf(a.words, "%s: and %d more lines\n", printable(log), in.Bad-i)
				break
			}
			fmt.Fprintf(a.words, "%s: %v; it is skipped\n", printable(log), b)
		}
		if err != nil {
			return fell, fmt.Errorf("%s: %w", printable(log), err)
		}
		fell = fell || in.Bad > 0
		done(log, in)
	}
	return fell, nil
}

func (a *app) importLog(ctx context.Context, j *journal.Journal, log string, p *progress) (journal.Imported, error) {
	from := a.in
	if log != "-" {
		f, err := os.Open(log)
		if err != nil {
			return journal.Imported{}, err
		}
		defer f.Close()
		from = f
	}
	r := bufio.NewReaderSize(journal.Plain(&counted{&readable{ctx, from}, p}), 64<<10)
	if head, _ := r.Peek(16); bytes.HasPrefix(head, []byte("SQLite format 3")) {
		return journal.Imported{}, errors.New("it is a journal, not a log; export it by naming its folder with --data DIR")
	}
	return j.ImportJSONL(r)
}

// readable is a reader that fails once its context is done.
type readable struct {
	context context.Context
	io.Reader
}

func (r *readable) Read(b []byte) (int, error) {
	if r.context.Err() != nil {
		return 0, errStopped
	}
	return r.Reader.Read(b)
}
