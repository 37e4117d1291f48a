package screen

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/grading/slip"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// finish is the screen when a problem is done: how it went, and the learner's
// lines beside the reference.
type finish struct {
	look   *look
	keys   finishKeys
	desk   *tutor.Desk
	parts  []part
	exam   bool         // it was an exam: of the lines no more is told than the paper does
	paper  *tutor.Paper // of an exam, marked; nil if it has not come back yet
	said   []said
	scroll int
	width  int
	height int
}

func newFinish(l *look, d *tutor.Desk, last said, width, height int) finish {
	f := finish{look: l, keys: newFinishKeys(l), desk: d, said: []said{last}, width: width, height: height}
	if f.exam = d.Mode() == tutor.Exam; f.exam {
		f.paper, _ = d.Returned()
		f.keys.Another.SetEnabled(false)
		return f
	}
	f.parts = solved(l, d)
	return f
}

// Update scrolls or goes on.
func (f finish) Update(msg tea.Msg) (finish, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		f.width, f.height = msg.Width, msg.Height
	case tea.KeyMsg:
		switch {
		case pressed(msg, f.keys.Another):
			return f, send(beginMsg{f.desk.Problem().ID})
		case pressed(msg, f.keys.List):
			return f, send(listMsg{})
		case pressed(msg, f.keys.Quit):
			return f, send(leaveMsg{})
		case pressed(msg, f.keys.Help):
			return f, send(helpMsg{f.desk})
		case pressed(msg, f.keys.Up):
			f.scroll--
		case pressed(msg, f.keys.Down):
			f.scroll++
		case pressed(msg, f.keys.PageUp):
			f.scroll -= max(f.height-8, 1)
		case pressed(msg, f.keys.PageDown):
			f.scroll += max(f.height-8, 1)
		}
	}
	f.scroll = min(max(f.scroll, 0), max(0, len(f.table(f.inner()))-f.room()))
	return f, nil
}

func (f finish) inner() int { return max(f.width-2, 1) }

func (f finish) room() int {
	return f.height - len(f.top(f.inner())) - len(f.look.keyLines(f.keys.ShortHelp(), f.inner()))
}

// View is the screen as lines.
func (f finish) View() []string {
	width := f.inner()
	lines := f.top(width)
	keys := f.look.keyLines(f.keys.ShortHelp(), width)
	room := f.room()
	if room < 1 {
		lines, room = nil, max(f.height-len(keys), 0)
	}
	table := f.table(width)
	from := min(f.scroll, max(0, len(table)-room))
	part := slices.Clone(table[from:min(len(table), from+room)])
	if rest := len(table) - from - len(part); rest > 0 && len(part) > 2 {
		part[len(part)-1] = f.look.paint(quiet, fmt.Sprintf("%s %d more lines: %s", f.look.marks.more, rest+1, f.keys.PageDown.Help().Key))
	}
	for len(part) < room {
		part = append(part, "")
	}
	lines = append(append(lines, part...), keys...)
	for i, line := range lines {
		if line != "" && f.width > 4 {
			lines[i] = " " + line
		}
	}
	return lines
}

// top is how it went.
func (f finish) top(width int) []string {
	if f.exam {
		return f.paperTop(width)
	}
	l, p := f.look, f.desk.Problem()
	sum := f.desk.Summary(f.desk.Events())
	state := "done"
	if f.desk.HandedIn() {
		state = "handed in"
	}
	lines := []string{l.ends(l.paint(heading, l.text(p.Title)), l.paint(quiet, fmt.Sprintf("seed %d   %s", p.Seed, state)), width)}
	for _, s := range f.said {
		lines = append(lines, s.lines(l, width)...)
	}
	lines = append(lines, "")
	went := fmt.Sprintf("%d lines: %d right first time", sum.Lines, sum.FirstTime)
	if hinted := f.hinted(); hinted > 0 {
		went += fmt.Sprintf(", %d with hints", hinted)
	}
	if mended := sum.Later - f.hinted(); mended > 0 {
		went += fmt.Sprintf(", %d at a later try", mended)
	}
	if sum.Shown > 0 {
		went += fmt.Sprintf(", %d shown, and so not earned", sum.Shown)
	}
	if sum.Open > 0 {
		went += fmt.Sprintf(", %d left open", sum.Open)
	}
	went += "."
	lines = append(lines, wrap(went, width)...)
	if slips := f.slips(sum); slips != "" {
		lines = append(lines, wrap("Slips on the way: "+slips+".", width)...)
	}
	return append(append(lines, ""), f.head(width)...)
}

