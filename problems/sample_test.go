package problems

import (
	"math"
	"math/rand/v2"
	"testing"

	"steelyard/problems/notation"
)

// A state to compare expressions at is finite, off the grid that problems are
// drawn on, no solution of the rows, and keeps what symbols are defined to be.
func TestSample(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, s := range testScenarios(t) {
		values := make([]float64, s.Table.Len())
		solved := 0
		for range 100 {
			s.Sample(rng, values)
			if !finite(values) {
				t.Fatalf("%s: %v", s.ID, values)
			}
			for _, d := range s.Defined {
				if got, want := values[d.Index], notation.Value(d.Is, values); math.Abs(got-want) > 1e-9*math.Abs(want) {
					t.Errorf("%s: %s is %g, not %s = %g", s.ID, d.Symbol, got, d.Text, want)
				}
			}
			for _, g := range s.Givens {
				if v := values[g.Index] / g.Unit.Factor; !g.Constant() && (v <= g.From || v >= g.To) {
					t.Errorf("%s: %s = %g is not between %g and %g", s.ID, g.Symbol, v, g.From, g.To)
				}
			}
			if z := s.Search(); z >= 0 {
				if lo, hi := s.system.Lo.Eval(values), s.system.Hi.Eval(values); values[z] <= lo || values[z] >= hi {
					t.Errorf("%s: %s = %g is not between %g and %g", s.ID, s.Table.Name(z), values[z], lo, hi)
				}
			}
			off := 0.0
			for _, r := range s.rows {
				sum := r.Sum()
				off = max(off, math.Abs(sum.Eval(values))/max(sum.Size(values), 1e-300))
			}
			if off < 1e-3 {
				solved++
			}
		}
		if solved > 10 {
			t.Errorf("%s: %d of 100 random states solve the rows", s.ID, solved)
		}
	}
}
