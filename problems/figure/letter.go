package figure

import (
	"math"
	"unicode/utf8"

	"github.com/mattn/go-runewidth"
)

// seat is a place for a label: the text begins right of the cell (side +1),
// ends left of it (-1), or is centred on it (0). The lower its cost the better.
type seat struct {
	col, row, side int
	cost           float64
}

// What it costs the line of a dimension to cross what is there. A label covers
// nothing, and nothing covers a label.
var crossing = [inks]float64{bare: 0, faint: 3, thin: 6, stout: 12, shaft: 18, sign: never}

const (
	never    = 1e6
	shorter  = 5   // for saying less than there is to say
	squeezed = 3   // for letters between two lines
	oneSpace = 0.5 // for letters one space from others, as words of one text are
)

// width of the standard terminal: a cell takes what is one column wide.
var columns = &runewidth.Condition{}

// narrow makes a text safe for cells of one column, in ASCII if asked.
func narrow(text string, ascii bool) string {
	safe := true
	for _, r := range text {
		safe = safe && r >= ' ' && r < 0x7f
	}
	if safe {
		return text
	}
	out := make([]rune, 0, len(text))
	for _, r := range text {
		if ascii && r >= 0x7f || columns.RuneWidth(r) != 1 {
			r = '?'
		}
		out = append(out, r)
	}
	return string(out)
}

// say puts one of the forms of a label, fullest first, where it costs least.
// It is false, and nothing is put, if that is more than the limit.
func (d *drawing) say(forms []string, seats []seat, role Role, limit float64) bool {
	best, where, which := math.Inf(1), seat{}, ""
	for i, form := range forms {
		form = narrow(form, d.ascii)
		n := utf8.RuneCountInString(form)
		for _, s := range seats {
			cost := s.cost + float64(i)*shorter
			if cost >= best {
				continue
			}
			s.col = s.start(n)
			if cost += d.price(s.col, s.row, n); cost < best {
				best, where, which = cost, s, form
			}
		}
	}
	if best > limit || which == "" {
		return false
	}
	d.write(where.col, where.row, which, role)
	return true
}

// start is the column where a text of n letters begins.
func (s seat) start(n int) int {
	switch s.side {
	case 1:
		return s.col
	case -1:
		return s.col - n + 1
	}
	return s.col - n/2
}

// price is what it costs to have n letters from a cell on: more than anything is
// worth where there is anything else already, or letters right beside, with
// which they would read as one word.
func (d *drawing) price(col, row, n int) float64 {
	if row < 0 || row >= d.height || col < 0 || col+n > d.width {
		return never
	}
	for c := col; c < col+n; c++ {
		if d.at(c, row).ink > bare {
			return never
		}
	}
	lines, cost := 0, 0.0
	for _, c := range []int{col - 2, col + n + 1} {
		if q := d.at(c, row); q != nil && q.letter {
			cost = oneSpace
		}
	}
	for _, c := range []int{col - 1, col + n} {
		switch q := d.at(c, row); {
		case q == nil:
		case q.letter:
			return never
		case q.ink > bare:
			lines++
		}
	}
	if lines == 2 {
		cost += squeezed
	}
	return cost
}

func (d *drawing) write(col, row int, text string, role Role) {
	over := bare
	for c := col; c < col+utf8.RuneCountInString(text); c++ {
		over = max(over, d.at(c, row).ink)
	}
	d.labels = append(d.labels, label{col, row, text, role, over})
	for _, r := range text {
		d.put(col, row, r, role, sign)
		d.at(col, row).letter = true
		col++
	}
}

// letter puts all names and measures, what matters most first: whatever comes
// later gives way, and dimensions go before the names of forces and points.
func (d *drawing) letter(s Scene) {
	for _, shape := range s.Shapes {
		switch s := shape.(type) {
		case Arrow:
			d.nameArrow(s)
		case Turn:
			d.nameTurn(s)
		case Spread:
			d.nameSpread(s)
		}
	}
	for _, role := range []Role{Pivot, Point} {
		for _, shape := range s.Shapes {
			if m, ok := shape.(Mark); ok && m.Role == role {
				d.nameMark(m)
			}
		}
	}
	for _, shape := range s.Shapes {
		if c, ok := shape.(Corner); ok {
			d.nameCorner(c)
		}
	}
	for _, shape := range s.Shapes {
		if l, ok := shape.(Length); ok {
			d.dimension(s, l)
		}
	}
	for _, shape := range s.Shapes {
		if w, ok := shape.(Word); ok {
			col, row := d.cell(w.At)
			seats := around(col, row)
			if w.Role == Ground { // below the hatching, rather than in the way above it
				seats = append(seats, seat{col, row + 2, 0, -1})
			}
			d.say([]string{w.Text}, seats, w.Role, 10)
		}
	}
}

