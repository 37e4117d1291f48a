package plain

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems/figure"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// word is one thing that may be said instead of an answer: a row of the table
// that help prints, so that none exists without being told.
type word struct {
	name  string
	takes string // what follows it, for help; in brackets if it may be left out
	tells string
	do    func(t *talk, rest string) error
}

var vocabulary []word

func init() {
	vocabulary = []word{
		{"hint", "", "a question; again, the principle; again, the line itself, which then is not earned", (*talk).hint},
		{"figure", "", "the figure in words", (*talk).figure},
		{"ledger", "", "the ledger so far", (*talk).ledger},
		{"statement", "", "the problem again", func(t *talk, _ string) error { t.statement(); return nil }},
		{"bodies", "", "the bodies of the problem, and how far each is", (*talk).bodies},
		{"body", "[NAME]", "take another body in hand", (*talk).body},
		{"go", "LINE", "to another line, like: go moment T, go equation y, go value N", (*talk).goTo},
		{"next", "", "leave this line open and take the next", (*talk).next},
		{"undo", "", "take back the line earned last", (*talk).undo},
		{"pivot", "POINT", "change the pivot", (*talk).pivot},
		{"positive", "WAY", "count moments positive clockwise or anticlockwise", func(t *talk, rest string) error { return t.set(tutor.StepPositive, rest) }},
		{"axes", "ANGLE", "tilt the x axis, anticlockwise", func(t *talk, rest string) error { return t.set(tutor.StepAxes, rest) }},
		{"help", "", "this list", (*talk).help},
		{"quit", "", "leave; the problem can be gone on with", func(*talk, string) error { return errQuit }},
	}
}

// obey does what a line says: a word of the vocabulary, or else an answer.
func (t *talk) obey(line string) error {
	name, rest, _ := strings.Cut(line, " ")
	for _, w := range vocabulary {
		either := strings.HasPrefix(w.takes, "[")
		if !strings.EqualFold(name, w.name) || !either && (w.takes == "") != (strings.TrimSpace(rest) == "") {
			continue
		}
		return w.do(t, strings.TrimSpace(rest))
	}
	return t.answer(line)
}

func (t *talk) help(string) error {
	t.say("Type the line asked for and press Enter. It is read back, then checked.")
	t.say("Lines look like: T L sin(alpha), -M g L/2, W_1 r_1, sqrt(h(2R - h)), 2T sin 35. Angles are in degrees.")
	t.say("A whole equation, with =, may be typed in place of an entry; a value, like T = 1.56 kN, anywhere.")
	t.say("Right, up and anticlockwise are positive, unless you choose otherwise.")
	for _, w := range vocabulary {
		t.say("%s: %s.", strings.TrimSpace(w.name+" "+w.takes), w.tells)
	}
	return nil
}

func (t *talk) hint(string) error {
	before, was := t.ways(), t.desk.Body().Name
	text, err := t.desk.Hint()
	if err != nil {
		return err
	}
	if text == "" {
		t.say("This line is done; there is nothing to hint at.")
		return nil
	}
	t.say("Hint. %s", text)
	t.turned(before, was)
	return nil
}

func (t *talk) undo(string) error {
	ok, err := t.desk.Undo()
	switch {
	case err != nil:
		return err
	case !ok:
		t.say("There is nothing to take back.")
	default:
		e := t.desk.Events()[len(t.desk.Events())-1]
		t.say("Taken back%s: %s.", t.on(tutor.Step(e.Step)), strings.TrimSpace(e.Step+" "+notation.Display(e.Cell, t.o.ASCII)))
	}
	return nil
}

func (t *talk) next(string) error {
	tasks := t.desk.Tasks()
	at := slices.Index(tasks, t.desk.Current())
	for k := 1; k <= len(tasks); k++ {
		if task := tasks[(at+k)%len(tasks)]; !task.Done() {
			return t.move(task)
		}
	}
	return nil
}

// goTo moves to a line named by its step and what it is of: one of the body in
// hand, or a value or doubt.
func (t *talk) goTo(rest string) error {
	step, cell, _ := strings.Cut(rest, " ")
	cell = strings.TrimSpace(cell)
	here := func(task *tutor.Task) bool { return task.Body == "" || task.Body == t.desk.Body().Name }
	for _, task := range t.desk.Tasks() {
		if here(task) && strings.EqualFold(string(task.Step), step) && task.Cell == cell {
			return t.move(task)
		}
	}
	var all []string
	for _, task := range t.desk.Tasks() {
		if here(task) && !task.Done() {
			all = append(all, strings.TrimSpace(string(task.Step)+" "+task.Cell))
		}
	}
	t.say("There is no line \"%s\"%s. Open lines: %s.", notation.PrintableMax(rest, 40), t.on(tutor.StepForces), strings.Join(all, ", "))
	return nil
}

func (t *talk) pivot(rest string) error {
	if _, err := t.desk.Go(tutor.StepPivot, ""); err != nil {
		return err
	}
	return t.answer(rest)
}

// set makes a choice. What is wrong with the choice itself is said; an error
// of recording ends the talk.
func (t *talk) set(step tutor.Step, value string) error {
	if _, err := t.desk.Session.Choose(step, value); err != nil {
		t.say("Not done: %v.", err)
		return nil
	}
	return t.desk.Choose(step, value)
}

func (t *talk) figure(string) error {
	for _, line := range figure.Words(t.desk.Problem(), View(t.desk)) {
		t.say("%s", line)
	}
	return nil
}

// View is the figure as the learner's choices make it.
func View(d *tutor.Desk) figure.View {
	v := figure.View{Clockwise: d.Choice().Clockwise}
	if d.PivotChosen() {
		v.Pivot = d.Choice().Pivot
	}
	if len(d.Bodies()) > 1 {
		v.Body = d.Body().Name
	}
	for _, l := range d.Listed() {
		v.Forces = append(v.Forces, figure.Listed{Symbol: l.Symbol, At: l.At, Reversed: l.Reversed})
	}
	if t := d.Current(); t != nil && t.Step == tutor.StepMoment {
		v.Selected = t.Cell
	}
	return v
}

// ledger tells the ledger force by force, then the equations.
func (t *talk) ledger(string) error {
	d := t.desk
	if len(d.Listed()) == 0 {
		t.say("No forces are listed yet%s.", t.on(tutor.StepForces))
	} else if len(d.Bodies()) > 1 {
		t.say("The ledger of the %s.", notation.Printable(d.Body().Name))
	}
	for _, line := range d.Lines() {
		t.say("Listed: %s.", notation.Printable(line))
	}
	for _, l := range d.Listed() {
		var parts []string
		for _, step := range []tutor.Step{tutor.StepX, tutor.StepY, tutor.StepMoment} {
			if task := d.Find(step, l.Symbol); task != nil {
				parts = append(parts, fmt.Sprintf("%s %s", step, state(task)))
			}
		}
		if len(parts) > 0 {
			t.say("%s: %s.", notation.Display(l.Symbol, t.o.ASCII), strings.Join(parts, "; "))
		}
	}
	for _, row := range statics.Rows {
		if line, ok := d.Sum(row); ok {
			t.say("Sum for %s: %s.", grading.RowName(row, d.Grader().Frame()), line)
		}
	}
	return nil
}

// state says an entry, or how far it has come.
func state(task *tutor.Task) string {
	switch task.Status {
	case tutor.Earned:
		return task.Reads
	case tutor.Shown:
		return task.Reads + " (shown)"
	case tutor.Covered:
		return "in the whole equation"
	}
	return "open"
}
