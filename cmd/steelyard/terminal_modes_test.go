//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/tutor"
)

// Stories of sets, exams and plans on the full screen.

// walk types lines one after another, each with what is then seen.
func (term *terminal) walk(lines ...[2]string) {
	term.t.Helper()
	for _, l := range lines {
		term.line(l[0])
		term.see(l[1])
	}
}

// file writes a file in a folder of the test's own, and gives its path.
func file(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// told is what a command of the program prints.
func told(t *testing.T, program string, args ...string) string {
	t.Helper()
	var words bytes.Buffer
	cmd := exec.Command(program, args...)
	cmd.Stderr = &words
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", strings.Join(args, " "), err, &words)
	}
	return string(out)
}

const lab = `
title = "Lab 2: first arms"
worked = true

[[problems]]
id = "davit-arm"
seed = 7

[[problems]]
id = "boom-level-line"
seed = 3

[[problems]]
id = "plank-balance"
seed = 7
`

// A lab of three problems, on the screen up to the receipt: the first of each
// family is begun as it is worked for the learner, who goes on alone; of the
// second half is filled in; the list tells how far the set is.
func TestTerminalLab(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data, set := filepath.Join(t.TempDir(), "data"), file(t, "lab2.toml", lab)
	term := openTerminal(t, 80, 24, program, "--data", data, "--learner", "kestrel", "--set", set)
	term.see("One line at a time 1 of 4") // this learner is new
	term.key("Escape")
	term.see("Lab 2: first arms: 0 of 3 problems done.")
	term.see("3 to choose from")
	term.key("Enter")
	term.see("This one is worked for you: press Enter for each line and its reason")
	term.walk([2]string{"", "Pivot: A. Why: no arm about it: H, V."}, [2]string{"", "Why: Cut the body free."}, [2]string{"", "X part of T: −T cos α. Why: "})
	term.key("C-r")
	term.see("From here on the lines are yours.")
	term.walk([2]string{"T cos(alpha)", "Sine and cosine have changed places"}, [2]string{"T sin(alpha)", "y part of T: right."}, [2]string{"T L sin(alpha)", "moment of T: right."},
		[2]string{"T cos(alpha) = H", "x equation: right."}, [2]string{"V + T sin(alpha) = (M + m) g", "y equation: right."}, [2]string{"T L sin(alpha) = M g L/2 + m g L", "moment equation: right."},
		[2]string{"3.12 kN", "Value of H"}, [2]string{"2890 N", "Value of V"}, [2]string{"137 N", "Doubt it"}, [2]string{"B", "grows without bound"}, [2]string{"3", "list of problems"})
	term.see("3 shown, and so not earned")
	term.key("l")
	term.see("Lab 2: first arms: 1 of 3 problems done.")

	term.key("Down", "Enter")
	term.see("Half of this one is filled in")
	term.see("◇")
	term.walk([2]string{"T = H", "x equation: right."}, [2]string{"V = W + W_c", "y equation: right."},
		[2]string{"T d sin(alpha) = W L/2 cos(alpha) + W_c L cos(alpha)", "moment equation: right."},
		[2]string{"868 N", "Value of H"}, [2]string{"868 N", "Value of V"}, [2]string{"1820 N", "Doubt it"}, [2]string{"B", "grows without bound"}, [2]string{"3", "list of problems"})
	term.key("l")
	term.see("Lab 2: first arms: 2 of 3 problems done.")
	term.key("Down", "Down", "Enter")
	term.see("This one is worked for you")
	term.walk([2]string{"own", "From here on the lines are yours."}, [2]string{"O", "pivot: right."}, [2]string{"N at O up; W at O down; W_1 at C down; W_2 at D down", "✓ W_2 at D down"}, [2]string{"done", "Part of N along x"},
		[2]string{"N = W + W_1 + W_2", "y equation: right."}, [2]string{"W_1 r_1 = W_2 r_2", "moment equation: right."},
		[2]string{"830 N", "Value of r₂"}, [2]string{"0.947 m", "Doubt it"}, [2]string{"C", "falls to zero"}, [2]string{"1", "list of problems"})
	term.key("l")
	term.see("Lab 2: first arms: 3 of 3 problems done.")
	term.key("Enter")
	term.see("The set has no more of davit-arm; choose another, or quit for the receipt.")
	term.key("C-q")
	term.see("left with 0")
	term.see("Set: Lab 2: first arms (lab2.toml,")
	term.see("Check code: ")

	// The receipt is that of the log.
	log := file(t, "kestrel.jsonl", told(t, program, "export", "--data", data, "--learner", "kestrel"))
	receipt := told(t, program, "receipt", set, "--log", log)
	for _, line := range []string{"1. A davit's arm and its stay (davit-arm, seed 7): done. Of 13 lines: 9 right first time, 1 later, 3 shown, 0 open; 11 attempts.",
		"3. Two crates on a plank (plank-balance, seed 7): done. Of 8 lines: 8 right first time, 0 later, 0 shown, 0 open; 8 attempts."} {
		if !strings.Contains(receipt, line) {
			t.Errorf("the receipt does not say %q:\n%s", line, receipt)
		}
	}
	code := regexp.MustCompile(`Check code: [0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4}`).FindString(receipt)
	if code == "" || !strings.Contains(flat(term.screen()), code) {
		t.Errorf("the receipt of the log is\n%s\nand the screen says\n%s", receipt, term.screen())
	}
}

