package screen

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor"
)

// What a problem of several bodies adds: whose ledger is in hand, how far each
// body is, and the way from one to the next.

func several(d *tutor.Desk) bool { return len(d.Bodies()) > 1 }

var stageWords = map[tutor.Stage]string{tutor.NotBegun: "not begun", tutor.SettingUp: "setting up", tutor.AllDone: "done", tutor.NotNeeded: "not needed"}

// bodies are the bodies with how far each is, the one in hand marked; nothing
// where there is but one.
func (w work) bodies(width int) []string {
	if !several(w.desk) {
		return nil
	}
	const head = "Bodies "
	var lines []string
	line, inHand := "", ""
	names := w.desk.Bodies()
	for i, name := range names {
		item := w.look.text(name) + ": " + progress(w.desk, name)
		if name == w.desk.Body().Name {
			item = w.look.marks.now + " " + item
			inHand = fmt.Sprintf("Body %d of %d %s", i+1, len(names), item)
		} else {
			item = strings.Repeat(" ", ansi.StringWidth(w.look.marks.now)) + " " + item
		}
		item = w.look.touch(bodyMsg{name}, item)
		switch {
		case line == "":
			line = item
		case ansi.StringWidth(line)+1+ansi.StringWidth(item) > width-len(head):
			lines, line = append(lines, line), item
		default:
			line += " " + item
		}
	}
	if len(lines) > 0 && w.height < wideHeight { // too low for a line of them all and one for the rest
		return []string{w.look.paint(heading, w.look.cut(inHand, width))}
	}
	for i, l := range append(lines, line) {
		lead := w.look.paint(heading, head)
		if i > 0 {
			lead = strings.Repeat(" ", len(head))
		}
		lines = append(lines[:i], w.look.cut(lead+l, width))
	}
	return lines
}

// progress says how far a body is.
func progress(d *tutor.Desk, body string) string {
	p := d.Progress(body)
	if words, ok := stageWords[p.Stage]; ok {
		return words
	}
	return fmt.Sprintf("%d of %d", p.Done, p.All)
}

// found says how many of the values have been found, or written where it is not
// said yet whether they are right.
func found(d *tutor.Desk) string {
	done, all := 0, 0
	for _, t := range d.Tasks() {
		if t.Step == tutor.StepValue {
			all++
			if t.Done() {
				done++
			}
		}
	}
	there := "found"
	if m := mannerOf(d); m.later {
		there = m.there
	}
	return fmt.Sprintf("%d of %d values %s", done, all, there)
}

// nextBody takes the next body in hand that anything is asked of. Once all are
// done it shows them in turn, and between them goes back to the line that is
// open.
func (w *work) nextBody() {
	names := w.desk.Bodies()
	at := slices.Index(names, w.desk.Body().Name)
	if open := w.openValue(); open != nil && w.at.body != "" {
		w.move(open)
		return
	}
	for k := 1; k < len(names); k++ {
		name := names[(at+k)%len(names)]
		if w.desk.Progress(name).Stage != tutor.NotNeeded {
			w.turn(name)
			return
		}
	}
	w.say(said{quiet, w.look.marks.open, "No other body is needed.", "What is written fixes every unknown."})
}

// openValue is the first value or doubt that is open, if no body's line is.
func (w *work) openValue() *tutor.Task {
	tasks := w.desk.Tasks()
	i := slices.IndexFunc(tasks, func(t *tutor.Task) bool { return !t.Done() })
	if i < 0 || tasks[i].Body != "" {
		return nil
	}
	return tasks[i]
}

// turn takes a body in hand, at its first open line, and reports whether that
// was recorded.
func (w *work) turn(body string) bool {
	if err := w.desk.Turn(body); err != nil {
		w.say(w.look.unsaved("the move", err))
		return false
	}
	w.said = nil
	w.settle()
	w.recall()
	return true
}

// turned says what has become of the bodies since they stood as before, after
// a line that was right.
func (w *work) turned(before map[string]tutor.Stage, was string) (words said, ok bool) {
	if !several(w.desk) {
		return said{}, false
	}
	var news, spared []string
	for _, name := range w.desk.Bodies() {
		switch stage := w.desk.Progress(name).Stage; {
		case stage == before[name]:
		case stage == tutor.AllDone && name == was:
			news = append(news, "The "+name+" is "+mannerOf(w.desk).there+".")
		case stage == tutor.NotNeeded:
			spared = append(spared, "the "+name)
		}
	}
	if len(spared) > 0 {
		is := " is"
		if len(spared) > 1 {
			is = " are"
		}
		news = append(news, sentence(strings.Join(spared, " and "))+is+" not needed: what is written fixes every unknown.")
	}
	if now := w.desk.Body().Name; now != was {
		news = append(news, "Now the "+now+".")
	}
	if len(news) == 0 {
		return said{}, false
	}
	return said{accent, "", w.look.text(strings.Join(news, " ")), ""}, true
}

// ways is how far every body is.
func ways(d *tutor.Desk) map[string]tutor.Stage {
	out := map[string]tutor.Stage{}
	for _, name := range d.Bodies() {
		out[name] = d.Progress(name).Stage
	}
	return out
}
