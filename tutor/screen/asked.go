package screen

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor"
)

// prompt asks for a task's line, and says on which body where the words of the
// question do not.
func (w work) prompt(t *tutor.Task) string {
	p := w.desk.Prompt(t)
	if several(w.desk) && (t.IsCell() || t.Cell == tutor.DoubtCheck) {
		p = sentence(w.desk.Body().Name) + ". " + p
	}
	return p
}

// offered are the answers to choose from, as many on a line as fit; one that is
// longer than a line is wrapped.
func (w work) offered(choices []string, width int) []string {
	const between = "    "
	var lines []string
	for _, c := range choices {
		c = w.look.text(c)
		if last := len(lines) - 1; last >= 0 && ansi.StringWidth(lines[last])+len(between)+ansi.StringWidth(c) <= width {
			lines[last] += between + c
			continue
		}
		for i, part := range wrap(c, width-4) {
			if i > 0 {
				part = "  " + part
			}
			lines = append(lines, "  "+part)
		}
	}
	return lines
}

// numbers are those of the answers to choose from: "1, 2 or 3".
func numbers(choices []string) string {
	var out []string
	for _, c := range choices {
		n, _, _ := strings.Cut(c, " ")
		out = append(out, n)
	}
	last := len(out) - 1
	return strings.Join(out[:last], ", ") + " or " + out[last]
}
