package figure

import "math"

// The shapes of a scene in SVG, all but their letters.

func (c *canvas) draw(shape Shape) {
	switch s := shape.(type) {
	case Line:
		c.drawLine(s)
	case Outline:
		c.outline(s)
	case Disc:
		p := shellPen
		if s.Role == Other {
			p = otherPen
		}
		c.circle(c.at(s.Centre), c.units(s.Radius), p)
	case Hatch:
		c.hatch(c.at(s.From), c.at(s.To), s.Rough)
	case Water:
		c.water(s)
	case Person:
		c.person(s)
	case Coil:
		c.coil(s)
	case Strut:
		c.strut(s)
	case Sign:
		c.sign(s)
	case Spread:
		c.spread(s)
	case Arrow:
		c.arrow(s)
	case Turn:
		c.turn(s)
	case Corner:
		c.corner(s)
	case Square:
		c.square(s)
	case Mark:
		c.point(s)
	}
}

const barHalf = 3.0 // half of a bar's thickness

func (c *canvas) drawLine(s Line) {
	a, b := c.at(s.From), c.at(s.To)
	switch s.Role {
	case Body, Other:
		p := bodyPen
		if s.Role == Other {
			p = otherPen
		}
		n := unit(a, b).left()
		c.path([]spot{a.plus(n, barHalf), b.plus(n, barHalf), b.plus(n, -barHalf), a.plus(n, -barHalf)}, true, p)
	case Action:
		c.line(a, b, actionPen)
	case Arm:
		c.line(a, b, armPen)
	case OtherLine:
		c.line(a, b, otherPen)
	case Ground, Support:
		c.line(a, b, facePen)
	default:
		c.line(a, b, linePen)
	}
}

func (c *canvas) outline(s Outline) {
	var spots []spot
	for _, v := range s.Points {
		spots = append(spots, c.at(v))
	}
	p := shellPen
	switch s.Role {
	case Load:
		p = loadPen
	case Other:
		p = otherPen
	}
	c.path(spots, true, p)
}

// hatch draws a face and strokes into the solid, on the right of one who goes
// along it.
func (c *canvas) hatch(a, b spot, rough bool) {
	c.line(a, b, facePen)
	c.faces = append(c.faces, stroke{a, b})
	every, deep := 9.0, 8.0
	if rough {
		every = 4.5
	}
	u := unit(a, b)
	in := u.left()
	in = spot{-in.x, -in.y}
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length > 8*(c.width+c.height) {
		return
	}
	lean := 1.0 // so that strokes rise to the right, whichever way the face looks
	if u.x+u.y > 0 {
		lean = -1
	}
	if math.Abs(in.x) > math.Abs(in.y) {
		lean = -lean
	}
	for t := every / 2; t < length; t += every {
		p := a.plus(u, t)
		c.line(p, p.plus(in, deep).plus(u, lean*deep), finePen)
	}
}

// water is its level, and the trade's mark of a level upon it.
func (c *canvas) water(s Water) {
	a, b := c.at(s.From), c.at(s.To)
	c.line(a, b, linePen)
	m := a.plus(unit(a, b), 0.25*math.Hypot(b.x-a.x, b.y-a.y))
	c.path([]spot{m, {m.x - 5, m.y - 8}, {m.x + 5, m.y - 8}}, true, thinPen)
	for i, half := range []float64{7, 4, 2} {
		y := m.y + 3*float64(i+1)
		c.line(spot{m.x - half, y}, spot{m.x + half, y}, finePen)
	}
}

// ripples are the dashes, where nothing else is: they only show that there is
// water, and come last.
func (c *canvas) ripples(s Water) {
	a, b := c.at(s.From), c.at(s.To)
	row := 0
	for y := a.y + 20; y < a.y+c.units(s.Depth)-4; y += 16 {
		for x := a.x + 12 + 23*float64(row%3); x+14 < b.x; x += 60 + 8*float64(row) {
			if !c.inkedIn(box{spot{x - 4, y - 3}, spot{x + 16, y + 3}}) {
				c.line(spot{x, y}, spot{x + 12, y}, finePen)
			}
		}
		row++
	}
}

