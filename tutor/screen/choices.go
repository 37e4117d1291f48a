package screen

import (
	"strings"

	"steelyard/tutor"
)

// The choices of pivot and signs, which change what entries should be.

func (w *work) pivot() {
	w.move(w.desk.Find(tutor.StepPivot, ""))
	settled, taken := w.moments()
	if w.at.step != tutor.StepPivot || !settled && !taken {
		return
	}
	s := said{quiet, w.look.marks.open, "The moments written so far are about " + w.look.text(w.desk.Choice().Pivot) + ".", ""}
	if settled {
		s.body = "With another pivot they are asked for again. Move on with the arrows to keep them."
	}
	if taken {
		s.body = strings.TrimSpace(s.body + " " + staysTaken)
	}
	w.say(s)
}

// staysTaken is said of a choice with which entries should be others, where
// some are not judged yet.
const staysTaken = "What is not judged yet stays as you wrote it, for you to mend."

// moments reports whether moments have been written that a new pivot or sign
// asks for again, and whether some have that it leaves as they are.
func (w *work) moments() (settled, taken bool) {
	for _, t := range w.desk.Ledger() {
		if t.Done() && (t.Step == tutor.StepMoment || t.Step == tutor.StepEquation && t.Cell == string(tutor.StepMoment)) {
			settled, taken = settled || t.Status != tutor.Taken, taken || t.Status == tutor.Taken
		}
	}
	return settled, taken
}

// signs turns the sign convention of moments round; moments already written
// would have to be written again, so then it asks first.
func (w *work) signs(armed string) {
	word, value := "clockwise", "cw"
	if w.desk.Choice().Clockwise {
		word, value = "anticlockwise", "ccw"
	}
	settled, taken := w.moments()
	if settled && armed != "signs" {
		w.armed = "signs"
		w.say(said{shown, w.look.marks.wrong, "Count " + word + " as positive?", "The moments written so far would be asked for again. The same key once more does it; any other leaves it."})
		return
	}
	if err := w.desk.Choose(tutor.StepPositive, value); err != nil {
		w.say(w.look.unsaved("the choice of signs", err))
		return
	}
	w.settle()
	on := ""
	if several(w.desk) {
		on = " on the " + w.look.text(w.desk.Body().Name)
	}
	s := said{quiet, w.look.marks.open, sentence(word) + " moments are positive from here on" + on + ".", ""}
	if taken {
		s.body = staysTaken
	}
	w.say(s)
}
