package sheet

import (
	"cmp"
	"html/template"
	"math"
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/grading/slip"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// mostSlips is how many slips a key tells of.
const mostSlips = 5

// slipView is a slip to look for when marking: where, what the line would look
// like, and what stands there.
type slipView struct {
	Name  string
	Where template.HTML
	Wrong template.HTML
	Value string
	Right template.HTML

	line  string // the wrong one, as it may be read again
	value float64
}

// telling are the slips in the order in which they tell the most to who marks:
// those about one kind of force, or one idea, before those that any line may
// have. What is not here could be anything, and is left out.
var telling = []string{
	"friction-at-limit", "friction-from-weight", "normal-is-weight", "tension-is-weight",
	"load-centroid", "load-not-multiplied", "couple-with-distance", "weight-at-end", "sine-cosine", "whole-distance",
	"component-omitted", "mass-for-weight", "friction-reversed", "whole-force", "no-arm", "arm-elsewhere", "sense-reversed",
}

// slips are the slips that apply to the problem's entries, one of each kind,
// each with a line of its own that its numbers tell from the right one.
func (k *keyer) slips() []slipView {
	var out []slipView
	seen := map[string]bool{}
	for _, code := range telling {
		if len(out) == mostSlips {
			break
		}
		sl, ok := slip.Of(code)
		if !ok || sl.Edit == nil {
			continue
		}
		if v, ok := k.first(sl, seen); ok {
			seen[v.line] = true
			out = append(out, v)
		}
	}
	return out
}

// first is the slip in the first entry where it shows, moments before
// components.
func (k *keyer) first(sl *slip.Slip, seen map[string]bool) (slipView, bool) {
	for _, row := range []statics.RowKind{statics.RowMoment, statics.RowX, statics.RowY} {
		for i := range k.p.Bodies {
			b := &k.p.Bodies[i]
			for _, e := range k.entries(b, row, statics.Frame{Pivot: bestPivot(b)}) {
				for _, wrong := range sl.Edit(e) {
					if v, ok := k.slip(sl, e, wrong); ok && !seen[v.line] {
						return v, true
					}
				}
			}
		}
	}
	return slipView{}, false
}

// entries are the right entries of a row that are not zero.
func (k *keyer) entries(b *statics.Body, row statics.RowKind, frame statics.Frame) []slip.Entry {
	var out []slip.Entry
	for i := range b.Forces {
		out = append(out, slip.ForForce(k.p.Scenario, b, i, row, frame))
	}
	for i := range b.Couples {
		out = append(out, slip.ForCouple(k.p.Scenario, b, i, row, frame))
	}
	return slices.DeleteFunc(out, func(e slip.Entry) bool { return e.Term().IsZero() })
}

// slip is one slip in one entry, if its numbers can be told from the right
// ones.
func (k *keyer) slip(sl *slip.Slip, right, wrong slip.Entry) (slipView, bool) {
	want, got := right.Term().Eval(k.p.Values), wrong.Term().Eval(k.p.Values)
	if wrong.Term().IsZero() || math.Abs(got-want) < grading.Margin*max(math.Abs(want), math.Abs(got)) {
		return slipView{}, false
	}
	line := statics.ProductText(wrong.Size, wrong.Coef(), false, k.p.Values)
	fair := statics.ProductText(right.Size, right.Coef(), false, k.p.Values)
	if strings.Contains(line, "√") && !strings.Contains(fair, "√") {
		return slipView{}, false // who would write a distance in full, to get it wrong?
	}
	return slipView{
		Name:  notation.Printable(sl.Name),
		Where: k.where(right),
		Wrong: Math(line),
		Value: number(got, cmp.Or(wrong.Term().Size(k.p.Values), 1)),
		Right: Math(fair),
		line:  line, value: got,
	}, true
}

// where names an entry: "moment of W, arm".
func (k *keyer) where(e slip.Entry) template.HTML {
	part := map[statics.RowKind]string{statics.RowX: "along x", statics.RowY: "along y", statics.RowMoment: "moment"}[e.Row]
	out := Math(e.Symbol()) + template.HTML(", "+part)
	if len(k.p.Bodies) > 1 {
		out += template.HTML(", " + template.HTMLEscapeString(notation.Printable(e.Body.Name)))
	}
	return out
}
