package sheet

import (
	"html/template"
	"math"
	"slices"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// limitView is the answer to the question of limits, with the values that show
// it.
type limitView struct {
	Question template.HTML
	Answer   string
	Vary     template.HTML
	Watch    template.HTML
	Near     []nearView
}

// nearView is what the watched unknown comes to for one value of what varies.
type nearView struct{ At, Value string }

// limit solves the problem on the way to its limit: as drawn, then at a tenth,
// a hundredth and a thousandth of the distance.
func (k *keyer) limit() (*limitView, error) {
	l := k.p.Limit
	if l == nil {
		return nil, nil
	}
	v := &limitView{Question: Prose(l.Question, k.p.Table), Vary: Math(l.Vary), Watch: Math(l.Symbol)}
	trend, err := k.p.Trend()
	if v.Answer = string(trend); err != nil {
		v.Answer = "any answer: near that limit these numbers have no equilibrium"
	}
	vary, _ := k.p.Table.Index(l.Vary)
	watch, _ := k.p.Table.Index(l.Symbol)
	g := k.p.Givens[slices.IndexFunc(k.p.Givens, func(g problems.Given) bool { return g.Symbol == l.Vary })]
	u, _ := k.p.Unknown(l.Symbol)
	end := l.Toward.Eval(k.p.Values)
	span := k.p.Values[vary] - end
	if span == 0 {
		span = max(1, math.Abs(end))
	}
	if (span > 0) == l.Below {
		span = -span // what is drawn lies beyond the limit: come from the side that is asked
	}
	for _, share := range []float64{1, 0.1, 0.01, 0.001} {
		values := slices.Clone(k.p.Values)
		values[vary] = end + span*share
		near := nearView{At: withUnit(trimmed(values[vary]/g.Unit.Factor, figures+1), g.Unit.Name), Value: "no equilibrium"}
		if _, err := k.p.Solve(values); err == nil {
			near.Value = withUnit(number(values[watch]/u.Unit.Factor, k.p.Values[watch]/u.Unit.Factor), u.Unit.Name)
		}
		v.Near = append(v.Near, near)
	}
	return v, nil
}

// askView is the answer to a question, with what decides it.
type askView struct {
	Question template.HTML
	Answer   template.HTML
	Why      []whyView
}

// whyView is one inequality: as told, in numbers, and whether it holds.
type whyView struct {
	Line, Numbers template.HTML
	Holds         bool
}

func (k *keyer) asks() ([]askView, error) {
	var out []askView
	for i, a := range k.p.Asks {
		right, err := k.p.Answer(i)
		if err != nil {
			return nil, err
		}
		v := askView{Question: Prose(a.Question, k.p.Table), Answer: Prose(a.Answers[right].Text, k.p.Table)}
		for j, choice := range a.Answers {
			v.Why = append(v.Why, k.why(choice.When, j == right))
		}
		out = append(out, v)
	}
	return out, nil
}

// why puts the values into both sides of an inequality.
func (k *keyer) why(when string, holds bool) whyView {
	v := whyView{Holds: holds, Line: Math(when)}
	at := strings.IndexAny(when, "<>")
	if at < 0 {
		return v
	}
	var sides [2]string
	for i, text := range []string{when[:at], when[at+1:]} {
		n, err := k.p.Table.Parse(strings.TrimLeft(text, "="))
		if err != nil {
			return v
		}
		sides[i] = number(notation.Value(n, k.p.Values), notation.Size(n, k.p.Values))
	}
	sign := when[at : at+1]
	v.Line = Math(sideText(k, when[:at]) + " " + sign + " " + sideText(k, when[at+1:]))
	v.Numbers = Math(sides[0] + " " + sign + " " + sides[1])
	return v
}

// sideText is one side of an inequality as a textbook writes it.
func sideText(k *keyer, text string) string {
	n, err := k.p.Table.Parse(strings.TrimLeft(text, "="))
	if err != nil {
		return text
	}
	return notation.ReadBack(n, false)
}

// answerView is one answer in short.
type answerView struct {
	Name  template.HTML
	Value template.HTML
}

// answers are a problem's answers in short: its values, then its questions.
func (k *keyer) answers(v *keyView) []answerView {
	var out []answerView
	for _, u := range k.p.Unknowns {
		out = append(out, answerView{Math(u.Symbol), template.HTML(k.value(u.Index).Value)})
	}
	if v.Limit != nil {
		out = append(out, answerView{"limit", template.HTML(template.HTMLEscapeString(v.Limit.Answer))})
	}
	for i, a := range v.Asks {
		name := template.HTML("question")
		if len(v.Asks) > 1 {
			name = template.HTML("question " + string(rune('1'+i)))
		}
		out = append(out, answerView{name, a.Answer})
	}
	return out
}

// answerTable is the answers of every variant to one problem.
type answerTable struct {
	Title string
	Heads []template.HTML
	Rows  []answerRow
}

type answerRow struct {
	Label  string
	Again  string
	Values []template.HTML
}

// answerTables gathers the answers of the variants, a table a problem.
func answerTables(variants []variantView) []answerTable {
	var out []answerTable
	for i, p := range variants[0].Problems {
		t := answerTable{Title: p.Title}
		for _, a := range p.Key.Answers {
			t.Heads = append(t.Heads, a.Name)
		}
		for _, v := range variants {
			r := answerRow{Label: v.Label, Again: v.Problems[i].Again}
			for _, a := range v.Problems[i].Key.Answers {
				r.Values = append(r.Values, a.Value)
			}
			t.Rows = append(t.Rows, r)
		}
		out = append(out, t)
	}
	return out
}
