package figure

import "math"

// dimension draws a length in SVG: a line beside what it measures, with short
// oblique strokes at its ends so that none is taken for a force, extension lines
// from what it measures, and its caption in a gap or beside.
func (c *canvas) dimension(l Length) {
	a, b := c.at(l.From), c.at(l.To)
	u := unit(a, b)
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length < 2 {
		return
	}
	n := u.left()
	// Below a level line first, and left of an upright one.
	if n.y < -1e-6 || math.Abs(n.y) < 1e-6 && n.x > 0 {
		n = spot{-n.x, -n.y}
	}
	f := form{runs: l.Caption.runs()}
	w, h := f.width(), ascent+descent
	half := math.Min(w/2/max(math.Abs(u.x), 1e-9), h/2/max(math.Abs(u.y), 1e-9)) + 3 // of the gap that the caption needs
	best := layOut{cost: math.Inf(1)}
	for off := 18.0; off <= 170; off += 4 {
		for i, side := range []float64{1, -1} {
			o := layOut{p: a.plus(n, side*off), q: b.plus(n, side*off), off: side * off, cost: 0.12*off + 3*float64(i)}
			if !c.holds(o.p) || !c.holds(o.q) || o.cost >= best.cost {
				continue
			}
			o.cost += 4*c.along(o.p, o.q) + c.along(a.plus(n, side*6), o.p) + c.along(b.plus(n, side*6), o.q)
			if o.cost >= best.cost {
				continue
			}
			away := spot{n.x * side, n.y * side}
			for _, s := range c.captionSeats(o.p, o.q, away, half) {
				where := s.boxAt(w)
				if cost := o.cost + s.cost + c.price(where, best.cost-o.cost); cost < best.cost {
					best, best.cost, best.where, best.gap = o, cost, where, s.gap
				}
			}
		}
	}
	if best.cost >= never {
		return // no room at all; the statement tells it too
	}
	c.layDown(best, a, b, n, u, half)
	c.write(f, best.where, true)
}

// captionSeat is a perch for a dimension's caption, and where it breaks the line.
type captionSeat struct {
	perch
	gap float64
}

// captionSeats are in a gap of the line, the middle first, or else beside it or
// beyond its ends. The slice is used again by the next call.
func (c *canvas) captionSeats(p, q, away spot, half float64) []captionSeat {
	u, length := unit(p, q), math.Hypot(q.x-p.x, q.y-p.y)
	out := c.seats[:0]
	for i, part := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		at, cost := p.plus(u, part*length), 0.8*float64(i)
		if gap := part * length; gap-half > 11 && gap+half < length-11 {
			out = append(out, captionSeat{perch{at, spot{}, cost}, gap})
			continue
		}
		out = append(out, captionSeat{perch{at.plus(away, 4), away, cost + 2}, 0}, captionSeat{perch{at.plus(away, -4), spot{-away.x, -away.y}, cost + 2.5}, 0})
	}
	c.seats = append(out, captionSeat{perch{q.plus(u, 6), u, 6}, 0}, captionSeat{perch{p.plus(u, -6), spot{-u.x, -u.y}, 6.2}, 0})
	return c.seats
}

// layOut is one way to draw a dimension.
type layOut struct {
	p, q  spot
	off   float64
	where box
	gap   float64 // where its caption breaks it, in units from p; 0 if that is beside
	cost  float64
}

// holds reports whether a spot is well inside the canvas.
func (c *canvas) holds(p spot) bool {
	return p.x >= margin && p.y >= margin && p.x <= c.width-margin && p.y <= c.height-margin
}

func (c *canvas) layDown(o layOut, a, b, n, u spot, half float64) {
	away := spot{n.x * sign1(o.off), n.y * sign1(o.off)}
	for _, end := range [][2]spot{{a, o.p}, {b, o.q}} {
		c.line(end[0].plus(away, 7), end[1].plus(away, 4), finePen)
		c.line(end[1].plus(u, -4).plus(away, -4), end[1].plus(u, 4).plus(away, 4), linePen)
	}
	if o.gap == 0 {
		c.line(o.p, o.q, lengthPen)
		return
	}
	c.line(o.p, o.p.plus(u, o.gap-half), lengthPen)
	c.line(o.p.plus(u, o.gap+half), o.q, lengthPen)
}
