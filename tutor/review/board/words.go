package board

import (
	"cmp"
	"fmt"
	"strings"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// data is what the places are made from.
type data struct {
	look     *screen.Look
	rep      *review.Report
	lines    func(learner string) []review.TypedLine
	sessions func(learner string) []review.SessionOf
	names    map[string]string // of slips, by code
}

func newData(l *screen.Look, rep *review.Report, o Options) *data {
	d := &data{look: l, rep: rep, lines: o.Lines, sessions: o.Sessions, names: map[string]string{}}
	for _, s := range rep.Slips {
		d.names[s.Code] = s.Name
	}
	return d
}

// longest bounds how much is shown of one text from a log.
const longest = 400

// text is text from a log or a file, safe to show.
func (d *data) text(s string) string { return d.look.Cut(d.look.Text(s), longest) }

// slip is what a slip is called.
func (d *data) slip(code string) string { return d.text(cmp.Or(d.names[code], code)) }

// slips are slips by name.
func (d *data) slips(codes []string) string {
	var out []string
	for _, c := range codes {
		out = append(out, d.slip(c))
	}
	return strings.Join(out, ", ")
}

// counts are things with how often they were seen.
func (d *data) counts(of []review.Count) string {
	var out []string
	for _, c := range of {
		out = append(out, fmt.Sprintf("%s (%d)", d.slip(c.Name), c.Count))
	}
	return strings.Join(out, ", ")
}

func (d *data) where(problem, body, step, cell, pivot string) string {
	return d.text(review.Where(problem, body, step, cell, pivot))
}

func plural(n int, what string) string { return review.Plural(n, what) }

func (d *data) word(s string) cell { return cell{text: d.text(s)} }

func whole(n int) cell { return cell{fmt.Sprint(n), float64(n)} }

// rate is a share with its interval; what says nothing sorts last.
func rate(r review.Rate) cell {
	if r.N == 0 {
		return cell{"no data", -1}
	}
	return cell{review.Percent(r), r.Rate}
}

// minutes is a time, to the minute from ten on.
func minutes(m float64) cell {
	switch {
	case m == 0:
		return cell{"-", 0}
	case m >= 10:
		return cell{fmt.Sprintf("%.0f", m), m}
	}
	return cell{fmt.Sprintf("%.1f", m), m}
}

// figure is a figure that there may be too few to give.
func figure(v *float64) cell {
	if v == nil {
		return cell{"too few", -2}
	}
	return cell{two(*v), *v}
}

// two is a number to two places, with no minus before 0.00.
func two(v float64) string {
	if s := fmt.Sprintf("%.2f", v); s != "-0.00" {
		return s
	}
	return "0.00"
}

// bar is a share as a bar.
func (d *data) bar(share float64, cells int) string {
	full, empty := "█", "░"
	if d.look.ASCII() {
		full, empty = "#", "."
	}
	n := int(share*float64(cells) + 0.5)
	return strings.Repeat(full, n) + strings.Repeat(empty, cells-n)
}

// facts are names with what is said of them, the names in a column.
func (d *data) facts(width int, pairs ...[2]string) []string {
	wide := 0
	for _, p := range pairs {
		wide = max(wide, len([]rune(p[0])))
	}
	var out []string
	for _, p := range pairs {
		if p[1] == "" {
			continue
		}
		first := d.look.Paint(screen.Quiet, d.look.Pad(p[0], wide)) + "  "
		for _, line := range d.look.Wrapped(screen.Plain, p[1], max(width-wide-2, 12)) {
			out = append(out, first+line)
			first = strings.Repeat(" ", wide+2)
		}
	}
	return out
}

// typed is a line as it was typed, with how often and where.
func (d *data) typed(l review.Line, width int, place bool) string {
	times := fmt.Sprintf("%4d × ", l.Count)
	if d.look.ASCII() {
		times = fmt.Sprintf("%4d x ", l.Count)
	}
	at := ""
	if place {
		at = d.look.Paint(screen.Quiet, d.where(l.Problem, "", l.Step, l.Cell, l.Pivot))
	}
	room := max(width-len([]rune(times)), 1)
	if half := room * 45 / 100; place {
		return times + d.look.Pad(d.text(l.Typed), half) + "  " + d.look.Cut(at, max(room-half-2, 0))
	}
	return times + d.look.Cut(d.text(l.Typed), room)
}

// titled is lines under a heading; nothing where there are none.
func (d *data) titled(title string, lines []string) []string {
	if len(lines) == 0 {
		return nil
	}
	return append([]string{"", d.look.Paint(screen.Heading, title)}, lines...)
}

// table is a grid as a place.
func (d *data) table(name, none string, cols []column, rows []row) place {
	return place{look: d.look, name: name, grid: newGrid(d.look, none, cols, rows)}
}

// sheet is a page as a place.
func (d *data) sheet(name string, text func(width, height int) []string) place {
	return place{look: d.look, name: name, page: page{text: text}}
}
