package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"steelyard/problems"
	"steelyard/problems/figure"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// drawing is the figure of a problem, named for who hears the page read. With
// a body it has all that acts on that body, the pivot, and what was found at
// its true place; without one it is the situation alone.
func drawing(p *problems.Problem, b *statics.Body, pivot, id string) template.HTML {
	view := figure.View{Pivot: pivot}
	if b != nil {
		for _, f := range b.Forces {
			view.Forces = append(view.Forces, figure.Listed{Symbol: f.Symbol})
		}
		for _, c := range b.Couples {
			view.Forces = append(view.Forces, figure.Listed{Symbol: c.Symbol})
		}
		view.Learned = map[string]bool{}
		for _, u := range p.Unknowns {
			view.Learned[u.Symbol] = true
		}
	}
	words := strings.Join(figure.Words(p, view), " ")
	return template.HTML(fmt.Sprintf(`<svg role="img" width="300" height="200" aria-labelledby="%s-t %[1]s-d"><title id="%[1]s-t">%s</title><desc id="%[1]s-d">%s</desc></svg>`,
		id, template.HTMLEscapeString(notation.Printable(p.Title)), template.HTMLEscapeString(words)))
}
