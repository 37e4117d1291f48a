package figure

// Where letters are, and what goes through them.

// box is where letters are: from its upper left to its lower right.
type box struct{ low, high spot }

func (b box) meets(o box) bool {
	return b.low.x < o.high.x && o.low.x < b.high.x && b.low.y < o.high.y && o.low.y < b.high.y
}

// tight is where the letters of a box are at most: around them is some air.
func (b box) tight() box {
	return box{spot{b.low.x + 1, b.low.y + 2}, spot{b.high.x - 1, b.high.y - 3}}
}

// crossedBy reports whether a stroke goes through a box.
func (b box) crossedBy(s stroke) bool {
	if max(s.a.x, s.b.x) < b.low.x || min(s.a.x, s.b.x) > b.high.x || max(s.a.y, s.b.y) < b.low.y || min(s.a.y, s.b.y) > b.high.y {
		return false
	}
	from, to := 0.0, 1.0
	for _, side := range [...][3]float64{ // at + t by >= least
		{s.a.x, s.b.x - s.a.x, b.low.x}, {-s.a.x, s.a.x - s.b.x, -b.high.x},
		{s.a.y, s.b.y - s.a.y, b.low.y}, {-s.a.y, s.a.y - s.b.y, -b.high.y},
	} {
		at, by, least := side[0], side[1], side[2]
		switch {
		case by > 0:
			from = max(from, (least-at)/by)
		case by < 0:
			to = min(to, (least-at)/by)
		case at < least:
			return false
		}
	}
	return from <= to
}

// inkedIn reports whether the map has any ink within a box.
func (c *canvas) inkedIn(b box) bool {
	for row := max(floor(b.low.y/mapCell), 0); row <= min(floor(b.high.y/mapCell), c.rows-1); row++ {
		for col := max(floor(b.low.x/mapCell), 0); col <= min(floor(b.high.x/mapCell), c.cols-1); col++ {
			if c.inked[row*c.cols+col] > 0 {
				return true
			}
		}
	}
	return false
}
