package screen

import (
	"fmt"
	"regexp"
	"strings"
	"sync"

	"steelyard/grading"
	"steelyard/tutor"
)

// said is something the tutor says: a mark, what it is about, and the words.
type said struct {
	role role
	mark string
	head string
	body string
}

// lines draws it, wrapped and never cut.
func (s said) lines(l *look, width int) []string {
	if s.head == "" && s.body == "" {
		return nil
	}
	mark := s.mark
	if l.ascii && len(mark) > 1 { // a mark of letters is not to be read as a word of the sentence
		mark = "[" + strings.TrimSuffix(mark, ":") + "]"
	}
	head := strings.TrimSpace(mark + " " + s.head)
	all := wrap(strings.TrimSpace(head+"  "+s.body), width)
	if len(all) == 0 {
		return nil
	}
	// The head is drawn in its role, the words in the terminal's own.
	if rest, ok := strings.CutPrefix(all[0], head); ok {
		all[0] = l.paint(s.role, head) + rest
	} else {
		for i := range all {
			all[i] = l.paint(s.role, all[i])
		}
	}
	return all
}

var outcomes = map[grading.Outcome]string{
	grading.Right:      "Right.",
	grading.Remarked:   "Right, with a remark.",
	grading.Wrong:      "Not right.",
	grading.Unreadable: "Not read, and not counted.",
	tutor.NotJudged:    "Taken, and not judged yet.",
}

// columnAt is how a message says where a line could not be read; on the screen
// a caret under the line does.
var columnAt = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^column \d+: `)
})

// replied is what is said of a line: what it was for, how it was read, what
// came of it, and why.
func (l *look) replied(title string, r tutor.Reply) said {
	switch {
	case r.IsTaken() && r.Note != "" && r.Message != "": // worked for the learner
		return said{shown, l.marks.shown, l.text(r.Message), l.text(r.Note)}
	case r.IsTaken() && r.Message != "": // no line was kept, but something asked for
		return said{quiet, l.marks.open, l.text(r.Message), ""}
	case r.Step == tutor.StepChecking && r.Earned():
		return said{right, l.marks.right, l.text(r.Message), ""}
	case r.Step == tutor.StepChecking:
		return said{wrong, l.marks.wrong, l.text(r.Message), "What is wrong with a line is said when you come to it."}
	}
	s := said{role: wrong, mark: l.marks.wrong}
	switch {
	case r.Earned():
		s.role, s.mark = right, l.marks.right
	case r.IsTaken():
		s.role, s.mark = quiet, l.marks.taken
	case r.Outcome == grading.Unreadable:
		s.role, s.mark = quiet, l.marks.open
	}
	if s.head = outcomes[r.Outcome]; title != "" && s.head != "" {
		s.head = l.text(title) + ": " + strings.ToLower(s.head[:1]) + s.head[1:]
	}
	message := strings.TrimPrefix(r.Message, "Right. ")
	if m := columnAt().ReplaceAllString(message, ""); m != message {
		message = sentence(m)
	}
	texts, sep := []string{message, r.Note}, "  "
	if r.Earned() || r.IsTaken() {
		texts, sep = []string{r.ReadsAs, message, r.Note}, " "+l.marks.rule+" "
	}
	var parts []string
	for _, p := range texts {
		if p = l.text(p); p != "" {
			parts = append(parts, p)
		}
	}
	s.body = strings.Join(parts, sep)
	return s
}

// unsaved says that a line was not kept, and why.
func (l *look) unsaved(what string, err error) said {
	return said{wrong, l.marks.wrong, "Not saved: " + what + " could not be recorded, so it does not count.",
		"The reason: " + l.text(err.Error()) + ". What you typed is still on the line; try again, or quit."}
}

var depths = [...]string{1: "a question", 2: "the principle", 3: "the line itself; it is shown, not earned"}

// hinted is a hint with its depth, of the most that is given.
func (l *look) hinted(title string, depth, most int, text string) said {
	depth = min(max(depth, 1), 3)
	mark := "?"
	if depth == 3 {
		mark = l.marks.shown
	}
	return said{shown, mark, fmt.Sprintf("Hint %d of %d (%s), %s.", depth, most, l.text(title), depths[depth]), l.text(text)}
}
