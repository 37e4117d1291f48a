package figure

import (
	"math"
	"slices"
	"unicode/utf8"
)

// A dimension is drawn beside what it measures, where it and its caption cover
// least; if that is too much it is left for the legend below the figure.
const dimensionLimit = 22

// dimension finds a place for a length, or leaves it to the legend.
func (d *drawing) dimension(s Scene, l Length) {
	a, b := d.spot(l.From), d.spot(l.To)
	full, short := l.Caption.Full(d.ascii), l.Caption.Short(d.ascii)
	full, short = narrow(full, d.ascii), narrow(short, d.ascii)
	best := &option{cost: dimensionLimit}
	for i, text := range []string{full, short} {
		penalty := float64(i) * shorter
		switch {
		case math.Abs(a.y-b.y) < 0.5:
			d.levelOptions(a, b, text, penalty, best)
		case math.Abs(a.x-b.x) < 0.5:
			d.uprightOptions(a, b, text, penalty, best)
		default:
			d.slantedOptions(a, b, text, penalty, best)
		}
	}
	if best.draw != nil {
		best.draw()
		return
	}
	if !d.besideMember(s, l, full) {
		d.unplaced = append(d.unplaced, l)
	}
}

// option is one way to draw a dimension.
type option struct {
	cost float64
	draw func()
}

// over is what a dimension's line covers in a cell.
func (d *drawing) over(col, row int) float64 {
	q := d.at(col, row)
	switch {
	case q == nil:
		return never
	case q.role == Dimension && !q.letter && q.text != 0:
		return 6
	case q.role == Ground:
		return 7
	}
	return crossing[q.ink]
}

// levelOptions are rows below and above: |--- L = 3.2 m ---|. A caption that
// does not fit between the ends goes beside them.
func (d *drawing) levelOptions(a, b spot, text string, penalty float64, best *option) {
	c0, row := cellOf(a)
	c1, _ := cellOf(b)
	c0, c1 = min(c0, c1), max(c0, c1)
	n := utf8.RuneCountInString(text)
	if c1-c0 < 1 {
		return
	}
	for away := 1; away <= d.height; away++ {
		for _, down := range []int{1, -1} {
			r := row + down*away
			if r < 0 || r >= d.height {
				continue
			}
			cost := penalty + 0.5*float64(away)
			if down < 0 {
				cost += 3
			}
			for c := c0; c <= c1 && cost < best.cost; c++ {
				if (c == c0 || c == c1) && d.endsHere(c, r) {
					continue // a chain of dimensions
				}
				cost += d.over(c, r)
			}
			if cost >= best.cost {
				continue
			}
			// Between the ends, or else right or left of them.
			for i, start := range []int{(c0+c1+1)/2 - n/2, c1 + 2, c0 - 1 - n} {
				c := cost + 2*float64(i)
				if i == 0 && start-2 < c0+1 {
					continue
				}
				from, to := start, n
				if i == 0 {
					from, to = start-1, n+2
				}
				c += d.price(from, r, to)
				if c >= best.cost {
					continue
				}
				*best = option{c, func() {
					d.levelDimension(c0, c1, r)
					if i == 0 {
						d.blank(from, r, to)
					}
					d.write(start, r, text, Dimension)
				}}
			}
		}
	}
}

func (d *drawing) levelDimension(c0, c1, r int) {
	line, left, right, both := '─', '├', '┤', '┼'
	if d.ascii {
		line, left, right, both = '-', '|', '|', '|'
	}
	if d.endsHere(c0, r) {
		left = both
	}
	if d.endsHere(c1, r) {
		right = both
	}
	for c := c0 + 1; c < c1; c++ {
		d.put(c, r, line, Dimension, shaft)
	}
	d.put(c0, r, left, Dimension, shaft)
	d.put(c1, r, right, Dimension, shaft)
}

// endsHere reports whether another dimension ends in the cell.
func (d *drawing) endsHere(col, row int) bool {
	switch q := d.at(col, row); {
	case q == nil || q.role != Dimension:
		return false
	default:
		return q.text == '├' || q.text == '┤' || q.text == '|'
	}
}

// blank takes the dimension's own line away where its caption stands.
func (d *drawing) blank(col, row, n int) {
	for c := col; c < col+n; c++ {
		if q := d.at(c, row); q != nil {
			*q = square{}
		}
	}
}

// uprightOptions are columns right and left, with the caption beside the
// middle.
func (d *drawing) uprightOptions(a, b spot, text string, penalty float64, best *option) {
	col, r0 := cellOf(a)
	_, r1 := cellOf(b)
	r0, r1 = min(r0, r1), max(r0, r1)
	n := utf8.RuneCountInString(text)
	for away := 2; away <= d.width/2; away++ {
		for _, side := range []int{-1, 1} {
			c := col + side*away
			if c < 0 || c >= d.width {
				continue
			}
			cost := penalty + 0.4*float64(away)
			for r := r0; r <= r1 && cost < best.cost; r++ {
				over := d.over(c, r)
				if (r == r0 || r == r1) && over < dimensionLimit {
					over = over/4 + d.elbow(c, r) // an end may touch an edge
				}
				cost += over
			}
			if cost >= best.cost {
				continue
			}
			for i, at := range []int{(r0 + r1) / 2, (r0 + r1 + 1) / 2, r1 - 1, r0 + 1, r1, r0} {
				if at < r0 || at > r1 {
					continue
				}
				for _, beside := range []int{1, -1} {
					start := c + 2
					if beside < 0 {
						start = c - 1 - n
					}
					total := cost + float64(i) + d.price(start, at, n)
					if beside != side {
						total++
					}
					if total < best.cost {
						*best = option{total, func() {
							d.uprightDimension(c, r0, r1)
							d.write(start, at, text, Dimension)
						}}
					}
				}
			}
		}
	}
}

