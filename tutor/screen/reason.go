package screen

import (
	tea "github.com/charmbracelet/bubbletea"

	"steelyard/grading"
	"steelyard/tutor"
)

// A reason that is asked for stands where the next line is asked otherwise, and
// waits for nothing: Esc, or any move to a line, goes on without it.

// wondered is the reason that is asked for now; turning the axes comes first.
func (w work) wondered() (tutor.Question, bool) {
	if w.turning {
		return tutor.Question{}, false
	}
	return w.desk.Asking()
}

// atReason is where the entry is while a reason is asked for.
func (w work) atReason() (place, bool) {
	q, asking := w.wondered()
	return place{w.desk.Body().Name, tutor.StepReason, q.Code}, asking
}

// sets reports whether a place comes before there is a ledger to look at. A
// reason comes with the line that waits behind it.
func (w work) sets(at place) bool {
	if t := w.desk.Current(); at.step == tutor.StepReason && t != nil {
		return setup(t.Step)
	}
	return setup(at.step)
}

// pressWondering is what a key does while a reason is asked for; it is false for
// keys that do what they always do.
func (w *work) pressWondering(k tea.KeyMsg) (tea.Cmd, bool) {
	if _, asking := w.wondered(); !asking {
		return nil, false
	}
	keys := w.keys
	switch {
	case pressed(k, keys.Pass):
		next, cmd := w.submit("pass", false)
		*w = next
		return cmd, true
	case pressed(k, keys.Hint):
		w.say(said{quiet, w.look.marks.open, "There is no hint on a reason.", keys.Pass.Help().Key + " goes on without one."})
	case pressed(k, keys.Next), pressed(k, keys.Prev), pressed(k, keys.Forth), pressed(k, keys.Back):
		w.entry.note = "Type the number of a reason, or your own; " + keys.Pass.Help().Key + " goes on without."
	case pressed(k, keys.Mend) && w.entry.Value() == "":
	default:
		return nil, false
	}
	return nil, true
}

// askedWhy is the question, and the reasons to choose from, each on its own
// line.
func (w work) askedWhy(q tutor.Question, width int) []string {
	lines := w.look.painted(heading, "An aside. "+w.look.text(q.Ask), width)
	for i, c := range q.Choices {
		for k, part := range wrap(w.look.text(c), width-6) {
			lead := "    "
			if k == 0 {
				lead = "  " + string(rune('1'+i)) + " "
			}
			lines = append(lines, lead+part)
		}
	}
	return lines
}

// reasoned is what is said of an answer to a reason that was asked for.
func (l *look) reasoned(r tutor.Reply) said {
	s := said{quiet, l.marks.open, l.text(r.Message), l.text(r.Note)}
	switch r.Outcome {
	case grading.Right:
		s = said{right, l.marks.right, "That is the reason.", ""}
	case grading.Wrong:
		s = said{wrong, l.marks.wrong, "Not that.", l.text(r.Message) + "  " + l.text(r.Note)}
	case grading.Unreadable:
		s.head, s.body = "Not read.", l.text(r.Message)
	}
	return s
}
