package review

import (
	"math"
	"math/rand/v2"
	"slices"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// meaning is what a wrong line comes to, however it is written: its values at
// random states of the problem's symbols, and at the problem's own numbers.
//
// A line in symbols is compared at states of the whole scenario. A line with
// numbers in place of symbols stands for what it comes to at the numbers that
// its learner had: it joins the symbols that come to the same there, or others
// that are the same number of times the right entry.
type meaning struct {
	nodes   []notation.Node // one, or the two sides of an equation
	symbols []float64       // at the scenario's states; nil if it has numbers in it
	own     []float64       // at its problem's own numbers
	right   []float64       // what is right there, nil if that has no value
	where   [][]float64     // those states
	ascii   string
	reads   string
	sign    float64 // -1 where clockwise moments are positive
}

const (
	meaningStates = 12
	ownStates     = 3
	sameSymbols   = 1e-9 // relative: the same expression
	sameNumbers   = 5e-3 // relative: the same but for rounding
)

// states are what lines of a scenario are compared at.
func states(s *problems.Scenario) [][]float64 {
	rng := rand.New(rand.NewPCG(0x6a0b, 0x57a7e5))
	out := make([][]float64, meaningStates)
	for i := range out {
		out[i] = make([]float64, s.Table.Len())
		s.Sample(rng, out[i])
	}
	return out
}

// meaningOf reads a line; ok is false where it has no values to compare.
func meaningOf(p *problems.Problem, at [][]float64, t lineTask, pivot, typed string, clockwise bool) (m meaning, ok bool) {
	m.sign = 1
	if clockwise && ofPivot(t.step, t.cell) {
		m.sign = -1
	}
	if tutor.Step(t.step) == tutor.StepValue {
		return valueMeaning(p, m, t.cell, typed)
	}
	if !m.parse(p.Scenario, t.step, typed) {
		return m, false
	}
	rng := rand.New(rand.NewPCG(0x0f4e, 0x6a0b))
	for range ownStates {
		v := slices.Clone(p.Values)
		p.Free(rng, v)
		m.where = append(m.where, v)
	}
	m.own = m.values(m.where)
	if !hasNumbers(m.nodes) {
		m.symbols = m.values(at)
	}
	if len(m.nodes) == 1 {
		m.right = rightEntry(p, m.where, t, pivot, m.sign)
	}
	return m, m.own != nil || m.symbols != nil
}

// lineTask is a task in words.
type lineTask struct{ body, step, cell string }

func (m *meaning) parse(s *problems.Scenario, step, typed string) bool {
	if tutor.Step(step) == tutor.StepEquation {
		l, r, err := s.Table.ParseEquation(typed)
		if err != nil {
			return false
		}
		m.nodes = []notation.Node{l, r}
		m.ascii, m.reads = notation.ReadBackEquation(l, r, true), notation.ReadBackEquation(l, r, false)
		return true
	}
	n, err := s.Table.Parse(typed)
	if err != nil {
		return false
	}
	m.nodes = []notation.Node{n}
	m.ascii, m.reads = notation.ReadBack(n, true), notation.ReadBack(n, false)
	return true
}

// values is what the line comes to at states. Of an equation it is the
// difference of its sides, as a multiple of the first: an equation says the
// same times any number. nil if one of them is not finite.
func (m *meaning) values(at [][]float64) []float64 {
	out := make([]float64, len(at))
	for i, v := range at {
		out[i] = m.sign * notation.Value(m.nodes[0], v)
		if len(m.nodes) == 2 {
			out[i] -= m.sign * notation.Value(m.nodes[1], v)
		}
		if math.IsNaN(out[i]) || math.IsInf(out[i], 0) {
			return nil
		}
	}
	if len(m.nodes) == 2 && out[0] != 0 {
		first := out[0]
		for i := range out {
			out[i] /= first
		}
	}
	return out
}

// hasNumbers reports whether a line has numbers in place of symbols: any but
// the small whole ones that count things, or nothing but numbers.
func hasNumbers(nodes []notation.Node) bool {
	symbols := 0
	for _, n := range nodes {
		symbols += len(notation.Symbols(n))
		for _, x := range notation.Numbers(n) {
			if !x.Exact || math.Abs(x.Value) >= 10 || x.Value != math.Trunc(x.Value) {
				return true
			}
		}
	}
	return symbols == 0 && slices.ContainsFunc(nodes, func(n notation.Node) bool {
		return slices.ContainsFunc(notation.Numbers(n), func(x *notation.Number) bool { return x.Value != 0 })
	})
}

// rightEntry is what an entry should come to at states, or nil.
func rightEntry(p *problems.Problem, at [][]float64, t lineTask, pivot string, sign float64) []float64 {
	g, err := grading.New(p, grading.Choice{Body: t.body, Pivot: pivot})
	if err != nil {
		return nil
	}
	e, err := g.Entry(statics.RowKind(t.step), t.cell)
	if err != nil {
		return nil
	}
	out := make([]float64, len(at))
	for i, v := range at {
		if out[i] = e.Size.Eval(v) * e.Coef().Eval(v); out[i] == 0 {
			return nil
		}
	}
	return out
}

// valueMeaning is a value beside the right one.
func valueMeaning(p *problems.Problem, m meaning, symbol, typed string) (meaning, bool) {
	u, ok := p.Unknown(symbol)
	q, err := p.Table.ParseValue(typed)
	if !ok || err != nil || p.Values[u.Index] == 0 {
		return m, false
	}
	if !q.HasUnit && len(notation.Symbols(q.Expr)) == 0 {
		q.Unit = u.Unit
	}
	got := q.SI(p.Values)
	m.own, m.right = []float64{got}, []float64{p.Values[u.Index]}
	m.ascii, m.reads = notation.ReadBack(q.Expr, true), notation.ReadBack(q.Expr, false)
	return m, !math.IsNaN(got) && !math.IsInf(got, 0)
}

// same reports whether two lines mean the same.
func (m *meaning) same(o *meaning) bool {
	switch {
	case m.symbols != nil && o.symbols != nil:
		return agree(m.symbols, o.symbols, sameSymbols)
	case m.symbols != nil:
		return o.stands(m)
	case o.symbols != nil:
		return m.stands(o)
	case m.right != nil && o.right != nil:
		return agree(m.times(), o.times(), sameNumbers)
	}
	return m.right == nil && o.right == nil && agree(m.own, o.own, sameNumbers)
}

// stands reports whether a line with numbers comes, at its own numbers, to what
// a line in symbols comes to.
func (m *meaning) stands(symbols *meaning) bool {
	if len(m.where) == 0 || m.own == nil {
		return false
	}
	there := symbols.values(m.where)
	return there != nil && agree(m.own, there, sameNumbers)
}

// times is the line as a multiple of what is right.
func (m *meaning) times() []float64 {
	out := make([]float64, len(m.own))
	for i := range out {
		out[i] = m.own[i] / m.right[i]
	}
	return out
}

func agree(a, b []float64, tolerance float64) bool {
	if len(a) != len(b) || len(a) == 0 {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > tolerance*max(math.Abs(a[i]), math.Abs(b[i])) {
			return false
		}
	}
	return true
}