// elbow is the cost of an end right beside a head, a point or a letter.
func (d *drawing) elbow(col, row int) float64 {
	for _, c := range []int{col - 1, col + 1} {
		if q := d.at(c, row); q != nil && q.ink == sign {
			return 6
		}
	}
	return 0
}

func (d *drawing) uprightDimension(c, r0, r1 int) {
	line, top, foot, single := '│', '┬', '┴', '↕'
	if d.ascii {
		line, top, foot, single = '|', '-', '-', '|'
	}
	for r := r0; r <= r1; r++ {
		d.put(c, r, line, Dimension, shaft)
	}
	if r0 == r1 {
		d.put(c, r0, single, Dimension, shaft)
		return
	}
	d.put(c, r0, top, Dimension, shaft)
	d.put(c, r1, foot, Dimension, shaft)
}

// slantedOptions are parallels, moved level from a steep line and upright from
// a flat one so that they stay within its rows or columns; dotted, with the
// caption beside the line.
func (d *drawing) slantedOptions(a, b spot, text string, penalty float64, best *option) {
	n := utf8.RuneCountInString(text)
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length < leastSlanted {
		return
	}
	u := unit(a, b)
	var line [][2]int
	move, upper := spot{x: 1}, sign1(u.x*u.y) // the upper side first: weights hang below
	if math.Abs(u.x) > math.Abs(u.y) {
		move, upper = spot{y: 1}, -1
	}
	for away := 6.0; away <= float64(d.width*dotsAcross)/2; away += 2 {
		for i, side := range []float64{upper, -upper} {
			p := spot{a.x + side*away*move.x, a.y + side*away*move.y}
			q := spot{b.x + side*away*move.x, b.y + side*away*move.y}
			cost := penalty + 0.2*away + 2*float64(i)
			last, line := [2]int{-1, -1}, line[:0]
			for _, s := range strokes(p, q, move) {
				for _, end := range []spot{s[0], s[1], {s[0].x - move.x, s[0].y - move.y}, {s[1].x + move.x, s[1].y + move.y}} {
					c, r := cellOf(end)
					if q := d.at(c, r); q != nil && q.letter {
						cost = never
					}
					line = append(line, [2]int{c, r})
				}
			}
			for t := 0.0; t <= length && cost < best.cost; t++ {
				c, r := cellOf(spot{p.x + t*u.x, p.y + t*u.y})
				if at := [2]int{c, r}; at != last {
					cost, last, line = cost+d.over(c, r), at, append(line, at)
					if q := d.at(c, r); q != nil && q.role == Ground {
						cost += dimensionLimit // it would seem to go on behind the wall
					}
				}
			}
			if cost += d.behindWall(a, b, p, q); cost >= best.cost {
				continue
			}
			for j, part := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
				c, r := cellOf(spot{p.x + part*length*u.x, p.y + part*length*u.y})
				for _, beside := range []int{1, -1} {
					start := c + 2
					if beside < 0 {
						start = c - 2 - n
					}
					if slices.ContainsFunc(line, func(at [2]int) bool { return at[1] == r && at[0] >= start-1 && at[0] <= start+n }) {
						continue // it would stand on the line that it is of
					}
					total := cost + 0.5*float64(j) + d.price(start, r, n)
					if float64(beside)*side*move.x < 0 {
						total++
					}
					if total < best.cost {
						*best = option{total, func() {
							d.slantedDimension(p, q, move)
							d.write(start, r, text, Dimension)
						}}
					}
				}
			}
		}
	}
}

// behindWall is what it costs a dimension from p to q that something solid lies
// between it and what it measures, from a to b: it would seem to be of the wall.
func (d *drawing) behindWall(a, b, p, q spot) float64 {
	from, to := spot{(a.x + b.x) / 2, (a.y + b.y) / 2}, spot{(p.x + q.x) / 2, (p.y + q.y) / 2}
	const steps = 40
	for k := range steps {
		t := (float64(k) + 0.5) / steps
		if c := d.at(cellOf(spot{from.x + t*(to.x-from.x), from.y + t*(to.y-from.y)})); c != nil && c.role == Ground {
			return 12
		}
	}
	return 0
}

// leastSlanted is the length in dots below which a dotted line and its strokes are
// no longer seen to be one.
const leastSlanted = 12

// strokes are the short ones square to the ends of a slanted dimension, whose
// sides move tells.
func strokes(p, q, move spot) (out [2][2]spot) {
	for i, end := range []spot{p, q} {
		out[i] = [2]spot{{end.x - 2*move.x, end.y - 2*move.y}, {end.x + 2*move.x, end.y + 2*move.y}}
	}
	return out
}

func (d *drawing) slantedDimension(p, q, move spot) {
	d.trace(p, q, dash{1, 2}, Dimension, shaft)
	if d.ascii {
		return
	}
	for _, s := range strokes(p, q, move) {
		d.trace(s[0], s[1], whole, Dimension, shaft)
	}
}

// besideMember writes a length that found no place of its own beside the
// member it is the whole length of.
func (d *drawing) besideMember(s Scene, l Length, text string) bool {
	for _, shape := range s.Shapes {
		m, ok := shape.(Line)
		if !ok || m.Role != Body || !(m.From == l.From && m.To == l.To || m.From == l.To && m.To == l.From) {
			continue
		}
		var seats []seat
		for i, part := range []float64{0.5, 0.6, 0.4, 0.7, 0.3} {
			at := l.From.plus(l.To.minus(l.From).times(part))
			col, row := d.cell(at)
			for _, s := range around(col, row) {
				s.cost += 2 * float64(i)
				seats = append(seats, s)
			}
		}
		return d.say([]string{text}, seats, Dimension, 9)
	}
	return false
}
