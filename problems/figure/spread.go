package figure

import "math"

// spreadHeight is how far off the edge of a spread load is where it is
// greatest, in dots.
func (l layout) spreadHeight() float64 { return max(l.arrow-dotsDown, dotsDown) }

// row of arrows: how many cells there are from one to the next, about.
const (
	spreadColumns = 5
	spreadRows    = 2
)

// spread draws a load by cells where it presses along an axis square to what
// it lies on, and of dots elsewhere.
func (d *drawing) spread(s Spread) {
	a, b, u := d.spot(s.From), d.spot(s.To), heading(s.Angle)
	switch {
	case math.Abs(a.y-b.y) < 0.5 && math.Abs(u.X) < axial:
		d.levelSpread(s, a, b, int(sign1(u.Y)))
	case math.Abs(a.x-b.x) < 0.5 && math.Abs(u.Y) < axial:
		d.uprightSpread(s, a, b, -int(sign1(u.X)))
	default:
		d.slantedSpread(s, a, b, u)
	}
}

// share is how much of its greatest the load is, at a part of its length.
func (s Spread) share(t float64) float64 { return s.Start + t*(s.End-s.Start) }

// levelSpread presses up or down; off is the way from the line to the edge, in
// rows.
func (d *drawing) levelSpread(s Spread, a, b spot, off int) {
	c0, row := cellOf(a)
	c1, _ := cellOf(b)
	full := d.spreadHeight() / dotsDown
	row += off * s.Lane * (1 + int(math.Round(full)))
	edge := func(t float64) int { return row + off*(1+int(math.Round(full*s.share(t)))) }
	if s.Lane > 0 {
		d.level(row, c0, c1, 1, s.Role, thin)
	}
	if s.Start == s.End {
		d.level(edge(0), c0, c1, 1, s.Role, thin)
	} else {
		d.trace(d.edgeSpot(s, a, 0), d.edgeSpot(s, b, 1), whole, s.Role, thin)
	}
	n := max(int(math.Round(math.Abs(float64(c1-c0))/spreadColumns)), 1)
	for k := range n + 1 {
		t := float64(k) / float64(n)
		c := c0 + int(math.Round(t*float64(c1-c0)))
		top := edge(t)
		if top == row+off { // nothing acts here
			continue
		}
		if s.Start != s.End {
			top -= off // the edge itself is drawn of dots
		}
		d.upright(c, row+off, top, 1, s.Role, thin)
		d.spreadHead(c, row+off, s)
	}
}

// uprightSpread presses left or right; off is the way from the line to the
// edge, in columns.
func (d *drawing) uprightSpread(s Spread, a, b spot, off int) {
	col, r0 := cellOf(a)
	_, r1 := cellOf(b)
	full := d.spreadHeight() / dotsAcross
	col += off * s.Lane * (1 + int(math.Round(full)))
	edge := func(t float64) int { return col + off*(1+int(math.Round(full*s.share(t)))) }
	if s.Lane > 0 {
		d.upright(col, r0, r1, 1, s.Role, thin)
	}
	if s.Start == s.End {
		d.upright(edge(0), r0, r1, 1, s.Role, thin)
	} else {
		d.trace(d.edgeSpot(s, a, 0), d.edgeSpot(s, b, 1), whole, s.Role, thin)
	}
	n := max(int(math.Round(math.Abs(float64(r1-r0))/spreadRows)), 1)
	for k := range n + 1 {
		t := float64(k) / float64(n)
		r := r0 + int(math.Round(t*float64(r1-r0)))
		if far := edge(t); far != col+off {
			if s.Start != s.End {
				far -= off
			}
			d.level(r, col+off, far, 1, s.Role, thin)
			d.spreadHead(col+off, r, s)
		}
	}
}

func (d *drawing) slantedSpread(s Spread, a, b spot, u Vec) {
	d.trace(d.edgeSpot(s, a, 0), d.edgeSpot(s, b, 1), whole, s.Role, thin)
	if s.Lane > 0 {
		d.trace(d.footSpot(s, a), d.footSpot(s, b), whole, s.Role, thin)
	}
	n := max(int(math.Round(math.Hypot(b.x-a.x, b.y-a.y)/(spreadColumns*dotsAcross))), 1)
	for k := range n + 1 {
		t := float64(k) / float64(n)
		at := spot{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}
		if s.share(t)*d.spreadHeight() < dotsDown {
			continue
		}
		foot, clear := d.footSpot(s, at), d.spreadClear(u)
		head := spot{foot.x - u.X*clear, foot.y + u.Y*clear}
		d.trace(d.edgeSpot(s, at, t), head, whole, s.Role, thin)
		c, r := cellOf(head)
		d.spreadHead(c, r, s)
	}
}

