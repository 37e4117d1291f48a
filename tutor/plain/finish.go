package plain

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// finish says how it went, and what can be done next.
func (t *talk) finish() error {
	if t.desk.HandedIn() && t.desk.Mode() == tutor.Exam {
		t.handedIn()
		if _, back := t.desk.Returned(); !back {
			return nil
		}
		return t.after()
	}
	t.say("")
	t.went()
	p := t.desk.Problem()
	for _, u := range p.Unknowns {
		task := t.desk.Find(tutor.StepValue, u.Symbol)
		t.say("%s: yours %s, reference %s.", notation.Display(u.Symbol, t.plain()), task.Reads, t.value(u))
	}
	return t.after()
}

// after does what is asked for when a problem is done.
func (t *talk) after() error {
	p := t.desk.Problem()
	for {
		t.say("Say solution for your lines beside the worked ones, another for one like it, list for the list of problems, or quit.")
		line, err := t.read("> ")
		switch {
		case err != nil:
			return err
		case isWord(line, "solution"):
			if err := t.solution(); err != nil {
				return err
			}
		case isWord(line, "another"):
			next, err := t.o.House.Begin(p.ID, t.o.House.NewSeed())
			switch {
			case t.refused(err):
				continue
			case err != nil:
				return err
			}
			t.desk = next
			return t.work()
		case isWord(line, "figure"):
			if err := t.figure(""); err != nil {
				return err
			}
		case isWord(line, "speak"):
			if err := t.speak(""); err != nil {
				return err
			}
		case isWord(line, "list", "choose"):
			return nil
		case isWord(line, "quit", "exit"):
			return errQuit
		}
	}
}

// went counts the lines by how they were come by, and names the slips.
func (t *talk) went() {
	sum := t.desk.Summary(t.desk.Events())
	t.say("Done. %d lines: %d right first time, %d after a mistake or a hint, %d shown.", sum.Lines, sum.FirstTime, sum.Later, sum.Shown)
	var slips []string
	for _, code := range slices.Sorted(maps.Keys(sum.Slips)) {
		name := slip.NameOf(code)
		if n := sum.Slips[code]; n > 1 {
			name += fmt.Sprintf(", %d times", n)
		}
		slips = append(slips, notation.Printable(name))
	}
	if len(slips) > 0 {
		t.say("Slips on the way: %s.", strings.Join(slips, "; "))
	}
}

// value is the solved value of an unknown, in the sense that the learner took.
func (t *talk) value(u problems.Unknown) string {
	v := t.desk.Problem().In(u.Index, u.Unit) * t.desk.Grader().Frame().Sense(u.Symbol)
	figures := strings.Replace(problems.Figures(v, 4), "-", "−", 1)
	return strings.TrimSpace(figures + " " + u.Unit.Name)
}
