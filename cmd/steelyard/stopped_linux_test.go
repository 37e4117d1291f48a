package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"

	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// longLog is a log of so many events, as an export writes it.
func longLog(t *testing.T, n int) string {
	t.Helper()
	j, err := journal.OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	session := j.NewSession()
	for i := range n {
		e := &tutor.Event{Learner: "otter", Session: session, Problem: "davit-arm", Seed: 7, ScenarioHash: "0", Mode: tutor.Guided,
			Kind: tutor.Answered, Step: "moment", Cell: "T", Typed: fmt.Sprintf("%d T L", i), Verdict: "wrong", Try: i + 1}
		if err := j.Append(e); err != nil {
			t.Fatal(err)
		}
	}
	var log bytes.Buffer
	if _, err := journal.ExportJSONL(&log, j.Events(journal.Filter{})); err != nil {
		t.Fatal(err)
	}
	return log.String()
}

// interrupted runs the program, interrupts it after a while, and reports
// whether it was stopped before its end.
func interrupted(t *testing.T, after time.Duration, program string, args ...string) (stopped bool) {
	t.Helper()
	cmd := exec.Command(program, args...)
	var words bytes.Buffer
	cmd.Stderr = &words
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(after)
	cmd.Process.Signal(os.Interrupt)
	err := cmd.Wait()
	if code := cmd.ProcessState.ExitCode(); code != 0 && code != 1 && code != -1 { // -1: before it could see to signals
		t.Fatalf("%v: %v: %s", args, err, words.String())
	}
	return err != nil
}

// An export that is interrupted leaves the file that was there, or the whole of
// the new one, and nothing beside it. An import that is interrupted leaves a
// journal that is sound, and is gone on with by importing again.
func TestInterruptLeavesNothingHalfWritten(t *testing.T) {
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	dir := t.TempDir()
	log := longLog(t, 4_000)
	from, data := filepath.Join(dir, "from.jsonl"), filepath.Join(dir, "data")
	if err := os.WriteFile(from, []byte(log), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) string {
		out, err := exec.Command(program, args...).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	begin := time.Now()
	run("import", from, "--data", data)
	whole := time.Since(begin)
	begin = time.Now()
	run("export", "--data", data, "--file", filepath.Join(dir, "first.jsonl"))
	written := time.Since(begin)

	out := filepath.Join(dir, "out")
	if err := os.Mkdir(out, 0o700); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	stopped := 0
	const old = "of last week\n"
	for range 8 {
		file := filepath.Join(out, "log.jsonl")
		if err := os.WriteFile(file, []byte(old), 0o600); err != nil {
			t.Fatal(err)
		}
		early := interrupted(t, time.Duration(rng.Float64()*float64(written)), program, "export", "--data", data, "--file", file)
		got, err := os.ReadFile(file)
		if err != nil || string(got) != old && string(got) != log {
			t.Fatalf("stopped %v, the file has %d bytes of %d: %v", early, len(got), len(log), err)
		}
		if early {
			stopped++
		}
		if beside, _ := os.ReadDir(out); len(beside) != 1 {
			t.Errorf("%d files are left", len(beside))
		}
	}
	if stopped == 0 {
		t.Error("no export was stopped in time")
	}

	for i := range 4 {
		fresh := filepath.Join(dir, fmt.Sprint("fresh", i))
		interrupted(t, time.Duration((0.1+0.2*float64(i))*float64(whole)), program, "import", from, "--data", fresh)
		if said := run("import", from, "--data", fresh); strings.Contains(said, "damaged") || !strings.Contains(said, "0 lines skipped") {
			t.Errorf("imported again: %s", said)
		}
		file := filepath.Join(fresh, "again.jsonl")
		run("export", "--data", fresh, "--file", file)
		if got, err := os.ReadFile(file); err != nil || string(got) != log {
			t.Errorf("after all the journal has %d bytes of %d: %v", len(got), len(log), err)
		}
	}
}

// Reading that takes long is shown on a terminal, on the stream for words; the
// bar is gone when the rest is said.
func TestTerminalSeesProgress(t *testing.T) {
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	tty, words, err := pty.Open()
	if err != nil {
		t.Skip("no pseudo-terminal:", err)
	}
	defer tty.Close()
	log := longLog(t, 40)
	cmd := exec.Command(program, "import", "-", "--data", t.TempDir())
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stderr = words
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	words.Close()
	said := make(chan string)
	go func() {
		all, _ := io.ReadAll(tty) // ends with an error when the program does
		said <- string(all)
	}()
	for part := range strings.SplitSeq(log[:len(log)/2], "\n") { // half of it, slowly
		io.WriteString(in, part+"\n")
		time.Sleep(2 * patience / 20)
	}
	in.Close()
	cmd.Wait()
	got := <-said
	bar, rest, found := strings.Cut(got, "Reading  [")
	if !found || strings.TrimSpace(bar) != "" || !strings.Contains(rest, "] ") {
		t.Fatalf("no bar was shown: %q", got)
	}
	if last := got[strings.LastIndex(got, "\r"+strings.Repeat(" ", 40)):]; !strings.Contains(last, "events added") {
		t.Errorf("the bar was not taken away: %q", got)
	}
}
