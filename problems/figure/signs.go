package figure

import "math"

// Characters for what is drawn as one, in Unicode and in ASCII.
var (
	pointMark = [2]rune{'●', 'o'}
	placeMark = [2]rune{'∙', '.'}
	pivotMark = [2]rune{'◉', '@'}
	hingeMark = [2]rune{'○', 'o'}
	waveMark  = [2]rune{'╌', '-'}
	startMark = [2]rune{'∙', '+'}
	leadMark  = [2]rune{'·', '.'}
	headRight = [2]rune{'▶', '>'}
	headLeft  = [2]rune{'◀', '<'}
	headUp    = [2]rune{'▲', '^'}
	headDown  = [2]rune{'▼', 'v'}
	turnLeft  = [2]string{"↺", "ccw"}
	turnRight = [2]string{"↻", "cw"}
)

// levelMark stands on the surface of still water, in the trade's drawings.
const levelMark = '▽'

func (d *drawing) pick(r [2]rune) rune {
	if d.ascii {
		return r[1]
	}
	return r[0]
}

func (d *drawing) turning(clockwise bool) string {
	t := turnLeft
	if clockwise {
		t = turnRight
	}
	if d.ascii {
		return t[1]
	}
	return t[0]
}

// sign draws a support's sign below its point, over it, or at it.
func (d *drawing) sign(s Sign) {
	at := d.spot(s.At)
	col, row := cellOf(at)
	switch s.Kind {
	case HingeSign:
		d.put(col, row, d.pick(hingeMark), Support, sign)
	case WheelSign:
		d.wheel(at, s.Out)
	case SheaveSign:
		d.sheave(col, row)
	case PinSign:
		d.triangle(col, row, s.Over)
	case RollerSign:
		d.roller(col, row, s.Over)
	}
}

// away is the row and the dot where a sign begins that stands below a cell, or
// over it, and the way it goes on.
func away(row int, over bool) (first, way int, y float64) {
	if over {
		return row - 1, -1, float64(row*dotsDown) - 1
	}
	return row + 1, 1, float64((row + 1) * dotsDown)
}

// triangle is a pin: its foot on hatching.
func (d *drawing) triangle(col, row int, over bool) {
	first, way, y := away(row, over)
	if d.ascii {
		d.letters(col-1, first, map[bool]string{true: "\\_/", false: "/_\\"}[over])
		d.letters(col-1, first+way, "///")
		return
	}
	x, down := float64(col*dotsAcross)+1, float64(way)
	d.trace(spot{x, y}, spot{x - 3.5, y + 4*down}, whole, Support, thin)
	d.trace(spot{x, y}, spot{x + 3.5, y + 4*down}, whole, Support, thin)
	d.footing(x, y+4*down, down)
}

func (d *drawing) roller(col, row int, over bool) {
	first, way, y := away(row, over)
	if d.ascii {
		d.letters(col-1, first, "(_)")
		d.letters(col-1, first+way, "///")
		return
	}
	x, down := float64(col*dotsAcross)+1, float64(way)
	for k := range 24 {
		a := float64(k) * math.Pi / 12
		d.dot(floor(x+2*math.Cos(a)), floor(y+2*down+2*math.Sin(a)), Support, thin)
	}
	d.footing(x, y+4*down, down)
}

// footing is a short face, hatched beyond it.
func (d *drawing) footing(x, y, down float64) {
	d.trace(spot{x - 5, y}, spot{x + 5, y}, whole, Support, thin)
	for _, dx := range []float64{-3, -1, 1, 3, 5} {
		d.trace(spot{x + dx, y + down}, spot{x + dx - 2*down, y + 3*down}, whole, Support, faint)
	}
}

// wheel stands on the face at its point.
func (d *drawing) wheel(at spot, out Vec) {
	r := max(3, d.layout.arrow/3)
	if d.ascii {
		col, row := cellOf(at)
		d.letters(col-1, row, "(_)")
		return
	}
	hub := spot{at.x + r*out.X, at.y - r*out.Y}
	for x := -r; x <= r; x++ { // names keep out of it
		if q := d.at(floor((hub.x+x)/dotsAcross), floor(hub.y/dotsDown)); q != nil {
			q.cover(Support, thin)
		}
	}
	steps := int(8 * r)
	for k := range steps {
		a := 2 * math.Pi * float64(k) / float64(steps)
		d.dot(floor(hub.x+r*math.Cos(a)), floor(hub.y+(r-0.5)*math.Sin(a)), Support, thin)
	}
}

