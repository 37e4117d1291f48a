package sheet

import (
	"fmt"
	"html/template"
	"slices"

	"steelyard/problems/statics"
)

// bestPivot is the point of the body about which most unknowns drop out; of
// several, the one that the scenario names first.
func bestPivot(b *statics.Body) statics.Point {
	best, most := b.Points[0], -1
	for _, p := range b.Points {
		if a := b.AdviseAt(p); !p.Mark && len(a.Vanish) > most {
			best, most = p, len(a.Vanish)
		}
	}
	return best
}

// pivotReasons says what the pivot does for the moment row, and what the other
// points of the body do about which an unknown drops out: they are as right.
func pivotReasons(b *statics.Body, pivot statics.Point) (reason template.HTML, elsewhere []template.HTML) {
	for _, p := range b.Points {
		if p.Mark || p.Name == pivot.Name || len(b.AdviseAt(p).Vanish) == 0 {
			continue
		}
		elsewhere = append(elsewhere, template.HTML("about "+template.HTMLEscapeString(placeName(b, p.Name))+" ")+dropOut(b, p))
	}
	return dropOut(b, pivot), elsewhere
}

// dropOut says which unknown forces have no arm about a point, and which stay.
func dropOut(b *statics.Body, p statics.Point) template.HTML {
	a := b.AdviseAt(p)
	var stay []string
	for _, f := range b.Forces {
		if f.Unknown && !slices.Contains(a.Vanish, f.Symbol) {
			stay = append(stay, f.Symbol)
		}
	}
	for _, c := range b.Couples {
		if c.Unknown {
			stay = append(stay, c.Symbol)
		}
	}
	stays := "no unknown stays"
	switch len(stay) {
	case 0:
	case 1:
		stays = "only %s stays"
	default:
		stays = "%s stay"
	}
	if len(stay) > 0 {
		stays = fmt.Sprintf(stays, list(stay))
	}
	switch len(a.Vanish) {
	case 0:
		return template.HTML("no unknown drops out, " + stays)
	case 1:
		return template.HTML(fmt.Sprintf("%s drops out, %s", list(a.Vanish), stays))
	}
	return template.HTML(fmt.Sprintf("%s drop out, %s", list(a.Vanish), stays))
}

// list writes symbols in a row: H, V and N.
func list(symbols []string) string {
	out := ""
	for i, s := range symbols {
		switch {
		case i == 0:
		case i == len(symbols)-1:
			out += " and "
		default:
			out += ", "
		}
		out += string(Math(s))
	}
	return out
}

// otherPoint is a point to check the values about: of the body's own, the one
// about which most forces have a moment.
func otherPoint(b *statics.Body, pivot statics.Point) (statics.Point, bool) {
	var best statics.Point
	most := 0
	for _, p := range b.Points {
		if p.Mark || statics.Between(pivot, p).Length().IsZero() {
			continue
		}
		n := 0
		for _, c := range b.Row(statics.RowMoment, statics.Frame{Pivot: p}).Cells {
			if !c.Coef.IsZero() {
				n++
			}
		}
		if n > most {
			best, most = p, n
		}
	}
	return best, most > 0
}
