package figure

import "math"

// The learner's axes in SVG.

const (
	axisLong  = 34.0
	axisUnits = 74.0 // what is kept free for axes that find no room in the figure
)

// axes puts the axes where nothing else is, near what is drawn. It is false,
// and nothing is drawn, if there is no such place.
func (c *canvas) axes(s Axes) bool {
	low, high := c.low, c.high
	best, origin := math.Inf(1), spot{}
	for y := margin; y <= c.height-margin; y += mapCell {
		for x := margin; x <= c.width-margin; x += mapCell {
			at := spot{x, y}
			// Outside the picture they make it larger: a corner within is better.
			out := max(low.x-x, x-high.x, 0) + max(low.y-y, y-high.y, 0)
			cost := 2*out + math.Min(math.Abs(x-low.x), math.Abs(high.x-x)) + math.Min(math.Abs(y-low.y), math.Abs(high.y-y))
			if cost < best && c.freeForAxes(s, at) {
				best, origin = cost, at
			}
		}
	}
	if math.IsInf(best, 1) {
		return false
	}
	for _, w := range s.ways() {
		u := aim(w.angle)
		tip := origin.plus(u, axisLong)
		c.line(origin, tip, thinPen)
		side := u.left()
		c.path([]spot{tip.plus(u, -7).plus(side, 3), tip, tip.plus(u, -7).plus(side, -3)}, false, thinPen)
		f := form{runs: symbols(w.name)}
		c.write(f, perch{tip.plus(u, 3), u, 0}.boxAt(f.width()))
	}
	c.circle(origin, 1.8, solidPen)
	return true
}

// freeForAxes reports whether axes from an origin, with their names, would touch
// nothing.
func (c *canvas) freeForAxes(s Axes, at spot) bool {
	const air = 6.0
	if c.price(box{spot{at.x - air, at.y - air}, spot{at.x + air, at.y + air}}) > 0 {
		return false
	}
	for _, w := range s.ways() {
		u := aim(w.angle)
		for t := air; t <= axisLong; t += air {
			p := at.plus(u, t)
			if c.price(box{spot{p.x - air, p.y - air}, spot{p.x + air, p.y + air}}) > 0 {
				return false
			}
		}
		f := form{runs: symbols(w.name)}
		if c.price(perch{at.plus(u, axisLong+3), u, 0}.boxAt(f.width())) > 0 {
			return false
		}
	}
	return true
}
