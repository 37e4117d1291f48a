package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// told are the sentences of what can be drawn, as things has their shapes.
var told = map[string]func(*teller, problems.Drawn) string{
	"bar":    (*teller).bar,
	"cable":  (*teller).cable,
	"disc":   (*teller).disc,
	"box":    (*teller).box,
	"crate":  (*teller).crate,
	"spring": func(t *teller, d problems.Drawn) string { return "A spring runs " + t.between(d.From, d.To) },
	"link":   (*teller).link,
	"pulley": func(t *teller, d problems.Drawn) string { return "A line goes over a small sheave at " + t.point(d.At) },
	"fixed":  (*teller).fixed,
	"water":  (*teller).water,
	"hung":   func(t *teller, d problems.Drawn) string { return "A load hangs at " + t.point(d.At) },
	"person": func(t *teller, d problems.Drawn) string { return "Someone stands at " + t.point(d.At) },
	"trestle": func(t *teller, d problems.Drawn) string {
		return "A narrow support bears the " + t.bodyAt(d.At) + " at " + t.point(d.At)
	},
	"pin":    (*teller).pin,
	"roller": (*teller).roller,
	"ground": (*teller).ground,
	"wall":   (*teller).wall,
	"block":  (*teller).block,
	"length": (*teller).length,
	"angle":  (*teller).angle,
}

func (t *teller) cable(d problems.Drawn) string {
	return "A taut line runs " + t.between(d.From, d.To)
}

func (t *teller) pin(d problems.Drawn) string {
	if t.offBody(d.At) {
		return "There is a pin at " + t.point(d.At)
	}
	if f, ok := t.onFace(t.at(d.At)); ok {
		face := "wall"
		if levelLine(f.From, f.To) {
			face = "ground"
		}
		return fmt.Sprintf("The %s is pinned to the %s at %s", t.bodyAt(d.At), face, t.point(d.At))
	}
	return fmt.Sprintf("The %s is pinned at %s", t.bodyAt(d.At), t.point(d.At))
}

func (t *teller) roller(d problems.Drawn) string {
	if t.offBody(d.At) {
		return "There is a roller at " + t.point(d.At)
	}
	if _, ok := t.onFace(t.at(d.At)); ok {
		return fmt.Sprintf("The %s rolls on the ground at %s", t.bodyAt(d.At), t.point(d.At))
	}
	return fmt.Sprintf("The %s is on a roller at %s", t.bodyAt(d.At), t.point(d.At))
}

func roughly(d problems.Drawn) string {
	if d.Rough {
		return "rough "
	}
	return ""
}

func (t *teller) ground(d problems.Drawn) string {
	return capital(roughly(d) + "ground runs " + t.between(d.From, d.To))
}

// wall is a slope where its solid lies below it, and else a wall.
func (t *teller) wall(d problems.Drawn) string {
	along := t.at(d.To).minus(t.at(d.From))
	solid := way(Vec{-along.Y, along.X})
	switch {
	case strings.Contains(solid, "down"):
		return fmt.Sprintf("A %sslope runs %s, solid below it", roughly(d), t.between(d.From, d.To))
	case strings.Contains(solid, "up"):
		return fmt.Sprintf("A %sface runs %s, solid above it", roughly(d), t.between(d.From, d.To))
	}
	return fmt.Sprintf("A %swall runs %s, solid on its %s", roughly(d), t.between(d.From, d.To), solid)
}

func (t *teller) block(d problems.Drawn) string {
	return capital(roughly(d) + "masonry lies below the edge that runs " + t.between(d.From, d.To))
}

func (t *teller) length(d problems.Drawn) string {
	if t.measured[d.From+" "+d.To] {
		return ""
	}
	return fmt.Sprintf("From %s %s to %s is %s", t.point(d.From), way(t.at(d.To).minus(t.at(d.From))), t.point(d.To), amount(t.caption(d.Label)))
}

// tilt says which way a thing leans, and by what: the symbol or number of the
// scenario, never one worked out from what is to be found.
func (t *teller) tilt(d problems.Drawn) string {
	a := d.Angle
	v := math.Sin(a.Eval(t.values))
	if math.Abs(v) < 1e-9 {
		return ""
	}
	side := "right"
	if v < 0 {
		side = "left"
	}
	by := ""
	switch {
	case len(a.Terms) == 0:
		by = problems.Figures(math.Abs(a.Degrees), 3) + "°"
	case len(a.Terms) == 1 && a.Degrees == 0 && math.Abs(a.Terms[0].Coef) == 1:
		by = amount(t.caption(a.Terms[0].Name))
	}
	if by != "" {
		by = " by " + by
	}
	return ", its foot rising to the " + side + by
}

func (t *teller) link(d problems.Drawn) string {
	return "A light link, pinned at both ends, runs " + t.between(d.From, d.To)
}

// fixed says what the body is built into by where its face is.
func (t *teller) fixed(d problems.Drawn) string {
	u := heading(d.Angle.Eval(t.values)).times(-1)
	return fmt.Sprintf("The %s is built in at %s, the face on its %s", t.bodyAt(d.At), t.point(d.At), sides.Replace(way(u)))
}

// sides turn a direction into a side.
var sides = strings.NewReplacer("up and ", "upper ", "down and ", "lower ", "up", "upper side", "down", "underside")

func (t *teller) water(d problems.Drawn) string {
	deep := ""
	if depth := d.Height.Text(true); t.isSymbol(depth) { // else it is only how far down the water is drawn
		deep = ", " + amount(t.caption(depth)) + " deep"
	}
	return "Still water lies below the level that runs " + t.between(d.From, d.To) + deep
}

// loads tells the spread loads: how they are spread, and which way they press.
func (t *teller) loads() {
	var said []string
	for _, body := range t.bodies() {
		for _, f := range body.Forces {
			if f.Load == nil || slices.Contains(said, f.Symbol) {
				continue
			}
			said = append(said, f.Symbol)
			name := "its fullest"
			if s := f.Load.PerLength.Text(true); t.isSymbol(s) {
				name = amount(t.caption(s))
			}
			t.say(fmt.Sprintf("On the %s %s, pressing %s", notation.Printable(body.Name), t.spreading(f.Load, name), t.slope(f, Listed{})))
		}
	}
}

func (t *teller) spreading(l *statics.Load, fullest string) string {
	switch l.Shape {
	case statics.Rising:
		return fmt.Sprintf("a load rises from nothing at %s to %s at %s", t.point(l.From), fullest, t.point(l.To))
	case statics.Falling:
		return fmt.Sprintf("a load falls from %s at %s to nothing at %s", fullest, t.point(l.From), t.point(l.To))
	}
	if fullest == "its fullest" {
		return fmt.Sprintf("a load is spread evenly from %s to %s", t.point(l.From), t.point(l.To))
	}
	return fmt.Sprintf("a load of %s is spread evenly from %s to %s", fullest, t.point(l.From), t.point(l.To))
}

// couples tells the given couples that the learner has not listed.
func (t *teller) couples() {
	var said []string
	for _, body := range t.bodies() {
		for _, c := range body.Couples {
			if c.Unknown || t.lists(c.Symbol) || slices.Contains(said, c.Symbol) {
				continue
			}
			said = append(said, c.Symbol)
			turn := "anticlockwise"
			if c.Sense < 0 {
				turn = "clockwise"
			}
			t.say(fmt.Sprintf("A couple %s turns the %s %s", amount(t.caption(c.Symbol)), notation.Printable(body.Name), turn))
		}
	}
}
