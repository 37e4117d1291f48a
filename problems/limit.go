package problems

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"steelyard/problems/statics"
)

// Trend is what becomes of a value at a limit.
type Trend string

// The three answers to a question of limits, and that there is none.
const (
	Falls  Trend = "falls to zero"
	Stays  Trend = "stays finite"
	Grows  Trend = "grows without bound"
	Breaks Trend = "cannot be" // the rows have no solution near the limit: never a choice
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
	end, start := l.Toward.Eval(p.Values), math.Abs(p.Values[watch])
	span := p.Values[vary] - end
	if span == 0 {
		span = max(1, math.Abs(end))
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
	case sizes[2] <= 1e-12*start || ratio < 1.0/3: // the first: nothing but rounding is left
		return Falls, nil
	case math.IsNaN(ratio) || math.IsInf(ratio, 0):
		return Breaks, fmt.Errorf("%s has no finite value as %s nears the limit", l.Symbol, l.Vary)
	case ratio > 3:
		return Grows, nil
	}
	return Stays, nil
}

func (r *reader) limit() {
	f := r.file.Limit
	if f == nil {
		return
	}
	before := len(r.faults)
	if f.Question == "" {
		r.fault("limit", 0, "the limit has no question; write question = \"As ...:\"")
	}
	r.printable("limit.question", f.Question)
	if f.Side != "above" && f.Side != "below" {
		r.fault("limit.side", 0, "side says whence %s comes: \"above\" or \"below\"", quote(f.Vary))
	}
	if _, ok := r.s.Unknown(f.Symbol); !ok {
		r.fault("limit.symbol", 0, "%s is not one of the unknowns", quote(f.Symbol))
	}
	if !slices.ContainsFunc(r.s.Givens, func(g Given) bool { return g.Symbol == f.Vary }) {
		r.fault("limit.vary", 0, "%s is not one of the givens", quote(f.Vary))
	}
	if len(r.faults) > before {
		return
	}
	i, _ := r.table.Index(f.Vary)
	l := &Limit{Question: f.Question, Symbol: f.Symbol, Vary: f.Vary, Below: f.Side == "below", Toward: r.end("limit.toward", i, f.Toward)}
	if l.Toward.Uses(i) {
		r.fault("limit.toward", 0, "%s cannot go toward a value that changes with it; name another", f.Vary)
	}
	r.s.Limit = l
}
