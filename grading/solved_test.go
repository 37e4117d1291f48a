package grading

import (
	"slices"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// linearIn splits a sum into coefficient times symbol and the rest; not ok
// where the symbol is in it otherwise than as a factor.
func linearIn(s statics.Sum, i int, name string) (coef, rest statics.Sum, ok bool) {
	for k := range s {
		term := statics.Sum{s[k]}
		if !term.Uses(i) {
			rest = rest.Plus(term)
			continue
		}
		c := term.Over(statics.Sym(i, name))
		if c.Uses(i) {
			return nil, nil, false
		}
		coef = coef.Plus(c)
	}
	return coef, rest, len(coef) > 0
}

// rowsOf calls f for every row of every problem tried, about every point.
func rowsOf(t *testing.T, f func(t *testing.T, g *Grader, row statics.RowKind, sum statics.Sum)) {
	for _, s := range problems.Builtin().Scenarios {
		for seed := range (*seeds + 1) / 2 {
			p, err := Draw(s, seed)
			if err != nil {
				t.Fatal(err)
			}
			for _, pivot := range p.Bodies[0].Points {
				g, err := New(p, Choice{Pivot: pivot.Name, Clockwise: seed%2 == 1})
				if err != nil {
					t.Fatal(err)
				}
				for _, row := range statics.Rows {
					if !g.Blank(row) {
						f(t, g, row, g.body.Row(row, g.frame).Sum())
					}
				}
			}
		}
	}
}

// A row solved for any symbol in it is right: T = ..., m = ..., sin's factor
// taken below the line.
func TestRightRowSolved(t *testing.T) {
	rowsOf(t, func(t *testing.T, g *Grader, row statics.RowKind, sum statics.Sum) {
		for i := range g.p.Table.Len() {
			name := g.p.Table.Name(i)
			coef, rest, ok := linearIn(sum, i, name)
			if !ok || rest.IsZero() {
				continue
			}
			text := name + " = -(" + rest.Text(true) + ")/(" + coef.Text(true) + ")"
			if v, err := g.Equation(row, text); err != nil || v.Outcome != Right {
				t.Errorf("%s seed %d, %s about %s: %q is %v %v %q (%v)", g.p.ID, g.p.Seed, row, g.frame.Pivot.Name, text, v.Outcome, v.Slips, v.Message, err)
			}
		}
	})
}

// worked4 is a row with every given's number put in, and each unknown's factor
// worked out to four figures; not ok where an unknown is more than a factor.
func worked4(g *Grader, sum statics.Sum) (text string, ok bool) {
	rest := sum
	var terms []string
	for _, u := range g.p.Unknowns {
		coef, left, found := linearIn(rest, u.Index, u.Symbol)
		if !found {
			if rest.Uses(u.Index) {
				return "", false
			}
			continue
		}
		if slices.ContainsFunc(g.p.Unknowns, func(o problems.Unknown) bool { return coef.Uses(o.Index) }) {
			return "", false
		}
		rest = left
		terms = append(terms, problems.Figures(coef.Eval(g.p.Values), 4)+" "+u.Symbol)
	}
	if v := rest.Eval(g.p.Values); v != 0 {
		terms = append(terms, problems.Figures(v, 4))
	}
	return strings.Join(terms, " + ") + " = 0", len(terms) > 1
}

// A row in numbers of four figures is right, with a remark.
func TestRightRowInNumbers(t *testing.T) {
	rowsOf(t, func(t *testing.T, g *Grader, row statics.RowKind, sum statics.Sum) {
		text, ok := worked4(g, sum)
		if !ok {
			return
		}
		if v, err := g.Equation(row, text); err != nil || !v.Earned() {
			t.Errorf("%s seed %d, %s about %s: %q is %v %v %q (%v)", g.p.ID, g.p.Seed, row, g.frame.Pivot.Name, text, v.Outcome, v.Slips, v.Message, err)
		}
	})
}

// A row in numbers of four figures with one slip in it is wrong.
func TestSlippedRowInNumbers(t *testing.T) {
	tried, named := 0, 0
	rowsOf(t, func(t *testing.T, g *Grader, row statics.RowKind, sum statics.Sum) {
		if g.p.Seed > *seeds/8 {
			return
		}
		for _, bk := range g.ledger(row) {
			for i := range bk.singles {
				w := &bk.singles[i]
				slipped := sum.Minus(bk.right.term).Plus(w.term)
				text, ok := worked4(g, slipped)
				if !ok || abs(w.term.Eval(g.p.Values)-bk.right.term.Eval(g.p.Values)) < Margin*sum.Size(g.p.Values) || proportional(g, slipped, sum) {
					continue
				}
				v, err := g.Equation(row, text)
				tried++
				if err == nil && names(v, w.codes[0]) {
					named++
				}
				if err != nil || v.Earned() {
					t.Errorf("%s seed %d, %s about %s: %q, with %s, is %v %q (%v)", g.p.ID, g.p.Seed, row, g.frame.Pivot.Name, text, w.codes[0], v.Outcome, v.Message, err)
				}
			}
		}
	})
	t.Logf("%d rows in numbers with a slip: %.1f %% named or listed", tried, 100*float64(named)/float64(tried))
	if float64(named) < 0.97*float64(tried) {
		t.Errorf("%d of %d rows in numbers with a slip are named or listed, want 97 %%", named, tried)
	}
}
