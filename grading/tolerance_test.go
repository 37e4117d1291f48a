package grading

import (
	"math"
	"strings"
	"testing"

	"steelyard/problems"
)

// The tolerance chosen decides how far numbers and values may be off; one
// service keeps different ones apart. T = 1539.3 N, H = 1260.9 N.
func TestTolerance(t *testing.T) {
	s := NewService(problems.Builtin())
	for _, c := range []struct {
		step, about, answer string
		tolerance           float64
		verdict             Outcome
		slip                string
	}{
		{"value", "T", "1550 N", 0, Right, ""},
		{"value", "T", "1550 N", 0.01, Right, ""},
		{"value", "T", "1550 N", 0.001, Wrong, "rounded-early"},
		{"value", "T", "1540 N", 0.001, Right, ""},
		{"value", "T", "1600 N", 0, Wrong, ""},
		{"value", "T", "1600 N", 0.05, Right, ""},
		{"value", "T", "-1600 N", 0.05, Wrong, "sense-reversed"},
		{"value", "T", "1.6 N", 0.05, Wrong, "unit-prefix"},
		{"value", "T", "1750 N", 0.1, Wrong, ""},
		{"value", "H", "3 (1.1 m g + 3) N", 0.05, Unreadable, ""},
		{"moment", "T", "1.721 T", 0, Remarked, ""},
		{"moment", "T", "1.72 T", 0.0002, Wrong, "rounded-early"},
		{"moment", "T", "1.7 T", 0, Wrong, "rounded-early"},
		{"moment", "T", "1.7 T", 0.05, Remarked, ""},
		{"moment", "T", "0.6 T L", 0.05, Remarked, ""},
		{"moment", "T", "0.6 T L", 0, Wrong, "rounded-early"},
		{"equation", "moment", "0.6 T L = W L/2 + W_c L", 0.05, Remarked, ""},
		{"equation", "moment", "0.6 T L = W L/2 + W_c L", 0, Wrong, "rounded-early"},
		{"system", "", "H = 0.819 T; V = W/2; 0.574 T = W/2 + W_c", 0, Remarked, ""},
		{"system", "", "H = 0.819 T; V = W/2; 0.6 T = W/2 + W_c", 0, Wrong, "rounded-early"},
		{"system", "", "H = 0.819 T; V = W/2; 0.6 T = W/2 + W_c", 0.05, Remarked, ""},
	} {
		r := davit
		r.Step, r.Answer, r.Tolerance = c.step, c.answer, c.tolerance
		r.Force, r.Row, r.Symbol = c.about, c.about, c.about
		v, err := s.Grade(r)
		if err != nil || v.Outcome != c.verdict || c.slip != strings.Join(v.Slips, " ") {
			t.Errorf("%s %s: %q within %v is %v %v %q (%v), want %v %s", c.step, c.about, c.answer, c.tolerance, v.Outcome, v.Slips, v.Message, err, c.verdict, c.slip)
		}
	}
}

// A tolerance that is none, or so wide that most slips would pass, is refused
// with the limits.
func TestToleranceRefused(t *testing.T) {
	p, err := Draw(problems.Builtin().Scenarios[0], 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{-0.01, 0.1001, 5, math.NaN(), math.Inf(1)} {
		if _, err := New(p, Choice{Tolerance: x}); err == nil || !strings.Contains(err.Error(), "above 0 and at most 0.1") {
			t.Errorf("tolerance %v: %v", x, err)
		}
	}
	for _, x := range []float64{0, 1e-6, 0.1} {
		if _, err := New(p, Choice{Tolerance: x}); err != nil {
			t.Errorf("tolerance %v: %v", x, err)
		}
	}
}
