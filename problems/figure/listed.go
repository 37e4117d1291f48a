package figure

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// A list of forces that is not judged yet is drawn as it was typed. Nothing here
// looks at the forces that the scenario has: a figure that knew them would tell
// which lines are right.

// written is what a line of the list says.
type written struct {
	symbol string
	at     string  // the point; "" for a couple that is told without one
	angle  float64 // of a force, radians anticlockwise from +x
	way    string  // the same in words
	couple int     // of a couple, +1 anticlockwise and -1 clockwise; 0 for a force
}

// lineForms are the forms that a line may have; the grading of lists reads the
// same ones.
var lineForms = sync.OnceValue(func() (f struct{ placedFirst, placedLast, turning *regexp.Regexp }) {
	const point = `([A-Za-z][0-9]?)`
	f.placedFirst = regexp.MustCompile(`(?i)^.+?(?:[\s,:]+(?:acting\s+|acts\s+)?(?:at|on|from|@)\s+|\s*,\s*)(?:point\s+)?` + point + `[\s,]+(.+)$`)
	f.placedLast = regexp.MustCompile(`(?i)^\S+\s+(.+?)[\s,]+(?:at|on)\s+(?:point\s+)?` + point + `$`) // W down at G
	f.turning = regexp.MustCompile(`(?i)^.+?[\s,:]+(?:(?:at|on)\s+` + point + `[\s,]+)?((?:anti|counter)?-?clockwise|ccw|cw)$`)
	return f
})

// longestLine is the most bytes of a line that is read.
const longestLine = 256

// readLines reads the list of an unjudged view. A line that says no place and no
// way is left out: it was never taken for one of the list.
func (b *builder) readLines() {
	if !b.v.Unjudged {
		return
	}
	for _, l := range b.v.Forces {
		if w, ok := b.readLine(l.Line); ok {
			w.symbol = l.Symbol
			b.read = append(b.read, w)
		}
	}
}

func (b *builder) readLine(line string) (written, bool) {
	if line = strings.TrimRight(strings.TrimSpace(line), " .,"); len(line) > longestLine {
		return written{}, false
	}
	forms := lineForms()
	if m := forms.turning.FindStringSubmatch(line); m != nil {
		w := written{at: strings.ToUpper(m[1]), couple: 1}
		if sense := strings.ToLower(m[2]); sense == "cw" || sense == "clockwise" {
			w.couple = -1
		}
		return w, true
	}
	if m := forms.placedFirst.FindStringSubmatch(line); m != nil {
		return b.pointing(m[1], m[2])
	}
	m := forms.placedLast.FindStringSubmatch(line)
	if m == nil {
		return written{}, false
	}
	for rest := m[1]; ; { // M g down: the way begins where the name ends
		if w, ok := b.pointing(m[2], rest); ok {
			return w, true
		}
		_, after, more := strings.Cut(rest, " ")
		if !more {
			return written{}, false
		}
		rest = after
	}
}

// pointing is a force at a point, the way that is told.
func (b *builder) pointing(at, way string) (written, bool) {
	w := written{at: strings.ToUpper(at), way: strings.Join(strings.Fields(way), " ")}
	if !b.named(w.at) {
		return w, false
	}
	angle, ok := b.heading(way, w.at)
	w.angle = angle
	return w, ok
}

// plainWays are the words for a way; two of them make a slanted one, which is
// drawn midway between.
var plainWays = map[string]Vec{
	"up": {0, 1}, "upward": {0, 1}, "upwards": {0, 1}, "↑": {0, 1}, "down": {0, -1}, "downward": {0, -1}, "downwards": {0, -1}, "↓": {0, -1},
	"left": {-1, 0}, "leftward": {-1, 0}, "leftwards": {-1, 0}, "backward": {-1, 0}, "←": {-1, 0},
	"right": {1, 0}, "rightward": {1, 0}, "rightwards": {1, 0}, "forward": {1, 0}, "→": {1, 0},
}

// dressing are words that a way may be told with, and that change nothing.
var dressing = map[string]bool{
	"and": true, "to": true, "the": true, "straight": true, "vertically": true, "horizontally": true, "vertical": true, "horizontal": true,
	"pointing": true, "acting": true, "directed": true, "point": true, "at": true, "an": true, "angle": true, "of": true,
}