// A practice on the screen: lines are kept and not judged until it is asked for;
// then the wrong ones are gone back to, and say what is wrong with them.
func TestTerminalPractice(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	set := file(t, "practice.toml", "title = \"Practice 1\"\nmode = \"practice\"\n[[problems]]\nid = \"plank-balance\"\nseed = 7\n")
	term := openTerminal(t, 80, 24, program, "--data", data, "--set", set)
	term.see("Practice. What you type is read back and kept.") // the only problem is opened
	term.walk([2]string{"O", "● pivot: taken, and not judged yet."}, [2]string{"N at O up; W at O down; W_1 at C down; W_2 at D up", "● W_2 at D up"}, [2]string{"done", "Part of N along x"})
	term.key("C-r")
	term.see("6 lines checked: 4 right, 2 not.")
	term.see("forces: not right. W₂ at D up. W₂ (weight of crate 2) cannot act that way")
	term.walk([2]string{"W_2 at D down", "● W_2 at D down"}, [2]string{"done", "Part of N along x"}, [2]string{"N", "x part of N: taken"})
	term.key("C-q")
	term.see("left with 0")
	term.see("Practice 1: 0 of 1 problems done.")
}

const midTerm = `
title = "Mid-term: a davit and a plank"
mode = "exam"
limit = "45m"

[[problems]]
id = "davit-arm"
seed = 7

[[problems]]
id = "plank-balance"
seed = 7
`

// An exam of two problems on the screen: no problem can be read before it is
// begun; lines are taken and nothing is said of them; the program is killed in
// the middle and gone on with at the same line by the same clock; papers come
// back when both are in.
func TestTerminalExam(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {140, 45}} {
		t.Run(map[int]string{80: "80x24", 140: "140x45"}[size[0]], func(t *testing.T) { examStory(t, size[0], size[1]) })
	}
}

