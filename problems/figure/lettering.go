package figure

import "math"

// Names and measures in SVG find their seats as they do in text: each where it
// covers least, near what it names, what matters most first.

// lettered is a text that has been written, and where.
type lettered struct {
	box
	name string
}

// form is a text, perhaps with the sign of a turning after it.
type form struct {
	runs []run
	turn int // +1 anticlockwise, -1 clockwise, 0 for none
	less float64
}

const (
	ascent   = 0.80 * letterSize // of a capital, with a little air
	descent  = 0.36 * letterSize // of a lowered letter
	turnWide = 29.0              // of "+" and its arc
)

func (f form) width() float64 {
	w := widthOf(f.runs, letterSize)
	if f.turn != 0 {
		w += turnWide
	}
	return w
}

func (f form) name() string {
	out := ""
	for _, r := range f.runs {
		if r.lowered {
			out += "_"
		}
		out += r.text
	}
	return out
}

// perch is a seat on the canvas: the text lies beyond the spot, on the side that
// the direction tells.
type perch struct {
	at   spot
	side spot
	cost float64
}

// boxAt is where a text of a width lies on a perch.
func (p perch) boxAt(width float64) box {
	h := ascent + descent
	mid := spot{p.at.x + p.side.x*width/2, p.at.y + p.side.y*h/2}
	return box{spot{mid.x - width/2, mid.y - h/2}, spot{mid.x + width/2, mid.y + h/2}}
}

// price is what it costs to have letters in a box: more than anything is worth
// where a line goes through them or other letters are, and a little where a line
// touches the air about them.
func (c *canvas) price(b box) float64 {
	const air, apart, touching = 1.5, 4, 1.5
	b = box{spot{b.low.x - air, b.low.y}, spot{b.high.x + air, b.high.y}}
	if b.low.x < 0 || b.low.y < 0 || b.high.x > c.width || b.high.y > c.height {
		return never
	}
	for _, o := range c.boxes {
		if wide := (box{spot{b.low.x - apart, b.low.y}, spot{b.high.x + apart, b.high.y}}); wide.meets(o.box) {
			return never
		}
	}
	if !c.inkedIn(b) {
		return 0
	}
	cost, tight := 0.0, b.tight()
	for _, s := range c.strokes {
		if b.crossedBy(s) {
			cost = touching
			if tight.crossedBy(s) {
				return never
			}
		}
	}
	return cost
}

// seatOf finds the cheapest of the seats for one of the forms.
func (c *canvas) seatOf(forms []form, perches []perch) (form, box, float64) {
	best, which, where := math.Inf(1), form{}, box{}
	for _, f := range forms {
		w := f.width()
		for _, p := range perches {
			cost := p.cost + f.less
			if cost >= best {
				continue
			}
			b := p.boxAt(w)
			if cost += c.price(b); cost < best {
				best, which, where = cost, f, b
			}
		}
	}
	return which, where, best
}

// say writes one of the forms, unless it costs more than the limit.
func (c *canvas) say(forms []form, perches []perch, limit float64) bool {
	f, b, cost := c.seatOf(forms, perches)
	if cost > limit {
		return false
	}
	c.write(f, b)
	return true
}

// must writes a text near its place; or else wherever there is room, with a thin
// line to what it names.
func (c *canvas) must(forms []form, perches []perch, at spot) {
	if c.say(forms, perches, never/2) {
		return
	}
	best, where, which := math.Inf(1), box{}, form{}
	for i := len(forms) - 1; i >= 0 && math.IsInf(best, 1); i-- { // the shortest first: it is far off as it is
		w := forms[i].width()
		for y := margin + ascent; y < c.height; y += 2 * mapCell {
			for x := margin; x < c.width; x += 3 * mapCell {
				b := perch{at: spot{x, y}}.boxAt(w)
				cost := 0.25 * math.Hypot(x-at.x, y-at.y)
				if cost >= best {
					continue
				}
				if cost += c.price(b); cost < best {
					if cost += c.leaderCost(b, at); cost < best {
						best, where, which = cost, b, forms[i]
					}
				}
			}
		}
	}
	if best < never/2 {
		if l := c.leader(where, at); l.long() > plainlyOf {
			c.line(l.a, l.b, leadPen)
		}
		c.write(which, where)
	}
}

// write letters a box.
func (c *canvas) write(f form, b box) {
	base := spot{b.low.x, b.low.y + ascent}
	if len(f.runs) > 0 {
		c.text(base, f.runs)
	}
	if f.turn != 0 {
		x := b.high.x - turnWide + 3
		c.text(spot{x, base.y}, plainRun("+"))
		strokes := len(c.strokes)
		c.arcArrow(spot{x + 19, base.y - 5}, 5.5, 1.45*math.Pi, f.turn < 0, thinPen, 5.5)
		c.strokes = c.strokes[:strokes] // a part of the text
	}
	c.boxes = append(c.boxes, lettered{b, f.name()})
	for y := b.low.y; y <= b.high.y; y += mapCell { // no dimension goes through it
		c.mark(spot{b.low.x, y}, spot{b.high.x, y}, textInk)
	}
}

