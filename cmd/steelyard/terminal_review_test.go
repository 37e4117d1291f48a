//go:build unix

package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// unpacked is the log of the invented class, in a folder of its own.
func unpacked(t *testing.T) string {
	t.Helper()
	packed, err := os.Open(filepath.Join("..", "..", "testdata", "class", "class.jsonl.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	in, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	log := filepath.Join(t.TempDir(), "class.jsonl")
	out, err := os.Create(log)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if _, err := io.Copy(out, in); err != nil {
		t.Fatal(err)
	}
	return log
}

// A class reviewed in a real terminal: from the three slips to the lines of a
// problem, an answer that no slip predicts and the slip it could be, written to
// a file; a skill's curve, a learner's own lines; the page written from the
// screen; and the window changed in the middle.
func TestTerminalReview(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	log := unpacked(t)
	for _, size := range [][2]int{{80, 24}, {140, 45}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) { reviewStory(t, program, log, size[0], size[1]) })
	}
}

func reviewStory(t *testing.T, program, log string, width, height int) {
	dir := t.TempDir()
	term := openTerminal(t, width, height, program, "review", log)
	term.see("To reteach: the slips that cost most")
	term.see("1. sine and cosine swapped")
	term.see("of 40 learners")
	term.key("3")
	term.see("arm-strut-below")
	term.key("f")
	term.write("davit")
	term.see("1 of 12 rows")
	term.key("Enter")
	term.key("Enter")
	term.see("davit-arm, line by line")
	term.key("s", "s")
	term.see("sorted by right first, most first")

	term.key("4")
	term.see("−W · L / 3")
	term.key("Enter")
	term.see("-W L/3 by 8 learners")
	term.key("o")
	term.see("Write the slip to which file?")
	offer := filepath.Join(dir, "own.toml")
	term.write(offer)
	term.key("Enter")
	term.see("holds the slip now")

	term.key("5", "Enter")
	term.see("forces: improves")
	term.resize(100, 30)
	term.see("the fit")
	term.resize(width, height)
	term.key("6", "Enter")
	term.see("tern")
	term.see("of 9 sessions finished")
	term.key("End", "Enter")
	term.see("steelyard show")

	term.key("w")
	page := filepath.Join(dir, "class.html")
	term.key("C-u")
	term.write(page)
	term.key("Enter")
	term.see("is written; open it in a browser")
	term.key("q")
	term.see("left with 0")

	if text := read(t, offer); !strings.Contains(text, "[[slips]]") || !strings.Contains(text, "W * L / 3") {
		t.Errorf("the slip is\n%s", text)
	}
	if text := read(t, page); !strings.HasPrefix(text, "<!DOCTYPE html>") || !strings.HasSuffix(strings.TrimSpace(text), "</html>") || !strings.Contains(text, "sine and cosine swapped") {
		t.Errorf("the page begins %.80q and ends %q", text, text[max(0, len(text)-40):])
	}
}

func read(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Ctrl+C while logs are still read leaves at once, with nothing written and
// nothing laid aside; a log of which a part is no event is said to be so.
func TestTerminalReviewStopped(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	dir := t.TempDir()
	pipe := filepath.Join(dir, "slow.jsonl")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip("there can be no pipe here:", err)
	}
	term := openTerminal(t, 80, 24, "sh", "-c", "cd "+dir+" && TMPDIR="+dir+" exec "+program+" review slow.jsonl")
	feed, err := os.OpenFile(pipe, os.O_WRONLY, 0) // waits until it is read
	if err != nil {
		t.Fatal(err)
	}
	defer feed.Close()
	term.see("Reading the logs")
	begin := time.Now()
	term.key("C-c")
	term.see("stopped; nothing was written")
	term.see("left with 1")
	if took := time.Since(begin); took > 5*time.Second {
		t.Errorf("leaving took %v", took)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("in the folder are %v, %v", left, err)
	}
}

// A damaged log, with what acts on terminals in it, is shown and placed; text
// that is not for a terminal is as it was.
func TestTerminalReviewHostile(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	text := strings.SplitAfter(read(t, unpacked(t)), "\n")[:400]
	bad := strings.ReplaceAll(strings.Join(text, ""), `"typed":"`, `"typed":"\u001b]0;owned\u0007\u001b[2J`)
	log := filepath.Join(t.TempDir(), "bad.jsonl")
	if err := os.WriteFile(log, append([]byte("no \x1b[31m event\n"), bad...), 0o600); err != nil {
		t.Fatal(err)
	}
	term := openTerminal(t, 80, 24, program, "review", log)
	term.see("The logs are not all sound (0).")
	term.key("0", "f")
	term.write("damaged")
	term.see("bad.jsonl:1")
	term.key("Enter", "Enter")
	term.see("expected, not")
	term.key("6", "Enter", "End", "Enter")
	term.see("owned")
	term.see("typed")
	if title := strings.TrimSpace(term.tmux("display-message", "-p", "#{pane_title}")); strings.Contains(title, "owned") {
		t.Errorf("the window is called %q", title)
	}
	term.key("q")
	term.see("left with 0")

	var plain bytes.Buffer
	if code := run([]string{"review", log, "--plain"}, strings.NewReader(""), &plain, io.Discard); code != exitDone || strings.Contains(plain.String(), "\x1b") {
		t.Errorf("--plain gives %d and\n%q", code, plain.String())
	}
}
