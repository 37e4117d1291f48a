package statics

import (
	"fmt"
	"math"
	"strings"

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
	Search   int // table index, or -1
	Lo, Hi   Sum // bracket for Search
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
	return fmt.Sprintf("redundant supports: the equations fix %d of %d unknowns, and %s cannot be told apart; remove %d of these supports, or give one value",
		e.Rank, e.Unknowns, strings.Join(e.Surplus, ", "), e.Unknowns-e.Rank)
}

// MechanismError reports a motion that nothing prevents.
type MechanismError struct {
	Free string // "moving along x", "turning", ...
}

func (e *MechanismError) Error() string {
	return "a mechanism: nothing prevents it from " + e.Free + "; add a support, or a load that balances"
}

// RootError reports that the searched unknown has no value in its bracket
// that satisfies the rows, or more than one.
type RootError struct {
	Name   string
	Roots  []float64
	Lo, Hi float64
}

func (e *RootError) Error() string {
	if len(e.Roots) == 0 {
		return fmt.Sprintf("no value of %s from %.4g to %.4g balances the rows", e.Name, e.Lo, e.Hi)
	}
	return fmt.Sprintf("%d values of %s from %.4g to %.4g balance the rows (%.4g)", len(e.Roots), e.Name, e.Lo, e.Hi, e.Roots)
}

// Solve finds the unknowns and writes them, and what depends on them, into
// values (by table index; the givens must be set). The linear part is the
// singular value decomposition of the row matrix scaled by rows and columns
// (gonum mat.SVD), so that rank and condition come with the solution.
func (s *System) Solve(values []float64) (Solution, error) {
	if s.Search >= 0 {
		if err := s.search(values); err != nil {
			return Solution{}, err
		}
	}
	a, b := s.matrix(values)
	return s.linear(a, b, values)
}

// matrix probes the rows: b is minus the rows with every unknown zero, and a
// column of a is what one unit of an unknown adds.
func (s *System) matrix(values []float64) (a *mat.Dense, b *mat.VecDense) {
	m, n := len(s.Rows), len(s.Unknowns)
	a, b = mat.NewDense(m, max(n, 1), nil), mat.NewVecDense(m, nil)
	set := func(k int) {
		for j, u := range s.Unknowns {
			values[u] = 0
			if j == k {
				values[u] = 1
			}
		}
		Define(s.Defs, values)
	}
	set(-1)
	for i, r := range s.Rows {
		b.SetVec(i, -r.eval(values))
	}
	for j := range n {
		set(j)
		for i, r := range s.Rows {
			a.Set(i, j, r.eval(values)+b.AtVec(i))
		}
	}
	return a, b
}

func (r *Row) eval(values []float64) float64 {
	var v float64
	for i := range r.Cells {
		c := &r.Cells[i]
		if len(c.Coef) > 0 {
			v += c.Coef.Eval(values) * c.Magnitude.Eval(values)
		}
	}
	return v
}

// tiny is what rounding may leave of a zero entry (N or m).
const tiny = 1e-12

