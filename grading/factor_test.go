package grading

import (
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// A row times a factor that can be zero by itself is not that row; a row over
// an unknown, or solved, or turned upside down, is.
func TestExtraFactor(t *testing.T) {
	s := NewService(problems.Builtin())
	for _, c := range []struct {
		request     Request
		row, answer string
		verdict     Outcome
	}{
		{davit, "x", "(H - T cos(alpha)) (T - 5) = 0", Wrong},
		{davit, "x", "(H - T cos(alpha)) (T - 5)^2 = 0", Wrong},
		{davit, "x", "(H - T cos(alpha)) (V - W) = 0", Wrong},
		{davit, "x", "H T - T^2 cos(alpha) = 300 H - 300 T cos(alpha)", Wrong},
		{davit, "x", "(H - T cos(alpha)) (T - H) = 0", Wrong},
		{davit, "x", "(H - T cos(alpha)) (L - 3) = 0", Wrong}, // L is 3
		{davit, "moment", "(T L sin(alpha) - W L/2 - W_c L) (1 - 200/T) = 0", Wrong},
		{limit, "x", "(f - N_w) (d - 2) = 0", Wrong},
		{limit, "x", "(f - N_w) (f - 10) = 0", Wrong},
		{quay, "moment", "(W (L/2 - e) - m g x) (x - 0.1) = 0", Wrong},

		{davit, "x", "H/T = cos(alpha)", Right},
		{davit, "x", "T/H = 1/cos(alpha)", Right},
		{davit, "x", "1/(T cos(alpha)) = 1/H", Right},
		{davit, "x", "T = H/sin(90 - alpha)", Right},
		{davit, "x", "H/(T - W) = T cos(alpha)/(T - W)", Right},
		{davit, "x", "T (H - T cos(alpha)) = 0", Right},
		{davit, "x", "H^2 = (T cos(alpha))^2", Right},
		{davit, "x", "sqrt(H) = sqrt(T cos(alpha))", Right},
		{davit, "x", "(H - T cos(alpha)) (L - 2) = 0", Right},
		{davit, "moment", "sin(alpha) = (W/2 + W_c)/T", Right},
		{limit, "x", "mu = N_w/N", Right},
		{quay, "moment", "x = W (L/2 - e)/(m g)", Right},
		{quay, "moment", "L = 2 (m g x/W + e)", Right},
	} {
		r := c.request
		r.Step, r.Row, r.Answer = "equation", c.row, c.answer
		if v, err := s.Grade(r); err != nil || v.Outcome != c.verdict {
			t.Errorf("%s: %q is %v %v %q (%v), want %v", c.row, c.answer, v.Outcome, v.Slips, v.Message, err, c.verdict)
		}
	}
}

// So it is for every row of the bank, about every point, and for each unknown.
func TestExtraFactorOfRows(t *testing.T) {
	rowsOf(t, func(t *testing.T, g *Grader, row statics.RowKind, sum statics.Sum) {
		if g.p.Seed > 0 {
			return
		}
		for _, i := range append(g.p.LinearUnknowns(), max(g.p.Search(), g.p.LinearUnknowns()[0])) {
			name := g.p.Table.Name(i)
			if len(sum) == 1 {
				continue // H = 0, whose factor H is all there is
			}
			part := problems.Figures(0.3*abs(g.p.Values[i])+0.1, 2)
			for text, want := range map[string]Outcome{
				"(" + sum.Text(true) + ") (" + name + " - " + part + ") = 0":     Wrong,
				"(" + sum.Text(true) + ") / (" + name + ") = 0":                  Right,
				"(" + sum.Text(true) + ") (3 + " + name + "^2) = 0":              Right,
				"(" + sum.Text(true) + ") (" + name + "/" + part + " - 1)^2 = 0": Wrong,
			} {
				if v, err := g.Equation(row, text); err != nil || v.Outcome != want {
					t.Errorf("%s, %s about %s: %q is %v %q (%v), want %v", g.p.ID, row, g.frame.Pivot.Name, text, v.Outcome, v.Message, err, want)
				}
			}
		}
	})
}