// spreadClear is how far an arrow of a load stops from what it presses on.
func (d *drawing) spreadClear(u Vec) float64 {
	return max(math.Abs(u.X)*dotsAcross, math.Abs(u.Y)*dotsDown)
}

// footSpot is where the load presses on, from the place on the line beneath it.
func (d *drawing) footSpot(s Spread, at spot) spot {
	u := heading(s.Angle)
	off := float64(s.Lane) * (d.spreadHeight() + d.spreadClear(u))
	return spot{at.x - u.X*off, at.y + u.Y*off}
}

// edgeSpot is a place on the load's edge, from the place it presses on.
func (d *drawing) edgeSpot(s Spread, at spot, t float64) spot {
	u, foot := heading(s.Angle), d.footSpot(s, at)
	off := d.spreadHeight()*s.share(t) + d.spreadClear(u)
	return spot{foot.x - u.X*off, foot.y + u.Y*off}
}

func (d *drawing) spreadHead(col, row int, s Spread) {
	d.put(col, row, d.head(s.Angle), s.Role, sign)
}

// nameSpread writes the load's caption beyond its edge, at its fuller part.
func (d *drawing) nameSpread(s Spread) {
	if s.Caption == (Caption{}) {
		return
	}
	a, b, u := d.spot(s.From), d.spot(s.To), heading(s.Angle)
	parts := []float64{0.5, 0.35, 0.65, 0.8, 0.2, 1, 0}
	switch {
	case s.Start < s.End:
		parts = []float64{0.85, 0.7, 1, 0.5}
	case s.Start > s.End:
		parts = []float64{0.15, 0.3, 0, 0.5}
	}
	var seats []seat
	if s.Stacked {
		seats = d.besideSpread(s, a, b)
	}
	for i, t := range parts {
		if s.Stacked {
			break
		}
		e := d.edgeSpot(s, spot{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}, t)
		for j, reach := range []float64{dotsDown, 2 * dotsDown} {
			col, row := cellOf(spot{e.x - u.X*reach, e.y + u.Y*reach})
			side := 0
			if math.Abs(u.X) > 0.5 {
				side = -int(sign1(u.X))
			}
			seats = append(seats, seat{col, row, side, float64(i) + 2*float64(j)})
		}
	}
	col, row := cellOf(d.edgeSpot(s, spot{(a.x + b.x) / 2, (a.y + b.y) / 2}, 0.5))
	d.must([]string{s.Caption.Full(d.ascii), s.Caption.Short(d.ascii)}, seats, s.Role, col, row)
}

// fullEnds are the ends at which a load is not nothing.
func (s Spread) fullEnds() (ends []float64) {
	for _, t := range []float64{0, 1} {
		if s.share(t) > 0.5 {
			ends = append(ends, t)
		}
	}
	return ends
}

// besideSpread are the seats beyond the ends of a load, where no other of its
// stack is.
func (d *drawing) besideSpread(s Spread, a, b spot) (seats []seat) {
	for i, t := range s.fullEnds() {
		at, along := a, unit(b, a)
		if t == 1 {
			at, along = b, unit(a, b)
		}
		foot, edge := d.footSpot(s, at), d.edgeSpot(s, at, t)
		for j, part := range []float64{0.5, 0.75, 0.25} {
			for k, reach := range []float64{1, 2, 3} {
				step := reach * max(math.Abs(along.x)*dotsAcross, math.Abs(along.y)*dotsDown)
				col, row := cellOf(spot{foot.x + part*(edge.x-foot.x) + step*along.x, foot.y + part*(edge.y-foot.y) + step*along.y})
				side := 0
				if math.Abs(along.x) > 0.5 {
					side = int(sign1(along.x))
				}
				seats = append(seats, seat{col, row, side, 3*float64(i) + float64(j) + 2*float64(k)})
			}
		}
	}
	return seats
}

// turn draws the arc of a couple about its place, open on the side it leads
// to.
func (d *drawing) turn(t Turn) {
	col, row := d.cell(t.At)
	side, top, foot, head := -1, '╭', '╰', d.head(0)
	if !t.Clockwise {
		side, top, foot, head = 1, '╮', '╯', d.head(math.Pi)
	}
	level, upright := '─', '│'
	if d.ascii {
		top, foot, level, upright = '.', '\'', '-', '|'
	}
	for _, c := range []struct {
		across, down int
		r            rune
	}{{2, -1, top}, {1, -1, level}, {0, -1, level}, {-1, -1, level}, {2, 0, upright}, {2, 1, foot}, {1, 1, level}} {
		d.under(col+side*c.across, row+c.down, c.r, t.Role, thin)
	}
	if q := d.at(col-2*side, row-1); q != nil && q.ink < sign {
		d.put(col-2*side, row-1, head, t.Role, sign)
	}
}