func (s *System) linear(a *mat.Dense, b *mat.VecDense, values []float64) (Solution, error) {
	m, n := len(s.Rows), len(s.Unknowns)
	rows := s.scales(a)
	cols := make([]float64, n)
	for i := range m {
		b.SetVec(i, b.AtVec(i)/rows[i])
		for j := range n {
			v := a.At(i, j) / rows[i]
			a.Set(i, j, v)
			cols[j] = max(cols[j], math.Abs(v))
		}
	}
	for j := range n {
		if cols[j] < tiny {
			cols[j] = 1
		}
		for i := range m {
			a.Set(i, j, a.At(i, j)/cols[j])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFull) {
		return Solution{}, fmt.Errorf("the rows' singular values do not converge; check the givens for extreme values")
	}
	sv := svd.Values(nil)
	sol := Solution{Rank: svd.Rank(1e-9)}
	if sol.Rank > 0 && sol.Rank <= len(sv) {
		sol.Condition = sv[0] / sv[sol.Rank-1]
	}
	if sol.Rank < n {
		return sol, s.redundant(&svd, sol.Rank)
	}
	var x mat.VecDense
	if sol.Rank > 0 {
		svd.SolveVecTo(&x, b, sol.Rank)
	}
	var left mat.VecDense
	left.MulVec(a, &x)
	left.SubVec(b, &left)
	for i := range m {
		sol.Residual = max(sol.Residual, math.Abs(left.AtVec(i)))
	}
	if sol.Residual > 1e-7*max(mat.Norm(b, math.Inf(1)), mat.Norm(&x, math.Inf(1))) {
		return sol, s.mechanism(&left)
	}
	for j, u := range s.Unknowns {
		values[u] = x.AtVec(j) / cols[j]
	}
	Define(s.Defs, values)
	return sol, nil
}

// scales gives each row's largest entry, so that newtons and newton metres
// weigh alike; 1 for a row of zeros.
func (s *System) scales(a *mat.Dense) []float64 {
	rows := make([]float64, len(s.Rows))
	for i := range rows {
		big := 0.0
		for j := range s.Unknowns {
			big = max(big, math.Abs(a.At(i, j)))
		}
		if big < tiny {
			big = 1
		}
		rows[i] = big
	}
	return rows
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

// mechanism names the motion whose virtual work does not vanish: the rows left
// unsatisfied.
func (s *System) mechanism(left *mat.VecDense) error {
	words := map[RowKind]string{RowX: "moving along x", RowY: "moving along y", RowMoment: "turning"}
	var free []string
	for i, r := range s.Rows {
		if math.Abs(left.AtVec(i)) > 1e-7 {
			free = append(free, words[r.Kind])
		}
	}
	return &MechanismError{strings.Join(free, " and ")}
}

// search finds the one value of s.Search in its bracket at which the rows have
// a solution: where det[a|b] changes sign. Sign changes are found on a grid and
// closed by the Illinois variant of false position (Dowell and Jarratt, BIT 11,
// 1971, from memory).
func (s *System) search(values []float64) error {
	const steps = 24
	lo, hi := s.Lo.Eval(values), s.Hi.Eval(values)
	name := s.Names[len(s.Names)-1]
	if !(hi > lo) {
		return fmt.Errorf("the range of %s is empty: from %.4g to %.4g", name, lo, hi)
	}
	f := func(z float64) float64 {
		values[s.Search] = z
		return s.determinant(values)
	}
	var roots []float64
	// The ends are left out by a hair: at a limit (a distance of zero) a row
	// may vanish for reasons of its own.
	eps := (hi - lo) * 1e-9
	z0, f0 := lo+eps, f(lo+eps)
	for k := 1; k <= steps; k++ {
		z1 := lo + (hi-lo)*float64(k)/steps
		if k == steps {
			z1 = hi - eps
		}
		f1 := f(z1)
		if math.IsNaN(f0) || math.IsNaN(f1) {
			z0, f0 = z1, f1
			continue
		}
		if f0 == 0 || f0*f1 < 0 {
			roots = append(roots, illinois(f, z0, z1, f0, f1))
		}
		z0, f0 = z1, f1
	}
	if len(roots) != 1 {
		return &RootError{name, roots, lo, hi}
	}
	values[s.Search] = roots[0]
	return nil
}

// determinant is det[a|b] over the rows that are not identically zero, or NaN
// if that is not square.
func (s *System) determinant(values []float64) float64 {
	a, b := s.matrix(values)
	m, n := len(s.Rows), len(s.Unknowns)
	square := mat.NewDense(n+1, n+1, nil)
	k := 0
	for i := range m {
		if s.Rows[i].blank() {
			continue
		}
		if k > n {
			return math.NaN()
		}
		for j := range n {
			square.Set(k, j, a.At(i, j))
		}
		square.Set(k, n, b.AtVec(i))
		k++
	}
	if k != n+1 {
		return math.NaN()
	}
	return mat.Det(square)
}

func (r *Row) blank() bool {
	for _, c := range r.Cells {
		if !c.Coef.IsZero() {
			return false
		}
	}
	return true
}

func illinois(f func(float64) float64, a, b, fa, fb float64) float64 {
	if fa == 0 {
		return a
	}
	for range 100 {
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		if fc == 0 || math.Abs(b-a) <= 1e-14*math.Abs(b) || math.Abs(c-b) <= 1e-15*math.Abs(c) {
			return c
		}
		if fc*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	return b
}
