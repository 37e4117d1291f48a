package figure

import "math"

// Forces, couples and spread loads in SVG.

// arrowEnds are the tail and tip of a force, just clear of its point.
func (c *canvas) arrowEnds(a Arrow) (tail, tip spot) {
	const clear, long = 5.0, arrowDots * unitsPerDot
	at, out := c.at(a.At), aim(a.ray().angle)
	if a.Arrives {
		return at.plus(out, long), at.plus(out, clear)
	}
	return at.plus(out, clear-2), at.plus(out, long)
}

func (c *canvas) arrow(a Arrow) {
	tail, tip := c.arrowEnds(a)
	p, size := arrowPen, 11.0
	if a.Role == Selected {
		p, size = chosenPen, 14
	}
	u := aim(a.Angle)
	c.line(tail, tip.plus(u, -size/2), p)
	c.head(tip, u, size)
}

const (
	turnRadius = 19.0
	turnSpan   = 1.25 * math.Pi
)

// turn draws a couple as an arc over its place, with a head where it leads.
func (c *canvas) turn(t Turn) {
	p := arrowPen
	switch t.Role {
	case Selected:
		p = chosenPen
	case Other:
		p = otherPen
	}
	c.arcArrow(c.at(t.At), turnRadius, turnSpan, t.Clockwise, p, 9)
}

// arcArrow is an arc open below, with a head at the end it turns to.
func (c *canvas) arcArrow(at spot, r, span float64, clockwise bool, p pen, size float64) {
	sense := 1.0
	if clockwise {
		sense = -1
	}
	from, to := math.Pi/2-sense*span/2, math.Pi/2+sense*span/2
	c.arc(at, r, from, to-from-sense*size/r/2, p) // it stops inside the head
	tip := to + sense*size/r/4
	c.head(at.plus(aim(tip), r), aim(to+sense*math.Pi/2), size)
}

// spreadUnits is how far off the edge of a spread load is at its greatest.
const spreadUnits = (arrowDots - 3) * unitsPerDot

// spread draws a load's edge, and arrows from it onto what it presses on.
func (c *canvas) spread(s Spread) {
	a, b, u := c.at(s.From), c.at(s.To), aim(s.Angle)
	p, filled := thinPen, solidPen
	if s.Role == Other {
		p, filled = otherPen, greyPen
	}
	c.line(c.onEdge(s, 0), c.onEdge(s, 1), pen{p.look, plainInk})
	if s.Lane > 0 {
		c.line(c.onFoot(s, 0), c.onFoot(s, 1), p)
	}
	n := max(int(math.Round(math.Hypot(b.x-a.x, b.y-a.y)/24)), 1)
	for k := range n + 1 {
		t := float64(k) / float64(n)
		off := spreadUnits * s.share(t)
		if off < 8 {
			continue
		}
		tip := c.onFoot(s, t)
		c.line(c.onEdge(s, t), tip.plus(u, -4), p)
		c.headOf(tip, u, 7, filled)
	}
}

// laneUnits is from a load to the one that is drawn beyond it.
const laneUnits = spreadUnits + 3

// onFoot is the place that a load presses on, at a part of its length.
func (c *canvas) onFoot(s Spread, t float64) spot {
	a, b := c.at(s.From), c.at(s.To)
	return a.plus(spot{b.x - a.x, b.y - a.y}, t).plus(aim(s.Angle), -barHalf-1-laneUnits*float64(s.Lane))
}

// onEdge is the place on a load's edge at a part of its length.
func (c *canvas) onEdge(s Spread, t float64) spot {
	return c.onFoot(s, t).plus(aim(s.Angle), -spreadUnits*s.share(t))
}

// besideSpread are the perches beyond the ends of a load, where no other of its
// stack is.
func (c *canvas) besideSpread(s Spread) (perches []perch) {
	for i, t := range s.fullEnds() {
		along := unit(c.at(s.From), c.at(s.To))
		if t == 0 {
			along = spot{-along.x, -along.y}
		}
		foot, edge := c.onFoot(s, t), c.onEdge(s, t)
		for j, part := range []float64{0.5, 0.75, 0.25} {
			at := spot{foot.x + part*(edge.x-foot.x), foot.y + part*(edge.y-foot.y)}
			for k, reach := range []float64{6, 12, 20} {
				perches = append(perches, perch{at.plus(along, reach), along, 3*float64(i) + float64(j) + 2*float64(k)})
			}
		}
	}
	return perches
}
