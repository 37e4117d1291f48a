package problems

import (
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Problem is a scenario whose givens have values, and its solution.
type Problem struct {
	*Scenario
	Seed     uint64
	Values   []float64 // by table index, SI (radians); givens, unknowns and defined symbols
	Entered  string    // "L=5 M=40" when drawn from given values
	Solution statics.Solution
}

// Accept says whether a drawn problem tells mistakes apart. Draws that it
// refuses are drawn again.
type Accept func(*Problem) bool

// maxDraws bounds how often a seed is drawn again before it is given up.
const maxDraws = 2000

// Draw makes the problem of a seed: each given is a whole number of its steps,
// as a textbook rounds them. A draw that breaks the physics, or that accept
// refuses (nil accepts all), is drawn again from the same stream, so the seed
// alone decides.
func (s *Scenario) Draw(seed uint64, accept Accept) (*Problem, error) {
	rng := rand.New(rand.NewPCG(seed, streamOf(s.ID)))
	var why error
	for range maxDraws {
		p := &Problem{Scenario: s, Seed: seed, Values: make([]float64, s.Table.Len())}
		for _, g := range s.Givens {
			p.Values[g.Index] = si(g.draw(rng), g.Unit)
		}
		switch err := p.settle(); {
		case err != nil && why != errAlike:
			why = err
		case err != nil:
		case accept == nil || accept(p):
			return p, nil
		default:
			why = errAlike
		}
	}
	return nil, fmt.Errorf("%s, seed %d: no usable draw in %d: %w", s.ID, seed, maxDraws, why)
}

var errAlike = errors.New("its numbers cannot tell mistakes apart")

// streamOf keeps scenarios with one seed from sharing their draws.
func streamOf(id string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(id))
	return h.Sum64()
}

// draw is one of the given's values, in its unit. The reader has seen to it
// that there are not too many steps.
func (g Given) draw(rng *rand.Rand) float64 {
	if g.Constant() {
		return g.From
	}
	steps := int(math.Floor((g.To-g.From)/g.Step + 1e-9))
	return roundTo(g.From+float64(rng.IntN(steps+1))*g.Step, g.Step)
}

// roundTo takes away the dust that adding steps leaves: what is beyond the
// step's own last digits, and two more for a step such as 1/3.
func roundTo(v, step float64) float64 {
	digits := max(0, int(math.Ceil(-math.Log10(step)-1e-9))+2)
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', min(digits, 15), 64), 64)
	return out
}

func si(v float64, u notation.Unit) float64 { return v * u.Factor }

// settle computes the dependent symbols, solves, and checks the physics.
func (p *Problem) settle() error {
	statics.Define(p.defs, p.Values)
	if err := p.checkGivens(); err != nil {
		return err
	}
	if err := p.checkRequired(true); err != nil {
		return err // sooner than the rows are solved: most draws that fail, fail here
	}
	sol, err := p.Solve(p.Values)
	if err != nil {
		return err
	}
	p.Solution = sol
	return p.Check()
}

// Rows are the reference rows of every body, about each body's first point,
// level axes, anticlockwise positive.
func (p *Problem) Rows() []statics.Row { return p.rows }

// Solve finds the unknowns of a state whose givens are set.
func (s *Scenario) Solve(values []float64) (statics.Solution, error) {
	statics.Define(s.defs, values)
	return s.system.Solve(values)
}

// OtherRoot reports whether v, in SI, is within `within` of a value of the
// searched unknown that solves the rows, but is not the one asked for.
func (p *Problem) OtherRoot(u Unknown, v, within float64) bool {
	return u.Role == Searched && math.Abs(v-p.Values[u.Index]) > within && p.system.Root(p.Values, v, within)
}

// In is the value of a symbol in its own unit, as a learner sees it.
func (p *Problem) In(index int, u notation.Unit) float64 {
	v := p.Values[index] / u.Factor
	if r := math.Round(v*1e9) / 1e9; math.Abs(r-v) < 1e-11*math.Abs(v) {
		return r
	}
	return v
}

// Figures writes v to n significant figures, plainly; what has more than
// fifteen digits before or after the point is written as 1.23e-20.
func Figures(v float64, n int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v+0, 'f', -1, 64)
	}
	n = max(n, 1)
	text := strconv.FormatFloat(v, 'e', n-1, 64) // rounded once: 9.996 is 1.00e+01 to three figures
	_, power, _ := strings.Cut(text, "e")
	exponent, _ := strconv.Atoi(power)
	if exponent < -15 || exponent > 15 {
		return text
	}
	rounded, _ := strconv.ParseFloat(text, 64)
	return strconv.FormatFloat(rounded, 'f', max(0, n-1-exponent), 64)
}
