//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Stories of what befalls a terminal: a first visit, a window that changes its
// size, a long paste, a line that is cut.

// resize gives the terminal another size.
func (term *terminal) resize(width, height int) {
	term.t.Helper()
	term.tmux("resize-window", "-x", strconv.Itoa(width), "-y", strconv.Itoa(height))
}

// write types without Enter.
func (term *terminal) write(text string) {
	term.t.Helper()
	term.tmux("send-keys", "-l", "--", text)
}

// A first visit: the walkthrough is offered, skipped, and replayed from help
// to its end; who has work in the journal is not taken round again.
func TestTerminalFirstRun(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	term := openTerminal(t, 80, 24, program, "--data", data)
	term.see("One line at a time 1 of 4")
	term.key("Escape")
	term.see("to choose from")
	term.key("F1")
	term.see("What may be typed")
	term.key("t")
	term.see("One line at a time 1 of 4")
	for _, n := range []string{"2 of 4", "3 of 4", "4 of 4"} {
		term.key("Enter")
		term.see(n)
	}
	term.key("Enter")
	term.see("What may be typed")
	term.key("Enter")
	term.see("to choose from")
	for _, letter := range "davit's arm" {
		term.write(string(letter))
	}
	term.see("1 of")
	term.key("Enter")
	term.see("Choose a pivot")
	term.line("A")
	term.see("List the forces on the arm")
	term.key("C-q")
	term.see("left with 0")

	again := openTerminal(t, 80, 24, program, "--data", data)
	again.see("Go on with")
	again.key("C-q")
	again.see("left with 0")
}

// However the window is changed in mid-typing, no character is lost, and the
// line is taken as if it had not been.
func TestTerminalResizedInMidTyping(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	term := openTerminal(t, 80, 24, program, "--data", data, "--problem", "davit-arm", "--seed", "7")
	term.see("Choose a pivot")
	term.line("A")
	term.see("List the forces")
	const whole = "T at B toward C"
	sizes := [][2]int{{140, 45}, {60, 20}, {100, 30}, {30, 8}, {12, 3}, {80, 24}}
	for i, size := range sizes {
		from, to := i*len(whole)/len(sizes), (i+1)*len(whole)/len(sizes)
		term.write(whole[from:to])
		term.resize(size[0], size[1])
		term.see(strings.TrimSpace(whole[max(0, to-8):to]))
	}
	term.see(whole)
	term.key("Enter")
	term.see("✓ T at B toward C")
	term.key("C-q")
	term.see("left with 0")
	if got := typed(t, program, data); got[len(got)-1] != "forces : "+whole+": right" {
		t.Errorf("the log's last line is %q", got[len(got)-1])
	}
}

// 10 kB pasted into an answer are refused, with the reason; what had been typed
// stands as it was and can be finished.
func TestTerminalPaste(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	term := openTerminal(t, 80, 24, program, "--data", data, "--problem", "davit-arm", "--seed", "7")
	term.see("Choose a pivot")
	term.line("A")
	term.see("List the forces")
	term.write("W at G")
	term.see("W at G")
	paste := filepath.Join(t.TempDir(), "paste")
	if err := os.WriteFile(paste, bytes.Repeat([]byte(" down\x1b[31m;\n"), 1000), 0o600); err != nil {
		t.Fatal(err)
	}
	term.tmux("load-buffer", paste)
	term.tmux("paste-buffer", "-p") // in the brackets that the program asked for
	term.see("What you pasted is too long")
	term.see("None of it was taken")
	term.line(" down")
	term.see("✓ W at G down")
	term.key("C-q")
	term.see("left with 0")
	if got, want := typed(t, program, data), []string{"pivot : A: right", "forces : W at G down: right"}; !slices.Equal(got, want) {
		t.Errorf("the log holds %q, want %q", got, want)
	}
}

// A terminal that goes away, as when a line is cut, hangs the program up: it
// records that the learner left, ends, and goes on at the same entry next time.
func TestTerminalHungUp(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	first := openTerminal(t, 80, 24, program, "--data", data, "--problem", "davit-arm", "--seed", "7")
	first.see("Choose a pivot")
	for _, l := range [][2]string{{"A", "List the forces"}, {"T at B toward C; W at G down; W_c at B down; H at A right; V at A up", "✓ V at A up"},
		{"done", "Part of T along x"}, {"-T cos(alpha)", "Part of T along y"}} {
		first.line(l[0])
		first.see(l[1])
	}
	first.write("T sin(al") // never sent
	first.see("T sin(al")
	pid := first.running(program)
	first.tmux("kill-server")
	deadline := time.Now().Add(15 * time.Second)
	for syscall.Kill(pid, 0) == nil {
		if time.Now().After(deadline) {
			t.Fatal("the terminal is gone and the program goes on")
		}
		time.Sleep(20 * time.Millisecond)
	}
	if kinds := kinds(t, program, data); kinds[len(kinds)-1] != "left" {
		t.Errorf("the last events are %q, not that the learner left", kinds)
	}

	again := openTerminal(t, 80, 24, program, "--data", data)
	again.see("Go on with")
	again.key("Enter")
	again.see("Part of T along y")
	again.line("T sin(alpha)")
	again.see("Moment of T about A")
	again.key("C-q")
	again.see("left with 0")
}

// A click on an entry of the ledger goes there.
func TestTerminalClick(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	term := openTerminal(t, 80, 24, program, "--data", filepath.Join(t.TempDir(), "data"), "--problem", "davit-arm", "--seed", "7")
	term.see("Choose a pivot")
	for _, l := range [][2]string{{"A", "List the forces"}, {"T at B toward C; W at G down; W_c at B down; H at A right; V at A up", "✓ V at A up"}, {"done", "Part of T along x"}} {
		term.line(l[0])
		term.see(l[1])
	}
	for row, line := range strings.Split(term.screen(), "\n") {
		if at := strings.Index(line, "H at A"); at >= 0 {
			col := len([]rune(line[:at])) + 12
			term.write("\x1b[<0;" + strconv.Itoa(col) + ";" + strconv.Itoa(row+1) + "M")
			break
		}
	}
	term.see("Part of H along x")
	term.key("F12")
	term.see("Clicks are left to the terminal")
	if on := strings.TrimSpace(term.tmux("display-message", "-p", "#{mouse_any_flag}")); on != "0" {
		t.Errorf("the terminal is still asked for clicks: %s", on)
	}
	term.key("C-q")
	term.see("left with 0")
}

// kinds is the kind of every event in the exported log.
func kinds(t *testing.T, program, data string) []string {
	t.Helper()
	out, err := exec.Command(program, "export", "--data", data).Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, row := range bytes.Split(bytes.TrimSpace(out), []byte("\n")) {
		var e struct{ Kind string }
		if err := json.Unmarshal(row, &e); err != nil {
			t.Fatal(err)
		}
		all = append(all, e.Kind)
	}
	return all
}
