package screen

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// What a problem of several bodies adds: whose ledger is in hand, how far each
// body is, and the way from one to the next.

func several(d *tutor.Desk) bool { return len(d.Bodies()) > 1 }

// way is how far the lines of a body have come.
type way int

const (
	notBegun  way = iota
	settingUp     // its forces are not all listed
	written       // its entries are being written
	allDone
	notNeeded // the other bodies fix every unknown
)

// wayOf is how far a body is, with its lines done and asked for.
func wayOf(d *tutor.Desk, body string) (w way, done, all int) {
	listed := false
	if spared(d, body) {
		return notNeeded, 0, 0
	}
	for _, t := range d.Tasks() {
		if t.Body != body {
			continue
		}
		listed = listed || t.Step == tutor.StepForces && t.Done()
		if t.Status == tutor.Covered {
			continue
		}
		all++
		if t.Done() {
			done++
		}
	}
	switch {
	case done == all:
		return allDone, done, all
	case listed:
		return written, done, all
	case done > 0 || d.Body().Name == body && len(d.Listed()) > 0:
		return settingUp, done, all
	}
	return notBegun, done, all
}

// spared reports whether a body's open lines are no longer asked for, since the
// others fix every unknown: its pivot or list is covered, which nothing else
// does, or an equation is that its column does not make.
func spared(d *tutor.Desk, body string) bool {
	entries, missing := map[string]int{}, map[string]bool{}
	for _, t := range d.Tasks() {
		if t.Body == body && t.IsCell() {
			entries[string(t.Step)]++
			if t.Status != tutor.Earned && t.Status != tutor.Shown {
				missing[string(t.Step)] = true
			}
		}
	}
	for _, t := range d.Tasks() {
		if t.Body != body || t.Status != tutor.Covered || t.IsCell() {
			continue
		}
		if t.Step != tutor.StepEquation || entries[t.Cell] == 0 || missing[t.Cell] {
			return true
		}
	}
	return false
}

var wayWords = map[way]string{notBegun: "not begun", settingUp: "setting up", allDone: "done", notNeeded: "not needed"}

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
	far, done, all := wayOf(d, body)
	if words, ok := wayWords[far]; ok {
		return words
	}
	return fmt.Sprintf("%d of %d", done, all)
}

// found says how many of the values have been found.
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
	return fmt.Sprintf("%d of %d values found", done, all)
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
		if far, _, _ := wayOf(w.desk, name); far != notNeeded {
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
	return true
}

// turned says what has become of the bodies since they stood as before, after
// a line that was right.
func (w *work) turned(before map[string]way, was string) (words said, ok bool) {
	if !several(w.desk) {
		return said{}, false
	}
	var news, spared []string
	for _, name := range w.desk.Bodies() {
		switch far, _, _ := wayOf(w.desk, name); {
		case far == before[name]:
		case far == allDone && name == was:
			news = append(news, "The "+name+" is done.")
		case far == notNeeded:
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
func ways(d *tutor.Desk) map[string]way {
	out := map[string]way{}
	for _, name := range d.Bodies() {
		out[name], _, _ = wayOf(d, name)
	}
	return out
}

// sum is the equation that a row of the body in hand makes, as written: the
// whole equation, or the sum of the column's entries once all are there.
func sum(s *tutor.Session, row statics.RowKind) (string, bool) {
	eq := s.Find(tutor.StepEquation, string(row))
	if eq != nil && (eq.Status == tutor.Earned || eq.Status == tutor.Shown) {
		return s.Sum(row)
	}
	var entries []notation.Node
	for _, t := range s.Ledger() {
		if t.Step != tutor.Step(row) {
			continue
		}
		n, err := s.Problem().Table.Parse(t.Typed)
		if err != nil || t.Status != tutor.Earned && t.Status != tutor.Shown {
			return "", false
		}
		entries = append(entries, n)
	}
	if len(entries) == 0 {
		return "", false
	}
	return grading.Sum(entries, s.ASCII), true
}
