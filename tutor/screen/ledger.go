package screen

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor"
)

// ledger draws the table of forces: a row each, in the learner's order, with
// their parts along x and y and their moments; below it, what the columns sum
// to, and the values.
type ledger struct {
	look *look
	desk *tutor.Desk
	live reading // how the line being typed reads, shown where it would go

	// open is the only column whose entries are written out, where there is no
	// room for three; "" writes them all.
	open tutor.Step
}

var columns = []tutor.Step{tutor.StepX, tutor.StepY, tutor.StepMoment}

// heads are the columns' names.
func (g ledger) heads() []string {
	long, short := []string{"along x →", "along y ↑", "moment " + g.turn()}, []string{"x", "y", g.turn()}
	if g.look.ascii {
		long, short = []string{"along x", "along y", "moment"}, []string{"x", "y", "mom"}
	}
	if tilt := g.look.tilt(g.desk.Session); tilt != "" {
		long[0], long[1] = "x at "+tilt, "y"
	}
	for j, step := range columns {
		if g.folds(step) {
			long[j] = short[j]
		}
	}
	return long
}

// folds reports whether a column shows marks alone.
func (g ledger) folds(step tutor.Step) bool { return g.open != "" && g.open != step }

func (g ledger) turn() string {
	if g.desk.Choice().Clockwise {
		return "↻"
	}
	return "↺"
}

// head is the name of the ledger, where there are several bodies with whose it
// is, and what counts as positive, as much of it as width has room for.
func (g ledger) head(width int) (name, more string) {
	name, more = "Ledger", g.look.convention(g.desk.Session)
	if several(g.desk) {
		name += ": " + g.look.text(g.desk.Body().Name)
	}
	place, _, _ := strings.Cut(more, ",")
	for _, shorter := range []string{strings.TrimPrefix(more, "moments "), place, strings.TrimPrefix(place, "moments ")} {
		if ansi.StringWidth(name)+2+ansi.StringWidth(more) <= width {
			break
		}
		more = shorter
	}
	return name, more
}

// convention says what counts as positive on the body in hand.
func (l *look) convention(s *tutor.Session) string {
	way := "anticlockwise"
	if s.Choice().Clockwise {
		way = "clockwise"
	}
	if !s.PivotChosen() {
		return way + " positive"
	}
	return fmt.Sprintf("moments about %s, %s positive", l.text(s.Choice().Pivot), way)
}

// mark is a task's sign and the role it is drawn in.
func (l *look) mark(t *tutor.Task) (string, role) {
	switch {
	case t.Status == tutor.Earned:
		return l.marks.right, right
	case t.Status == tutor.Shown:
		return l.marks.shown, shown
	case t.Status == tutor.Taken:
		return l.marks.taken, plain
	case t.Status == tutor.Covered:
		return l.marks.covered, quiet
	case t.Tries > 0:
		return l.marks.wrong, wrong
	}
	return l.marks.open, quiet
}

// state says in words how far a task has come.
func (l *look) state(t *tutor.Task) string {
	switch {
	case t.Status == tutor.Earned || t.Status == tutor.Shown || t.Status == tutor.Taken:
		return l.text(t.Reads)
	case t.Status == tutor.Covered:
		return "in the sum"
	case t.Tries > 0:
		return fmt.Sprintf("%d wrong", t.Tries)
	}
	return ""
}

// cell is an entry of the table, not yet drawn.
type cell struct {
	text string
	role role
	task *tutor.Task // nil for a head or a name
}

func (g ledger) cell(t *tutor.Task) cell {
	if t == nil {
		return cell{}
	}
	mark, r := g.look.mark(t)
	if g.folds(t.Step) {
		return cell{" " + strings.TrimSuffix(mark, ":"), r, t}
	}
	text := g.look.state(t)
	if as := g.reads(t); as != "" {
		text = as
	}
	if g.current(t) {
		if text == "" {
			text = "?"
		}
		return cell{g.look.marks.now + mark + " " + text, here, t}
	}
	return cell{strings.TrimRight(" "+mark+" "+text, " "), r, t}
}

// reads is the line being typed, as far as it can be read, if it would go to a
// task.
func (g ledger) reads(t *tutor.Task) string {
	if t.Step == g.live.step && t.Cell == g.live.cell {
		return g.live.as + g.live.stood // one of them is empty
	}
	return ""
}

func (g ledger) current(t *tutor.Task) bool { return t == g.desk.Current() }

// View is the ledger in width columns, and the line that must stay in sight.
// Where height allows, its parts stand apart.
func (g ledger) View(width, height int) (lines []string, focus int) {
	lines, focus = g.table(width)
	sums, atSum := g.sums(width)
	values, atValue := g.values(width)
	apart := len(lines)+len(sums)+len(values)+2 <= height
	for _, part := range []struct {
		lines []string
		at    int
	}{{sums, atSum}, {values, atValue}} {
		if apart {
			lines = append(lines, "")
		}
		if part.at >= 0 {
			focus = len(lines) + part.at
		}
		lines = append(lines, part.lines...)
	}
	return lines, focus
}

