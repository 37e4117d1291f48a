package figure

import (
	"cmp"
	"math"
	"slices"
)

// crowded is what a dimension may cost at most: one that crosses more, or lies
// farther off, is better told in the legend.
const crowded = 90.0

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
	best := layOut{cost: crowded}
	for off := 18.0; off <= 170; off += 4 {
		for i, side := range []float64{1, -1} {
			o := layOut{p: a.plus(n, side*off), q: b.plus(n, side*off), away: spot{n.x * side, n.y * side}, cost: 0.12*off + 3*float64(i)}
			if !c.holds(o.p) || !c.holds(o.q) || o.cost >= best.cost {
				continue
			}
			if o.cost += c.behindFace(a, b, o); o.cost >= best.cost {
				continue
			}
			o.cost += 2*c.along(o.p, o.q) + 0.5*c.along(a.plus(n, side*6), o.p) + 0.5*c.along(b.plus(n, side*6), o.q)
			if o.cost >= best.cost {
				continue
			}
			for _, s := range c.captionSeats(o.p, o.q, o.away, half) {
				o.where, o.gap = s.boxAt(w), s.gap
				cost := o.cost + s.cost
				if cost += c.price(o.where); cost < best.cost && c.legible(o, a, b, half) {
					best, best.cost = o, cost
				}
			}
		}
	}
	if best.cost >= crowded {
		c.unplaced = append(c.unplaced, l)
		return
	}
	for _, s := range best.lines(a, b, half) {
		c.line(s.a, s.b, s.pen)
	}
	c.write(f, best.where)
}

// behindFace is what it costs that something solid lies between a dimension and
// what it measures, or in the way of its lines: it would seem to be of the wall.
func (c *canvas) behindFace(a, b spot, o layOut) (cost float64) {
	across := stroke{spot{(a.x + b.x) / 2, (a.y + b.y) / 2}, spot{(o.p.x + o.q.x) / 2, (o.p.y + o.q.y) / 2}}
	for _, s := range []stroke{across, {a.plus(o.away, 1), o.p}, {b.plus(o.away, 1), o.q}, {o.p, o.q}} {
		for _, f := range c.faces {
			if s.crosses(f) {
				cost += 12
			}
		}
	}
	return cost
}

// legible reports whether no line of a dimension goes through letters, its own
// or others.
func (c *canvas) legible(o layOut, a, b spot, half float64) bool {
	for _, l := range o.lines(a, b, half) {
		if o.where.tight().crossedBy(l.stroke) {
			return false
		}
		for _, box := range c.boxes {
			if box.tight().crossedBy(l.stroke) {
				return false
			}
		}
	}
	return true
}

// lengths are the dimensions of a scene, the shortest first: a longer one goes
// outside a shorter, so that neither's extension lines cross the other.
func (s Scene) lengths() (out []Length) {
	for _, shape := range s.Shapes {
		if l, ok := shape.(Length); ok {
			out = append(out, l)
		}
	}
	long := func(l Length) float64 { d := l.To.minus(l.From); return d.dot(d) }
	slices.SortStableFunc(out, func(a, b Length) int { return cmp.Compare(long(a), long(b)) })
	return out
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
	end := 8.0
	if math.Abs(u.x) > axial && math.Abs(u.y) > axial {
		end = 40 // beyond a slanted line it seems to belong to nothing
	}
	c.seats = append(out, captionSeat{perch{q.plus(u, 6), u, end}, 0}, captionSeat{perch{p.plus(u, -6), spot{-u.x, -u.y}, end + 0.2}, 0})
	return c.seats
}

// layOut is one way to draw a dimension.
type layOut struct {
	p, q  spot
	away  spot // a unit vector from what is measured
	where box
	gap   float64 // where its caption breaks it, in units from p; 0 if that is beside
	cost  float64
}

// holds reports whether a spot is well inside the canvas.
func (c *canvas) holds(p spot) bool {
	return p.x >= margin && p.y >= margin && p.x <= c.width-margin && p.y <= c.height-margin
}

// penned is a stroke with its pen.
type penned struct {
	stroke
	pen pen
}

// lines are the extension lines from what is measured, the oblique strokes at
// the ends, and the line, in two where the caption breaks it.
func (o layOut) lines(a, b spot, half float64) []penned {
	u := unit(o.p, o.q)
	out := make([]penned, 0, 6)
	for _, end := range [][2]spot{{a, o.p}, {b, o.q}} {
		out = append(out, penned{stroke{end[0].plus(o.away, 7), end[1].plus(o.away, 4)}, finePen},
			penned{stroke{end[1].plus(u, -4).plus(o.away, -4), end[1].plus(u, 4).plus(o.away, 4)}, linePen})
	}
	if o.gap == 0 {
		return append(out, penned{stroke{o.p, o.q}, lengthPen})
	}
	return append(out, penned{stroke{o.p, o.p.plus(u, o.gap-half)}, lengthPen}, penned{stroke{o.p.plus(u, o.gap+half), o.q}, lengthPen})
}
