package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// problemView is one problem as the sheet and the key show it.
type problemView struct {
	Number    int // on its sheet; 0 where it stands alone
	Title     string
	Statement template.HTML
	Caution   string
	Givens    []givenView
	Defined   []definedView
	Unknowns  []unknownView
	Figure    template.HTML
	Bodies    []bodySpace
	Limit     *questionView
	Asks      []questionView
	Again     string // what makes this problem again
	Key       *keyView
}

type givenView struct {
	Symbol  template.HTML
	Value   string
	Meaning string
}

type definedView struct {
	Symbol, Is template.HTML
	Meaning    string
}

type unknownView struct {
	Symbol  template.HTML
	Unit    string
	Meaning string
}

// bodySpace is the room to work one body in.
type bodySpace struct {
	Name string // "" if there is only one
	Rows []struct{}
}

// questionView is a question answered by choice.
type questionView struct {
	Question template.HTML
	Choices  []template.HTML
}

// The blank rows of a ledger: one more than the body has forces, so that their
// number says little, and never fewer than six.
const fewestRows = 6

// viewOf is a problem as the document shows it.
func viewOf(p *problems.Problem, number int, o Options) (*problemView, error) {
	v := &problemView{
		Number:    number,
		Title:     notation.Printable(p.Title),
		Statement: Prose(p.Statement, p.Table),
		Caution:   notation.Printable(p.Caution),
		Again:     again(p),
	}
	for _, g := range p.Givens {
		v.Givens = append(v.Givens, givenView{Math(g.Symbol), withUnit(given(p.In(g.Index, g.Unit)), g.Unit.Name), notation.Printable(g.Meaning)})
	}
	for _, d := range p.Defined {
		v.Defined = append(v.Defined, definedView{Math(d.Symbol), Math(statics.FromNode(d.Is).Text(false)), notation.Printable(d.Meaning)})
	}
	for _, u := range p.Unknowns {
		v.Unknowns = append(v.Unknowns, unknownView{Math(u.Symbol), unitText(u.Unit.Name), notation.Printable(u.Meaning)})
	}
	for _, b := range p.Bodies {
		space := bodySpace{Rows: make([]struct{}, max(fewestRows, len(b.Forces)+len(b.Couples)+1))}
		if len(p.Bodies) > 1 {
			space.Name = notation.Printable(b.Name)
		}
		v.Bodies = append(v.Bodies, space)
	}
	if p.Limit != nil {
		q := questionView{Question: Prose(p.Limit.Question, p.Table)}
		for _, t := range problems.Trends {
			q.Choices = append(q.Choices, template.HTML(template.HTMLEscapeString(string(t))))
		}
		v.Limit = &q
	}
	for _, a := range p.Asks {
		q := questionView{Question: Prose(a.Question, p.Table)}
		for _, choice := range a.Answers {
			q.Choices = append(q.Choices, Prose(choice.Text, p.Table))
		}
		v.Asks = append(v.Asks, q)
	}
	if o.Sheet {
		v.Figure = situation(p)
	}
	if o.Key {
		k, err := keyOf(p)
		if err != nil {
			return nil, err
		}
		v.Key = k
	}
	return v, nil
}

// again is what names the problem, so that it can be made again.
func again(p *problems.Problem) string {
	parts := []string{p.ID, fmt.Sprintf("seed %d", p.Seed)}
	if p.Entered != "" {
		parts = append(parts, "given "+p.Entered)
	}
	return notation.Printable(strings.Join(append(parts, "scenario "+p.Hash), " · "))
}
