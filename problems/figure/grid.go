package figure

import (
	"math"
	"strings"
)

// CellAspect is how much higher than wide a terminal's cell is taken to be.
// Fonts differ by some tenths; a figure is to scale as far as they agree.
const CellAspect = 2.0

// A cell is 2 dots wide and 4 high, as in the braille block.
const (
	dotsAcross = 2
	dotsDown   = 4
)

// Cell is one character of a picture.
type Cell struct {
	Rune rune
	Role Role
}

// Picture is a figure as characters, every one of them one column wide.
type Picture struct{ Rows [][]Cell }

// String is the picture as plain text, without trailing blanks.
func (p Picture) String() string {
	var b strings.Builder
	line := make([]rune, 0, 80)
	for i, row := range p.Rows {
		if i > 0 {
			b.WriteByte('\n')
		}
		line = line[:0]
		for _, c := range row {
			line = append(line, c.Rune)
		}
		b.WriteString(strings.TrimRight(string(line), " "))
	}
	return b.String()
}

// ink is what a cell is covered with; the higher, the more it matters.
type ink uint8

const (
	bare  ink = iota
	faint     // hatching, dimensions, lines of action
	thin      // cables, outlines
	stout     // the body
	shaft     // of an arrow
	sign      // an arrow's head, a point, a letter: never covered
	inks
)

// square is a cell being drawn: dots, strokes from its middle to its edges, or
// a character, of which the last shows.
type square struct {
	dots    uint8
	strokes uint8 // two bits an edge: 0 none, 1 light, 2 heavy
	text    rune
	role    Role
	ink     ink
	letter  bool
}

// The edges of a cell, as places of their bits in strokes.
const (
	north = iota * 2
	east
	south
	west
)

// grid is a picture being drawn, and what covers it.
type grid struct {
	width, height int
	ascii         bool
	squares       []square
}

func newGrid(width, height int, ascii bool) *grid {
	width, height = max(width, 0), max(height, 0)
	return &grid{width, height, ascii, make([]square, width*height)}
}

// at is a cell, or nil outside the grid.
func (g *grid) at(col, row int) *square {
	if col < 0 || row < 0 || col >= g.width || row >= g.height {
		return nil
	}
	return &g.squares[row*g.width+col]
}

// cover gives a cell a role, unless something that matters more has it.
func (s *square) cover(role Role, i ink) {
	if i >= s.ink {
		s.role, s.ink = role, i
	}
}