// sheave is a small wheel about its point.
func (d *drawing) sheave(col, row int) {
	if d.ascii {
		d.letters(col-1, row, "(")
		d.letters(col+1, row, ")")
	} else {
		x, y := float64(col*dotsAcross)+1, float64(row*dotsDown)+2
		for k := range 32 {
			a := float64(k) * math.Pi / 16
			d.dot(floor(x+4*math.Cos(a)), floor(y+4*math.Sin(a)), Support, thin)
		}
	}
	for c := col - 2; c <= col+2; c++ { // names keep out of it
		if q := d.at(c, row); q != nil {
			q.cover(Support, thin)
		}
	}
	d.put(col, row, d.pick(hingeMark), Support, sign)
}

func (d *drawing) letters(col, row int, text string) {
	for i, r := range text {
		d.under(col+i, row, r, Support, thin)
	}
}

// mark draws a named place.
func (d *drawing) mark(s Mark) {
	col, row := d.cell(s.At)
	switch {
	case s.Role == Pivot:
		d.put(col, row, d.pick(pivotMark), Pivot, sign)
	case s.Off:
		if q := d.at(col, row); q != nil && q.ink < sign { // an arrow's head says more
			d.put(col, row, d.pick(placeMark), Point, sign)
		}
	default:
		r := d.pick(pointMark)
		if q := d.at(col, row); q != nil && q.text == d.pick(hingeMark) {
			r = q.text // the hinge marks its point
		}
		d.put(col, row, r, Point, sign)
	}
}

// arrow draws a force's shaft and head. Level and upright ones are of box
// characters, and slanted ones of dots with a head that points the nearest of
// eight ways.
func (d *drawing) arrow(a Arrow) {
	tail, head := d.ends(a)
	u := heading(a.Angle)
	c0, r0 := cellOf(tail)
	c1, r1 := cellOf(head)
	level, upright := '─', '│'
	if a.Role == Selected {
		level, upright = '━', '┃'
	}
	if d.ascii {
		level, upright = '-', '|'
	}
	switch {
	case math.Abs(u.Y) < axial:
		for c := min(c0, c1); c <= max(c0, c1); c++ {
			d.put(c, r0, level, a.Role, shaft)
		}
		d.put(c1, r0, d.head(a.Angle), a.Role, sign)
	case math.Abs(u.X) < axial:
		for r := min(r0, r1); r <= max(r0, r1); r++ {
			d.put(c0, r, upright, a.Role, shaft)
		}
		d.put(c0, r1, d.head(a.Angle), a.Role, sign)
	default:
		d.trace(tail, head, whole, a.Role, shaft)
		d.put(c1, r1, d.head(a.Angle), a.Role, sign)
	}
}

// axial is the sine of the angle from an axis within which an arrow is drawn
// along it.
const axial = 0.06

// ends are an arrow's tail and head: one cell clear of the point on its line,
// and a length further on.
func (d *drawing) ends(a Arrow) (tail, head spot) {
	at := d.spot(a.At)
	col, row := cellOf(at)
	u := heading(a.ray().angle)
	if math.Abs(u.X) < axial || math.Abs(u.Y) < axial { // by whole cells from the middle of the point's
		at = spot{float64(col*dotsAcross) + 1, float64(row*dotsDown) + 2}
	}
	clear := max(math.Abs(u.X)*dotsAcross, math.Abs(u.Y)*dotsDown)
	one := spot{at.x + u.X*clear, at.y - u.Y*clear}
	two := spot{at.x + u.X*d.layout.arrow, at.y - u.Y*d.layout.arrow}
	if a.Arrives {
		return two, one
	}
	return one, two
}

// head is the arrow head nearest to a direction.
func (d *drawing) head(angle float64) rune {
	eighth := int(math.Round(angle/(math.Pi/4))) & 7
	if d.ascii {
		u := heading(angle)
		switch {
		case math.Abs(u.X) >= math.Abs(u.Y) && u.X > 0:
			return '>'
		case math.Abs(u.X) >= math.Abs(u.Y):
			return '<'
		case u.Y > 0:
			return '^'
		}
		return 'v'
	}
	return [8]rune{headRight[0], '↗', headUp[0], '↖', headLeft[0], '↙', headDown[0], '↘'}[eighth]
}
