package figure

import "math"

// Things that are drawn of several strokes: people, springs, links, water.

func (d *drawing) person(s Person) {
	foot := d.spot(s.At)
	h := s.Height * d.scale * downPerAcross
	c, r := cellOf(foot)
	if q := d.at(c, r); q != nil && q.strokes&levelBits != 0 {
		foot.y = float64(r * dotsDown) // on the member, not behind it
		c, r = cellOf(foot)
	}
	rows := int(math.Round(h / dotsDown))
	if d.ascii || rows < 3 {
		d.personLetters(s.Role, c, r, rows)
		return
	}
	at := func(x, y float64) spot { return spot{foot.x + x*h, foot.y - 0.5 - y*h} }
	for k := range 16 {
		a := float64(k) * math.Pi / 8
		p := at(0, 0.88)
		d.dot(floor(p.x+max(1, 0.11*h)*math.Cos(a)), floor(p.y+max(1, 0.11*h)*math.Sin(a)), s.Role, thin)
	}
	for _, limb := range [][2]spot{
		{at(0, 0.76), at(0, 0.42)},
		{at(0, 0.66), at(-0.2, 0.46)}, {at(0, 0.66), at(0.2, 0.46)},
		{at(0, 0.42), at(-0.16, 0)}, {at(0, 0.42), at(0.16, 0)},
	} {
		d.trace(limb[0], limb[1], whole, s.Role, thin)
	}
}

// personLetters draws someone of a few rows with letters.
func (d *drawing) personLetters(role Role, col, row, rows int) {
	art := []string{" o ", "/|\\", " | ", "/ \\"}
	switch {
	case rows <= 1:
		art = []string{" o "}
	case rows == 2:
		art = []string{" o ", "/|\\"}
	case rows == 3:
		art = []string{" o ", "/|\\", "/ \\"}
	}
	for i := range max(rows, 1) {
		line := art[len(art)-1]
		switch {
		case i < 2 && i < len(art):
			line = art[i]
		case i < rows-1:
			line = " | "
		}
		for k, r := range line {
			if r != ' ' {
				d.under(col-1+k, row-max(rows, 1)+1+i, r, role, thin)
			}
		}
	}
}

// coil draws a spring as a zigzag with a short straight lead at each end.
func (d *drawing) coil(s Coil) {
	a, b := d.spot(s.From), d.spot(s.To)
	c0, r0 := cellOf(a)
	c1, r1 := cellOf(b)
	if d.ascii {
		d.coilASCII(s.Role, c0, r0, c1, r1)
		return
	}
	if r0 == r1 && math.Abs(a.y-b.y) < 0.5 { // through the middle of its cells, as a level line
		a.y, b.y = float64(r0*dotsDown)+1.5, float64(r0*dotsDown)+1.5
	}
	const lead, pitch, swing = 3.0, 2.0, 2.0
	u := unit(a, b)
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length > 4*float64(d.width*dotsAcross+d.height*dotsDown) {
		return
	}
	at, side := a, 1.0
	for t := lead; t < length-lead; t += pitch {
		next := spot{a.x + t*u.x - side*swing*u.y, a.y + t*u.y + side*swing*u.x}
		d.trace(at, next, whole, s.Role, thin)
		at, side = next, -side
	}
	d.trace(at, b, whole, s.Role, thin)
}

// coilASCII is a zigzag of one slash a cell along the longer way.
func (d *drawing) coilASCII(role Role, c0, r0, c1, r1 int) {
	n := max(abs(c1-c0), abs(r1-r0))
	for k := 0; k <= n && n <= 4*(d.width+d.height); k++ {
		t := float64(k) / float64(max(n, 1))
		c := c0 + int(math.Round(t*float64(c1-c0)))
		r := r0 + int(math.Round(t*float64(r1-r0)))
		d.under(c, r, rune("/\\"[k&1]), role, thin)
	}
}

func abs(n int) int { return max(n, -n) }

// strut is a thin member with a ring at each end.
func (d *drawing) strut(s Strut) {
	d.edge(s.Role, s.From, s.To, thin, 1)
	for _, end := range []Vec{s.From, s.To} {
		col, row := d.cell(end)
		d.put(col, row, d.pick(hingeMark), s.Role, sign)
	}
}

// surface is where still water is: from column to column, its level's row, and
// how far it goes down.
func (d *drawing) surface(s Water) (c0, c1, top, foot int) {
	a, b := d.spot(s.From), d.spot(s.To)
	c0, c1 = max(floor(a.x/dotsAcross), 0), min(floor((b.x-0.02)/dotsAcross), d.width)
	top = floor((a.y + 0.02) / dotsDown)
	return c0, c1, top, min(floor((a.y+s.Depth*d.scale*downPerAcross-0.02)/dotsDown), d.height)
}

// water is a row of waves, and the level's own mark above it.
func (d *drawing) water(s Water) {
	c0, c1, top, _ := d.surface(s)
	for c := c0; c <= c1; c++ {
		d.under(c, top, '~', Liquid, faint)
	}
	if !d.ascii {
		d.under(c0+(c1-c0)/3, top-1, levelMark, Liquid, faint)
	}
}

// ripples are ever sparser dashes below the level, where nothing else is: they
// only show that there is water, and come last.
func (d *drawing) ripples(s Water) {
	c0, c1, top, foot := d.surface(s)
	for r := max(top+1, 0); r <= foot; r++ {
		below := r - top
		every := 4 + 2*below
		for c := c0 + 1 + (5*below)%every; c < c1; c += every {
			clear := true
			for beside := c - 1; beside <= c+1; beside++ {
				q := d.at(beside, r)
				clear = clear && (q == nil || q.ink == bare)
			}
			if clear {
				d.under(c, r, d.pick(waveMark), Liquid, faint)
			}
		}
	}
}
