package screen

import (
	"fmt"
	"strings"

	"steelyard/tutor"
)

// What an exam ends with: that it is handed in, and, once it has come back, the
// paper, line by line, with its marks.

func (f finish) paperTop(width int) []string {
	l, p := f.look, f.desk.Problem()
	aside := fmt.Sprintf("seed %d   handed in", p.Seed)
	if f.paper != nil {
		aside = fmt.Sprintf("seed %d   marks: %s", p.Seed, f.paper.Total())
	}
	lines := []string{l.ends(l.paint(heading, l.text(p.Title)), l.paint(quiet, aside), width)}
	for _, s := range f.said {
		lines = append(lines, s.lines(l, width)...)
	}
	if f.paper == nil {
		return append(lines, "")
	}
	widths := f.paperWidths(width)
	total := len(widths) - 1
	for _, w := range widths {
		total += w
	}
	lines = append(append(lines, ""), f.tabled(widths, quiet, "line", "marks", "yours", "remarks")...)
	return append(lines, l.paint(quiet, strings.Repeat(l.marks.rule, min(total, width))))
}

// paperWidths are those of the paper's columns: the line, its marks, what was
// written, and what is said of it. In a narrow window marks stand under the
// line.
func (f finish) paperWidths(width int) []int {
	if width < 72 {
		rest := max(width-20-2, 8)
		return []int{20, 0, rest * 2 / 5, rest - rest*2/5}
	}
	rest := max(width-20-19-3, 8)
	return []int{20, 19, rest * 2 / 5, rest - rest*2/5}
}

// standings are how the standings of lines are marked. What is worth part of
// its marks has a mark of its own.
var standings = map[tutor.Standing]struct {
	mark func(marks) string
	role role
}{
	tutor.StandsRight:   {func(m marks) string { return m.right }, right},
	tutor.StandsRemark:  {func(m marks) string { return m.right }, right},
	tutor.StandsFollows: {func(m marks) string { return m.part }, shown},
	tutor.StandsSlip:    {func(m marks) string { return m.part }, shown},
	tutor.StandsWrong:   {func(m marks) string { return m.wrong }, wrong},
	tutor.StandsExtra:   {func(m marks) string { return m.wrong }, wrong},
	tutor.StandsEmpty:   {func(m marks) string { return m.open }, quiet},
}

func (f finish) paperTable(width int) []string {
	l := f.look
	if f.paper == nil {
		return wrap("The paper comes back, marked, when all of the exam is handed in, or its time is up.", width)
	}
	widths := f.paperWidths(width)
	var lines []string
	body := ""
	for i := range f.paper.Lines {
		p := &f.paper.Lines[i]
		if p.Body != body {
			if i > 0 {
				lines = append(lines, "")
			}
			if body = p.Body; body != "" {
				lines = append(lines, l.painted(heading, l.text(sentence(body)), width)...)
			}
		}
		s := standings[p.Standing]
		yours := l.text(p.Reads)
		if p.Typed == "" {
			yours = ""
		}
		lines = append(lines, f.tabled(widths, s.role, s.mark(l.marks)+" "+l.text(p.Title), fmt.Sprintf("%s: %s", p.Marks, p.Standing), yours, f.remark(p))...)
	}
	lines = append(append(lines, ""), l.paint(heading, "How it is marked"))
	for _, rule := range strings.Split(tutor.MarkRule(), "\n") {
		lines = append(lines, wrap(l.text(rule), width)...)
	}
	if c := f.desk.Problem().Caution; c != "" {
		lines = append(append(lines, ""), l.painted(shown, "Caution: "+l.text(c), width)...)
	}
	return lines
}

// remark is what is said of a line: which other to mend, what is wrong with it,
// and what would have been right.
func (f finish) remark(p *tutor.PaperLine) string {
	var out []string
	add := func(before, text string) {
		if text = strings.TrimSpace(f.look.text(text)); text != "" {
			if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
				text += "."
			}
			out = append(out, before+text)
		}
	}
	add("Mend: ", p.Mend)
	if p.Standing != tutor.StandsRight && p.Standing != tutor.StandsEmpty {
		add("", strings.TrimPrefix(p.Verdict.Message, "Right. "))
	}
	add("Right would be: ", p.Right)
	return strings.Join(out, " ")
}
