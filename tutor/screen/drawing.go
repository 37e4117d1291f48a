package screen

import (
	"fmt"
	"strings"

	"steelyard/problems"
	"steelyard/problems/figure"
)

// drawing is the figure, kept as drawn until something about it changes.
type drawing struct {
	look  *look
	key   string
	lines []string
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
