package figure

import "math"

// Text draws the scene in a box of character cells, as large as fits and to
// one scale both ways. With ascii it keeps to ASCII. A box without cells gives
// an empty picture.
func (s Scene) Text(width, height int, ascii bool) Picture {
	return s.drawn(width, height, ascii).picture()
}

// drawn is the scene on its grid.
func (s Scene) drawn(width, height int, ascii bool) *drawing {
	g := newGrid(width, height, ascii)
	l := newLayout(g.height, ascii)
	d := &drawing{grid: g, layout: l}
	if len(g.squares) == 0 {
		return d
	}
	a, tilted := s.axes()
	for _, less := range keptFree {
		if tilted || less.columns == 0 {
			d = s.onGrid(width, height, less.columns, less.rows, ascii)
			if d.legend(s) && (!tilted || d.axes(a)) {
				break
			}
		}
	}
	return d
}

// keptFree is how much at the right and the lower edge the figure may give up for
// the legend and the learner's axes, where they find no room in it: as little as
// will do. The last is for pictures too small for either.
var keptFree = []struct{ columns, rows int }{{0, 0}, {0, 1}, {0, 2}, {axisStrip, 0}, {axisStrip, 1}, {0, axisRows}, {0, 0}}

// onGrid draws the scene on the upper left part of a grid.
func (s Scene) onGrid(width, height, lessColumns, lessRows int, ascii bool) *drawing {
	g := newGrid(width, height, ascii)
	l := newLayout(g.height, ascii)
	d := &drawing{grid: g, layout: l}
	d.frame = fit(s, g.width-lessColumns, g.height-lessRows, l)
	d.inkAndLetter(s)
	return d
}

func (d *drawing) inkAndLetter(s Scene) {
	for _, shape := range s.Shapes {
		d.ink(shape)
	}
	d.letter(s)
	for _, shape := range s.Shapes {
		if w, ok := shape.(Water); ok {
			d.ripples(w)
		}
	}
}

// drawing is a scene on its way onto a grid.
type drawing struct {
	*grid
	layout
	frame
	labels   []label
	unplaced []Length // lengths that found no place beside what they measure
}

// label is a text that has been written.
type label struct {
	col, row int
	text     string
	role     Role
	over     ink // what of it lies on, at most
}

// ink draws a shape, all but its lettering.
func (d *drawing) ink(shape Shape) {
	switch s := shape.(type) {
	case Line:
		d.line(s)
	case Outline:
		for i, p := range s.Points {
			d.edge(s.Role, p, s.Points[(i+1)%len(s.Points)], inkOf(s.Role), 1)
		}
	case Disc:
		d.disc(s)
	case Hatch:
		d.hatch(s)
	case Person:
		d.person(s)
	case Coil:
		d.coil(s)
	case Strut:
		d.strut(s)
	case Water:
		d.water(s)
	case Sign:
		d.sign(s)
	case Arrow:
		d.arrow(s)
	case Spread:
		d.spread(s)
	case Turn:
		d.turn(s)
	case Corner:
		d.corner(s)
	case Square:
		d.square(s)
	case Mark:
		d.mark(s)
	}
}

func inkOf(r Role) ink {
	switch r {
	case Body:
		return stout
	case Cable, Load, Support, Arm:
		return thin
	}
	return faint
}

func (d *drawing) line(s Line) {
	switch s.Role {
	case Body:
		d.edge(s.Role, s.From, s.To, stout, 2)
	case Action:
		d.trace(d.spot(s.From), d.spot(s.To), dashed, s.Role, faint)
	case Arm:
		d.armLine(s)
	default:
		d.edge(s.Role, s.From, s.To, inkOf(s.Role), 1)
	}
}

// edge draws a straight edge: level and upright ones of box characters,
// slanted ones of dots.
func (d *drawing) edge(role Role, from, to Vec, i ink, weight uint8) {
	a, b := d.spot(from), d.spot(to)
	c0, r0 := cellOf(a)
	c1, r1 := cellOf(b)
	switch {
	case role == Other || role == OtherLine:
		d.dottedEdge(role, a, b)
	case math.Abs(a.y-b.y) < 0.5:
		d.level(r0, c0, c1, weight, role, i)
	case math.Abs(a.x-b.x) < 0.5:
		d.upright(c0, r0, r1, weight, role, i)
	case weight == 2 && !d.ascii:
		u := unit(a, b)
		for _, off := range []float64{-0.6, 0.6} {
			d.trace(spot{a.x - off*u.y, a.y + off*u.x}, spot{b.x - off*u.y, b.y + off*u.x}, whole, role, i)
		}
	default:
		d.trace(a, b, whole, role, i)
	}
}

