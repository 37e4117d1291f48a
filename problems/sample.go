package problems

import (
	"math"
	"math/rand/v2"

	"steelyard/problems/statics"
)

// Sample fills values with a random state of the symbols: givens and unknowns
// drawn apart from each other and from special values, dependent symbols
// computed. It is where expressions are compared. Some of the values may still
// not be finite, where the scenario hardly has states that are.
func (s *Scenario) Sample(rng *rand.Rand, values []float64) {
	for range 50 {
		for _, g := range s.Givens {
			values[g.Index] = g.sample(rng)
		}
		if s.Free(rng, values); finite(values) {
			return
		}
	}
}

// Free redraws the unknowns of a state, and computes what depends on them.
func (s *Scenario) Free(rng *rand.Rand, values []float64) {
	statics.Define(s.defs, values)
	scale := s.forceScale(values)
	for _, u := range s.system.Unknowns {
		values[u] = scale * math.Exp2(2*rng.Float64()-1)
	}
	statics.Define(s.defs, values)
	if z := s.system.Search; z >= 0 {
		lo, hi := s.system.Lo.Eval(values), s.system.Hi.Eval(values)
		values[z] = lo + (hi-lo)*(0.2+0.6*rng.Float64())
		statics.Define(s.defs, values)
	}
}

// ForceScale is the size of the largest known force of the problem, in newtons
// (1 if it has none): what a force must be small beside to be nothing.
func (p *Problem) ForceScale() float64 { return p.forceScale(p.Values) }

// forceScale is the size of the largest force that is known.
func (s *Scenario) forceScale(values []float64) float64 {
	scale := 0.0
	for _, b := range s.Bodies {
		for _, f := range b.Forces {
			if !f.Unknown {
				scale = max(scale, math.Abs(f.Magnitude.Eval(values)))
			}
		}
		for _, c := range b.Couples {
			if !c.Unknown {
				scale = max(scale, math.Abs(c.Magnitude.Eval(values)))
			}
		}
	}
	if scale == 0 || math.IsNaN(scale) || math.IsInf(scale, 0) {
		return 1
	}
	return scale
}

func finite(values []float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// sample is a value between the given's ends, off its steps; a constant is
// varied too, so that a symbol and its number are told apart.
func (g Given) sample(rng *rand.Rand) float64 {
	u := rng.Float64()
	if g.Constant() {
		if g.From == 0 {
			return 0.5 + u
		}
		return si(g.From*(0.8+0.4*u), g.Unit)
	}
	return si(g.From+(g.To-g.From)*(0.02+0.96*u), g.Unit)
}
