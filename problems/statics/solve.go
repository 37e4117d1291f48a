package statics

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"steelyard/problems/notation"
)

// Definition is a dependent symbol: W = M g, f = mu N when slip impends.
type Definition struct {
	Index int
	Is    notation.Node
}

// Define computes the dependent symbols, in order, from the others.
func Define(defs []Definition, values []float64) {
	for _, d := range defs {
		values[d.Index] = notation.Value(d.Is, values)
	}
}

// System is a set of rows in some unknowns. Rows must be affine in the
// Unknowns; at most one further unknown, Search, may enter in any way (a
// distance, an angle, a coefficient of friction).
type System struct {
	Rows     []Row
	Names    []string // of Unknowns, then of Search
	Unknowns []int
	Defs     []Definition
	Search   int           // table index, or -1
	Lo, Hi   Sum           // bracket for Search
	Unit     notation.Unit // of Search, for messages
}

// Solution says how well the unknowns are fixed.
type Solution struct {
	Rank      int
	Condition float64 // ratio of extreme singular values, columns and rows scaled to 1
	Residual  float64 // largest |row sum| over its largest term
}

// RedundantError reports more unknowns than the rows can fix.
type RedundantError struct {
	Rank, Unknowns int
	Surplus        []string // unknowns that can change together with no row noticing
}

func (e *RedundantError) Error() string {
	if len(e.Surplus) == 1 {
		return fmt.Sprintf("the equations fix %d of %d unknowns: nothing in them fixes %s; give its value, or a support that needs it", e.Rank, e.Unknowns, e.Surplus[0])
	}
	return fmt.Sprintf("redundant supports: the equations fix %d of %d unknowns, and %s cannot be told apart; remove %d of these supports, or give one value",
		e.Rank, e.Unknowns, strings.Join(e.Surplus, ", "), e.Unknowns-e.Rank)
}

// MechanismError reports a motion that nothing prevents.
type MechanismError struct {
	Free string // "moving along x", "turning about A", ...
}

func (e *MechanismError) Error() string {
	return "a mechanism: nothing prevents it from " + e.Free + "; add a support, or a load that balances"
}

// Solve finds the unknowns and writes them, and what depends on them, into
// values (by table index; the givens must be set). The linear part is the
// singular value decomposition of the row matrix scaled by rows and columns
// (gonum mat.SVD), so that rank and condition come with the solution. The
// error may be a [RedundantError], a [MechanismError] or a [RootError].
func (s *System) Solve(values []float64) (Solution, error) {
	if s.Search >= 0 {
		if err := s.search(values); err != nil {
			return Solution{}, err
		}
	}
	sol, err := s.linear(values)
	if err != nil {
		return sol, err
	}
	if sol.Residual = s.residual(values); !(sol.Residual < 1e-6) {
		return sol, fmt.Errorf("the rows are not linear in %s: a sum is off by %.2g of its largest term; only one unknown may enter otherwise, with a range to search",
			strings.Join(s.Names, ", "), sol.Residual)
	}
	return sol, nil
}

// matrix probes the rows: b is minus the rows with every unknown zero, and a
// column of a is what an unknown adds, per unit. It is probed with as much as
// the largest known sum, so that neither drowns in the other's rounding.
func (s *System) matrix(values []float64) (a *mat.Dense, b *mat.VecDense) {
	m, n := len(s.Rows), len(s.Unknowns)
	a, b = mat.NewDense(m, max(n, 1), nil), mat.NewVecDense(m, nil)
	for _, u := range s.Unknowns {
		values[u] = 0
	}
	Define(s.Defs, values)
	for i := range s.Rows {
		b.SetVec(i, -s.Rows[i].eval(values))
	}
	probe := max(1, mat.Norm(b, math.Inf(1)))
	if math.IsInf(probe, 0) || math.IsNaN(probe) {
		probe = 1
	}
	for j, u := range s.Unknowns {
		values[u] = probe
		Define(s.Defs, values)
		for i := range s.Rows {
			a.Set(i, j, (s.Rows[i].eval(values)+b.AtVec(i))/probe)
		}
		values[u] = 0
	}
	return a, b
}

func (r *Row) eval(values []float64) float64 {
	sum, _ := r.terms(values)
	return sum
}

// terms are the sum of the row's terms, and the size of the largest.
func (r *Row) terms(values []float64) (sum, largest float64) {
	for i := range r.Cells {
		c := &r.Cells[i]
		if len(c.Coef) > 0 {
			t := c.Coef.Eval(values) * c.Magnitude.Eval(values)
			sum, largest = sum+t, max(largest, math.Abs(t))
		}
	}
	return sum, largest
}

// residual is the largest |row sum| over the row's largest term. A row whose
// terms are all rounding, beside the other rows, counts as kept.
func (s *System) residual(values []float64) float64 {
	var worst, all float64
	for i := range s.Rows {
		_, largest := s.Rows[i].terms(values)
		all = max(all, largest)
	}
	for i := range s.Rows {
		if sum, largest := s.Rows[i].terms(values); largest > 1e-9*all {
			worst = max(worst, math.Abs(sum)/largest)
		}
	}
	return worst
}

// tiny is what rounding may leave of a zero entry (N or m).
const tiny = 1e-12

