package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// An export that is stopped, at its beginning, half-way or before its last
// step, leaves nothing behind, and what was there before as it was.
func TestStoppedExportLeavesNothing(t *testing.T) {
	for _, when := range []string{"before", "half-way", "at the end"} {
		dir := t.TempDir()
		file := filepath.Join(dir, "log.csv")
		if err := os.WriteFile(file, []byte("of last week\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(context.Background())
		x := &exporting{app: &app{}, context: ctx}
		if when == "before" {
			stop()
		}
		_, err := x.to(file, func(w io.Writer) (int, error) {
			for i := range 100 {
				if when == "half-way" && i == 50 {
					stop()
				}
				if _, err := io.WriteString(w, strings.Repeat("x", 1000)); err != nil {
					return i, err
				}
			}
			if when == "at the end" {
				stop()
			}
			return 100, nil
		})
		stop()
		if !errors.Is(err, errStopped) {
			t.Errorf("stopped %s: %v", when, err)
		}
		entries, _ := os.ReadDir(dir)
		if kept, _ := os.ReadFile(file); len(entries) != 1 || string(kept) != "of last week\n" {
			t.Errorf("stopped %s: %d files left, the log is %.20q", when, len(entries), kept)
		}
	}
}
