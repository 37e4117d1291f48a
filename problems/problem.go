package problems

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
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
	var last error
	for range maxDraws {
		p := &Problem{Scenario: s, Seed: seed, Values: make([]float64, s.Table.Len())}
		for _, g := range s.Givens {
			p.Values[g.Index] = si(g.draw(rng), g.Unit)
		}
		if last = p.settle(); last != nil {
			continue
		}
		if accept == nil || accept(p) {
			return p, nil
		}
		last = fmt.Errorf("its numbers cannot tell mistakes apart")
	}
	return nil, fmt.Errorf("%s, seed %d: no usable draw in %d: %w", s.ID, seed, maxDraws, last)
}

// streamOf keeps scenarios with one seed from sharing their draws.
func streamOf(id string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(id))
	return h.Sum64()
}

func (g Given) draw(rng *rand.Rand) float64 {
	if g.Constant() {
		return g.From
	}
	steps := int(math.Floor((g.To-g.From)/g.Step + 1e-9))
	return roundTo(g.From+float64(rng.IntN(steps+1))*g.Step, g.Step)
}

// roundTo takes away the dust that adding steps leaves.
func roundTo(v, step float64) float64 {
	digits := max(0, int(math.Ceil(-math.Log10(step)-1e-9))+2)
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', digits, 64), 64)
	return out
}

func si(v float64, u notation.Unit) float64 { return v * u.Factor }

// settle computes the dependent symbols, solves, and checks the physics.
func (p *Problem) settle() error {
	sol, err := p.Solve(p.Values)
	if err != nil {
		return err
	}
	p.Solution = sol
	return p.Check()
}

// PhysicsError reports a value that the real thing could not have.
type PhysicsError struct{ Symbol, Message string }

func (e *PhysicsError) Error() string { return e.Message }

// Check says what in the problem could not be so: contacts that pull, cables
// that push, friction beyond its limit, requirements that fail, values that
// are not finite.
func (p *Problem) Check() error {
	for i, v := range p.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return &PhysicsError{p.Table.Name(i), p.Table.Name(i) + " has no finite value"}
		}
	}
	for _, b := range p.Bodies {
		for _, f := range b.Forces {
			v := f.Magnitude.Eval(p.Values)
			if f.Unknown && f.Kind.Pushes() && v < 0 {
				return &PhysicsError{f.Symbol, fmt.Sprintf("%s comes out as %s: a %s force cannot be negative", f.Symbol, Figures(v, 3), f.Kind)}
			}
		}
	}
	for _, r := range p.requires {
		if !r.holds(p.Values) {
			return &PhysicsError{"", fmt.Sprintf("it must hold that %s", strings.TrimSpace(r.text))}
		}
	}
	return nil
}

// Enter makes a problem from given values, "L=5" or "alpha = 35 deg" each;
// what is not given is drawn with the seed. Values may lie outside the
// scenario's ranges; a value the physics refuses is an error.
func (s *Scenario) Enter(seed uint64, given []string, accept Accept) (*Problem, error) {
	if len(given) == 0 {
		return s.Draw(seed, accept)
	}
	fixed := map[int]float64{}
	var entered []string
	for _, text := range given {
		g, v, err := s.readGiven(text)
		if err != nil {
			return nil, err
		}
		if _, twice := fixed[g.Index]; twice {
			return nil, fmt.Errorf("%s is given twice; give it once", g.Symbol)
		}
		fixed[g.Index] = v
		entered = append(entered, fmt.Sprintf("%s=%s", g.Symbol, strconv.FormatFloat(v/g.Unit.Factor, 'g', -1, 64)))
	}
	slices.Sort(entered)
	rng := rand.New(rand.NewPCG(seed, streamOf(s.ID)))
	var last error
	for range maxDraws {
		p := &Problem{Scenario: s, Seed: seed, Values: make([]float64, s.Table.Len()), Entered: strings.Join(entered, " ")}
		drawn := false
		for _, g := range s.Givens {
			v, ok := fixed[g.Index]
			if !ok {
				v = si(g.draw(rng), g.Unit)
				drawn = drawn || !g.Constant()
			}
			p.Values[g.Index] = v
		}
		last = p.settle()
		if last == nil {
			return p, nil
		}
		if !drawn {
			break
		}
	}
	return nil, fmt.Errorf("%s with %s: %w", s.ID, strings.Join(entered, " "), last)
}

func (s *Scenario) readGiven(text string) (Given, float64, error) {
	symbol, value, ok := strings.Cut(text, "=")
	symbol = strings.TrimSpace(symbol)
	i := slices.IndexFunc(s.Givens, func(g Given) bool { return g.Symbol == symbol })
	if !ok || i < 0 {
		var known []string
		for _, g := range s.Givens {
			known = append(known, g.Symbol)
		}
		return Given{}, 0, fmt.Errorf("--given %q: write SYMBOL=VALUE, with one of %s", notation.Printable(text), strings.Join(known, ", "))
	}
	g := s.Givens[i]
	q, err := s.Table.ParseValue(value)
	if err != nil {
		return g, 0, fmt.Errorf("--given %s: %w", notation.Printable(text), err)
	}
	if len(notation.Symbols(q.Expr)) > 0 {
		return g, 0, fmt.Errorf("--given %s: a value is a number, with or without a unit", notation.Printable(text))
	}
	u := g.Unit
	if q.HasUnit {
		if !notation.SameDim(q.Unit, u) {
			return g, 0, fmt.Errorf("--given %s: %s is %s, not %s", notation.Printable(text), g.Symbol, u.DimName(), q.Unit.DimName())
		}
		u = q.Unit
	}
	v := notation.Value(q.Expr, make([]float64, s.Table.Len()))
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return g, 0, fmt.Errorf("--given %s: not a finite number", notation.Printable(text))
	}
	return g, v * u.Factor, nil
}

// In is the value of a symbol in its own unit, as a learner sees it.
func (p *Problem) In(index int, u notation.Unit) float64 {
	v := p.Values[index] / u.Factor
	if r := math.Round(v*1e9) / 1e9; math.Abs(r-v) < 1e-11*math.Abs(v) {
		return r
	}
	return v
}

// Figures writes v to n significant figures, plainly.
func Figures(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	digits := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	if digits < 0 {
		scale := math.Pow(10, float64(-digits))
		return strconv.FormatFloat(math.Round(v/scale)*scale, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', digits, 64)
}

// Rows are the reference rows of every body, about each body's first point,
// level axes, anticlockwise positive.
func (p *Problem) Rows() []statics.Row { return p.rows }

// Sample fills values with a random state of the symbols: givens and unknowns
// drawn apart from each other and from special values, dependent symbols
// computed. It is where expressions are compared.
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

// Solve finds the unknowns of a state whose givens are set.
func (s *Scenario) Solve(values []float64) (statics.Solution, error) {
	statics.Define(s.defs, values)
	return s.system.Solve(values)
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
