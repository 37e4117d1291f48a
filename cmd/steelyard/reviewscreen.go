package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"steelyard/tutor/review"
	"steelyard/tutor/review/board"
	"steelyard/tutor/review/page"
)

// reviewOnScreen shows a review as a screen to go about in. What could not be
// read is said again when the screen is gone.
func (a *app) reviewOnScreen(paths []string) error {
	b, err := a.bank()
	if err != nil {
		return err
	}
	a.sayFaults(b)
	var r *review.Reader
	return short(board.Run(context.Background(), board.Options{
		Read: func(ctx context.Context, progress func(review.Stage, int64, int64)) (*review.Report, error) {
			var rep *review.Report
			var err error
			r, rep, err = a.fold(ctx, b, progress, paths)
			return rep, err
		},
		Lines:    func(learner string) []review.TypedLine { return r.LinesOf(learner) },
		Sessions: func(learner string) []review.SessionOf { return r.SessionsOf(learner) },
		Page:     page.Write,
		Save:     saveFromScreen,
		ASCII:    a.ascii,
	}, a.in, a.out))
}

// largestAddedTo bounds a file that a slip is added to; no scenario is as long.
const largestAddedTo = 1 << 20

// saveFromScreen writes a file whole or not at all.
func saveFromScreen(file string, how board.How, write func(io.Writer) error) error {
	if how == board.New {
		if _, err := os.Lstat(file); err == nil {
			return fs.ErrExist
		}
		return writeNew(file, false, write)
	}
	info, err := os.Stat(file)
	if err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is no file that can be written to; name another", file)
	}
	if how == board.Over || errors.Is(err, fs.ErrNotExist) {
		return writeNew(file, true, write)
	}
	if err != nil {
		return err
	}
	if info.Size() > largestAddedTo {
		return fmt.Errorf("%s is longer than any scenario; name another file", file)
	}
	before, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	return writeNew(file, true, func(w io.Writer) error {
		if _, err := fmt.Fprintf(w, "%s\n", before); err != nil {
			return err
		}
		return write(w)
	})
}
