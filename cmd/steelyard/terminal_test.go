//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
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

// terminal is a real one: a tmux session that runs the program.
type terminal struct {
	t      *testing.T
	socket string
}

// needTerminal skips the test, with the reason, where there is no tmux.
func needTerminal(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil {
		t.Skip("tmux is absent, so there is no real terminal to try the program in")
	}
}

// openTerminal runs a command line in a new terminal of the given size.
func openTerminal(t *testing.T, width, height int, command ...string) *terminal {
	t.Helper()
	term := &terminal{t, filepath.Join(t.TempDir(), "tmux")}
	quoted := make([]string, len(command))
	for i, c := range command {
		quoted[i] = "'" + c + "'"
	}
	term.tmux("-f", "/dev/null", "new-session", "-d", "-x", strconv.Itoa(width), "-y", strconv.Itoa(height),
		"env TERM=tmux-256color LANG=C.UTF-8 COLORFGBG='15;0' "+strings.Join(quoted, " ")+"; echo left with $?; exec sleep 600")
	t.Cleanup(func() { exec.Command("tmux", "-S", term.socket, "kill-server").Run() })
	return term
}

func (term *terminal) tmux(args ...string) string {
	term.t.Helper()
	cmd := exec.Command("tmux", append([]string{"-u", "-S", term.socket}, args...)...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		term.t.Fatalf("tmux %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

func (term *terminal) screen() string { return term.tmux("capture-pane", "-p") }

// flat is the screen with every run of space as one, so that a text is found
// however it is wrapped.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// see waits until a text is on the screen.
func (term *terminal) see(text string) {
	term.t.Helper()
	deadline := time.Now().Add(15 * time.Second)
	for {
		screen := term.screen()
		if strings.Contains(flat(screen), text) {
			return
		}
		if time.Now().After(deadline) {
			term.t.Fatalf("never saw %q; the screen is\n%s", text, screen)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// line types a line and Enter.
func (term *terminal) line(text string) {
	term.t.Helper()
	if text != "" {
		term.tmux("send-keys", "-l", "--", text)
	}
	term.tmux("send-keys", "Enter")
}

func (term *terminal) key(names ...string) {
	term.t.Helper()
	term.tmux(append([]string{"send-keys"}, names...)...)
}

// running is the process of the program in the terminal.
func (term *terminal) running(program string) int {
	term.t.Helper()
	pane := strings.TrimSpace(term.tmux("display-message", "-p", "#{pane_pid}"))
	out, err := exec.Command("ps", "-o", "pid=,comm=", "--ppid", pane).Output()
	if err != nil {
		term.t.Fatal(err)
	}
	for _, row := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		fields := strings.Fields(row)
		if len(fields) == 2 && strings.HasPrefix(filepath.Base(program), fields[1]) {
			pid, _ := strconv.Atoi(fields[0])
			return pid
		}
	}
	term.t.Fatalf("the program is not running under %s:\n%s", pane, out)
	return 0
}

// kill ends the program as a crash would, at once and without a word.
func (term *terminal) kill(program string) {
	term.t.Helper()
	if err := syscall.Kill(term.running(program), syscall.SIGKILL); err != nil {
		term.t.Fatal(err)
	}
}

// typed is every line in the exported log, with its verdict.
func typed(t *testing.T, program, data string) []string {
	t.Helper()
	var words bytes.Buffer
	cmd := exec.Command(program, "export", "--data", data)
	cmd.Stderr = &words
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("export: %v\n%s", err, &words)
	}
	var lines []string
	for _, row := range bytes.Split(bytes.TrimSpace(out), []byte("\n")) {
		var e struct {
			Kind, Step, Cell, Typed, Verdict string
			Slip                             []string
		}
		if err := json.Unmarshal(row, &e); err != nil {
			t.Fatal(err)
		}
		if e.Typed != "" && e.Kind != "hinted" {
			lines = append(lines, strings.TrimSpace(fmt.Sprintf("%s %s: %s: %s %s", e.Step, e.Cell, e.Typed, e.Verdict, strings.Join(e.Slip, " "))))
		}
	}
	return lines
}

// davit-arm from pivot to doubt, in a real terminal: a reversed moment sign and
// a sine for a cosine made and named, the program killed in the middle and gone
// on with at the same entry, and every attempt in the exported log.
func TestTerminalDavit(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {140, 45}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) { davitStory(t, size[0], size[1]) })
	}
}

func davitStory(t *testing.T, width, height int) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	var want []string
	say := func(term *terminal, at, text, verdict, see string) {
		t.Helper()
		term.line(text)
		term.see(see)
		want = append(want, strings.TrimSpace(at+": "+text+": "+verdict))
	}

	first := openTerminal(t, width, height, program, "--data", data, "--learner", "kestrel", "--problem", "davit-arm", "--seed", "7")
	first.see("Choose a pivot")
	say(first, "pivot ", "A", "right", "List the forces on the arm")
	say(first, "forces ", "T at B toward C", "right", "T at B toward C")
	say(first, "forces ", "W at G down", "right", "W at G down")
	say(first, "forces ", "W_c at B down", "right", "W_c at B down")
	say(first, "forces ", "H at A right", "right", "H at A right")
	say(first, "forces ", "done", "wrong force-missing", "A force on the body is not in your list")
	say(first, "forces ", "V at A up", "right", "V at A up")
	say(first, "forces ", "done", "right", "Part of T along x")
	say(first, "x T", "-T cos(alpha)", "right", "Part of T along y")
	say(first, "y T", "T sin(alpha)", "right", "Moment of T about A")
	say(first, "moment T", "-T L sin(alpha)", "wrong sense-reversed", "The size is right, the sign is not")
	say(first, "moment T", "T L cos(alpha)", "wrong sine-cosine", "Sine and cosine have changed places")
	first.kill(program)
	first.see("left with")

	again := openTerminal(t, width, height, program, "--data", data, "--learner", "kestrel")
	again.see("Go on with")
	again.key("Enter")
	again.see("Moment of T about A")
	say(again, "moment T", "T L sin(alpha)", "right", "Part of W along x")
	for _, l := range [][3]string{
		{"x W", "0", "Part of W along y"}, {"y W", "-M g", "Moment of W about A"}, {"moment W", "-M g L/2", "Part of W_c along x"},
		{"x W_c", "0", "Part of W_c along y"}, {"y W_c", "-m g", "Moment of W_c about A"}, {"moment W_c", "-m g L", "Part of H along x"},
		{"x H", "H", "Part of H along y"}, {"y H", "0", "Moment of H about A"}, {"moment H", "0", "Part of V along x"},
		{"x V", "0", "Part of V along y"}, {"y V", "V", "Moment of V about A"}, {"moment V", "0", "Value of T"},
		{"value T", "3.12 kN", "Value of H"}, {"value H", "2890 N", "Value of V"}, {"value V", "137 N", "Doubt it"},
		{"doubt check", "B", "grows without bound"},
	} {
		say(again, l[0], l[1], "right", l[2])
	}
	again.line("3")
	want = append(want, "doubt limit: 3: right")
	again.see("another like it")
	again.key("q")
	again.see("left with 0")

	got := typed(t, program, data)
	if !slices.Equal(got, want) {
		t.Errorf("the log holds\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if _, err := os.Stat(filepath.Join(data, "journal.db")); err != nil {
		t.Error(err)
	}
}

// A step-ladder, body by body, in a real terminal: the pin's force not turned
// about on the second leg made and named, the program left with the second leg
// in hand and gone on with there, the whole ladder found not to be needed, the
// closing question answered, and the problem told as done when it is offered
// again.
func TestTerminalStepLadder(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {140, 45}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) { ladderStory(t, size[0], size[1]) })
	}
}

