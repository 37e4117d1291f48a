package problems

import (
	"errors"
	"math"
	"slices"

	"steelyard/problems/statics"
)

// Trend is what becomes of a value at a limit.
type Trend string

// The three answers to a question of limits.
const (
	Falls  Trend = "falls to zero"
	Stays  Trend = "stays finite"
	Grows  Trend = "grows without bound"
	Breaks Trend = "cannot be" // the rows have no solution near the limit
)

// Trends are the answers a learner chooses from.
var Trends = []Trend{Falls, Stays, Grows}

// Trend computes the answer to the problem's question of limits: the scenario
// is solved ever closer to the limit, each time a hundredth of the distance
// before, and the power with which the value changes decides.
func (p *Problem) Trend() (Trend, error) {
	l := p.Limit
	if l == nil {
		return "", errors.New("this problem asks no question of limits")
	}
	vary, _ := p.Table.Index(l.Vary)
	watch, _ := p.Table.Index(l.Symbol)
	end := l.Toward.Eval(p.Values)
	span := p.Values[vary] - end
	if span == 0 {
		span = 1
	}
	if (span > 0) == l.Below {
		span = -span
	}
	v := slices.Clone(p.Values)
	var sizes []float64
	for _, k := range []float64{1e-2, 1e-4, 1e-6} {
		v[vary] = end + span*k
		statics.Define(p.defs, v)
		if _, err := p.system.Solve(v); err != nil {
			return Breaks, err
		}
		sizes = append(sizes, math.Abs(v[watch]))
	}
	// The slope in log-log, from the two closest: a value that goes as
	// distance^k is multiplied by 100^-k from one to the next.
	ratio := sizes[2] / sizes[1]
	switch {
	case sizes[2] == 0 || ratio < 1.0/3:
		return Falls, nil
	case ratio > 3:
		return Grows, nil
	}
	return Stays, nil
}
