package problems

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

func (r *reader) body(path string, f *fileBody) {
	b := statics.Body{Name: f.Name}
	if f.Name == "" {
		r.fault(path, 0, "a body has a name, like \"arm\"")
	} else if _, twice := r.s.Body(f.Name); twice {
		r.fault(path+".name", 0, "body %s is named twice; give each its own name", quote(f.Name))
	}
	r.printable(path+".name", f.Name)
	if len(f.Of) > 0 {
		r.whole(path, f, b)
		return
	}
	for i, p := range f.Points {
		r.point(fmt.Sprintf("%s.points.%d", path, i), p, &b, false)
	}
	for i, p := range f.Marks {
		r.point(fmt.Sprintf("%s.marks.%d", path, i), p, &b, true)
	}
	if len(b.Points) == 0 {
		r.fault(path, 0, "body %s has no [[bodies.points]]; name at least one", quote(f.Name))
		return
	}
	for i, s := range f.Supports {
		r.support(fmt.Sprintf("%s.supports.%d", path, i), s, &b)
	}
	for i, force := range f.Forces {
		r.force(fmt.Sprintf("%s.forces.%d", path, i), force, &b)
	}
	for i, l := range f.Loads {
		r.load(fmt.Sprintf("%s.loads.%d", path, i), l, &b)
	}
	for i, c := range f.Couples {
		r.couple(fmt.Sprintf("%s.couples.%d", path, i), c, &b)
	}
	r.s.Bodies = append(r.s.Bodies, b)
}

// point reads "0", "A + L/2 @ alpha" or "E + (-a, R - h)"; chains may go on.
func (r *reader) point(path string, f filePoint, b *statics.Body, mark bool) {
	if !pointPattern().MatchString(f.Name) {
		r.fault(path+".name", 0, "a point is a capital letter, perhaps with a digit, like \"A\" or \"C2\"")
	}
	if _, dup := b.Point(f.Name); dup {
		r.fault(path+".name", 0, "point %s is named twice; give each its own name", quote(f.Name))
	}
	r.printable(path+".meaning", f.Meaning)
	p := statics.Point{Name: f.Name, Meaning: f.Meaning, Mark: mark}
	p.Chain = r.chain(path+".at", f.At, b)
	b.Points = append(b.Points, p)
}

// maxChain is how many offsets a place may be from the body's origin.
const maxChain = 12

func (r *reader) chain(path, text string, b *statics.Body) []statics.Offset {
	parts, starts := splitTop(text, '+')
	root := strings.TrimSpace(parts[0])
	var chain []statics.Offset
	if root != "0" {
		p, ok := r.s.pointFor(b, root)
		if !ok {
			r.fault(path, 1, "a place begins with a point named before it, or 0, then + and an offset: \"A + L/2 @ alpha\" or \"E + (-a, R - h)\"")
			return nil
		}
		chain = slices.Clone(p.Chain)
	}
	for i, part := range parts[1:] {
		o, ok := r.offset(path, part, starts[i+1])
		if !ok {
			return nil
		}
		chain = append(chain, o)
	}
	if len(chain) > maxChain {
		r.fault(path, 1, "%d offsets from the origin are too many; the most is %d", len(chain), maxChain)
		return nil
	}
	return chain
}

// offset reads one step of a chain; at is how many characters come before it.
func (r *reader) offset(path, part string, at int) (statics.Offset, bool) {
	halves, starts := splitTop(part, '@')
	trimmed := strings.TrimSpace(part)
	switch {
	case len(halves) == 2:
		n := r.exprAt(path, halves[0], at)
		a, ok := r.angleAt(path, halves[1], at+starts[1])
		if n == nil || !ok {
			return statics.Offset{}, false
		}
		return statics.Offset{Polar: true, Len: statics.FromNode(n), Angle: a}, true
	case len(halves) == 1 && strings.HasPrefix(trimmed, "(") && strings.HasSuffix(trimmed, ")"):
		return r.cartesian(path, part, at)
	}
	r.fault(path, at+1, "an offset is a length @ an angle, or (x, y)")
	return statics.Offset{}, false
}

