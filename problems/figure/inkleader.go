package figure

import "math"

// Leaders in SVG: thin lines from letters that lie far off to what they name.

// plainlyOf is how far off letters are plainly of their place.
const plainlyOf = 22.0

func (s stroke) long() float64 { return math.Hypot(s.b.x-s.a.x, s.b.y-s.a.y) }

// leader is the line from a box to a spot, neither touched.
func (c *canvas) leader(b box, at spot) stroke {
	from := spot{min(max(at.x, b.low.x), b.high.x), min(max(at.y, b.low.y), b.high.y)}
	u := unit(from, at)
	return stroke{from.plus(u, 1), at.plus(u, -5)}
}

// leaderCost is what a leader crosses; letters it may not.
func (c *canvas) leaderCost(b box, at spot) (cost float64) {
	l := c.leader(b, at)
	if l.long() <= plainlyOf {
		return 0
	}
	for _, o := range c.boxes {
		if o.box.crossedBy(l) {
			return never
		}
	}
	for _, s := range c.strokes {
		if l.crosses(s) {
			cost += 4
		}
	}
	return cost
}

// crosses reports whether two strokes cross.
func (s stroke) crosses(o stroke) bool {
	side := func(a, b, p spot) float64 { return (b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x) }
	return side(s.a, s.b, o.a)*side(s.a, s.b, o.b) < 0 && side(o.a, o.b, s.a)*side(o.a, o.b, s.b) < 0
}
