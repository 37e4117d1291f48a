package grading

import (
	"flag"
	"math"
	"slices"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// drawn is how many problems of each scenario are drawn and checked; .ci/run
// asks for a thousand.
var drawn = flag.Uint64("drawn", 50, "how many problems of each scenario are drawn and checked")

// Every problem drawn holds together: its numbers are finite, forces and
// moments about three points not in line vanish on every body, contacts push,
// cables pull, friction stays within its limit, the right answer of each
// closing question is one, and every slip that applies is at least 3 % away. The
// same seed gives the same problem.
func TestDrawnProblems(t *testing.T) {
	for _, s := range problems.Builtin().Scenarios {
		t.Run(s.ID, func(t *testing.T) {
			t.Parallel()
			for seed := range *drawn {
				p, err := Draw(s, seed)
				if err != nil {
					t.Fatal(err)
				}
				for i, v := range p.Values {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Errorf("seed %d: %s is %v", seed, p.Table.Name(i), v)
					}
				}
				for i := range p.Bodies {
					balanced(t, p, &p.Bodies[i])
					pushing(t, p, &p.Bodies[i])
				}
				for i := range p.Asks {
					if _, err := p.Answer(i); err != nil {
						t.Errorf("seed %d: %v", seed, err)
					}
				}
				apart(t, p)
				if again, err := Draw(s, seed); err != nil || !slices.Equal(again.Values, p.Values) {
					t.Errorf("seed %d: drawn again it is another problem (%v)", seed, err)
				}
			}
		})
	}
}

// balanced adds up forces and moments from places, angles and sizes alone.
func balanced(t *testing.T, p *problems.Problem, b *statics.Body) {
	t.Helper()
	for _, c := range [][2]float64{{-1.73, 0.91}, {2.37, -1.19}, {0.43, 3.21}} {
		sum, largest := 0.0, 0.0
		add := func(m float64) { sum, largest = sum+m, max(largest, math.Abs(m)) }
		for _, f := range b.Forces {
			at, _ := b.Point(f.At)
			x, y := at.XY(p.Values)
			sin, cos := math.Sincos(f.Dir.Radians(p.Values))
			add(f.Magnitude.Eval(p.Values) * ((x-c[0])*sin - (y-c[1])*cos))
		}
		for _, cp := range b.Couples {
			add(cp.Sense * cp.Magnitude.Eval(p.Values))
		}
		if math.Abs(sum) > 1e-9*largest {
			t.Errorf("%s, seed %d: moments on the %s about %v come to %g, of %g", p.ID, p.Seed, b.Name, c, sum, largest)
		}
	}
}

// pushing checks that contacts push, cables pull, and friction is no more than
// the contact gives.
func pushing(t *testing.T, p *problems.Problem, b *statics.Body) {
	t.Helper()
	hair := 1e-9 * p.ForceScale()
	size := func(symbol string) float64 {
		i, _ := b.Force(symbol)
		return b.Forces[i].Magnitude.Eval(p.Values)
	}
	for _, f := range b.Forces {
		v := size(f.Symbol)
		if f.Kind.Pushes() && v < -hair {
			t.Errorf("%s, seed %d: %s is a %s of %g", p.ID, p.Seed, f.Symbol, f.Kind, v)
		}
		if f.Kind != statics.Friction || f.Pair == "" || f.MaySlip {
			continue
		}
		for _, name := range []string{"mu_" + f.At, "mu_s", "mu"} {
			i, ok := p.Table.Index(name)
			if !ok {
				continue
			}
			if most := p.Values[i] * size(f.Pair); math.Abs(v) > most*(1+1e-9)+hair {
				t.Errorf("%s, seed %d: friction %s is %g, of at most %g", p.ID, p.Seed, f.Symbol, v, most)
			}
			break
		}
	}
}

// apart checks that what each slip writes is 3 % or more from the right entry,
// about every point of the body, where any draw could tell them apart.
func apart(t *testing.T, p *problems.Problem) {
	t.Helper()
	for _, r := range rivalsOf(p.Scenario) {
		want, got := r.right.Eval(p.Values), r.wrong.Eval(p.Values)
		if abs(got-want) < 0.03*max(abs(want), abs(got)) {
			t.Errorf("%s, seed %d: %s comes to %g, and %s to %g", p.ID, p.Seed, r.right.Text(true), want, r.wrong.Text(true), got)
		}
	}
}
