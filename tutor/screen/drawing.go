package screen

import (
	"fmt"
	"strings"

	"steelyard/problems"
	"steelyard/problems/figure"
	"steelyard/tutor"
)

// drawing is the figure, kept as drawn until something about it changes.
type drawing struct {
	look  *look
	key   string
	lines []string
}

// sight is the figure as the learner's choices make it. Where lines are judged
// later it shows what the learner wrote and nothing that a verdict would tell:
// neither how a force ought to be listed, nor an arm, nor a value.
func sight(d *tutor.Desk) figure.View {
	v := figure.View{Clockwise: d.Choice().Clockwise, Tilt: d.Choice().Tilt, Learned: map[string]bool{}}
	if d.PivotChosen() {
		v.Pivot = d.Choice().Pivot
	}
	if several(d) {
		v.Body = d.Body().Name
	}
	later := d.Mode() != tutor.Guided
	v.Unjudged = later && !settled(d.Find(tutor.StepForces, ""))
	lines := d.Lines()
	for i, l := range d.Listed() {
		f := figure.Listed{Symbol: l.Symbol, At: l.At, Reversed: l.Reversed}
		if i < len(lines) { // what comes after was put there unasked
			f.Line = lines[i]
		}
		v.Forces = append(v.Forces, f)
	}
	for _, t := range d.Tasks() {
		if t.Step == tutor.StepValue && settled(t) {
			v.Learned[t.Cell] = true
		}
	}
	if t := d.Current(); t != nil && t.Step == tutor.StepMoment {
		v.Selected = t.Cell
		v.NoArm = later && !settled(t)
	}
	return v
}

// settled reports whether the learner has been told that a line is right, or been
// shown it.
func settled(t *tutor.Task) bool {
	return t != nil && (t.Status == tutor.Earned || t.Status == tutor.Shown)
}

// View draws the figure in width columns and height rows.
func (d *drawing) View(p *problems.Problem, v figure.View, width, height int) []string {
	if width < 8 || height < 4 {
		return nil
	}
	key := fmt.Sprintf("%p %d %d %v", p, width, height, v)
	if key == d.key {
		return d.lines
	}
	pic := figure.Build(p, v).Text(width, height, d.look.ascii)
	lines := make([]string, 0, height)
	for _, row := range pic.Rows {
		lines = append(lines, d.row(row))
	}
	d.key, d.lines = key, lines
	return lines
}

// row draws cells, a run of one role at a time.
func (d *drawing) row(row []figure.Cell) string {
	var b, run strings.Builder
	at := plain
	flush := func() {
		b.WriteString(d.look.paint(at, run.String()))
		run.Reset()
	}
	for _, c := range row {
		r := inks[c.Role]
		if c.Rune == ' ' {
			r = at
		}
		if r != at {
			flush()
			at = r
		}
		if d.look.ascii && c.Rune >= 0x80 {
			c.Rune = '?'
		}
		run.WriteRune(c.Rune)
	}
	flush()
	return strings.TrimRight(b.String(), " ")
}

// inks are the roles of the figure's parts.
var inks = [figure.Roles]role{
	figure.Body: plain, figure.Other: quiet, figure.Cable: plain, figure.Load: plain, figure.Support: plain, figure.Ground: quiet,
	figure.Point: heading, figure.Pivot: accent, figure.Force: force, figure.Selected: chosen, figure.Action: chosen,
	figure.Arm: chosen, figure.Dimension: quiet, figure.Angle: quiet, figure.Note: quiet,
	figure.Axis: accent,
}