// around are the seats beside a cell, best first: above it before below, for
// weights hang below.
func around(col, row int) []seat {
	return []seat{
		{col + 1, row - 1, 1, 0}, {col - 1, row - 1, -1, 0.5}, {col, row - 1, 0, 1},
		{col + 1, row + 1, 1, 1.5}, {col - 1, row + 1, -1, 2}, {col, row + 1, 0, 2.5},
		{col + 1, row, 1, 1}, {col - 1, row, -1, 1.2},
		{col + 2, row, 1, 2}, {col - 2, row, -1, 2.5},
		{col + 2, row - 1, 1, 3}, {col - 2, row - 1, -1, 3.5}, {col + 2, row + 1, 1, 4}, {col - 2, row + 1, -1, 4.5},
		{col, row - 2, 0, 5}, {col, row + 2, 0, 5.5}, {col + 3, row, 1, 6}, {col - 3, row, -1, 6.5},
		{col + 2, row - 2, 1, 7}, {col - 2, row - 2, -1, 7.5}, {col + 2, row + 2, 1, 8}, {col - 2, row + 2, -1, 8.5},
		{col, row + 3, 0, 9}, {col, row - 3, 0, 9},
	}
}

func (d *drawing) nameArrow(a Arrow) {
	tail, head := d.ends(a)
	outer, inner := head, tail
	if a.Arrives {
		outer, inner = tail, head
	}
	col, row := cellOf(outer)
	mc, mr := cellOf(spot{(outer.x + inner.x) / 2, (outer.y + inner.y) / 2})
	u := heading(a.ray().angle)
	sx, sy := int(sign1(u.X)), -int(sign1(u.Y))
	var seats []seat
	switch {
	case math.Abs(u.Y) < axial:
		seats = []seat{
			{col + 2*sx, row, sx, 0}, {col + sx, row, sx, 0.6}, {col, row - 1, 0, 1}, {col, row + 1, 0, 1.5},
			{mc, mr - 1, 0, 2}, {mc, mr + 1, 0, 2.5},
		}
	case math.Abs(u.X) < axial:
		seats = []seat{
			{col + 2, row, 1, 0}, {col - 2, row, -1, 0.3}, {col + 1, row, 1, 1}, {col - 1, row, -1, 1.2},
			{col, row + sy, 0, 3}, {col + 4, row, 1, 2.5}, {col - 4, row, -1, 2.6}, {mc + 2, mr, 1, 1.5}, {mc - 2, mr, -1, 1.8}, {mc + 1, mr, 1, 2}, {mc - 1, mr, -1, 2.2},
		}
	default:
		seats = []seat{
			{col + 2*sx, row, sx, 0}, {col + sx, row, sx, 0.6}, {col, row + sy, 0, 0.8}, {col - 2*sx, row, -sx, 1}, {col + sx, row + sy, sx, 1},
			{mc + 2*sx, mr - sy, sx, 2}, {mc - 2*sx, mr + sy, -sx, 2.5},
		}
	}
	for _, s := range around(col, row) {
		s.cost += 3
		seats = append(seats, s)
	}
	d.must([]string{Caption{Symbol: a.Symbol}.Short(d.ascii)}, seats, a.Role, col, row)
}

func (d *drawing) nameTurn(t Turn) {
	col, row := d.cell(t.At)
	text := Caption{Symbol: t.Symbol}.Short(d.ascii) + " " + d.turning(t.Clockwise)
	seats := around(col, row)
	for i := range seats {
		seats[i].cost = math.Abs(seats[i].cost - 5) // a couple has no point: a little way off
	}
	d.must([]string{text}, seats, t.Role, col, row)
}

func (d *drawing) nameMark(m Mark) {
	col, row := d.cell(m.At)
	name := m.Name
	switch {
	case m.Role == Pivot:
		turn := "+" + d.turning(m.Turn < 0)
		long, short := turn, turn
		if name != "" {
			long, short = name+" "+turn, name+turn
		}
		d.must([]string{long, short}, around(col, row), Pivot, col, row)
	case name == "":
	case m.Off:
		d.say([]string{name}, around(col, row), m.Role, 20)
	default:
		d.must([]string{name}, around(col, row), m.Role, col, row)
	}
}

func (d *drawing) nameCorner(c Corner) {
	at, r := d.spot(c.At), d.cornerRadius(c)
	forms := []string{c.Caption.Full(d.ascii), c.Caption.Short(d.ascii)}
	var seats []seat
	for _, out := range []struct{ reach, cost float64 }{{3, 0}, {5, 1.5}, {7, 3}, {10, 4.5}, {14, 16}, {18, 18}} {
		for j, part := range []float64{0.5, 0.35, 0.65, 0.2, 0.8, -0.25, 1.25} {
			u := heading(c.From + part*c.Span)
			col, row := cellOf(spot{at.x + (r+out.reach)*u.X, at.y - (r+out.reach)*u.Y})
			side := 1
			if u.X < 0 {
				side = -1
			}
			seats = append(seats, seat{col, row, side, out.cost + float64(j)})
			if math.Abs(u.X) < 0.7 {
				seats = append(seats, seat{col, row, 0, out.cost + float64(j) + 0.5})
			}
		}
	}
	col, row := cellOf(spot{at.x + r*math.Cos(c.From+c.Span/2), at.y - r*math.Sin(c.From+c.Span/2)})
	d.must(forms, seats, Angle, col, row)
}
