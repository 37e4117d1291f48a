package figure

import (
	"fmt"
	"math"
	"slices"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// The sentences of outlines, and of the angles between lines.

// ofBody names the body whose outline a shape is, and says whether it is alone
// in that: a bar among bars, another among all shapes. A bar or a circle that
// lies on marks only, as a trolley under a crate, is of no body that has an
// outline besides; a box is, since it may stand on a mark.
func (t *teller) ofBody(d problems.Drawn) (name string, alone, ok bool) {
	body, ok := t.bodyOf(ends(d)...)
	if !ok {
		return "", false, false
	}
	like, firm := 0, 0
	for _, other := range t.p.Figure {
		if of, ok := t.bodyOf(ends(other)...); !ok || !outline[other.Draw] || of.Name != body.Name || !t.firm(other) {
			continue
		}
		firm++
		if d.Draw != "bar" || other.Draw == "bar" {
			like++
		}
	}
	if !t.firm(d) {
		return notation.Printable(body.Name), true, firm == 0
	}
	return notation.Printable(body.Name), like == 1, true
}

// outline are the things that a body's outline may be made of.
var outline = map[string]bool{"bar": true, "disc": true, "box": true}

// firm reports whether a shape is a box, or has a point that is no mark.
func (t *teller) firm(d problems.Drawn) bool {
	return d.Draw == "box" || slices.ContainsFunc(ends(d), func(name string) bool { return !t.offBody(name) })
}

// ends are the points that a shape is drawn by.
func ends(d problems.Drawn) []string {
	if d.From == "" {
		return []string{d.At}
	}
	return []string{d.From, d.To}
}

func (t *teller) bar(d problems.Drawn) string {
	name, alone, ok := t.ofBody(d)
	who := "The " + t.bodyAt(d.From, d.To)
	switch {
	case !ok:
		who = "A line"
	case !alone:
		who = "Part of the " + name
	}
	if d.At != "" {
		return fmt.Sprintf("%s runs %s and beyond, its middle at %s", who, t.between(d.From, d.To), t.point(d.At))
	}
	run := ""
	if c, ok := t.lengthOf(d.From, d.To); ok && c.Number != "" {
		run = fmt.Sprintf(" %s %s (%s)", c.Number, c.Unit, c.Short(false))
		t.measured[d.From+" "+d.To], t.measured[d.To+" "+d.From] = true, true
	}
	return fmt.Sprintf("%s runs%s %s", who, run, t.between(d.From, d.To))
}

// disc gives its radius where it is a symbol of the problem; other circles only
// look like a wheel or a ring.
func (t *teller) disc(d problems.Drawn) string {
	name, alone, ok := t.ofBody(d)
	radius := d.Radius.Text(true)
	of := ""
	if t.isSymbol(radius) {
		of = " of radius " + amount(t.caption(radius))
	}
	if ok && alone {
		return fmt.Sprintf("The %s is drawn as a circle%s about %s", name, of, t.point(d.At))
	}
	return fmt.Sprintf("A circle%s is drawn about %s", of, t.point(d.At))
}

func (t *teller) box(d problems.Drawn) string {
	name, alone, ok := t.ofBody(d)
	if ok && alone {
		return fmt.Sprintf("The %s is drawn as a rectangle standing on %s%s", name, t.point(d.At), t.tilt(d))
	}
	return fmt.Sprintf("A rectangle is drawn standing on %s%s", t.point(d.At), t.tilt(d))
}

func (t *teller) crate(d problems.Drawn) string {
	return "A load stands at " + t.point(d.At) + t.tilt(d)
}

// angle tells an angle from the side that is level or upright, if one is.
func (t *teller) angle(d problems.Drawn) string {
	vertex := t.point(d.At)
	one, two := d.Angle.Eval(t.values), d.Angle.Plus(d.Span).Eval(t.values)
	if straight[way(heading(one))] == "" {
		one, two = two, one
	}
	return fmt.Sprintf("At %s the angle between %s and %s is %s", vertex, t.side(d.At, one), t.side(d.At, two), amount(t.caption(d.Label)))
}

// level are the sides of angles that need no line to be drawn along them.
var level = map[string]string{"right": "the level to the right", "left": "the level to the left", "up": "straight up", "down": "straight down"}

// side names one side of an angle: by the level or the upright, else by a line
// that is drawn along it, or would be if it were carried on, else by its
// direction.
func (t *teller) side(vertex string, angle float64) string {
	u := heading(angle)
	if name, ok := level[way(u)]; ok {
		return name
	}
	name := "the direction " + way(u)
	for _, d := range t.p.Figure {
		if d.From == "" || things[d.Draw].stage == measures {
			continue
		}
		from, to := t.at(d.From).minus(t.at(vertex)), t.at(d.To).minus(t.at(vertex))
		if math.Abs(from.cross(u)) > 1e-6*t.size || math.Abs(to.cross(u)) > 1e-6*t.size {
			continue
		}
		switch reach := 1e-6 * t.size; {
		case to.dot(u) > reach:
			return "the line to " + t.point(d.To)
		case from.dot(u) > reach:
			return "the line to " + t.point(d.From)
		case from.dot(u) < -reach:
			name = "the line from " + t.point(d.From) + " carried on"
		case to.dot(u) < -reach:
			name = "the line from " + t.point(d.To) + " carried on"
		}
	}
	return name
}
