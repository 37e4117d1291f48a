package problems

import (
	"errors"
	"fmt"
	"iter"
	"math/rand/v2"
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
	Err    error  // the same: a PhysicsError, an AskError, or what the solver returns
	Values string // its givens that vary, "L=5 M=40", as Enter takes them
	Count  int

	kind string
}

// Survey draws n times.
func (s *Scenario) Survey(n int) Survey {
	var v Survey
	for p, err := range s.Trials(n) {
		v.Add(p, err)
	}
	return v
}

// Trials are n draws of which none is drawn again, each with the reason why it
// cannot be used, or nil. They come from a stream of their own, the same on
// every run.
func (s *Scenario) Trials(n int) iter.Seq2[*Problem, error] {
	return func(yield func(*Problem, error) bool) {
		rng := rand.New(rand.NewPCG(0, streamOf("survey of "+s.ID)))
		for range n {
			p := &Problem{Scenario: s, Values: make([]float64, s.Table.Len())}
			for _, g := range s.Givens {
				p.Values[g.Index] = si(g.draw(rng), g.Unit)
			}
			if !yield(p, p.settle()) {
				return
			}
		}
	}
}

// Add counts one draw.
func (v *Survey) Add(p *Problem, err error) {
	v.Tried++
	var physics *PhysicsError
	switch {
	case err == nil:
		v.Usable++
		return
	case errors.As(err, &physics) && physics.Symbol == "":
		v.Bounded++
		return
	}
	kind := fmt.Sprintf("%T", err)
	if physics != nil {
		kind += physics.Symbol
	}
	for i := range v.Broken {
		if v.Broken[i].kind == kind {
			v.Broken[i].Count++
			return
		}
	}
	v.Broken = append(v.Broken, Refusal{Reason: err.Error(), Err: err, Values: p.Varying(), Count: 1, kind: kind})
}

// Varying writes the problem's givens that vary, as Enter takes them.
func (p *Problem) Varying() string {
	var list []string
	for _, g := range p.Givens {
		if !g.Constant() {
			list = append(list, g.Symbol+"="+shortest(p.Values[g.Index], g.Unit.Factor))
		}
	}
	return strings.Join(list, " ")
}