// dottedEdge is an edge of another body; where it is level or upright it goes
// through the middle of cells, as that of the body in view.
func (d *drawing) dottedEdge(role Role, a, b spot) {
	if math.Abs(a.y-b.y) < 0.5 {
		_, row := cellOf(a)
		a.y = float64(row*dotsDown) + 1.5
		b.y = a.y
	}
	d.trace(a, b, dotted, role, faint)
}

func unit(a, b spot) spot {
	dx, dy := b.x-a.x, b.y-a.y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return spot{}
	}
	return spot{dx / l, dy / l}
}

// armLine is drawn double, so that it shows even along the body.
func (d *drawing) armLine(s Line) {
	a, b := d.spot(s.From), d.spot(s.To)
	c0, r0 := cellOf(a)
	c1, r1 := cellOf(b)
	level, upright := '═', '║'
	if d.ascii {
		level, upright = '~', '~'
	}
	switch {
	case math.Abs(a.y-b.y) < 0.5:
		for c := max(min(c0, c1), 0); c <= min(max(c0, c1), d.width); c++ {
			d.put(c, r0, level, Arm, stout)
		}
	case math.Abs(a.x-b.x) < 0.5:
		for r := max(min(r0, r1), 0); r <= min(max(r0, r1), d.height); r++ {
			d.put(c0, r, upright, Arm, stout)
		}
	default:
		d.trace(a, b, dash{2, 3}, Arm, faint)
	}
}

func (d *drawing) disc(s Disc) {
	// Half a dot inward: the circle's outermost dots are within its radius,
	// and it rests on what it touches.
	c, r := d.spot(s.Centre), s.Radius*d.scale-0.5
	if !(r > 0) || r > 4*float64(d.width*dotsAcross+d.height*dotsDown) {
		return
	}
	if d.ascii {
		d.discASCII(c, r, s.Role)
		return
	}
	steps := int(8*r) + 8
	for k := range steps {
		if s.Role == Other && k%24 >= 8 {
			continue
		}
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(steps))
		d.dot(floor(c.x+r*cos), floor(c.y+r*sin), s.Role, stout)
	}
}

// discASCII goes row by row where the circle is steep, and column by column
// where it is flat.
func (d *drawing) discASCII(c spot, r float64, role Role) {
	const steep = 0.7 // of the radius: where a circle is at 45°
	for row := range d.height {
		y := float64(row*dotsDown) + dotsDown/2 - c.y
		if math.Abs(y) > steep*r {
			continue
		}
		x := math.Sqrt(r*r - y*y)
		d.under(floor((c.x-x)/dotsAcross), row, lineRune(role, y, y, x), role, stout)
		d.under(floor((c.x+x)/dotsAcross), row, lineRune(role, y, -y, x), role, stout)
	}
	for col := range d.width {
		x := float64(col*dotsAcross) + dotsAcross/2 - c.x
		if math.Abs(x) > steep*r {
			continue
		}
		y := math.Sqrt(r*r - x*x)
		for _, at := range []float64{c.y - y, c.y + y} {
			d.under(col, floor((at-0.02)/dotsDown), lineRune(role, at, y, x*0.5), role, stout)
		}
	}
}