func (s *System) linear(values []float64) (Solution, error) {
	if len(s.Unknowns) == 0 {
		return Solution{}, s.balanced(values)
	}
	a, b := s.matrix(values)
	if bad := mat.Sum(a) + mat.Sum(b); math.IsNaN(bad) || math.IsInf(bad, 0) {
		return Solution{}, errors.New("a row has no finite value at these givens; look for a division by zero or an extreme value")
	}
	rows, cols := scale(a, b)
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFull) {
		return Solution{}, errors.New("the rows' singular values do not converge; check the givens for extreme values")
	}
	sv := svd.Values(nil)
	sol := Solution{Rank: svd.Rank(1e-9)}
	if sol.Rank > 0 {
		sol.Condition = sv[0] / sv[sol.Rank-1]
	}
	if sol.Rank < len(s.Unknowns) {
		return sol, s.redundant(&svd, sol.Rank)
	}
	var x, left mat.VecDense
	svd.SolveVecTo(&x, b, sol.Rank)
	left.MulVec(a, &x)
	left.SubVec(b, &left)
	if mat.Norm(&left, math.Inf(1)) > 1e-7*max(mat.Norm(b, math.Inf(1)), mat.Norm(&x, math.Inf(1))) {
		left.ScaleVec(-1, &left) // the sums that are left, rather than what they lack
		return sol, s.mechanism(&left, rows)
	}
	dust := 1e-13 * mat.Norm(&x, math.Inf(1))
	for j, u := range s.Unknowns {
		values[u] = x.AtVec(j) / cols[j]
		if math.Abs(x.AtVec(j)) < dust {
			values[u] = 0 // what rounding left of nothing
		}
	}
	Define(s.Defs, values)
	return sol, nil
}

// balanced is linear with nothing to solve for: the rows must vanish as they
// are.
func (s *System) balanced(values []float64) error {
	Define(s.Defs, values)
	left, ones := mat.NewVecDense(len(s.Rows), nil), make([]float64, len(s.Rows))
	out := false
	for i := range s.Rows {
		ones[i] = 1
		if sum, largest := s.Rows[i].terms(values); math.Abs(sum) > 1e-7*largest {
			left.SetVec(i, sum)
			out = true
		}
	}
	if out {
		return s.mechanism(left, ones)
	}
	return nil
}

// scale divides each row of a and b by the row's largest coefficient, so that
// newtons and newton metres weigh alike, then each column of a by its own. It
// returns the divisors; that of zeros is 1.
func scale(a *mat.Dense, b *mat.VecDense) (rows, cols []float64) {
	m, n := a.Dims()
	rows, cols = make([]float64, m), make([]float64, n)
	for i := range m {
		rows[i] = largest(a.RawRowView(i))
		b.SetVec(i, b.AtVec(i)/rows[i])
		for j := range n {
			a.Set(i, j, a.At(i, j)/rows[i])
		}
	}
	for j := range n {
		cols[j] = largest(mat.Col(nil, j, a))
		for i := range m {
			a.Set(i, j, a.At(i, j)/cols[j])
		}
	}
	return rows, cols
}

func largest(v []float64) float64 {
	if big := floats.Norm(v, math.Inf(1)); big >= tiny {
		return big
	}
	return 1
}

// redundant names the unknowns that take part in the null space.
func (s *System) redundant(svd *mat.SVD, rank int) error {
	var v mat.Dense
	svd.VTo(&v)
	e := &RedundantError{Rank: rank, Unknowns: len(s.Unknowns)}
	for j := range s.Unknowns {
		for k := rank; k < len(s.Unknowns); k++ {
			if math.Abs(v.At(j, k)) > 1e-6 {
				e.Surplus = append(e.Surplus, s.Names[j])
				break
			}
		}
	}
	return e
}

// mechanism names the motion that nothing prevents. What least squares leave
// of the rows does no work with any reaction (it is orthogonal to every
// column), so it is itself such a motion, the way the loads push: their work on
// it is (x sum) u + (y sum) v + (moment) omega, with u, v the pivot's velocity.
func (s *System) mechanism(left *mat.VecDense, scales []float64) error {
	var order []string
	motions := map[string]*motion{}
	for i, r := range s.Rows {
		m := motions[r.Body]
		if m == nil {
			m = &motion{}
			motions[r.Body], order = m, append(order, r.Body)
		}
		m.add(r, left.AtVec(i)/scales[i])
	}
	fastest := 0.0
	for _, m := range motions {
		fastest = max(fastest, math.Abs(m.u), math.Abs(m.v), math.Abs(m.turn))
	}
	var free []string
	for _, name := range order {
		if words := motions[name].words(1e-6 * fastest); words != "" {
			if len(order) > 1 {
				words += " (" + name + ")"
			}
			free = append(free, words)
		}
	}
	return &MechanismError{strings.Join(free, " and ")}
}

// motion is a rigid body's velocity: of its pivot, and its turning.
type motion struct {
	u, v, turn float64
	pivot      string
}

func (m *motion) add(r Row, rate float64) {
	switch r.Kind {
	case RowX:
		m.u = rate
	case RowY:
		m.v = rate
	case RowMoment:
		m.turn, m.pivot = rate, r.Pivot
	}
}

// words names the motion; what is slower than hair is rest.
func (m *motion) words(hair float64) string {
	u, v, turn := math.Abs(m.u) > hair, math.Abs(m.v) > hair, math.Abs(m.turn) > hair
	switch {
	case turn && !u && !v:
		return "turning about " + m.pivot
	case turn:
		// The point at rest: the velocity there, pivot's plus turn times arm, is zero.
		return fmt.Sprintf("turning about the point (%.3g, %.3g) m from %s", round3(-m.v/m.turn), round3(m.u/m.turn), m.pivot)
	case u && v:
		return fmt.Sprintf("moving at %.3g degrees from x", math.Atan2(m.v, m.u)*180/math.Pi)
	case u:
		return "moving along x"
	case v:
		return "moving along y"
	}
	return ""
}

// round3 keeps -0 and dust out of a message.
func round3(v float64) float64 { return math.Round(v*1e3)/1e3 + 0 }
