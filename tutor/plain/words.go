package plain

import (
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
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
		{"read", "LINE", "read a line back without checking it", (*talk).readBack},
		{"figure", "", "the figure in words", (*talk).figure},
		{"ledger", "", "the ledger so far", (*talk).ledger},
		{"lines", "", "all lines by name, with how each stands", (*talk).lines},
		{"statement", "", "the problem again", func(t *talk, _ string) error { t.statement(); return nil }},
		{"symbols", "", "what each symbol and point means", (*talk).symbols},
		{"notation", "", "what may be typed, by examples", (*talk).notation},
		{"bodies", "", "the bodies of the problem, and how far each is", (*talk).bodies},
		{"body", "[NAME]", "take another body in hand", (*talk).body},
		{"go", "[LINE]", "to another line, like: go moment T, go equation y, go value N", (*talk).goTo},
		{"next", "", "leave this line open and take the next", (*talk).next},
		{"undo", "", "take back the line earned last", (*talk).undo},
		{"pivot", "[POINT]", "change the pivot", (*talk).pivot},
		{"positive", "WAY", "count moments positive clockwise or anticlockwise", func(t *talk, rest string) error { return t.set(tutor.StepPositive, rest) }},
		{"axes", "ANGLE", "tilt the x axis, anticlockwise", func(t *talk, rest string) error { return t.set(tutor.StepAxes, rest) }},
		{"speak", "", "say signs in words, or write them as signs again", (*talk).speak},
		{"tour", "", "how a problem is worked, in six sentences", (*talk).tour},
		{"help", "", "this list, and the signs now in force", (*talk).help},
		{"list", "", "leave for the list of problems; the work is kept", func(*talk, string) error { return errList }},
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
	t.say("Hint. %s", sentence(text))
	t.turned(before, was)
	return nil
}

// readBack says what would be understood of a line. Nothing is recorded, and
// nothing of the verdict is told.
func (t *talk) readBack(line string) error {
	switch _, r := t.desk.Session.Answer(line); {
	case r.Outcome == grading.Unreadable:
		t.say("Not read. %s", sentence(r.Message))
	case r.ReadsAs == "":
		t.say("Read as it stands. Not checked.")
	default:
		t.say("Reads as: %s. Not checked.", r.ReadsAs)
	}
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
		t.say("Taken back%s: %s.", t.on(tutor.Step(e.Step)), strings.TrimSpace(e.Step+" "+notation.Display(e.Cell, t.plain())))
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
// hand, or a value or doubt. Symbols may be written as they are shown.
func (t *talk) goTo(rest string) error {
	step, cell, _ := strings.Cut(rest, " ")
	cell = notation.Spell(strings.TrimSpace(cell))
	here := func(task *tutor.Task) bool { return task.Body == "" || task.Body == t.desk.Body().Name }
	for _, same := range []func(name string) bool{
		func(name string) bool { return name == cell },
		func(name string) bool { return strings.ReplaceAll(name, "_", "") == strings.ReplaceAll(cell, "_", "") },
	} {
		for _, task := range t.desk.Tasks() {
			if here(task) && strings.EqualFold(string(task.Step), step) && same(task.Cell) {
				return t.move(task)
			}
		}
	}
	var all []string
	for _, task := range t.desk.Tasks() {
		if here(task) && !task.Done() {
			all = append(all, nameOf(task))
		}
	}
	which := "Say which line."
	if rest != "" {
		which = "There is no line \"" + notation.PrintableMax(rest, 40) + "\"" + t.on(tutor.StepForces) + "."
	}
	t.say("%s Open lines: %s.", which, strings.Join(all, ", "))
	return nil
}

// pivot takes another pivot, or asks for one.
func (t *talk) pivot(rest string) error {
	if _, err := t.desk.Go(tutor.StepPivot, ""); err != nil || rest == "" {
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
	if err := t.desk.Choose(step, value); err != nil {
		return err
	}
	t.signs()
	return nil
}
