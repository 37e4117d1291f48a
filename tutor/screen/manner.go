package screen

import (
	"fmt"
	"strings"
	"time"

	"steelyard/tutor"
)

// manner is what the mode of a problem, and the help given with it, change
// about the screen that it is worked on.
type manner struct {
	enter string // what Enter does
	ready string // what the key does that says the learner is ready; "" where there is none
	word  string // the line that this key sends
	there string // what a line is that is there
	later bool   // lines are judged later
}

var manners = map[string]manner{
	tutor.Guided:     {enter: "check", there: "done"},
	tutor.HelpWorked: {enter: "the next line", ready: "go on alone", word: "own", there: "done"},
	tutor.Practice:   {enter: "keep", ready: "check all", word: "check", there: "written", later: true},
	tutor.Exam:       {enter: "keep", ready: "hand in", word: "hand in", there: "written", later: true},
}

// mannerOf is the manner in which a problem is worked now: who goes on alone is
// helped no more.
func mannerOf(d *tutor.Desk) manner {
	if d.Terms().Help == tutor.HelpWorked {
		return manners[tutor.HelpWorked]
	}
	return manners[d.Mode()]
}

// watched reports whether the problem is being worked for the learner.
func (w work) watched() bool { return w.desk.Terms().Help == tutor.HelpWorked }

// brief says, when a problem is begun or gone on with, how its lines are taken
// and until when.
func (w work) brief() []said {
	text := w.desk.Brief()
	if k := w.keys.Ready; k.Enabled() {
		text += " " + k.Help().Key + " says it too."
	}
	if end, ok := w.desk.Deadline(); ok {
		text = strings.TrimSpace(text + " Time is up at " + end.Local().Format("15:04:05 on 2 January") + ".")
	}
	if text == "" {
		return nil
	}
	name, rest, named := strings.Cut(text, ": ") // "Exam: what you type ..."
	if !named || strings.Contains(name, " ") {
		name, rest = "", text
	} else {
		name, rest = name+".", sentence(rest)
	}
	return []said{{heading, w.look.marks.open, name, w.look.text(rest)}}
}

// way says how far the work is: its lines, or the values found where there are
// several bodies.
func (w work) way() string {
	there := mannerOf(w.desk).there
	if several(w.desk) {
		return found(w.desk)
	}
	if there == "done" && w.desk.Find(tutor.StepForces, "").Status == tutor.Open {
		return "setting up"
	}
	done, all := 0, 0
	for _, t := range w.desk.Tasks() {
		if t.Status == tutor.Covered || closes(t.Step) {
			continue
		}
		all++
		if t.Done() {
			done++
		}
	}
	return fmt.Sprintf("%d of %d lines %s", done, all, there)
}

// closes reports whether a step asks for checking or handing in, and for no
// line of the work.
func closes(s tutor.Step) bool { return s == tutor.StepChecking || s == tutor.StepHandIn }

// asideOfHead is what the head of the screen says at its right end, in as much
// detail as there is room for: what is left of the time is said in any case.
func (w work) asideOfHead(width int) string {
	parts := []string{fmt.Sprintf("seed %d", w.desk.Problem().Seed), w.way()}
	if left, ok := w.desk.Remaining(w.now); ok {
		parts = append(parts, timeLeft(left))
	}
	for len(parts) > 1 && len(strings.Join(parts, "   ")) > width {
		parts = parts[1:]
	}
	return strings.Join(parts, "   ")
}

// timeLeft is a time in whole minutes, so that it changes but once in one, and
// in seconds when there is less than a minute.
func timeLeft(d time.Duration) string {
	const minutesAlone = 90
	switch left := max(d, 0); {
	case left < time.Minute:
		return fmt.Sprintf("%d s left", int(left/time.Second))
	case left < minutesAlone*time.Minute:
		return fmt.Sprintf("%d min left", int(left/time.Minute))
	case left < 48*time.Hour:
		return fmt.Sprintf("%d h %02d min left", int(left/time.Hour), int(left%time.Hour/time.Minute))
	default:
		return fmt.Sprintf("%d days left", int(left/(24*time.Hour)))
	}
}

// ready reports whether the word may be sent that the manner has for being
// ready. What stands on the line and was not sent would be left out, so then it
// asks first.
func (w work) ready(armed string) (work, bool) {
	if _, asking := w.wondered(); asking {
		w.entry.note = "A reason is asked for first; " + w.keys.Pass.Help().Key + " goes on without."
		return w, false
	}
	if w.entry.Value() == "" || w.entry.held || armed == "ready" || w.watched() {
		return w, true
	}
	w.armed = "ready"
	w.say(said{shown, w.look.marks.wrong, "The line you are on is not kept yet.",
		"Enter keeps it. " + w.keys.Ready.Help().Key + " once more goes on without it."})
	return w, false
}

// recall says again what was wrong with the line in hand when it was judged
// with others.
func (w *work) recall() {
	t := w.desk.Current()
	if t == nil || t.Status != tutor.Open {
		return
	}
	if text := w.desk.Said(t); text != "" {
		w.said = append(w.said, said{wrong, w.look.marks.wrong, w.look.text(w.desk.Title(t)) + ": not right.", w.look.text(text)})
	}
}

// mendTaken puts a line that was taken before on the entry again, to mend.
func (w *work) mendTaken() bool {
	t := w.desk.Current()
	if w.turning || t == nil || t.Status != tutor.Taken || t.Step == tutor.StepForces || w.entry.Value() != "" {
		return false
	}
	w.entry.Set(t.Typed)
	w.read()
	return true
}

// legend says what the marks of this manner mean.
func (w work) legend(width int) []string {
	m := w.look.marks
	items := []string{m.now + " open now"}
	if mannerOf(w.desk).later {
		items = append(items, m.taken+" written")
	}
	if w.desk.Mode() != tutor.Exam {
		items = append(items, m.right+" right", m.wrong+" not right yet", m.shown+" shown, not earned")
	}
	return w.look.legend(append(items, m.covered+" in the sum"), width)
}
