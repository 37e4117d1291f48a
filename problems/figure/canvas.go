package figure

import (
	"fmt"
	"math"
	"strings"
)

// canvas is an SVG being drawn, and a coarse map of what is inked, by which
// letters find their places.
type canvas struct {
	frame
	width, height float64
	out           strings.Builder
	cols, rows    int
	inked         []float32
	boxes         []lettered
	strokes       []stroke      // all that is drawn but letters
	faces         []stroke      // of what is solid
	seats         []captionSeat // room for the seats of one caption
	unplaced      []Length      // lengths that found no place beside what they measure
	low, high     spot          // of all that is drawn
}

// mapCell is the size of a cell of the map of ink.
const mapCell = 4.0

// What it costs letters to lie over ink, for each cell of the map.
const (
	lightInk = 0.4 // hatching, water, lines of action
	plainInk = 2.0
	heavyInk = 6.0 // arrows, the body, marks, dimensions
	textInk  = 15.0
)

func newCanvas(width, height float64) *canvas {
	c := &canvas{width: max(width, 1), height: max(height, 1)}
	c.cols, c.rows = int(c.width/mapCell)+1, int(c.height/mapCell)+1
	c.inked = make([]float32, c.cols*c.rows)
	c.low, c.high = spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	return c
}

// at is where a place of the scene is on the canvas.
func (c *canvas) at(v Vec) spot {
	p := c.frame.spot(v)
	return spot{margin + p.x*unitsPerDot, margin + p.y*unitsPerDot}
}

// units are metres on the canvas.
func (c *canvas) units(metres float64) float64 { return metres * c.scale * unitsPerDot }

func (p spot) plus(v spot, by float64) spot { return spot{p.x + v.x*by, p.y + v.y*by} }

// aim is the unit vector of an angle on the canvas, where y is down.
func aim(angle float64) spot { return spot{math.Cos(angle), -math.Sin(angle)} }

// left is a unit vector turned a quarter anticlockwise, as seen.
func (p spot) left() spot { return spot{p.y, -p.x} }

func (c *canvas) reach(p spot) {
	c.low = spot{min(c.low.x, p.x), min(c.low.y, p.y)}
	c.high = spot{max(c.high.x, p.x), max(c.high.y, p.y)}
}

// bounds are the corners of the picture: what is drawn, with a margin.
func (c *canvas) bounds() (low, high spot) {
	if !(c.high.x >= c.low.x) {
		return spot{}, spot{c.width, c.height}
	}
	return spot{c.low.x - margin, c.low.y - margin}, spot{c.high.x + margin, c.high.y + margin}
}

// pen is how a line is drawn: its SVG attributes, and what it costs letters to
// cover it.
type pen struct {
	look string
	ink  float32
}

// The pens. What differs in meaning differs in width or dashes, never in colour
// alone.
var (
	finePen   = pen{`stroke="#000" stroke-width="0.8" fill="none"`, lightInk}
	facePen   = pen{`stroke="#000" stroke-width="1.4" fill="none"`, plainInk}
	linePen   = pen{`stroke="#000" stroke-width="1.2" fill="none"`, plainInk}
	bodyPen   = pen{`stroke="#000" stroke-width="1.6" fill="#fff" stroke-linejoin="round"`, heavyInk}
	shellPen  = pen{`stroke="#000" stroke-width="2" fill="none" stroke-linejoin="round"`, plainInk}
	loadPen   = pen{`stroke="#000" stroke-width="1.2" fill="#f0f0f0" stroke-linejoin="round"`, plainInk}
	solidPen  = pen{`fill="#000"`, heavyInk}
	greyPen   = pen{`fill="#666"`, heavyInk}
	ringPen   = pen{`stroke="#000" stroke-width="1.2" fill="#fff"`, heavyInk}
	otherPen  = pen{`stroke="#666" stroke-width="1" fill="none" stroke-dasharray="2 3"`, plainInk}
	arrowPen  = pen{`stroke="#000" stroke-width="1.8" fill="none"`, heavyInk}
	chosenPen = pen{`stroke="#000" stroke-width="3.2" fill="none"`, heavyInk}
	actionPen = pen{`stroke="#000" stroke-width="0.9" fill="none" stroke-dasharray="9 3 2 3"`, lightInk}
	armPen    = pen{`stroke="#000" stroke-width="2.4" fill="none" stroke-dasharray="6 3"`, plainInk}
	legPen    = pen{`stroke="#000" stroke-width="0.8" fill="none" stroke-dasharray="3 3"`, lightInk}
	lengthPen = pen{`stroke="#000" stroke-width="0.8" fill="none"`, heavyInk}
	leadPen   = pen{`stroke="#000" stroke-width="0.6" fill="none" stroke-dasharray="1 3"`, lightInk}
	thinPen   = pen{`stroke="#000" stroke-width="0.8" fill="none"`, plainInk}
)