func examStory(t *testing.T, width, height int) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data, set := filepath.Join(t.TempDir(), "data"), file(t, "exam.toml", midTerm)
	first := openTerminal(t, width, height, program, "--data", data, "--learner", "kestrel", "--set", set)
	first.see("Mid-term: a davit and a plank: 0 of 2 problems handed in.")
	first.see("Time allowed: 45 minutes, from the moment you begin the first problem.")
	first.see("It is told when it is begun.")
	first.key("Enter")
	first.see("Exam. What you type is read back and kept")
	first.see("Time is up at ")
	first.see("44 min left")
	first.walk([2]string{"A", "List the forces on the arm"}, [2]string{"T at B toward C", "● T at B toward C"}, [2]string{"W at G up", "● W at G up"}, [2]string{"m g at B down; H at A right", "● H at A right"},
		[2]string{"done", "Part of T along x"}, [2]string{"-T cos(alpha)", "Part of T along y"}, [2]string{"T cos(alpha)", "y part of T: taken, and not judged yet."})
	first.key("C-t")
	first.see("An exam gives no hints.")
	first.kill(program)
	first.see("left with")
	for _, verdict := range []string{"Right", "right.", "Not right", "✓"} {
		if strings.Contains(first.screen(), verdict) {
			t.Errorf("the screen says %q:\n%s", verdict, first.screen())
		}
	}

	again := openTerminal(t, width, height, program, "--data", data, "--learner", "kestrel", "--set", set)
	again.see("Go on with")
	again.see("▸ A davit's arm and its stay")
	again.see("4 of 22 lines written")
	again.key("Enter")
	again.see("Moment of T about A")
	again.see("Exam. What you type")
	again.key("BTab", "Left")
	again.see("▸ T cos(alpha)")
	again.key("C-u")
	again.walk([2]string{"T sin(alpha)", "y part of T: taken, and not judged yet."}, [2]string{"T = 3.12 kN", "value of T: taken, and not judged yet."})
	again.key("C-r")
	again.see("14 lines are still open.")
	again.key("C-r")
	again.see("The paper comes back, marked, when all of the exam is handed in, or its time is up.")
	again.key("l")
	again.see("1 of 2 problems handed in.")
	again.key("Enter")
	again.see("The problem davit-arm is handed in; choose another, or quit for what is done.")
	again.key("Down", "Enter")
	again.see("Choose a pivot")
	again.walk([2]string{"O", "List the forces"}, [2]string{"N at O up; W at O down; W_1 at C down; W_2 at D down", "● W_2 at D down"}, [2]string{"done", "Part of N along x"})
	again.key("C-r", "C-r")
	again.see("marks: 5 of 19")
	again.see("Right would be: N.")
	again.key("l")
	again.see("2 of 2 problems handed in.")
	again.key("Enter") // the other paper has come back, too
	again.see("marks: 8 of 29")
	again.see("W (weight of the arm) cannot act that way: a weight pulls down.")
	again.key("q")
	again.see("left with 0")
	again.see("1. A davit's arm and its stay (davit-arm, seed 7): handed in. Marks: 8 of 29.")
	again.see("Marks in all: 13 of 48.")
}

// An exam over a line that is cut: what was taken is kept, and that the learner
// left.
func TestTerminalExamHungUp(t *testing.T) {
	needTerminal(t)
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data, set := filepath.Join(t.TempDir(), "data"), file(t, "exam.toml", midTerm)
	first := openTerminal(t, 80, 24, program, "--data", data, "--set", set)
	first.see("0 of 2 problems handed in.")
	first.key("Enter")
	first.walk([2]string{"A", "List the forces"}, [2]string{"T at B toward C", "● T at B toward C"})
	pid := first.running(program)
	first.tmux("kill-server")
	gone(t, pid)
	if kinds := kinds(t, program, data); kinds[len(kinds)-1] != "left" {
		t.Errorf("the last events are %q, not that the learner left", kinds)
	}
	again := openTerminal(t, 80, 24, program, "--data", data, "--set", set)
	again.see("Go on with")
	again.key("Enter")
	again.see("● T at B toward C")
	again.see("44 min left")
	again.key("C-q")
	again.see("left with 0")
	again.see("Go on with it as you began it.")
}

// The clock of an exam is looked at each second, and the terminal is sent
// nothing for it while what it shows stays the same.
func TestExamClockSendsNothing(t *testing.T) {
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	one, _, _ := strings.Cut(midTerm, "[[problems]]\nid = \"plank")
	w := openWire(t, 0, 80, 24, program, "--data", filepath.Join(t.TempDir(), "data"), "--set", file(t, "exam.toml", one))
	w.see("44 min left")
	before := w.quiet()
	time.Sleep(3 * time.Second)
	if now := w.quiet(); now != before {
		t.Errorf("in three seconds %d bytes were sent: %q", now-before, w.text()[before:])
	}
	w.send("A\r")
	w.see("List the forces on the arm")
}

