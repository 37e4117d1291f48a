package plain

import (
	"errors"
	"strings"
	"time"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// What a set, a practice and an exam add to the talk.

// brief says how lines are taken, where they are not judged as they are
// entered, and when time is up.
func (t *talk) brief() {
	if text := t.desk.Brief(); text != "" {
		t.say("%s", text)
	}
	if end, ok := t.desk.Deadline(); ok {
		t.say("Time is up at %s.", end.Local().Format("15:04:05 on 2 January"))
	}
}

// called hands the paper in if its time is up, and says so.
func (t *talk) called() error {
	up, err := t.desk.Tick(time.Now())
	if up {
		t.say("Time is up. The paper is handed in.")
	}
	return err
}

// refused says why something is not to be had, and reports whether that is all
// there is to it.
func (t *talk) refused(err error) bool {
	var why *tutor.Refusal
	if !errors.As(err, &why) {
		return false
	}
	t.say("%s", sentence(notation.Printable(why.Message)))
	return true
}

// progress tells how far the set is.
func (t *talk) progress() {
	if t.o.House.Progress == nil {
		return
	}
	for _, line := range t.o.House.Progress() {
		t.say("%s", line)
	}
}

// handedIn says what becomes of a paper, and shows it if it may be shown.
func (t *talk) handedIn() {
	t.say("")
	paper, back := t.desk.Returned()
	if !back {
		t.say("The paper is handed in. It comes back, marked, when the whole set is.")
		return
	}
	for _, line := range strings.Split(strings.TrimSpace(paper.Text()), "\n") {
		t.say("%s", line)
	}
	t.say("How it is marked.")
	for _, line := range strings.Split(tutor.MarkRule(), "\n") {
		t.say("%s", line)
	}
}