func (c *canvas) person(s Person) {
	p := linePen
	if s.Role == Other {
		p = otherPen
	}
	foot, h := c.at(s.At), c.units(s.Height)
	at := func(x, y float64) spot { return spot{foot.x + x*h, foot.y - y*h} }
	c.circle(at(0, 0.9), 0.1*h, p)
	c.line(at(0, 0.8), at(0, 0.42), p)
	c.path([]spot{at(-0.2, 0.48), at(0, 0.72), at(0.2, 0.48)}, false, p)
	c.path([]spot{at(-0.15, 0), at(0, 0.42), at(0.15, 0)}, false, p)
}

func (c *canvas) coil(s Coil) {
	p := linePen
	if s.Role == Other {
		p = otherPen
	}
	a, b := c.at(s.From), c.at(s.To)
	u, length := unit(a, b), math.Hypot(b.x-a.x, b.y-a.y)
	const lead, swing = 10.0, 6.0
	n := min(max(int((length-2*lead)/5), 6), 400)
	spots := []spot{a, a.plus(u, min(lead, length/4))}
	side := 1.0
	for k := range n {
		t := min(lead, length/4) + (length-2*min(lead, length/4))*(float64(k)+0.5)/float64(n)
		spots = append(spots, a.plus(u, t).plus(u.left(), side*swing))
		side = -side
	}
	c.path(append(spots, b.plus(u, -min(lead, length/4)), b), false, p)
}

// strut is a thin member with a ring at each end.
func (c *canvas) strut(s Strut) {
	p, ring := linePen, ringPen
	if s.Role == Other {
		p, ring = otherPen, otherPen
	}
	a, b := c.at(s.From), c.at(s.To)
	n := unit(a, b).left()
	c.line(a.plus(n, 2), b.plus(n, 2), p)
	c.line(a.plus(n, -2), b.plus(n, -2), p)
	c.circle(a, 4, ring)
	c.circle(b, 4, ring)
}

// sign draws the trade's sign of a support below its point, over it, or at it.
func (c *canvas) sign(s Sign) {
	p, down := c.at(s.At), 1.0
	if s.Over {
		down = -1
	}
	at := func(x, y float64) spot { return spot{p.x + x, p.y + down*y} }
	footing := func(y float64) {
		from, to := at(-16, y), at(16, y)
		if s.Over {
			from, to = to, from
		}
		c.hatch(from, to, false)
	}
	switch s.Kind {
	case PinSign:
		c.path([]spot{p, at(-10, 17), at(10, 17)}, true, ringPen)
		footing(17)
	case RollerSign:
		c.path([]spot{p, at(-9, 12), at(9, 12)}, true, ringPen)
		c.circle(at(-5, 15), 3, ringPen)
		c.circle(at(5, 15), 3, ringPen)
		footing(18)
	case HingeSign:
		c.circle(p, 4.5, ringPen)
	case WheelSign:
		const r = 13.0
		hub := spot{p.x + r*s.Out.X, p.y - r*s.Out.Y}
		c.circle(hub, r, ringPen)
		c.circle(hub, 2, solidPen)
	case SheaveSign:
		c.circle(p, 12, ringPen)
		c.circle(p, 9, thinPen)
		c.circle(p, 3, ringPen)
	}
}

// corner draws an angle: its arc, and the sides that nothing else shows.
func (c *canvas) corner(s Corner) {
	at, r := c.at(s.At), cornerUnits(s)
	c.arc(at, r, s.From, s.Span, thinPen)
	for i, a := range []float64{s.From, s.From + s.Span} {
		if s.Legs[i] {
			c.line(at, at.plus(aim(a), 1.6*r), legPen)
		}
	}
}

// cornerUnits is the radius of an angle's arc: wider where it is sharp.
func cornerUnits(s Corner) float64 { return min(max(26, 16/max(s.Span, 0.1)), 52) }

func (c *canvas) square(s Square) {
	const side = 9.0
	at, one, two := c.at(s.At), aim(s.One), aim(s.Two)
	c.path([]spot{at.plus(one, side), at.plus(one, side).plus(two, side), at.plus(two, side)}, false, finePen)
}

// point marks a named place: a dot, a dot in a ring for the pivot, a small cross
// off the body.
func (c *canvas) point(s Mark) {
	p := c.at(s.At)
	switch {
	case s.Role == Pivot:
		c.circle(p, 7.5, pen{linePen.look, heavyInk})
		c.circle(p, 3.5, solidPen)
	case s.Off:
		c.line(spot{p.x - 3, p.y}, spot{p.x + 3, p.y}, thinPen)
		c.line(spot{p.x, p.y - 3}, spot{p.x, p.y + 3}, thinPen)
	default:
		c.circle(p, 2.6, solidPen)
	}
}