// A plan is followed for three days on the screen: what it names next is begun
// by the command that it gives, and worked to its end with one mistake; the plan
// of the next day knows of it, and names another. The lines are those that hints
// show, and the days are rewritten on the way from one journal to another, since
// the story takes no longer than a moment.
func TestTerminalPlan(t *testing.T) {
	needTerminal(t)
	t.Setenv("TZ", "UTC")
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	dir := t.TempDir()
	days := filepath.Join(dir, "days")
	named := regexp.MustCompile(`Next: .*? steelyard --problem (\S+) --seed (\d+) `)
	plan := func(today string) (text, id, seed string) {
		term := openTerminal(t, 100, 130, program, "plan", "--data", days, "--today", today, "--exam", "2026-12-14")
		term.see("Plan from " + today + " to the exam on 2026-12-14")
		term.see("left with 0")
		text = flat(term.screen())
		next := named.FindStringSubmatch(text)
		if next == nil {
			t.Fatalf("the plan of %s names nothing next:\n%s", today, term.screen())
		}
		return text, next[1], next[2]
	}
	worked := map[string]bool{}
	for _, day := range []string{"Wed 2026-11-25", "Thu 2026-11-26", "Fri 2026-11-27"} {
		_, today, _ := strings.Cut(day, " ")
		_, id, seed := plan(today)
		if worked[id] {
			t.Errorf("%s: the plan names %s again", day, id)
		}
		worked[id] = true
		data := filepath.Join(dir, today)
		term := openTerminal(t, 100, 30, program, "--data", data, "--problem", id, "--seed", seed)
		term.see("Choose a pivot")
		mistaken := false
		for _, line := range rightLines(t, id, seed) {
			if !mistaken && line.IsCell() && line.Typed != "0" {
				mistaken = true
				was := term.screen()
				term.line("-(" + line.Typed + ")")
				term.changed(was)
				term.see("not right.")
			}
			was := term.screen()
			term.line(line.Typed)
			term.changed(was)
		}
		term.see("list of problems")
		if !mistaken {
			t.Errorf("%s: no mistake was made on %s", day, id)
		}
		term.key("q")
		term.see("left with 0")

		log := regexp.MustCompile(`"at":"[0-9-]*T`).ReplaceAllString(told(t, program, "export", "--data", data), `"at":"`+today+"T")
		told(t, program, "import", file(t, "log.jsonl", log), "--data", days)
		if text, _, _ := plan(today); !strings.Contains(text, day+" 1 problem") {
			t.Errorf("the plan does not know of %s:\n%s", day, text)
		}
	}
}

// rightLines are lines that work a problem to its end, each with the task it is
// for: what the deepest hints show.
func rightLines(t *testing.T, id, seed string) []tutor.Task {
	t.Helper()
	n, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	p, err := (&app{}).draw(problems.Builtin(), id, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.New(p, tutor.Guided)
	if err != nil {
		t.Fatal(err)
	}
	var out []tutor.Task
	for !s.Finished() {
		task := s.Current()
		for !task.Done() {
			e, _, ok := s.Hint()
			if !ok {
				t.Fatalf("%s: no hint at %s", id, s.Title(task))
			}
			s.Apply(e)
		}
		out = append(out, *task)
		if task.Step == tutor.StepForces {
			out = append(out, tutor.Task{Step: tutor.StepForces, Typed: "done"})
		}
	}
	return out
}

// changed waits until the screen is another than it was, and stays as it is.
func (term *terminal) changed(was string) {
	term.t.Helper()
	for end := time.Now().Add(15 * time.Second); ; {
		now := term.screen()
		time.Sleep(40 * time.Millisecond)
		if now != was && term.screen() == now {
			return
		}
		if time.Now().After(end) {
			term.t.Fatalf("the screen is still\n%s", was)
		}
	}
}

// gone waits until a process has ended.
func gone(t *testing.T, pid int) {
	t.Helper()
	for end := time.Now().Add(15 * time.Second); syscall.Kill(pid, 0) == nil; {
		if time.Now().After(end) {
			t.Fatal("the terminal is gone and the program goes on")
		}
		time.Sleep(20 * time.Millisecond)
	}
}
