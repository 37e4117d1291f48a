package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"steelyard/problems"
	"steelyard/tutor/review"
)

func (a *app) reviewCommand() *cobra.Command {
	var asJSON, plain bool
	var file string
	var page pageFlags
	c := &cobra.Command{
		Use:   "review PATH...",
		Short: "Say from logs where a class went wrong, and whom to see",
		Long: `Reads logs and journals: files, folders with all that is in them, globs, and
standard input as "-", in any mix. Damaged lines are skipped and reported, and
what is there twice counts once. Every answer is graded again, with the bank
and, if given, the folder of --bank; sessions whose verdicts are not what
grading gives are named. In a terminal the review is a screen to go about in;
--plain, or an output that is no terminal, gives text.`,
		Example: "  steelyard review lab3\n  steelyard review 'logs/*.jsonl' --json > lab3.json\n  steelyard review lab3 --html lab3.html\n  steelyard export | steelyard review -",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if file == "" && page.file == "" && !asJSON && !plain && !slices.Contains(args, "-") && a.roomForScreen() {
				return a.reviewOnScreen(args)
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			_, rep, err := a.review(ctx, args)
			if ctx.Err() != nil {
				return short(errors.New("stopped; nothing was written"))
			}
			if rep == nil {
				return short(err)
			}
			if err != nil { // some sources were read, some were not
				fmt.Fprintln(a.words, "steelyard:", err)
			}
			save := func() error { return a.writeReview(file, rep, asJSON, plain) }
			if page.file != "" {
				save = func() error { return page.write(a, rep) }
			}
			if saved := save(); saved != nil {
				return short(saved)
			}
			if err != nil {
				return errShort
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write the whole report as one JSON object")
	c.Flags().BoolVar(&plain, "plain", false, "write text without rules, for screen readers and scripts")
	c.Flags().StringVar(&file, "file", "", "the file to write (default: standard output)")
	page.add(c)
	return c
}

// review reads the logs and folds them. There is no report if nothing could be
// read; an error beside one says which sources were not.
func (a *app) review(ctx context.Context, paths []string) (*review.Reader, *review.Report, error) {
	b, err := a.bank()
	if err != nil {
		return nil, nil, err
	}
	a.sayFaults(b)
	bar, done := a.progressBar()
	defer done()
	return a.fold(ctx, b, bar, paths)
}

// fold reads the logs and folds them, and tells how it goes on.
func (a *app) fold(ctx context.Context, b *problems.Bank, progress func(review.Stage, int64, int64), paths []string) (*review.Reader, *review.Report, error) {
	r := review.NewReader(b)
	r.Progress = progress
	failed := r.Paths(ctx, a.in, paths...)
	if ctx.Err() != nil || failed != nil && !r.Any() {
		return nil, nil, failed
	}
	rep, err := r.Report(ctx)
	if err != nil {
		return nil, nil, err
	}
	return r, rep, failed
}

// writeReview writes a report whole or not at all.
func (a *app) writeReview(file string, rep *review.Report, asJSON, plain bool) error {
	var b strings.Builder
	if asJSON {
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(true) // it may be put into a page
		if err := enc.Encode(rep); err != nil {
			return err
		}
	} else if err := review.WriteText(&b, rep, review.Look{Width: a.width(), Plain: plain, ASCII: a.ascii}); err != nil {
		return err
	}
	write := func(w io.Writer) error {
		_, err := io.WriteString(w, b.String())
		return err
	}
	if file == "" {
		return write(a.out)
	}
	return writeNew(file, true, write)
}

// width is that of the terminal that is written to, between 60 and 100, or 80.
func (a *app) width() int {
	if f, ok := a.out.(*os.File); ok && term.IsTerminal(f.Fd()) {
		if w, _, err := term.GetSize(f.Fd()); err == nil {
			return min(max(w, 60), 100)
		}
	}
	return 80
}

// progressBar shows how work goes on, on a terminal, when it takes more than a
// moment. The second function takes it away.
func (a *app) progressBar() (func(review.Stage, int64, int64), func()) {
	f, ok := a.words.(*os.File)
	if !ok || !term.IsTerminal(f.Fd()) {
		return nil, func() {}
	}
	const cells = 30
	var mu sync.Mutex
	shown := false
	next := time.Now().Add(300 * time.Millisecond)
	bar := func(stage review.Stage, done, of int64) {
		mu.Lock()
		defer mu.Unlock()
		if time.Now().Before(next) {
			return
		}
		next = time.Now().Add(100 * time.Millisecond)
		full := int(cells * done / max(of, 1))
		shown = true
		fmt.Fprintf(f, "\r%-8s [%s%s] %3d %%", stage, strings.Repeat("#", full), strings.Repeat(".", cells-full), 100*done/max(of, 1))
	}
	return bar, func() {
		mu.Lock()
		defer mu.Unlock()
		if shown {
			fmt.Fprintf(f, "\r%*s\r", cells+18, "")
		}
	}
}
