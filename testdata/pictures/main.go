// Pictures makes the pictures in README from the real program. It is run by
// hand, from the top of the project, when the screen has changed:
//
//	go run ./testdata/pictures
//
// It runs the tutor in tmux, types what the tables below say, and writes what is
// then on the screen as SVG; a page of a printed sheet needs chromium and
// pdftoppm. Look at each before it is committed.
package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// picture is what is done before a screen is taken.
type picture struct {
	name          string
	width, height int
	before        []string // what is typed to plain lines first, as the same learner
	args          []string
	keys          []string // "see: TEXT" waits; "key: NAME" is one key; the rest are typed lines
}

var davitForces = []string{"A", "T at B toward C; W at G down; W_c at B down; H at A right; V at A up", "done"}

var pictures = []picture{
	{name: "wide", width: 120, height: 34,
		args: []string{"--problem", "davit-arm", "--seed", "7"},
		keys: []string{"see: Choose a pivot", "A", "see: List the forces", davitForces[1], "done", "see: Part of T along x",
			"-T cos(alpha)", "T sin(alpha)", "see: Moment of T", "T L sin(alpha)", "see: Part of W along x", "0", "-M g", "see: Moment of W", "-M g L", "see: not right"}},
	{name: "narrow", width: 80, height: 24,
		args: []string{"--problem", "step-ladder-tie", "--seed", "7"},
		keys: []string{"see: Choose a pivot", "C", "see: List the forces", "N_A at A up; W at P down; T at D right; C_x at C left; C_y at C up", "done", "see: Part of N_A along x",
			"T = C_x", "see: y axis", "N_A + C_y = W", "key: F9", "see: right leg", "C", "see: List the forces", "C_x at C right; C_y at C down; T at E left; N_B at B up", "done", "see: Part of C_x along x", "C_x", "see: Part of C_x along y", "0", "see: Moment of C_x", "0", "see: Part of C_y along x"}},
	{name: "choose", width: 110, height: 30,
		before: []string{"davit-arm", "A", "choose"},
		args:   []string{},
		keys:   []string{"see: to choose from", "key: Tab", "key: Tab", "key: Down"}},
	{name: "finish", width: 110, height: 42,
		before: append(append([]string{"davit-arm"}, davitForces...), "T cos(alpha)", "-T cos(alpha)", "T sin(alpha)", "T L cos(alpha)", "hint", "T L sin(alpha)", "0", "-M g", "-M g L", "-M g L/2",
			"0", "-m g", "-m g L", "H", "0", "0", "0", "V", "0", "hint", "hint", "hint", "hint", "hint", "hint", "hint", "hint", "hint", "B"),
		args: []string{},
		keys: []string{"see: Go on with", "key: Enter", "see: grows without bound", "3", "see: another like it"}},
}

func main() {
	if err := takeAll(filepath.Join("testdata", "pictures")); err != nil {
		fmt.Fprintln(os.Stderr, "pictures:", err)
		os.Exit(1)
	}
}

func takeAll(out string) error {
	if _, err := os.Stat("go.mod"); err != nil {
		return errors.New("run this from the top of the project, where go.mod is")
	}
	work, err := os.MkdirTemp("", "pictures")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	program := filepath.Join(work, "steelyard")
	if _, err := output("go", "build", "-o", program, "./cmd/steelyard"); err != nil {
		return err
	}
	for _, p := range pictures {
		if err := p.take(program, work, out); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	figure, err := output(program, "show", "hatch-prop", "--seed", "7", "--answers", "--svg")
	if err != nil {
		return err
	}
	figure = strings.Replace(figure, ">", `><rect x="-50%" y="-50%" width="200%" height="200%" fill="white"/>`, 1) // paper, where a page is dark
	if err := os.WriteFile(filepath.Join(out, "figure.svg"), []byte(figure), 0o644); err != nil {
		return err
	}
	return page(program, work, out)
}

// take runs the program in a terminal of the picture's size and writes its
// screen.
func (p picture) take(program, work, out string) error {
	data := filepath.Join(work, p.name)
	common := []string{"--learner", "kestrel", "--data", data}
	if len(p.before) > 0 {
		cmd := exec.Command(program, append([]string{"plain", "--seed", "7", "--problem", p.before[0]}, common...)...)
		cmd.Stdin = strings.NewReader(strings.Join(p.before[1:], "\n") + "\n")
		if words, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("plain lines: %w\n%s", err, words)
		}
	}
	term := terminal{filepath.Join(work, p.name+".tmux")}
	command := "env TERM=tmux-256color COLORTERM=truecolor LANG=C.UTF-8 COLORFGBG='15;0' " + strings.Join(append(append([]string{program}, common...), p.args...), " ")
	if _, err := term.tmux("-f", "/dev/null", "new-session", "-d", "-x", strconv.Itoa(p.width), "-y", strconv.Itoa(p.height), command); err != nil {
		return err
	}
	defer term.tmux("kill-server") // it may have ended with the program
	for _, k := range p.keys {
		if err := term.do(k); err != nil {
			return err
		}
	}
	time.Sleep(300 * time.Millisecond) // what follows the text waited for
	screen, err := term.tmux("capture-pane", "-p", "-e")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, p.name+".svg"), []byte(drawing(screen, p.width, p.height)), 0o644)
}

// page is the first page of a printed sheet.
func page(program, work, out string) error {
	html, pdf := filepath.Join(work, "sheet.html"), filepath.Join(work, "sheet.pdf")
	for _, command := range [][]string{
		{program, "sheet", "hatch-prop", "--seed", "7", "--key-only", "-o", html},
		{"chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--print-to-pdf=" + pdf, "file://" + html},
		{"pdftoppm", "-png", "-gray", "-r", "80", "-f", "1", "-l", "1", "-singlefile", pdf, filepath.Join(out, "sheet")},
	} {
		if _, err := output(command[0], command[1:]...); err != nil {
			return err
		}
	}
	return nil
}

func output(name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	var words strings.Builder
	cmd.Stderr = &words
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, words.String())
	}
	return string(out), nil
}

// terminal is a tmux server of its own, by its socket.
type terminal struct{ socket string }

func (t terminal) tmux(args ...string) (string, error) {
	return output("tmux", append([]string{"-u", "-S", t.socket}, args...)...)
}

// do waits for a text, presses a key, or types a line.
func (t terminal) do(step string) error {
	what, rest, _ := strings.Cut(step, ": ")
	switch what {
	case "see":
		return t.see(rest)
	case "key":
		_, err := t.tmux("send-keys", rest)
		return err
	}
	if _, err := t.tmux("send-keys", "-l", "--", step); err != nil {
		return err
	}
	time.Sleep(150 * time.Millisecond)
	_, err := t.tmux("send-keys", "Enter")
	time.Sleep(150 * time.Millisecond)
	return err
}

func (t terminal) see(text string) error {
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		screen, err := t.tmux("capture-pane", "-p")
		if err != nil {
			return err
		}
		if strings.Contains(strings.Join(strings.Fields(screen), " "), text) {
			return nil
		}
		if time.Now().After(end) {
			return fmt.Errorf("never saw %q; the screen is\n%s", text, screen)
		}
	}
}
