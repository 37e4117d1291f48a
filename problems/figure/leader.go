package figure

import (
	"math"
	"slices"
	"unicode/utf8"
)

// A label that finds no clear place beside what it names is put where there is
// one, and a dotted line leads from it to that.

// must says a label near its place, or wherever there is room.
func (d *drawing) must(forms []string, seats []seat, role Role, col, row int) {
	if d.say(forms, seats, role, never/2) {
		return
	}
	for i := len(forms) - 1; i >= 0; i-- { // the shortest first: it is far off as it is
		if d.sayFar(narrow(forms[i], d.ascii), role, col, row) {
			return
		}
	}
}

const (
	// tries is how many of the nearest clear places a leader is tried from.
	tries = 80
	// nearby is how far off, in rows, a label is plainly of its place.
	nearby = 2.0
)

// sayFar writes a label at the place, of the nearest ones that are clear, from
// which a leader crosses least.
func (d *drawing) sayFar(text string, role Role, col, row int) bool {
	n := utf8.RuneCountInString(text)
	var clear []seat
	for r := range d.height {
		for c := 0; c+n <= d.width; c++ {
			if cost := d.price(c, r, n); cost < never {
				clear = append(clear, seat{c, r, 1, cost + rowsOff(c, r, n, col, row)})
			}
		}
	}
	slices.SortStableFunc(clear, func(a, b seat) int {
		switch {
		case a.cost < b.cost:
			return -1
		case a.cost > b.cost:
			return 1
		}
		return 0
	})
	best, where := math.Inf(1), seat{}
	for _, s := range clear[:min(len(clear), tries)] {
		if s.cost >= best {
			break
		}
		if cost := s.cost + d.leaderCost(s, n, col, row); cost < best {
			best, where = cost, s
		}
	}
	switch {
	case !math.IsInf(best, 1):
	case len(clear) > 0:
		where = clear[0]
	default:
		return false
	}
	d.lead(where, n, col, row)
	d.write(where.col, where.row, text, role)
	return true
}

// rowsOff is how far a text of n letters is from a cell, in rows.
func rowsOff(c, r, n, col, row int) float64 {
	across := max(c-col, col-(c+n-1), 0)
	return math.Hypot(float64(across)/CellAspect, float64(r-row))
}

// leader is the line from a text to a cell, both ends left out.
func leader(s seat, n, col, row int) (cells [][2]int) {
	from := [2]int{min(max(col, s.col-1), s.col+n), s.row}
	dc, dr := col-from[0], row-from[1]
	steps := max(abs(dc), abs(dr))
	for k := 1; k < steps; k++ {
		t := float64(k) / float64(steps)
		cells = append(cells, [2]int{from[0] + int(math.Round(t*float64(dc))), from[1] + int(math.Round(t*float64(dr)))})
	}
	return cells
}

// leaderCost is what a leader crosses; infinite if that is letters.
func (d *drawing) leaderCost(s seat, n, col, row int) (cost float64) {
	if rowsOff(s.col, s.row, n, col, row) <= nearby {
		return 0
	}
	for _, c := range leader(s, n, col, row) {
		switch q := d.at(c[0], c[1]); {
		case q == nil || q.letter:
			return math.Inf(1)
		case q.ink > bare:
			cost += 0.5
		}
	}
	return cost
}

// lead dots the leader, every second cell, where nothing else is.
func (d *drawing) lead(s seat, n, col, row int) {
	if rowsOff(s.col, s.row, n, col, row) <= nearby {
		return
	}
	for k, c := range leader(s, n, col, row) {
		if q := d.at(c[0], c[1]); k%2 == 0 && q != nil && q.ink == bare {
			d.put(c[0], c[1], d.pick(leadMark), Dimension, faint)
		}
	}
}
