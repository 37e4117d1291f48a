package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"steelyard/tutor/review/board"
)

// What the review's screen writes is whole or not there: a file of the name is
// told of, written over or added to as was asked, and left alone where writing
// fails.
func TestSaveFromScreen(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "own.toml")
	text := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	holds := func(want string) {
		t.Helper()
		if got, err := os.ReadFile(file); err != nil || string(got) != want {
			t.Errorf("the file holds %q, %v; want %q", got, err, want)
		}
		if all, _ := os.ReadDir(dir); len(all) != 1 {
			t.Errorf("beside it are %v", all)
		}
	}
	if err := saveFromScreen(file, board.New, text("a\n")); err != nil {
		t.Fatal(err)
	}
	holds("a\n")
	if err := saveFromScreen(file, board.New, text("b\n")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a file that is there gives %v", err)
	}
	holds("a\n")
	if err := saveFromScreen(file, board.AtEnd, text("b\n")); err != nil {
		t.Fatal(err)
	}
	holds("a\n\nb\n")
	fails := func(w io.Writer) error {
		io.WriteString(w, "half")
		return errors.New("disk full")
	}
	for _, how := range []board.How{board.Over, board.AtEnd} {
		if err := saveFromScreen(file, how, fails); err == nil {
			t.Error("a failed write is not told of")
		}
		holds("a\n\nb\n")
	}
	if err := saveFromScreen(file, board.Over, text("c\n")); err != nil {
		t.Fatal(err)
	}
	holds("c\n")
	for _, how := range []board.How{board.Over, board.AtEnd} {
		if err := saveFromScreen(dir, how, text("d\n")); err == nil {
			t.Error("a folder is written to")
		}
	}
	if err := os.Truncate(file, largestAddedTo+1); err != nil {
		t.Fatal(err)
	}
	if err := saveFromScreen(file, board.AtEnd, text("d\n")); err == nil {
		t.Error("a file longer than any scenario is added to")
	}
}
