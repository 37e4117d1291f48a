package screen

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// sums are the equations that the columns make. A column whose entries are
// not all there says how many are.
func (g ledger) sums(width int) (lines []string, focus int) {
	focus = -1
	names := map[statics.RowKind]string{statics.RowX: "sum along x", statics.RowY: "sum along y", statics.RowMoment: "sum of moments"}
	for _, row := range statics.Rows {
		t := g.desk.Find(tutor.StepEquation, string(row))
		if t == nil {
			continue
		}
		name := g.look.pad(names[row], 14)
		if g.current(t) || g.reads(t) != "" {
			if g.current(t) {
				focus = len(lines)
			}
			c := g.cell(t)
			lines = append(lines, g.goTo(t, name+g.look.paint(c.role, g.look.cut(c.text, width-14))))
			continue
		}
		line, ok := g.desk.Sum(row)
		mark, r := g.look.mark(t)
		if !ok {
			done, all := g.column(tutor.Step(row))
			text := g.look.state(t)
			if all > 0 {
				text = strings.TrimSuffix(fmt.Sprintf("%d of %d entries, %s", done, all, text), ", ")
			}
			lines = append(lines, g.goTo(t, g.look.cut(g.look.paint(quiet, name)+g.look.paint(r, " "+mark+" "+text), width)))
			continue
		}
		if t.Status == tutor.Covered {
			mark, r = g.ofEntries(tutor.Step(row))
		}
		line = g.look.text(line)
		if ansi.StringWidth(line) > width-17 {
			line = tight.Replace(line)
		}
		for i, part := range wrap(line, width-17) {
			if i > 0 {
				name, mark = strings.Repeat(" ", 14), " "
			}
			lines = append(lines, name+g.look.paint(r, " "+mark+" "+part))
		}
	}
	return lines, focus
}

// ofEntries is the mark of a sum that stands for the entries of its column.
func (g ledger) ofEntries(step tutor.Step) (string, role) {
	given := true
	for _, t := range g.desk.Ledger() {
		switch {
		case t.Step != step:
		case t.Status == tutor.Taken:
			return g.look.mark(t)
		default:
			given = given && t.Status == tutor.Shown
		}
	}
	if given {
		return g.look.marks.shown, shown
	}
	return g.look.marks.right, right
}

// column counts the entries of a column that are there.
func (g ledger) column(step tutor.Step) (done, all int) {
	for _, t := range g.desk.Ledger() {
		if t.Step == step {
			all++
			if t.Done() {
				done++
			}
		}
	}
	return done, all
}

// values are the unknowns and the doubt, each with its mark, as many on a
// line as fit.
func (g ledger) values(width int) (lines []string, focus int) {
	focus = -1
	line, used := "", 0
	for _, t := range g.desk.Tasks() {
		if t.Step != tutor.StepValue && t.Step != tutor.StepDoubt {
			continue
		}
		name, named := map[string]string{tutor.DoubtCheck: "doubt", tutor.DoubtLimit: "limit"}[t.Cell]
		switch {
		case t.Step == tutor.StepValue:
			name = g.look.text(notation.Display(t.Cell, g.look.ascii))
		case !named:
			name = strings.TrimPrefix(g.desk.Title(t), "doubt: a ")
			name = strings.TrimPrefix(name, "doubt: ")
		}
		mark, r := g.look.mark(t)
		text := g.look.state(t)
		switch {
		case g.reads(t) != "":
			text = " = " + g.reads(t)
		case text != "" && t.Step == tutor.StepValue && t.Done():
			text = " = " + text
		case text != "":
			text = ": " + text
		}
		lead := " "
		if g.current(t) {
			lead, r = g.look.marks.now, here
		}
		item := g.look.cut(lead+mark+" "+name+text, width)
		w := ansi.StringWidth(item)
		if used > 0 && used+2+w > width {
			lines, line, used = append(lines, line), "", 0
		}
		if used > 0 {
			line, used = line+"  ", used+2
		}
		line, used = line+g.goTo(t, g.look.paint(r, item)), used+w
		if g.current(t) {
			focus = len(lines)
		}
	}
	if used > 0 {
		lines = append(lines, line)
	}
	return lines, focus
}
