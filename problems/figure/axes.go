package figure

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Axes are the learner's own, x along an angle and y square to it. They belong
// to no place: a renderer puts them where there is room. Level axes are not
// drawn.
type Axes struct {
	Angle float64 // of x, in radians anticlockwise from the level
}

func (Axes) shape() {}

// ways are the directions of the two axes, with their names.
func (a Axes) ways() [2]struct {
	name  string
	angle float64
} {
	return [2]struct {
		name  string
		angle float64
	}{{"x", a.Angle}, {"y", a.Angle + math.Pi/2}}
}

// tilted reads how far the learner has turned the axes; false if they are level.
func (b *builder) tilted() (statics.Angle, bool) {
	a, err := b.p.Axis(b.v.Tilt)
	if err != nil {
		return a, false
	}
	u := heading(a.Eval(b.values))
	return a, math.Abs(u.Y) > 1e-9 || u.X < 0
}

func (b *builder) axes() {
	if a, ok := b.tilted(); ok {
		b.add(Axes{a.Eval(b.values)})
	}
}

// axes tells how the axes are turned, by the learner's own angle.
func (t *teller) axes() {
	a, ok := t.tilted()
	if !ok {
		return
	}
	by := strings.TrimSpace(t.v.Tilt)
	if _, err := strconv.ParseFloat(by, 64); err == nil {
		by += "°"
	} else if n, err := t.p.Table.Parse(by); err == nil {
		by = notation.ReadBack(n, false)
	}
	x := a.Eval(t.values)
	t.say(fmt.Sprintf("The x axis is turned %s anticlockwise from the level, so that it leads %s; the y axis, square to it, leads %s",
		notation.Printable(by), leads(x), leads(x+math.Pi/2)))
}

// leads says which way an axis goes.
func leads(angle float64) string {
	text := way(heading(angle))
	if plain, ok := straight[text]; ok {
		return plain
	}
	return text
}

// Sizes of axes in text, in dots: the longest is tried first.
var axisDots = []float64{12, 9, 7}

// How many columns or rows are kept free of the figure for axes that find no
// room in it.
const (
	axisStrip = 10
	axisRows  = 5
)

// axes finds the learner's axes, if they are turned.
func (s Scene) axes() (Axes, bool) {
	for _, shape := range s.Shapes {
		if a, ok := shape.(Axes); ok {
			return a, true
		}
	}
	return Axes{}, false
}

// axes puts the axes where nothing else is, near the edge of the picture. It is
// false, and nothing is drawn, if there is no such place.
func (d *drawing) axes(s Axes) bool {
	for _, long := range axisDots {
		cells := d.axisCells(s, long)
		best, origin := math.Inf(1), [2]int{}
		for row := range d.height {
			for col := range d.width {
				if cost := d.axisCost(cells, col, row); cost < best {
					best, origin = cost, [2]int{col, row}
				}
			}
		}
		if !math.IsInf(best, 1) {
			d.drawAxes(s, long, origin[0], origin[1])
			return true
		}
	}
	return false
}

// axisEnd is where an axis of a length ends, from its origin's cell.
func axisEnd(angle, long float64, col, row int) (from, to spot) {
	u := heading(angle)
	from = spot{float64(col*dotsAcross) + 1, float64(row*dotsDown) + 2}
	return from, spot{from.x + long*u.X, from.y - long*u.Y}
}

// axisCells are the cells that axes cover, their names among them, from a cell
// for the origin.
func (d *drawing) axisCells(s Axes, long float64) [][2]int {
	var cells [][2]int
	for _, w := range s.ways() {
		u := heading(w.angle)
		for t := 0.0; t <= long; t++ {
			cells = append(cells, offsetOf(w.angle, t))
		}
		cells = append(cells, nameCell(w.angle, long, u))
	}
	return cells
}

func offsetOf(angle, t float64) [2]int {
	_, to := axisEnd(angle, t, 1000, 1000)
	return [2]int{floor(to.x/dotsAcross) - 1000, floor(to.y/dotsDown) - 1000}
}

// nameCell is the cell beyond the tip, for the axis's name.
func nameCell(angle, long float64, u Vec) [2]int {
	tip := offsetOf(angle, long)
	next := [2]int{tip[0], tip[1]}
	switch {
	case math.Abs(u.X) >= 0.4:
		next[0] += int(sign1(u.X)) * 2
	default:
		next[1] -= int(sign1(u.Y))
	}
	return next
}

// axisCost is how far from the nearest corner the axes would be, or infinite
// where they would touch anything.
func (d *drawing) axisCost(cells [][2]int, col, row int) float64 {
	for _, c := range cells {
		for _, beside := range []int{-1, 0, 1} {
			q := d.at(col+c[0]+beside, row+c[1])
			switch {
			case q == nil && beside == 0:
				return math.Inf(1)
			case q != nil && (q.ink != bare || q.letter):
				return math.Inf(1)
			}
		}
	}
	across := min(col, d.width-1-col)
	down := min(row, d.height-1-row)
	return float64(across)/CellAspect + float64(down) + 0.1*float64(d.height-row)
}

func (d *drawing) drawAxes(s Axes, long float64, col, row int) {
	for _, w := range s.ways() {
		from, to := axisEnd(w.angle, long, col, row)
		d.trace(from, to, whole, Axis, thin)
		tip := offsetOf(w.angle, long)
		d.put(col+tip[0], row+tip[1], d.axisHead(w.angle), Axis, sign)
		name := nameCell(w.angle, long, heading(w.angle))
		d.write(col+name[0], row+name[1], w.name, Axis)
	}
	d.put(col, row, d.pick(startMark), Axis, sign)
}

// axisHead is a thin arrow's head, so that no axis is taken for a force.
func (d *drawing) axisHead(angle float64) rune {
	if d.ascii {
		return d.head(angle)
	}
	return []rune("→↗↑↖←↙↓↘")[int(math.Round(angle/(math.Pi/4)))&7]
}
