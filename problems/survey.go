package problems

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
)

// Survey is what becomes of a scenario's draws when none is drawn again: how
// far its ranges lead into what could not be so. Requirements are there to
// bound a draw, so one that they refuse breaks nothing; whatever else refuses a
// draw that they allow shows that the ranges, or the requirements, are too
// wide.
type Survey struct {
	Tried, Usable int
	Bounded       int       // refused by a requirement
	Broken        []Refusal // refused by the physics, or without a solution
}

// Refusal is one way in which draws break, with values that do it.
type Refusal struct {
	Reason string // of the first such draw
	Values string // its givens, "L=5 M=40", as Enter takes them
	Count  int
}

// Survey draws n times. Draws are those of a stream of its own, the same on
// every run.
func (s *Scenario) Survey(n int) Survey {
	out := Survey{Tried: n}
	rng := rand.New(rand.NewPCG(0, streamOf("survey of "+s.ID)))
	kinds := map[string]int{}
	for range n {
		p := &Problem{Scenario: s, Values: make([]float64, s.Table.Len())}
		for _, g := range s.Givens {
			p.Values[g.Index] = si(g.draw(rng), g.Unit)
		}
		givens := slices.Clone(p.Values)
		err := p.settle()
		var physics *PhysicsError
		switch {
		case err == nil:
			out.Usable++
			continue
		case errors.As(err, &physics) && physics.Symbol == "":
			out.Bounded++
			continue
		}
		kind := fmt.Sprintf("%T", err)
		if physics != nil {
			kind += physics.Symbol
		}
		i, known := kinds[kind]
		if !known {
			i, kinds[kind] = len(out.Broken), len(out.Broken)
			out.Broken = append(out.Broken, Refusal{Reason: err.Error(), Values: s.entered(givens)})
		}
		out.Broken[i].Count++
	}
	return out
}

// entered writes the givens of a state as Enter takes them.
func (s *Scenario) entered(values []float64) string {
	var list []string
	for _, g := range s.Givens {
		list = append(list, g.Symbol+"="+shortest(values[g.Index], g.Unit.Factor))
	}
	return strings.Join(list, " ")
}