// hinted is how many lines were earned with a hint.
func (f finish) hinted() int {
	n := 0
	for _, p := range f.parts {
		for _, t := range p.lines {
			if t.Status == tutor.Earned && t.Hints > 0 {
				n++
			}
		}
	}
	return n
}

func (f finish) slips(sum tutor.Summary) string {
	var out []string
	for _, code := range slices.Sorted(maps.Keys(sum.Slips)) {
		name := f.look.text(slip.NameOf(code))
		if n := sum.Slips[code]; n > 1 {
			name += fmt.Sprintf(" (%d times)", n)
		}
		out = append(out, name)
	}
	return strings.Join(out, ", ")
}

// head is the names of the table's columns, and a rule.
func (f finish) head(width int) []string {
	widths := f.widths(width)
	total := 0
	for _, w := range widths {
		total += w
	}
	return append(f.tabled(widths, quiet, "line", "", "yours", "reference"),
		f.look.paint(quiet, strings.Repeat(f.look.marks.rule, min(total+len(widths)-1, width))))
}

// widths are those of the table's columns: the line, how it was come by, the
// learner's, the reference. In a narrow window how stands under the line.
func (f finish) widths(width int) []int {
	if width < 72 {
		rest := max(width-20-2, 8)
		return []int{20, 0, rest / 2, rest - rest/2}
	}
	rest := max(width-20-17-3, 8)
	return []int{20, 17, rest / 2, rest - rest/2}
}

// table sets each line beside the reference's, body by body where there are
// several.
func (f finish) table(width int) []string {
	if f.exam {
		return f.paperTable(width)
	}
	l, widths := f.look, f.widths(width)
	var lines []string
	for i, p := range f.parts {
		if p.name != "" {
			if i > 0 {
				lines = append(lines, "")
			}
			lines = append(lines, l.painted(heading, l.text(p.name), width)...)
		}
		for _, t := range p.lines {
			mark, r := l.mark(t)
			how, yours := f.how(t), t.Reads
			switch {
			case t.Status == tutor.Covered && t.Step != tutor.StepEquation:
				continue // the equation that stands for it has a row
			case t.Status == tutor.Covered:
				mark, r, how = l.marks.covered, quiet, "from its column"
				yours, _ = p.session.Sum(statics.RowKind(t.Cell))
			case t.Step == tutor.StepForces:
				yours = strings.Join(p.session.Lines(), "; ")
			}
			lines = append(lines, f.tabled(widths, r, mark+" "+l.text(p.session.Title(t)), how, l.text(yours), l.text(p.reference(t)))...)
		}
	}
	if c := f.desk.Problem().Caution; c != "" {
		lines = append(append(lines, ""), l.painted(shown, "Caution: "+l.text(c), width)...)
	}
	return lines
}

// tabled is one row of the table, each cell wrapped in its column; a cell whose
// column has no width goes under the first.
func (f finish) tabled(widths []int, lead role, cells ...string) []string {
	blocks := make([][]string, len(cells))
	high := 0
	for j, c := range cells {
		if widths[j] == 0 {
			for _, part := range wrap(c, widths[0]-2) {
				blocks[0] = append(blocks[0], "  "+part)
			}
			high = max(high, len(blocks[0]))
			continue
		}
		blocks[j] = wrap(c, widths[j])
		high = max(high, len(blocks[j]))
	}
	out := make([]string, high)
	for i := range high {
		var b strings.Builder
		for j, w := range widths {
			if w == 0 {
				continue
			}
			text := ""
			if i < len(blocks[j]) {
				text = blocks[j][i]
			}
			r := plain
			if j == 0 {
				r = lead
			}
			b.WriteString(f.look.paint(r, f.look.pad(text, w)) + " ")
		}
		out[i] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// how says in words how a line was come by.
func (f finish) how(t *tutor.Task) string {
	wrongs := t.Tries
	if t.Status == tutor.Earned {
		wrongs--
	}
	var out []string
	switch {
	case t.Status == tutor.Shown:
		out = append(out, "shown")
	case t.Status == tutor.Open:
		out = append(out, "left open")
	case t.FirstTime():
		return "first time"
	}
	if wrongs > 0 {
		out = append(out, fmt.Sprintf("%d wrong", wrongs))
	}
	switch {
	case t.Status == tutor.Shown:
	case t.Hints == 1:
		out = append(out, "1 hint")
	case t.Hints > 1:
		out = append(out, fmt.Sprintf("%d hints", t.Hints))
	}
	if len(out) == 0 {
		return "right"
	}
	return strings.Join(out, ", ")
}
