package grading

import (
	"math"
	"strings"

	"steelyard/problems/notation"
)

// Said is what a line of a list of forces says, right or wrong: nothing in it
// is of the forces that the body has.
type Said struct {
	At     string  // the point; "" for a couple that is told without one
	Way    string  // the way in the learner's words; "" for a couple
	Angle  float64 // the same in radians anticlockwise from +x; "up left" is midway between the two
	Toward bool    // it was told as a pull toward a point
	Turn   int     // of a couple, +1 anticlockwise and -1 clockwise; 0 for a force
}

// Said reads a line like "T at B toward C" or "C clockwise" without judging it;
// false if it is not read, or names a point that the body has not.
func (g *Grader) Said(line string) (Said, bool) {
	line = strings.TrimSpace(line)
	line = strings.TrimRight(line[len(bullet().FindString(line)):], " .,")
	if len(line) > maxLine {
		return Said{}, false
	}
	if m := coupleLine().FindStringSubmatch(line); m != nil {
		s := Said{Turn: turnOf(strings.ToLower(m[3]))}
		if g.isPoint(m[2]) {
			s.At = strings.ToUpper(m[2])
		}
		return s, true
	}
	p, ok := g.split(line)
	if !ok || !g.isPoint(p.at) {
		return Said{}, false
	}
	h, err := g.heading(p.way, p.at)
	if err != nil {
		return Said{}, false
	}
	s := Said{At: p.at, Way: strings.Join(strings.Fields(p.way), " "), Angle: h.angle, Toward: h.toward}
	if h.dx != 0 || h.dy != 0 {
		s.Angle = math.Atan2(float64(h.dy), float64(h.dx))
	}
	return s, !math.IsNaN(s.Angle) && !math.IsInf(s.Angle, 0)
}

// turnOf is the sign of a turn by its word.
func turnOf(sense string) int {
	if sense == "cw" || sense == "clockwise" {
		return -1
	}
	return 1
}

// NameIn is what a line calls its force, in at most 24 printable characters.
func (g *Grader) NameIn(line string) string {
	name, _, _ := strings.Cut(strings.TrimSpace(line), " ")
	if m := coupleLine().FindStringSubmatch(line); m != nil {
		name = m[1]
	} else if p, ok := g.split(line); ok {
		name = p.name
	}
	return notation.PrintableMax(strings.TrimSpace(name), 24)
}
