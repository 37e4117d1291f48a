package problems

import (
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// drawable says which keys a thing in the figure takes: p for a pair of
// points, a for one point, r w h for its lengths, g for an angle and its span,
// l for a label.
var drawable = map[string]string{
	"bar":     "p",   // a stiff member, from one point to another
	"cable":   "p",   // a taut line
	"disc":    "ar",  // a wheel or drum
	"box":     "awh", // a body's outline, standing with its foot's middle at the point
	"crate":   "aw",  // a load, standing on the point
	"hung":    "aw",  // a load, hanging below the point
	"person":  "ah",  // someone standing at the point
	"trestle": "ah",  // a support with its top at the point
	"pin":     "a",   // a pinned support
	"roller":  "a",   // a support free to move along
	"ground":  "p",   // level ground, hatched below
	"wall":    "p",   // an upright face, hatched on its left or, if drawn downward, its right
	"block":   "pwh", // masonry whose top edge runs between the points: a quay, a kerb
	"length":  "pl",  // a dimension
	"angle":   "agl", // an angle, from angle through span
}

func (r *reader) drawn(path string, f fileDrawn) {
	keys, ok := drawable[f.Draw]
	if !ok {
		r.fault(path+".draw", 0, "%q cannot be drawn; what can is %s", notation.Printable(f.Draw), names(drawable))
		return
	}
	has := map[byte]bool{
		'p': f.From != "" || f.To != "", 'a': f.At != "", 'r': f.Radius != "", 'w': f.Width != "", 'h': f.Height != "",
		'g': f.Angle != "" || f.Span != "", 'l': f.Label != "",
	}
	for k, word := range map[byte]string{'p': "from and to", 'a': "at", 'r': "radius", 'g': "angle and span", 'l': "label", 'w': "width", 'h': "height"} {
		wants := strings.IndexByte(keys, k) >= 0
		optional := k == 'w' || k == 'h'
		if wants && !has[k] && !optional {
			r.fault(path, 0, "to draw a %s, say %s", f.Draw, word)
		}
		if !wants && has[k] {
			r.fault(path, 0, "a %s takes no %s", f.Draw, word)
		}
	}
	d := Drawn{Draw: f.Draw, From: f.From, To: f.To, At: f.At, Label: f.Label, Rough: f.Rough}
	r.printable(path+".label", f.Label)
	for key, name := range map[string]string{"from": f.From, "to": f.To, "at": f.At} {
		if name != "" && !r.anyPoint(name) {
			r.fault(path+"."+key, 0, "no point %q", notation.Printable(name))
		}
	}
	for key, v := range map[string]struct {
		text string
		to   *statics.Sum
	}{"radius": {f.Radius, &d.Radius}, "width": {f.Width, &d.Width}, "height": {f.Height, &d.Height}} {
		if v.text != "" {
			*v.to = r.sum(path+"."+key, v.text)
		}
	}
	if f.Angle != "" {
		d.Angle, _ = r.angle(path+".angle", f.Angle)
	}
	if f.Span != "" {
		d.Span, _ = r.angle(path+".span", f.Span)
	}
	r.s.Figure = append(r.s.Figure, d)
}

func (r *reader) anyPoint(name string) bool {
	for i := range r.s.Bodies {
		if _, ok := r.s.Bodies[i].Point(name); ok {
			return true
		}
	}
	return false
}
