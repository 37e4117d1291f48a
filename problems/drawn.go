package problems

import (
	"strings"
	"unicode/utf8"

	"steelyard/problems/statics"
)

// drawable says which keys a thing in the figure takes, by their letters in
// drawKeys. A key in capitals may be left out.
var drawable = map[string]string{
	"bar":     "ftA",  // a stiff member, from one point to another; if at is said, that is its middle, and it is drawn as far on both sides as to cover both points
	"cable":   "ft",   // a taut line
	"disc":    "ar",   // a wheel or drum
	"box":     "aWHG", // a body's outline, standing with its foot's middle at the point; the angle is its foot's tilt
	"crate":   "aWG",  // a load, standing on the point
	"hung":    "aW",   // a load, hanging below the point
	"person":  "aH",   // someone standing at the point
	"trestle": "aH",   // a support with its top at the point
	"pin":     "a",    // a pinned support
	"roller":  "a",    // a support free to move along
	"fixed":   "ag",   // a built-in end; the angle is the way the body leaves the face
	"spring":  "ft",   // a coil between two points
	"link":    "ft",   // a light bar with a pin at each end
	"pulley":  "a",    // a small sheave with its centre at the point
	"water":   "fth",  // still water whose level surface runs between the points, left to right, and goes down by the height
	"ground":  "ftX",  // level ground between the points, left to right, hatched below
	"wall":    "ftX",  // a face hatched on the left of one who goes from the first point to the second: upward, its left; downward, its right
	"block":   "ftHX", // masonry whose level top edge runs between the points, left to right, and goes down by the height: a quay, a kerb
	"length":  "ftl",  // a dimension, from one point to another
	"angle":   "agsl", // an angle at the point, from angle anticlockwise through span
}

// drawKeys are the keys of a [[figure]] table; what they hold is an expression,
// an angle, a point or a text.
var drawKeys = []struct {
	letter byte
	name   string
	text   func(*fileDrawn) string
	read   func(r *reader, path, text string, d *Drawn)
}{
	{'f', "from", func(f *fileDrawn) string { return f.From }, func(r *reader, path, text string, d *Drawn) { d.From = r.drawnPoint(path, text) }},
	{'t', "to", func(f *fileDrawn) string { return f.To }, func(r *reader, path, text string, d *Drawn) { d.To = r.drawnPoint(path, text) }},
	{'a', "at", func(f *fileDrawn) string { return f.At }, func(r *reader, path, text string, d *Drawn) { d.At = r.drawnPoint(path, text) }},
	{'r', "radius", func(f *fileDrawn) string { return f.Radius }, func(r *reader, path, text string, d *Drawn) { d.Radius = r.sum(path, text) }},
	{'w', "width", func(f *fileDrawn) string { return f.Width }, func(r *reader, path, text string, d *Drawn) { d.Width = r.sum(path, text) }},
	{'h', "height", func(f *fileDrawn) string { return f.Height }, func(r *reader, path, text string, d *Drawn) { d.Height = r.sum(path, text) }},
	{'g', "angle", func(f *fileDrawn) string { return f.Angle }, func(r *reader, path, text string, d *Drawn) { d.Angle = r.drawnAngle(path, text) }},
	{'s', "span", func(f *fileDrawn) string { return f.Span }, func(r *reader, path, text string, d *Drawn) { d.Span = r.drawnAngle(path, text) }},
	{'l', "label", func(f *fileDrawn) string { return f.Label }, func(r *reader, path, text string, d *Drawn) { d.Label = r.drawnLabel(path, text) }},
	{'x', "rough", func(f *fileDrawn) string { return map[bool]string{true: "true"}[f.Rough] }, func(r *reader, path, text string, d *Drawn) { d.Rough = true }},
}

func (r *reader) drawn(path string, f fileDrawn) {
	takes, ok := drawable[f.Draw]
	if !ok {
		r.fault(path+".draw", 0, "%s cannot be drawn; what can is %s", quote(f.Draw), names(drawable))
		return
	}
	d := Drawn{Draw: f.Draw}
	for _, k := range drawKeys {
		text := k.text(&f)
		switch wanted := strings.IndexByte(takes, k.letter) >= 0; {
		case text == "" && wanted:
			r.fault(path, 0, "to draw a %s, say %s", f.Draw, k.name)
		case text != "" && !wanted && strings.IndexByte(takes, k.letter-'a'+'A') < 0:
			r.fault(path+"."+k.name, 0, "a %s takes no %s; take it out", f.Draw, k.name)
		case text != "":
			k.read(r, path+"."+k.name, text, &d)
		}
	}
	r.s.Figure = append(r.s.Figure, d)
}

// drawnPoint is the name of a point or mark of any body.
func (r *reader) drawnPoint(path, name string) string {
	for i := range r.s.Bodies {
		if _, ok := r.s.Bodies[i].Point(name); ok {
			return name
		}
	}
	r.fault(path, 0, "no point %s on any body", quote(name))
	return ""
}

func (r *reader) drawnAngle(path, text string) statics.Angle {
	a, _ := r.angle(path, text)
	return a
}

func (r *reader) drawnLabel(path, text string) string {
	r.printable(path, text)
	if n := utf8.RuneCountInString(text); n > 24 {
		r.fault(path, 0, "a label of %d characters hides the figure; keep it to 24", n)
	}
	return text
}