func (r *reader) cartesian(path, part string, at int) (statics.Offset, bool) {
	before, rest, _ := strings.Cut(part, "(")
	inner := rest[:strings.LastIndexByte(rest, ')')]
	at += utf8.RuneCountInString(before)
	xy, starts := splitTop(inner, ',')
	if len(xy) != 2 {
		r.fault(path, at+1, "components are two expressions with a comma between: (x, y)")
		return statics.Offset{}, false
	}
	x := r.exprAt(path, xy[0], at+1+starts[0])
	y := r.exprAt(path, xy[1], at+1+starts[1])
	if x == nil || y == nil {
		return statics.Offset{}, false
	}
	o := statics.Offset{DX: statics.FromNode(x), DY: statics.FromNode(y)}
	switch { // along an axis it is polar, so that it lies along one line with others
	case o.DY.IsZero() && !o.DX.IsZero():
		return statics.Offset{Polar: true, Len: o.DX}, true
	case o.DX.IsZero() && !o.DY.IsZero():
		return statics.Offset{Polar: true, Len: o.DY, Angle: statics.Deg(90)}, true
	}
	return o, true
}

// splitTop splits text at sep outside brackets; starts are rune offsets.
func splitTop(text string, sep rune) (parts []string, starts []int) {
	depth, from, runeFrom, runes := 0, 0, 0, 0
	for i, c := range text {
		switch c {
		case '(', '[', '{':
			depth++
		case ')', ']', '}':
			depth--
		case sep:
			if depth == 0 {
				parts, starts = append(parts, text[from:i]), append(starts, runeFrom)
				from, runeFrom = i+1, runes+1
			}
		}
		runes++
	}
	return append(parts, text[from:]), append(starts, runeFrom)
}

func (r *reader) direction(path, angle, toward, at string, b *statics.Body) (statics.Direction, bool) {
	switch {
	case (angle == "") == (toward == ""):
		r.fault(path, 0, "say which way: an angle, or toward a point, and not both")
		return statics.Direction{}, false
	case angle != "":
		a, ok := r.angle(path+".angle", angle)
		return statics.At(a), ok
	}
	from, _ := b.Point(at)
	to, ok := b.Point(toward)
	if !ok {
		r.fault(path+".toward", 0, "no point %s on body %s; it has %s", quote(toward), quote(b.Name), pointNames(b))
		return statics.Direction{}, false
	}
	d, err := statics.TowardPoint(from, to)
	if err != nil {
		r.fault(path+".toward", 0, "%v", err)
		return d, false
	}
	return d, true
}

func (r *reader) onBody(path, at string, b *statics.Body) bool {
	p, ok := b.Point(at)
	if !ok || p.Mark {
		r.fault(path, 0, "no point %s on body %s; name one of its points, marks apart", quote(at), quote(b.Name))
		return false
	}
	return true
}

// Place finds a point or mark of the body by name, or reads a place given by an
// offset from one: "A + L/4 @ 0". The empty text is the first point.
func (s *Scenario) Place(b *statics.Body, text string) (statics.Point, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return b.Points[0], nil
	}
	if p, ok := b.Point(text); ok {
		return p, nil
	}
	r := &reader{name: "place", s: s, table: s.Table}
	if len(text) <= notation.MaxBytes && strings.Contains(text, "+") {
		if chain := r.chain("", text, b); len(r.faults) == 0 {
			return statics.Point{Name: notation.Printable(text), Chain: chain, Mark: true}, nil
		}
	}
	if len(r.faults) > 0 {
		return statics.Point{}, fmt.Errorf("column %d: %s", r.faults[0].Column, r.faults[0].Message)
	}
	return statics.Point{}, fmt.Errorf("no point %s here; points are %s, or a place like \"%s + 0.5 @ 0\"", quote(text), pointNames(b), b.Points[0].Name)
}

func pointNames(b *statics.Body) string {
	var out []string
	for _, p := range b.Points {
		out = append(out, p.Name)
	}
	return strings.Join(out, ", ")
}
