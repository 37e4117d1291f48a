package sheet

import (
	"html/template"

	"steelyard/problems"
	"steelyard/problems/figure"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// size is how large a figure may be, in units of 1/96 inch, so that both
// papers have room for it.
type size struct{ width, height int }

// The sizes of figures: beside the givens on the sheet, and above the forces
// in the key.
var (
	besideGivens = size{350, 330}
	aboveForces  = size{520, 290}
)

// situation is the figure of a problem as it is set, without a force.
func situation(p *problems.Problem) template.HTML {
	return drawing(p, figure.View{}, besideGivens)
}

// freeBody is the figure of a body with all that acts on it and the pivot, and
// with what was found at its true place.
func freeBody(p *problems.Problem, b *statics.Body, pivot string) template.HTML {
	view := figure.View{Body: b.Name, Pivot: pivot, Learned: map[string]bool{}}
	for _, f := range b.Forces {
		view.Forces = append(view.Forces, figure.Listed{Symbol: f.Symbol})
	}
	for _, c := range b.Couples {
		view.Forces = append(view.Forces, figure.Listed{Symbol: c.Symbol})
	}
	for _, u := range p.Unknowns {
		view.Learned[u.Symbol] = true
	}
	return drawing(p, view, aboveForces)
}

// drawing is a figure as it stands in the page, named and told in words for
// who hears the page read. Its text is escaped where it is written.
func drawing(p *problems.Problem, v figure.View, s size) template.HTML {
	scene := figure.Build(p, v)
	scene.Title = notation.Printable(scene.Title)
	return template.HTML(scene.SVG(s.width, s.height))
}
