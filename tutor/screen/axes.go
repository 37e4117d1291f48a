package screen

import (
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// Turning the axes is a line asked between others: the tilt of the x axis. It
// is no task, so nothing waits for it.

// tilt is how far x is turned on the body in hand, as it is read; "" if it is
// level.
func (l *look) tilt(s *tutor.Session) string { return l.tiltOf(s, s.Choice().Tilt) }

func (l *look) tiltOf(s *tutor.Session, typed string) string {
	n, err := s.Problem().Table.Parse(typed)
	if err != nil {
		return ""
	}
	degrees, err := strconv.ParseFloat(strings.TrimSpace(typed), 64)
	switch {
	case err == nil && degrees == 0:
		return ""
	case err == nil && l.ascii:
		return l.text(notation.ReadBack(n, true)) + " deg"
	case err == nil:
		return l.text(notation.ReadBack(n, false)) + "°"
	}
	return l.text(notation.ReadBack(n, l.ascii))
}

// lie says how the axes lie.
func (l *look) lie(s *tutor.Session, typed string) string {
	if tilt := l.tiltOf(s, typed); tilt != "" {
		return "x is turned " + tilt + " anticlockwise, y square to it"
	}
	return "x is level, to the right, and y upright"
}

// axes asks for the tilt, or leaves that be.
func (w *work) axes() {
	w.turning = !w.turning
	w.said = nil
	w.settle()
	if !w.turning {
		return
	}
	s := said{quiet, w.look.marks.open, "On the " + w.look.text(w.desk.Body().Name) + " " + w.look.lie(w.desk.Session, w.desk.Choice().Tilt) + ".", ""}
	if w.partsWritten() {
		s.body = "With other axes, the parts written so far are asked for again."
	}
	w.say(s)
}

func (w *work) partsWritten() bool {
	for _, t := range w.desk.Ledger() {
		if t.Done() && t.Status != tutor.Taken && (t.Step == tutor.StepX || t.Step == tutor.StepY) {
			return true
		}
	}
	return false
}

// pressTurning is what a key does while the tilt is asked for; it is false for
// a key that does what it always does.
func (w *work) pressTurning(k tea.KeyMsg) bool {
	switch {
	case pressed(k, w.keys.Check):
		w.tilted()
		return true
	case pressed(k, w.keys.Axes) || pressed(k, w.keys.Leave):
		w.axes()
		return true
	}
	for _, b := range []key.Binding{w.keys.Next, w.keys.Prev, w.keys.Forth, w.keys.Back, w.keys.Body, w.keys.Hint, w.keys.Undo, w.keys.Pivot, w.keys.Signs} {
		if pressed(k, b) { // it is about the line that was in hand before
			w.axes()
			return false
		}
	}
	return false
}

// tilted takes the tilt that was typed.
func (w *work) tilted() {
	text := strings.TrimSpace(w.entry.Value())
	if text == "" {
		w.entry.note = "Type an angle, or 0 for level axes; " + w.keys.Leave.Help().Key + " leaves them as they are."
		return
	}
	if _, err := w.desk.Problem().Axis(text); err != nil {
		w.say(said{quiet, w.look.marks.open, "The axes stay as they are.", sentence(w.look.text(err.Error())) + "."})
		w.entry.Hold(0)
		return
	}
	if err := w.desk.Choose(tutor.StepAxes, text); err != nil {
		w.say(w.look.unsaved("the turn of the axes", err))
		return
	}
	w.entry.Set("")
	w.turning = false
	w.settle()
	w.say(said{quiet, w.look.marks.open, "On the " + w.look.text(w.desk.Body().Name) + " " + w.look.lie(w.desk.Session, text) + ", from here on.", ""})
}

// readTilt reads the tilt as it stands.
func (w *work) readTilt(text string) {
	w.live.step = tutor.StepAxes
	if _, err := w.desk.Problem().Axis(text); err != nil {
		w.live.at, w.live.reason = 1, w.look.text(err.Error())
		return
	}
	w.live.as = w.look.lie(w.desk.Session, text)
}
