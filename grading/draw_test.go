package grading

import (
	"math"
	"testing"

	"steelyard/problems"
)

// At an angle of 60 degrees 2 S_x + F = 0 is right in numbers, though it counts
// one force twice and the other whole: no draw has such a given.
func TestDrawsAvoidPlainNumbers(t *testing.T) {
	each(t, func(t *testing.T, p *problems.Problem) {
		for _, g := range p.Givens {
			v := p.In(g.Index, g.Unit)
			switch {
			case g.Constant():
			case g.Unit.Name == "deg" && math.Mod(v, 15) == 0 && v != 15 && v != 75:
				t.Errorf("seed %d: %s is %v degrees", p.Seed, g.Symbol, v)
			case g.Unit.Name == "m" && (v == 0.25 || v == 0.5 || v == 1 || v == 2 || v == 4):
				t.Errorf("seed %d: %s is %v m", p.Seed, g.Symbol, v)
			}
		}
	})
	s, err := problems.Builtin().Scenario("winch-bar")
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.Enter(1, []string{"L=0.75", "theta=60", "C=240"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if Discriminates(p) {
		t.Error("an angle of 60 degrees is let pass")
	}
}