// dotBit is the bit of a dot in the braille block (U+2800), by column and row:
// dots 1, 2, 3, 7 down the left, 4, 5, 6, 8 down the right.
var dotBit = [dotsAcross][dotsDown]uint8{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

func (g *grid) dot(x, y int, role Role, i ink) {
	if x < 0 || y < 0 {
		return
	}
	if s := g.at(x/dotsAcross, y/dotsDown); s != nil {
		s.dots |= dotBit[x%dotsAcross][y%dotsDown]
		s.cover(role, i)
	}
}

// stroke joins a cell to an edge.
func (g *grid) stroke(col, row, edge int, weight uint8, role Role, i ink) {
	if s := g.at(col, row); s != nil {
		had := s.strokes >> edge & 3
		s.strokes = s.strokes&^(3<<edge) | max(had, weight)<<edge
		s.cover(role, i)
	}
}

// put writes a character over whatever is there.
func (g *grid) put(col, row int, r rune, role Role, i ink) {
	if s := g.at(col, row); s != nil {
		s.text, s.role, s.ink = r, role, i
	}
}

// under writes a character where there is none that matters as much.
func (g *grid) under(col, row int, r rune, role Role, i ink) {
	if s := g.at(col, row); s != nil && i >= s.ink {
		s.text, s.role, s.ink = r, role, i
	}
}

// boxes are the box drawing characters by their strokes.
var boxes = boxTable()

// boxTable reads U+2500 to U+257F: north, east, south, west, 0 none, 1 light,
// 2 heavy. Dashed, double and rounded ones are not used.
func boxTable() [256]rune {
	const rows = `─0101 ━0202 │1010 ┃2020 ┌0110 ┍0210 ┎0120 ┏0220 ┐0011 ┑0012 ┒0021 ┓0022
└1100 ┕1200 ┖2100 ┗2200 ┘1001 ┙1002 ┚2001 ┛2002 ├1110 ┝1210 ┞2110 ┟1120 ┠2120 ┡2210 ┢1220 ┣2220
┤1011 ┥1012 ┦2011 ┧1021 ┨2021 ┩2012 ┪1022 ┫2022 ┬0111 ┭0112 ┮0211 ┯0212 ┰0121 ┱0122 ┲0221 ┳0222
┴1101 ┵1102 ┶1201 ┷1202 ┸2101 ┹2102 ┺2201 ┻2202 ┼1111 ┽1112 ┾1211 ┿1212 ╀2111 ╁1121 ╂2121 ╃2112
╄2211 ╅1122 ╆1221 ╇2212 ╈1222 ╉2122 ╊2221 ╋2222 ╴0001 ╵1000 ╶0100 ╷0010 ╸0002 ╹2000 ╺0200 ╻0020
╼0201 ╽1020 ╾0102 ╿2010`
	var out [256]rune
	for _, f := range strings.Fields(rows) {
		r := []rune(f)
		out[(r[1]-'0')<<north|(r[2]-'0')<<east|(r[3]-'0')<<south|(r[4]-'0')<<west] = r[0]
	}
	return out
}

const (
	levelBits   = 3<<east | 3<<west
	uprightBits = 3<<north | 3<<south
	heavyBits   = 2<<east | 2<<west | 2<<north | 2<<south
)

func (s square) rune(ascii bool) rune {
	switch {
	case s.text != 0:
		return s.text
	case s.strokes == 0 && s.dots == 0:
		return ' '
	case s.strokes == 0:
		return 0x2800 + rune(s.dots)
	case !ascii:
		return boxes[s.strokes]
	case s.strokes&levelBits != 0 && s.strokes&uprightBits != 0:
		return '+'
	case s.strokes&uprightBits != 0:
		return '|'
	case s.strokes&heavyBits != 0:
		return '='
	}
	return '-'
}

// picture is the grid as it stands.
func (g *grid) picture() Picture {
	cells := make([]Cell, len(g.squares))
	p := Picture{make([][]Cell, g.height)}
	for i, s := range g.squares {
		cells[i] = Cell{s.rune(g.ascii), s.role}
	}
	for row := range p.Rows {
		p.Rows[row] = cells[row*g.width : (row+1)*g.width : (row+1)*g.width]
	}
	return p
}

// dash is a pattern along a line: so many dots on of so many.
type dash struct{ on, of int }

var (
	whole  = dash{1, 1}
	dotted = dash{1, 3}
	dashed = dash{3, 6}
)

// trace draws a straight line of dots. In ASCII it is one character a cell, by
// the slope of the line.
func (g *grid) trace(a, b spot, d dash, role Role, i ink) {
	dx, dy := b.x-a.x, b.y-a.y
	n := int(math.Ceil(max(math.Abs(dx), math.Abs(dy))))
	if n > 4*(g.width*dotsAcross+g.height*dotsDown) {
		return // far outside the grid; clip has not been asked to
	}
	if g.ascii {
		g.slope(a, b, d, role, i)
		return
	}
	for k := range n + 1 {
		if k%d.of >= d.on {
			continue
		}
		t := float64(k) / float64(max(n, 1))
		g.dot(floor(a.x+t*dx), floor(a.y+t*dy), role, i)
	}
}

// slope writes a line in ASCII: one character a row where it is steep, and one
// a column where it is flat, whose height in its cell then tells the slope.
func (g *grid) slope(a, b spot, d dash, role Role, i ink) {
	dx, dy := b.x-a.x, b.y-a.y
	if math.Abs(dy) >= math.Abs(dx) {
		if a.y > b.y {
			a, b = b, a
		}
		for row := max(floor(a.y/dotsDown), 0); row <= min(floor((b.y-0.02)/dotsDown), g.height); row++ {
			if d.of > 1 && (role == Other || role == OtherLine) && row&1 == 1 {
				continue
			}
			y := min(max(float64(row*dotsDown)+dotsDown/2, a.y), b.y)
			x := a.x
			if dy != 0 {
				x += (y - a.y) * dx / dy
			}
			g.under(floor(x/dotsAcross), row, lineRune(role, y, dx, dy), role, i)
		}
		return
	}
	if a.x > b.x {
		a, b = b, a
	}
	for col := max(floor(a.x/dotsAcross), 0); col <= min(floor((b.x-0.02)/dotsAcross), g.width); col++ {
		if d.of > 1 && col&1 == 1 {
			continue
		}
		x := min(max(float64(col*dotsAcross)+dotsAcross/2, a.x), b.x)
		y := a.y + (x-a.x)*dy/dx
		g.under(col, floor((y-0.02)/dotsDown), lineRune(role, y, dx, dy), role, i)
	}
}

// lineRune is the ASCII character of a line of a slope at a place.
func lineRune(role Role, y, dx, dy float64) rune {
	switch {
	case role == Action || role == Dimension || role == Angle || role == Other || role == OtherLine:
		return '.'
	case role == Arm:
		return '~'
	case math.Abs(dy) > 5*math.Abs(dx):
		return '|'
	case math.Abs(dy) < math.Abs(dx):
		return []rune{'\'', '-', '-', '.'}[((floor(y-0.02)%dotsDown)+dotsDown)%dotsDown]
	case dx*dy > 0:
		return '\\'
	}
	return '/'
}

// level draws a level line through the middle of cells.
func (g *grid) level(row, from, to int, weight uint8, role Role, i ink) {
	if from > to {
		from, to = to, from
	}
	for col := max(from, 0); col <= min(to, g.width-1); col++ {
		if col > from || from == to {
			g.stroke(col, row, west, weight, role, i)
		}
		if col < to || from == to {
			g.stroke(col, row, east, weight, role, i)
		}
	}
}

// upright draws an upright line through the middle of cells.
func (g *grid) upright(col, from, to int, weight uint8, role Role, i ink) {
	if from > to {
		from, to = to, from
	}
	for row := max(from, 0); row <= min(to, g.height-1); row++ {
		if row > from || from == to {
			g.stroke(col, row, north, weight, role, i)
		}
		if row < to || from == to {
			g.stroke(col, row, south, weight, role, i)
		}
	}
}

func floor(v float64) int { return int(math.Floor(v)) }
