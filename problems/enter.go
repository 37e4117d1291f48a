package problems

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"steelyard/problems/notation"
)

// enterDraws bounds how often what is not given is drawn again, so that a
// value nothing goes with is refused while one waits.
const enterDraws = 400

// Enter makes a problem from given values, "L=5" or "alpha = 35 deg" each;
// what is not given is drawn with the seed, so that accept (nil accepts all)
// is content if that can be had with these values. Values may lie outside the
// scenario's ranges; a value the physics refuses is an error.
func (s *Scenario) Enter(seed uint64, given []string, accept Accept) (*Problem, error) {
	if len(given) == 0 {
		return s.Draw(seed, accept)
	}
	fixed, entered, err := s.readGivens(given)
	if err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(seed, streamOf(s.ID)))
	var usable *Problem
	for range enterDraws {
		p := &Problem{Scenario: s, Seed: seed, Values: make([]float64, s.Table.Len()), Entered: entered}
		free := false
		for _, g := range s.Givens {
			v, ok := fixed[g.Index]
			if !ok {
				v = si(g.draw(rng), g.Unit)
				free = free || !g.Constant()
			}
			p.Values[g.Index] = v
		}
		if err = p.settle(); err == nil {
			if accept == nil || !free || accept(p) {
				return p, nil
			}
			if usable == nil {
				usable = p
			}
		}
		if !free {
			break
		}
	}
	if usable != nil {
		return usable, nil
	}
	return nil, fmt.Errorf("%s with %s: %w", s.ID, entered, err)
}

// readGivens reads the values given, and writes them in a standard form.
func (s *Scenario) readGivens(given []string) (fixed map[int]float64, entered string, err error) {
	fixed = map[int]float64{}
	for _, text := range given {
		g, v, err := s.readGiven(text)
		if err != nil {
			return nil, "", fmt.Errorf("given value \"%s\": %w", notation.PrintableMax(text, 60), err)
		}
		if _, twice := fixed[g.Index]; twice {
			return nil, "", fmt.Errorf("%s is given twice; give it once", g.Symbol)
		}
		fixed[g.Index] = v
	}
	var list []string
	for _, g := range s.Givens {
		if v, ok := fixed[g.Index]; ok {
			list = append(list, g.Symbol+"="+shortest(v, g.Unit.Factor))
		}
	}
	slices.Sort(list)
	return fixed, strings.Join(list, " "), nil
}

// shortest is the shortest number that is v when multiplied by factor.
func shortest(v, factor float64) string {
	for digits := 12; digits < 17; digits++ {
		text := strconv.FormatFloat(v/factor, 'g', digits, 64)
		if back, _ := strconv.ParseFloat(text, 64); back*factor == v {
			return text
		}
	}
	return strconv.FormatFloat(v/factor, 'g', -1, 64)
}

func (s *Scenario) readGiven(text string) (Given, float64, error) {
	symbol, value, ok := strings.Cut(text, "=")
	g, known := s.givenNamed(symbol)
	if !ok || !known {
		var all []string
		for _, g := range s.Givens {
			all = append(all, g.Symbol)
		}
		return g, 0, fmt.Errorf("write SYMBOL=VALUE, with one of %s", strings.Join(all, ", "))
	}
	q, err := s.Table.ParseValue(value)
	if err != nil {
		return g, 0, err
	}
	if len(notation.Symbols(q.Expr)) > 0 || q.Symbol != "" {
		return g, 0, errors.New("a value is a number, with or without a unit")
	}
	unit := g.Unit
	if q.HasUnit {
		if !notation.SameDim(q.Unit, g.Unit) {
			return g, 0, fmt.Errorf("%s is %s, not %s; give it in %s", g.Symbol, g.Unit.DimName(), q.Unit.DimName(), orNone(g.Unit))
		}
		unit = q.Unit
	}
	v := notation.Value(q.Expr, make([]float64, s.Table.Len())) * unit.Factor
	if math.IsNaN(v) || math.Abs(v) > maxGiven*g.Unit.Factor {
		return g, 0, fmt.Errorf("the value must be finite, and no larger than %g", maxGiven)
	}
	return g, v, nil
}

func orNone(u notation.Unit) string {
	if u.Name == "" {
		return "no unit"
	}
	return u.Name
}

// givenNamed finds a given by its symbol as it may be typed: alpha, α, W_1, W1.
func (s *Scenario) givenNamed(text string) (Given, bool) {
	n, err := s.Table.Parse(text)
	if err != nil {
		return Given{}, false
	}
	symbol, ok := n.(*notation.Symbol)
	if !ok {
		return Given{}, false
	}
	i := slices.IndexFunc(s.Givens, func(g Given) bool { return g.Index == symbol.Index })
	if i < 0 {
		return Given{}, false
	}
	return s.Givens[i], true
}