func ladderStory(t *testing.T, width, height int) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	dir := t.TempDir()
	bank, data := filepath.Join(dir, "bank"), filepath.Join(dir, "data")
	scenario, err := os.ReadFile(filepath.Join("..", "..", "problems", "testdata", "step-ladder.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(bank, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(bank, "step-ladder.toml"), scenario, 0o600); err != nil {
		t.Fatal(err)
	}
	var want []string
	say := func(term *terminal, at, text, verdict, see string) {
		t.Helper()
		term.line(text)
		term.see(see)
		want = append(want, strings.TrimSpace(at+": "+text+": "+verdict))
	}

	first := openTerminal(t, width, height, program, "--data", data, "--learner", "kestrel", "--bank", bank, "--problem", "step-ladder", "--seed", "3")
	first.see("▸ left leg: not begun")
	say(first, "pivot ", "C", "right", "List the forces on the left leg")
	say(first, "forces ", "N_B at A up", "wrong not-on-body", "N_B acts on the right leg")
	say(first, "forces ", "N_A at A up; W at P down", "right", "✓ W at P down")
	say(first, "forces ", "T at D right; C_x at C left; C_y at C up", "right", "✓ C_y at C up")
	say(first, "forces ", "done", "right", "Left leg. Part of N_A along x")
	say(first, "equation x", "T = C_x", "right", "The whole equation for the y axis on the left leg")
	say(first, "equation y", "N_A + C_y = W", "right", "The whole equation for moments about C")
	say(first, "equation moment", "N_A L cos(alpha) = W (L - s) cos(alpha) + T L/2 sin(alpha)", "right", "The left leg is done. Now the right leg.")
	say(first, "pivot ", "C", "right", "List the forces on the right leg")
	say(first, "forces ", "C_x at C left", "wrong partner-sense", "C_x acts on the left leg too")
	first.key("C-q")
	first.see("left with 0")

	again := openTerminal(t, width, height, program, "--data", data, "--learner", "kestrel", "--bank", bank)
	again.see("A step-ladder on a smooth floor")
	again.key("Enter")
	again.see("left leg: done ▸ right leg: setting up")
	again.key("F9")
	again.see("▸ whole ladder: not begun")
	again.key("F9", "C-n")
	again.see("▸ right leg: setting up")
	say(again, "forces ", "C_x at C right; C_y at C down; T at E left; N_B at B up", "right", "✓ N_B at B up")
	say(again, "forces ", "done", "right", "Right leg. Part of C_x along x")
	say(again, "equation x", "C_x = T", "right", "The whole equation for the y axis on the right leg")
	say(again, "equation y", "N_B = C_y", "right", "The whole equation for moments about C")
	say(again, "equation moment", "N_B L cos(alpha) = T L/2 sin(alpha)", "right", "The whole ladder is not needed")
	for _, l := range [][3]string{
		{"value N_A", "603.2 N", "Value of N_B"}, {"value N_B", "246.8 N", "Value of T"}, {"value T", "141.5 N", "Value of C_x"},
		{"value C_x", "141.5 N", "Value of C_y"}, {"value C_y", "246.8 N", "Right leg. Doubt it"},
		{"doubt check", "B", "grows without bound"}, {"doubt limit", "2", "Which foot is pressed harder?"},
	} {
		say(again, l[0], l[1], "right", l[2])
	}
	say(again, "doubt ask1", "2", "wrong", "which of them is the larger?")
	say(again, "doubt ask1", "1", "right", "N_A > N_B: 603.2 > 246.8")
	again.see("Left leg: moments about C, anticlockwise positive")
	again.key("l")
	again.see("to choose from")
	again.key("s", "t", "e", "p", "-", "l", "a", "d", "d", "e", "r", "Space", "f", "l", "o", "o", "r")
	again.see("done, level 3")
	again.key("C-q")
	again.see("left with 0")

	if got := typed(t, program, data); !slices.Equal(got, want) {
		t.Errorf("the log holds\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A terminal too small for the screen gets plain lines.
func TestTerminalTooSmall(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	term := openTerminal(t, 50, 12, program, "--data", filepath.Join(t.TempDir(), "data"))
	term.see("Which problem?")
	term.line("quit")
	term.see("left with 0")
}

// A folder that cannot be written is said before anything else, and the full
// screen runs without a record only if the learner agrees.
func TestTerminalUnwritable(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("no folder"), 0o600); err != nil {
		t.Fatal(err)
	}
	term := openTerminal(t, 80, 24, program, "--data", file)
	term.see("Name another folder with --data DIR")
	term.line("yes")
	term.see("Nothing is being recorded")
	term.key("Space")
	term.see("skip the tour") // nothing is recorded, so this learner is new
	term.key("Escape")
	term.see("to choose from")
	term.key("C-q")
	term.see("left with 0")
}