func (c *canvas) line(a, b spot, p pen) {
	fmt.Fprintf(&c.out, `<line x1="%s" y1="%s" x2="%s" y2="%s" %s/>`+"\n", num(a.x), num(a.y), num(b.x), num(b.y), p.look)
	c.mark(a, b, p.ink)
}

// path draws through spots; closed joins the last to the first.
func (c *canvas) path(spots []spot, closed bool, p pen) {
	if len(spots) == 0 {
		return
	}
	element := "polyline"
	if closed {
		element = "polygon"
	}
	fmt.Fprintf(&c.out, `<%s points="`, element)
	for i, s := range spots {
		if i > 0 {
			c.out.WriteByte(' ')
			c.mark(spots[i-1], s, p.ink)
		}
		c.out.WriteString(num(s.x) + "," + num(s.y))
	}
	fmt.Fprintf(&c.out, `" %s/>`+"\n", p.look)
	if closed {
		c.mark(spots[len(spots)-1], spots[0], p.ink)
	}
}

func (c *canvas) circle(at spot, r float64, p pen) {
	fmt.Fprintf(&c.out, `<circle cx="%s" cy="%s" r="%s" %s/>`+"\n", num(at.x), num(at.y), num(r), p.look)
	n := int(r/2) + 8
	for k := range n {
		c.mark(at.plus(aim(2*math.Pi*float64(k)/float64(n)), r), at.plus(aim(2*math.Pi*float64(k+1)/float64(n)), r), p.ink)
	}
}

// arc draws part of a circle, from an angle through a span, anticlockwise.
func (c *canvas) arc(at spot, r, from, span float64, p pen) {
	n := int(math.Abs(span)*r/4) + 4
	var spots []spot
	for k := range n + 1 {
		spots = append(spots, at.plus(aim(from+span*float64(k)/float64(n)), r))
	}
	c.path(spots, false, p)
}

// head is an arrow's filled head, its tip at a spot.
func (c *canvas) head(tip, along spot, length float64) { c.headOf(tip, along, length, solidPen) }

func (c *canvas) headOf(tip, along spot, length float64, p pen) {
	back := tip.plus(along, -length)
	side := along.left()
	c.path([]spot{tip, back.plus(side, 0.36*length), back.plus(side, -0.36*length)}, true, p)
}

// stroke is a straight part of what is drawn.
type stroke struct{ a, b spot }

// mark notes ink along a line.
func (c *canvas) mark(a, b spot, ink float32) {
	c.reach(a)
	c.reach(b)
	if ink != textInk {
		c.strokes = append(c.strokes, stroke{a, b})
	}
	n := int(math.Hypot(b.x-a.x, b.y-a.y)/(mapCell/2)) + 1
	if n > 4*(c.cols+c.rows) {
		return // far outside
	}
	for k := range n + 1 {
		t := float64(k) / float64(n)
		if q := c.cell(spot{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}); q != nil {
			*q = max(*q, ink)
		}
	}
}

func (c *canvas) cell(p spot) *float32 {
	col, row := floor(p.x/mapCell), floor(p.y/mapCell)
	if col < 0 || row < 0 || col >= c.cols || row >= c.rows {
		return nil
	}
	return &c.inked[row*c.cols+col]
}

// along is the ink that a line would cross or run beside, without its ends.
func (c *canvas) along(a, b spot) float64 {
	const clear, beside = 6.0, 3.5
	length := math.Hypot(b.x-a.x, b.y-a.y)
	u := unit(a, b)
	cost := 0.0
	for t := clear; t < length-clear; t += mapCell {
		p, most := a.plus(u, t), float32(0)
		for _, off := range []float64{0, -beside, beside} {
			q := c.cell(p.plus(u.left(), off))
			if q == nil || *q >= textInk {
				return never
			}
			most = max(most, *q)
		}
		cost += float64(most)
	}
	return cost
}
