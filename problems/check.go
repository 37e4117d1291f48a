package problems

import (
	"fmt"
	"math"
	"strings"

	"steelyard/problems/notation"
)

// PhysicsError reports a value that the real thing could not have.
type PhysicsError struct{ Symbol, Message string }

func (e *PhysicsError) Error() string { return e.Message }

// Check says what in the problem could not be so: values that are not finite,
// givens below zero that never are, contacts that pull, cables that push,
// friction beyond its limit, requirements that fail.
func (p *Problem) Check() error {
	for i, v := range p.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return &PhysicsError{p.Table.Name(i), p.Table.Name(i) + " has no finite value"}
		}
	}
	if err := p.checkGivens(); err != nil {
		return err
	}
	if err := p.checkContacts(); err != nil {
		return err
	}
	if err := p.checkRequired(false); err != nil {
		return err
	}
	for i := range p.Asks {
		if _, err := p.Answer(i); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) checkGivens() error {
	for _, g := range p.Givens {
		if v := p.Values[g.Index]; v < 0 && g.From >= 0 {
			return &PhysicsError{g.Symbol, fmt.Sprintf("%s is %s: it cannot be negative here", g.Symbol, p.withUnit(g.Index, g.Unit))}
		}
	}
	return nil
}

// checkRequired checks the scenario's requirements; early, only those that do
// not need the solution.
func (p *Problem) checkRequired(early bool) error {
	for _, r := range p.requires {
		if (r.early || !early) && !r.holds(p.Values) {
			return &PhysicsError{"", "it must hold that " + r.text}
		}
	}
	return nil
}

func (p *Problem) checkContacts() error {
	// What rounding leaves of a force that is zero is no pull.
	dust := 1e-9 * p.forceScale(p.Values)
	for _, b := range p.Bodies {
		for _, f := range b.Forces {
			if v := f.Magnitude.Eval(p.Values); f.Unknown && f.Kind.Pushes() && v < -dust {
				return &PhysicsError{f.Symbol, fmt.Sprintf("%s comes out as %s N: a %s force cannot be negative", f.Symbol, Figures(v, 3), f.Kind)}
			}
		}
	}
	for _, c := range p.contacts {
		f, most := math.Abs(p.Values[c.friction]), p.Values[c.mu]*p.Values[c.normal]
		if f > most*(1+1e-9)+dust {
			name := p.Table.Name(c.friction)
			return &PhysicsError{name, fmt.Sprintf("%s comes out as %s N, but the contact slips beyond %s %s = %s N", name,
				Figures(f, 3), p.Table.Name(c.mu), p.Table.Name(c.normal), Figures(most, 3))}
		}
	}
	return nil
}

func (p *Problem) withUnit(index int, u notation.Unit) string {
	return strings.TrimSpace(Figures(p.In(index, u), 4) + " " + u.Name)
}