// hatch draws a face just beyond the line, on the solid's side, and short
// strokes into the solid.
func (d *drawing) hatch(s Hatch) {
	a, b := d.spot(s.From), d.spot(s.To)
	u := unit(a, b)
	in := spot{-u.y, u.x} // on the right: the grid's y is down
	if d.ascii {
		d.hatchASCII(a, b, in, s.Rough)
		return
	}
	move := func(p spot, alongBy, inBy float64) spot {
		return spot{p.x + alongBy*u.x + inBy*in.x, p.y + alongBy*u.y + inBy*in.y}
	}
	face := func(p spot) spot { // the first dot wholly within the solid
		switch {
		case in.y > 0.9:
			p.y = math.Ceil(p.y - 0.02)
		case in.x > 0.9:
			p.x = math.Ceil(p.x - 0.02)
		case in.x < -0.9:
			p.x = math.Ceil(p.x-0.02) - 2
		}
		return spot{p.x + 0.5*math.Abs(in.y), p.y + 0.5*math.Abs(in.x)}
	}
	from, to := face(a), face(b)
	d.trace(from, to, whole, Ground, faint)
	every := 6.0
	if s.Rough {
		every = 3
	}
	length := math.Hypot(to.x-from.x, to.y-from.y)
	for t := every / 2; t <= length && t < 4000; t += every {
		// Down and to the left, whichever way the face looks.
		lean := -1.0
		if in.y < -0.1 || in.x > 0.9 {
			lean = 1
		}
		p := move(from, t, 0)
		d.trace(move(p, 0.5*lean*sign1(u.x+u.y), 1), move(p, 2*lean*sign1(u.x+u.y), 3), whole, Ground, faint)
	}
}

func sign1(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

func (d *drawing) hatchASCII(a, b, in spot, rough bool) {
	c0, r0 := cellOf(a)
	c1, r1 := cellOf(b)
	if math.Abs(in.y) > 0.7 { // nearer level than upright: strokes below, or above, each column
		flat := math.Abs(a.y-b.y) < 0.5
		if !flat {
			d.trace(a, b, whole, Ground, faint)
		}
		for c := max(min(c0, c1), 0); c <= min(max(c0, c1), d.width); c++ {
			stroke, row := '/', r0
			if !rough && c&1 == 1 {
				stroke = ' '
			}
			if !flat {
				row = floor((a.y + (float64(c*dotsAcross)+1-a.x)*(b.y-a.y)/(b.x-a.x) - 0.02) / dotsDown)
			}
			d.under(c, row+int(math.Round(in.y)), stroke, Ground, faint)
		}
		return
	}
	d.trace(a, b, whole, Ground, faint)
	side := int(sign1(in.x))
	for r := max(min(r0, r1), 0); r <= min(max(r0, r1), d.height); r++ {
		t := 0.5
		if r1 != r0 {
			t = float64(r-r0) / float64(r1-r0)
		}
		c := floor((a.x + t*(b.x-a.x)) / dotsAcross)
		d.under(c+side, r, '|', Ground, faint)
		if rough || r&1 == 0 {
			d.under(c+2*side, r, '/', Ground, faint)
		}
	}
}

// corner draws an angle: its arc, and the sides that nothing else shows.
func (d *drawing) corner(s Corner) {
	at := d.spot(s.At)
	r := d.cornerRadius(s)
	steps := int(r*s.Span) + 2
	for k := range steps + 1 {
		a := s.From + s.Span*float64(k)/float64(steps)
		p := spot{at.x + r*math.Cos(a), at.y - r*math.Sin(a)}
		if d.ascii {
			col, row := cellOf(p)
			d.under(col, row, '.', Angle, faint)
			continue
		}
		d.dot(floor(p.x), floor(p.y), Angle, faint)
	}
	for i, a := range []float64{s.From, s.From + s.Span} {
		if s.Legs[i] {
			end := spot{at.x + 1.6*r*math.Cos(a), at.y - 1.6*r*math.Sin(a)}
			d.trace(at, end, dotted, Angle, faint)
		}
	}
}

// cornerRadius is wide enough to be seen in a sharp corner, and to leave the
// point's own cell free.
func (l layout) cornerRadius(s Corner) float64 {
	return min(max(6, 5/max(s.Span, 0.1)), l.arrow+4)
}

// square marks a right angle with two short strokes.
func (d *drawing) square(s Square) {
	if d.ascii {
		return // no character is small enough
	}
	const side = 3
	at := d.spot(s.At)
	u, v := heading(s.One).times(side), heading(s.Two).times(side)
	one, two := spot{at.x + u.X, at.y - u.Y}, spot{at.x + v.X, at.y - v.Y}
	corner := spot{one.x + v.X, one.y - v.Y}
	d.trace(one, corner, whole, Arm, faint)
	d.trace(two, corner, whole, Arm, faint)
}
