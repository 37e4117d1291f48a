package plain

import (
	"fmt"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// What a problem of several bodies adds to the talk.

func (t *talk) several() bool { return len(t.desk.Bodies()) > 1 }

// on is " on the left leg" where there are several bodies and the step is a
// line of one.
func (t *talk) on(step tutor.Step) string {
	if !t.several() || !step.OfBody() {
		return ""
	}
	return " on the " + notation.Printable(t.desk.Body().Name)
}

// prompt asks for a line, and says on which body where there are several and
// the words of the question do not.
func (t *talk) prompt(task *tutor.Task) string {
	p := t.desk.Prompt(task)
	if t.several() && (task.IsCell() || task.Cell == tutor.DoubtCheck) {
		p = fmt.Sprintf("The %s. %s", notation.Printable(t.desk.Body().Name), p)
	}
	return p
}

const notNeeded = "not needed, since the others fix every unknown"

// way says how far a body's lines have come.
func (t *talk) way(body string) string {
	switch p := t.desk.Progress(body); p.Stage {
	case tutor.NotNeeded:
		return notNeeded
	case tutor.AllDone:
		return "done"
	case tutor.Writing:
		return fmt.Sprintf("%d of %d lines done", p.Done, p.All)
	case tutor.SettingUp:
		return "setting up"
	}
	return "not begun"
}

// ways is how far each body is.
func (t *talk) ways() map[string]string {
	out := map[string]string{}
	for _, b := range t.desk.Bodies() {
		out[b] = t.way(b)
	}
	return out
}

// turned says what has become of the bodies since they stood as before.
func (t *talk) turned(before map[string]string, was string) {
	if !t.several() {
		return
	}
	for _, b := range t.desk.Bodies() {
		if now := t.way(b); now != before[b] && (now == "done" && b == was || now == notNeeded) {
			t.say("The %s is %s.", notation.Printable(b), now)
		}
	}
}

// bodies tells the bodies and how far each is.
func (t *talk) bodies(string) error {
	if !t.several() {
		t.say("There is one body: the %s.", notation.Printable(t.desk.Body().Name))
		return nil
	}
	for _, b := range t.desk.Bodies() {
		inHand := ""
		if b == t.desk.Body().Name {
			inHand = ", in hand"
		}
		t.say("The %s%s: %s.", notation.Printable(b), inHand, t.way(b))
	}
	return nil
}

// body takes another body in hand; without a name it tells which there are. A
// name that is none is said; an error of recording ends the talk.
func (t *talk) body(name string) error {
	if name == "" {
		return t.bodies(name)
	}
	if _, err := t.desk.Session.Turn(name); err != nil {
		t.say("Not done: %v.", err)
		return nil
	}
	return t.desk.Turn(name)
}

// move goes to a line, of whichever body.
func (t *talk) move(task *tutor.Task) error {
	if task.Body != "" && task.Body != t.desk.Body().Name {
		if err := t.desk.Turn(task.Body); err != nil || task == t.desk.Current() {
			return err
		}
	}
	_, err := t.desk.Go(task.Step, task.Cell)
	return err
}