func (g ledger) table(width int) (lines []string, focus int) {
	if len(g.desk.Listed()) == 0 {
		return []string{g.look.paint(quiet, g.look.cut("No forces listed yet.", width))}, 0
	}
	if g.desk.Find(tutor.StepX, g.desk.Listed()[0].Symbol) == nil || g.relisting() {
		lines = g.list(width)
		return lines, len(lines) - 1
	}
	// The columns are as wide as what is written needs, and the open one has
	// room to type: they keep their widths while there is typing.
	stands, _ := ledger{look: g.look, desk: g.desk, open: g.open}.rows()
	rows, focus := g.rows()
	widths := g.share(stands, width)
	if closer(stands, widths) {
		closer(rows, nil)
		widths = g.share(stands, width)
	}
	for i, row := range rows {
		lines = append(lines, g.row(row, widths))
		if i == 0 {
			lines = append(lines, g.ruled(widths))
		}
	}
	return lines, focus
}

// rows are the cells of the table, its head first, and the line of the current
// one as the table is drawn.
func (g ledger) rows() (rows [][]cell, focus int) {
	rows = [][]cell{{{text: "force", role: quiet}}}
	for _, h := range g.heads() {
		rows[0] = append(rows[0], cell{text: " " + h, role: quiet})
	}
	for i, f := range g.desk.Listed() {
		row := []cell{{text: g.label(i)}}
		for _, step := range columns {
			t := g.desk.Find(step, f.Symbol)
			row = append(row, g.cell(t))
			if t != nil && g.current(t) {
				focus = i + 2
			}
		}
		rows = append(rows, row)
	}
	return rows, focus
}

// natural is the width at which no cell of the table is cut.
func (g ledger) natural() int {
	rows, _ := g.rows()
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for j, c := range row {
			widths[j] = max(widths[j], ansi.StringWidth(tight.Replace(c.text))+1)
		}
	}
	total := len(widths) - 1
	for _, w := range widths {
		total += w
	}
	return total
}

func (g ledger) row(row []cell, widths []int) string {
	var b strings.Builder
	for j, c := range row {
		if j > 0 {
			b.WriteString(g.look.paint(quiet, g.look.marks.down))
		}
		text := c.text
		if c.task != nil && g.current(c.task) && ansi.StringWidth(text) > widths[j] {
			marks, entry, _ := strings.Cut(tight.Replace(text), " ")
			room := widths[j] - ansi.StringWidth(marks) - 1
			if g.reads(c.task) == "" {
				entry = g.look.cut(entry, room)
			}
			text = marks + " " + g.look.end(entry, room) // where the typing is
		}
		if j == 0 {
			text = g.look.pad(text, widths[j]-1) + " "
		}
		b.WriteString(g.goTo(c.task, g.look.paint(c.role, g.look.pad(text, widths[j]))))
	}
	return b.String()
}

// goTo makes a text one that a click on goes to a task.
func (g ledger) goTo(t *tutor.Task, text string) string {
	if t == nil || t.Status == tutor.Covered {
		return text
	}
	return g.look.touch(placeMsg{placeOf(t.Body, t.Step, t.Cell)}, text)
}

// ruled is the rule under the heads, with a crossing at each column.
func (g ledger) ruled(widths []int) string {
	cross := "┼"
	if g.look.ascii {
		cross = "+"
	}
	var parts []string
	for _, w := range widths {
		parts = append(parts, strings.Repeat(g.look.marks.rule, w))
	}
	return g.look.paint(quiet, strings.Join(parts, cross))
}

// roomToType is the width that the open column has if there is so much.
const roomToType = 22

// share gives each column its natural width, or less of it, the widest giving
// way first, so that all fit. Room left over goes to the columns that are
// written out.
func (g ledger) share(rows [][]cell, width int) []int {
	n := len(rows[0])
	widths := make([]int, n)
	for _, row := range rows {
		for j, c := range row {
			widths[j] = max(widths[j], ansi.StringWidth(c.text)+1)
			if c.task != nil && g.current(c.task) {
				widths[j] = max(widths[j], roomToType)
			}
		}
	}
	total := n - 1
	for _, w := range widths {
		total += w
	}
	for total > width {
		widest := 0
		for j, w := range widths {
			if w > widths[widest] {
				widest = j
			}
		}
		if widths[widest] <= 3 {
			break
		}
		widths[widest]--
		total--
	}
	if g.open != "" {
		widths[1+slices.Index(columns, g.open)] += max(width-total, 0)
		return widths
	}
	for j := 1; total < width && total > 0; j = j%(n-1) + 1 {
		if widths[j] >= 26 {
			break
		}
		widths[j]++
		total++
	}
	return widths
}

// tight writes products without the spaces about their signs.
var tight = strings.NewReplacer(" · ", "·", " * ", "*", " / ", "/")

// closer draws the entries together if a column has no room for one of its
// own, or in any case without widths, and reports whether it did.
func closer(rows [][]cell, widths []int) bool {
	crowded := widths == nil
	for _, row := range rows {
		for j, c := range row {
			crowded = crowded || ansi.StringWidth(c.text) > widths[j]
		}
	}
	for i := range rows {
		for j := 1; crowded && j < len(rows[i]); j++ {
			rows[i][j].text = tight.Replace(rows[i][j].text)
		}
	}
	return crowded
}

// legend says what the marks mean, in as many lines as width makes of it.
func (l *look) legend(items []string, width int) []string {
	var out []string
	line := ""
	for _, item := range items {
		switch {
		case line == "":
			line = item
		case ansi.StringWidth(line)+3+ansi.StringWidth(item) > width:
			out, line = append(out, line), item
		default:
			line += "   " + item
		}
	}
	out = append(out, line)
	for i := range out {
		out[i] = l.paint(quiet, l.cut(out[i], width))
	}
	return out
}