// about are the perches around a spot, best first, clear of it by a little.
func about(at spot, clear float64) []perch {
	var out []perch
	for i, more := range []float64{0, 5, 12, 22, 36} {
		for j, u := range []spot{{1, -1}, {-1, -1}, {1, 1}, {-1, 1}, {0, -1}, {1, 0}, {-1, 0}, {0, 1}} {
			reach := clear + more
			if u.x != 0 && u.y != 0 {
				reach *= 0.7
			}
			out = append(out, perch{at.plus(u, reach), u, 4*float64(i) + 0.4*float64(j)})
		}
	}
	return out
}

// letter writes all names and measures. Here dimensions go before the names of
// points, which can lie anywhere about theirs; forces and angles are named first.
func (c *canvas) letter(s Scene) {
	for _, shape := range s.Shapes {
		switch s := shape.(type) {
		case Arrow:
			c.nameArrow(s)
		case Turn:
			at := c.at(s.At)
			c.must([]form{{runs: symbols(s.Symbol)}}, about(at, turnRadius+5), at)
		case Spread:
			c.nameSpread(s)
		}
	}
	for _, shape := range s.Shapes {
		if s, ok := shape.(Corner); ok {
			c.nameCorner(s)
		}
	}
	for _, l := range s.lengths() {
		c.dimension(l)
	}
	for _, role := range []Role{Pivot, Point} {
		for _, shape := range s.Shapes {
			if m, ok := shape.(Mark); ok && m.Role == role {
				c.nameMark(m)
			}
		}
	}
	for _, shape := range s.Shapes {
		if w, ok := shape.(Word); ok {
			at := c.at(w.At)
			c.say([]form{{runs: plainRun(w.Text)}}, about(at, 14), 20)
		}
	}
}

func (c *canvas) nameArrow(a Arrow) {
	tail, tip := c.arrowEnds(a)
	outer, inner := tip, tail
	if a.Arrives {
		outer, inner = tail, tip
	}
	u := unit(inner, outer)
	n := u.left()
	mid := spot{(outer.x + inner.x) / 2, (outer.y + inner.y) / 2}
	perches := []perch{{outer.plus(u, 4), u, 0}}
	for i, side := range []spot{n, {-n.x, -n.y}} {
		// beside the outer end, then beside the middle
		perches = append(perches, perch{outer.plus(side, 9).plus(u, -6), side, 0.5 + 0.3*float64(i)}, perch{mid.plus(side, 6), side, 2 + 0.3*float64(i)})
	}
	for _, p := range about(outer, 7) {
		p.cost += 3
		perches = append(perches, p)
	}
	c.must([]form{{runs: symbols(a.Symbol)}}, perches, outer)
}

func (c *canvas) nameSpread(s Spread) {
	if s.Caption == (Caption{}) {
		return
	}
	parts := []float64{0.5, 0.35, 0.65, 0.8, 0.2}
	switch {
	case s.Start < s.End:
		parts = []float64{0.85, 0.7, 1, 0.5}
	case s.Start > s.End:
		parts = []float64{0.15, 0.3, 0, 0.5}
	}
	out := aim(s.Angle + math.Pi)
	var perches []perch
	if s.Stacked {
		perches, parts = c.besideSpread(s), parts[:1]
	}
	for i, t := range parts {
		if s.Stacked {
			break
		}
		for j, reach := range []float64{5, 14, 26} {
			perches = append(perches, perch{c.onEdge(s, t).plus(out, reach), out, float64(i) + 3*float64(j)})
		}
	}
	c.must([]form{{runs: s.Caption.runs()}}, perches, c.onEdge(s, parts[0]))
}

func (c *canvas) nameMark(m Mark) {
	at := c.at(m.At)
	switch {
	case m.Role == Pivot:
		c.must([]form{{runs: plainRun(m.Name), turn: m.Turn}}, about(at, 9), at)
	case m.Name == "":
	case m.Off:
		c.say([]form{{runs: plainRun(m.Name)}}, about(at, 5), 30)
	default:
		c.must([]form{{runs: plainRun(m.Name)}}, about(at, 6), at)
	}
}

func (c *canvas) nameCorner(s Corner) {
	at, r := c.at(s.At), cornerUnits(s)
	var perches []perch
	for i, reach := range []float64{4, 10, 20, 34, 50, 70} {
		for j, part := range []float64{0.5, 0.3, 0.7, 0.1, 0.9, -0.3, 1.3} {
			u := aim(s.From + part*s.Span)
			perches = append(perches, perch{at.plus(u, r+reach), u, 3*float64(i) + 1.5*float64(j)})
		}
	}
	for i, a := range []float64{s.From, s.From + s.Span} { // beside a leg, outside
		u, out := aim(a), aim(a+float64(2*i-1)*math.Pi/2)
		for _, reach := range []float64{0.5 * r, r, 1.6 * r} {
			perches = append(perches, perch{at.plus(u, reach).plus(out, 5), spot{sign1(u.x), out.y}, 5 + 0.05*reach})
		}
	}
	for _, p := range about(at, r) {
		p.cost += 18
		perches = append(perches, p)
	}
	short := s.Caption
	short.Number = ""
	c.must([]form{{runs: s.Caption.runs()}, {runs: symbols(short.Symbol), less: 40}}, perches, at.plus(aim(s.From+s.Span/2), r))
}