// heading reads which way a line says: "up", "up and left", "toward C", "away
// from C", "along AB", or an angle anticlockwise from +x.
func (b *builder) heading(way, at string) (float64, bool) {
	parts := strings.FieldsFunc(strings.ToLower(way), func(c rune) bool { return strings.ContainsRune(" ,-\t", c) })
	words := slices.DeleteFunc(parts, func(w string) bool { return dressing[w] })
	var sum Vec
	plain := len(words) == 1 || len(words) == 2
	for _, w := range words {
		u, ok := plainWays[w]
		plain, sum = plain && ok, sum.plus(u)
	}
	if plain && max(math.Abs(sum.X), math.Abs(sum.Y)) == 1 {
		return math.Atan2(sum.Y, sum.X), true
	}
	switch {
	case len(words) == 1 && b.named(words[0]):
		return b.toward(at, words[0], 0)
	case len(words) == 2 && strings.TrimSuffix(words[0], "s") == "toward":
		return b.toward(at, words[1], 0)
	case len(words) == 3 && words[0] == "away" && words[1] == "from":
		return b.toward(at, words[2], math.Pi)
	case len(words) == 2 && words[0] == "along" && len(words[1]) == 2:
		return b.toward(words[1][:1], words[1][1:], 0)
	}
	return b.byAngle(way)
}

// named reports whether a body has a point of the name.
func (b *builder) named(point string) bool {
	return slices.ContainsFunc(b.bodies(), func(body *statics.Body) bool {
		_, ok := body.Point(strings.ToUpper(point))
		return ok
	})
}

func (b *builder) toward(from, to string, turn float64) (float64, bool) {
	from, to = strings.ToUpper(from), strings.ToUpper(to)
	if !b.named(from) || !b.named(to) {
		return 0, false
	}
	u := b.at(to).minus(b.at(from))
	return math.Atan2(u.Y, u.X) + turn, u.dot(u) > 1e-18
}

// byAngle reads an angle as it would stand in a sine, where a bare number is
// degrees.
func (b *builder) byAngle(way string) (float64, bool) {
	words := strings.Fields(way)
	for len(words) > 0 && dressing[strings.ToLower(words[0])] {
		words = words[1:]
	}
	n, err := b.p.Table.Parse("sin(" + strings.Join(words, " ") + ")")
	if err != nil {
		return 0, false
	}
	call, ok := n.(*notation.Call)
	if !ok {
		return 0, false
	}
	a, ok := statics.AngleFromNode(call.Arg)
	if !ok {
		return 0, false
	}
	angle := a.Eval(b.values)
	return angle, !math.IsNaN(angle) && !math.IsInf(angle, 0)
}

// asWritten draws the list of an unjudged view.
func (b *builder) asWritten() {
	var taken []ray
	for _, w := range b.read {
		role := Force
		if w.symbol == b.v.Selected {
			role = Selected
		}
		if w.couple != 0 {
			b.add(Turn{Role: role, At: b.turnsAt(w), Clockwise: w.couple < 0, Symbol: w.symbol})
			continue
		}
		a := b.onFreerSide(Arrow{Role: role, At: b.at(w.at), Angle: w.angle, Symbol: w.symbol}, statics.Applied, taken)
		taken = append(taken, a.ray())
		b.add(a)
	}
}

// turnsAt is where a couple of the list is drawn: where its line says, or where
// the problem shows the couple of that name that it gives, or else at the middle
// of the body, whether the body has such a couple or not.
func (b *builder) turnsAt(w written) Vec {
	if b.named(w.at) {
		return b.at(w.at)
	}
	for _, body := range b.acting() {
		for _, c := range body.Couples {
			if c.Symbol == w.symbol && !c.Unknown {
				return b.coupleAt(body, c)
			}
		}
	}
	return b.middle(b.acting()[0])
}

// roomForAny keeps room for an arrow each way at every point of the bodies, and
// for a couple, so that what is left white says nothing of the forces either.
func (b *builder) roomForAny() {
	for _, body := range b.acting() {
		for _, pt := range body.Points {
			if pt.Mark {
				continue
			}
			for quarter := range 4 {
				b.scene.Room = append(b.scene.Room, Arrow{At: place(pt, b.values), Angle: float64(quarter) * math.Pi / 2, Symbol: "W_A"})
			}
		}
		b.scene.Room = append(b.scene.Room, Turn{At: b.middle(body)})
	}
}
