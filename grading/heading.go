package grading

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// heading is which way a line says a force points: a quadrant, or an angle.
type heading struct {
	dx, dy int // words; 0, 0 if an angle was given
	angle  float64
	toward bool // told as toward a point
}

// fits reports whether an angle is that way, within a degree for directions
// that are exact.
func (h heading) fits(angle float64) bool {
	const degree = math.Pi / 180
	if h.dx == 0 && h.dy == 0 {
		return math.Cos(angle-h.angle) > math.Cos(degree)
	}
	c, s := math.Cos(angle), math.Sin(angle)
	same := func(v float64, d int) bool {
		if d == 0 {
			return math.Abs(v) < math.Sin(degree)
		}
		return v*float64(d) > math.Sin(degree)
	}
	return same(c, h.dx) && same(s, h.dy)
}

var ways = map[string][2]int{
	"up": {0, 1}, "upward": {0, 1}, "upwards": {0, 1}, "down": {0, -1}, "downward": {0, -1}, "downwards": {0, -1},
	"left": {-1, 0}, "right": {1, 0}, "forward": {1, 0}, "backward": {-1, 0}, "leftward": {-1, 0}, "rightward": {1, 0}, "leftwards": {-1, 0}, "rightwards": {1, 0},
	"↑": {0, 1}, "↓": {0, -1}, "←": {-1, 0}, "→": {1, 0},
}

// filler are words that a way may be dressed in.
var filler = map[string]bool{
	"and": true, "to": true, "the": true, "straight": true, "vertically": true, "horizontally": true, "vertical": true, "horizontal": true,
	"pointing": true, "acting": true, "directed": true, "point": true, "at": true, "an": true, "angle": true, "of": true,
}

// heading reads "up", "up and left", "toward C", "away from C", "along AB",
// or an angle anticlockwise from +x: "at 145 deg", "180 - alpha".
func (g *Grader) heading(way, at string) (heading, error) {
	if len(way) > 80 {
		return heading{}, errWay
	}
	split := func(c rune) bool { return c == ' ' || c == ',' || c == '-' || c == '\t' }
	words := strings.FieldsFunc(strings.ToLower(way), split)
	words = slices.DeleteFunc(words, func(w string) bool { return filler[w] })
	h := heading{}
	ok := len(words) > 0 && len(words) <= 2
	for _, w := range words {
		d, found := ways[w]
		ok = ok && found
		h.dx, h.dy = h.dx+d[0], h.dy+d[1]
	}
	if ok && max(h.dx, -h.dx, h.dy, -h.dy) == 1 {
		return h, nil
	}
	switch {
	case len(words) == 1 && g.isPoint(words[0]), len(words) == 2 && (words[0] == "toward" || words[0] == "towards"):
		h, err := g.aim(at, words[len(words)-1], 0)
		h.toward = true
		return h, err
	case len(words) == 3 && words[0] == "away" && words[1] == "from":
		return g.aim(at, words[2], math.Pi)
	case len(words) == 2 && words[0] == "along" && len(words[1]) == 2:
		return g.aim(words[1][:1], words[1][1:], 0)
	}
	angle := strings.Fields(way)
	for len(angle) > 0 && filler[strings.ToLower(angle[0])] {
		angle = angle[1:]
	}
	n, err := g.p.Table.Parse("sin(" + strings.Join(angle, " ") + ")")
	if call, ok := n.(*notation.Call); err == nil && ok {
		if a, ok := statics.AngleFromNode(call.Arg); ok {
			return heading{angle: a.Eval(g.p.Values)}, nil
		}
	}
	return heading{}, errWay
}

var errWay = errors.New("which way? Say up, down, left, right, two of them (up left), toward or away from a point, or an angle like 145 deg")

func (g *Grader) isPoint(name string) bool {
	_, ok := g.body.Point(strings.ToUpper(name))
	return ok
}

func (g *Grader) aim(from, to string, turn float64) (heading, error) {
	a, ok1 := g.body.Point(strings.ToUpper(from))
	b, ok2 := g.body.Point(strings.ToUpper(to))
	if !ok1 || !ok2 {
		return heading{}, fmt.Errorf("there is no point \"%s\" here; points are %s", notation.PrintableMax(to, 12), pointList(g.body, true))
	}
	ax, ay := a.XY(g.p.Values)
	bx, by := b.XY(g.p.Values)
	if math.Hypot(bx-ax, by-ay) < 1e-9 {
		return heading{}, fmt.Errorf("%s and %s are one place, so that is no direction", a.Name, b.Name)
	}
	return heading{angle: math.Atan2(by-ay, bx-ax) + turn}, nil
}

// pointList names the points of a body, with the marks about it or without.
func pointList(b *statics.Body, marks bool) string {
	var out []string
	for _, p := range b.Points {
		if marks || !p.Mark {
			out = append(out, p.Name)
		}
	}
	return strings.Join(out, ", ")
}

// sentence writes an error as a sentence for a learner.
func sentence(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[size:]
}
