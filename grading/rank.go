package grading

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"steelyard/problems/statics"
)

const (
	// dependent is the singular value, of rows of length 1, below which one
	// is made of the others: rounding leaves 1e-11 of the derivatives.
	dependent = 1e-6
	// level is the slope, to the size of the terms, below which an equation
	// does not cross zero where it touches it.
	level = 1e-4
)

// solve finds the full solutions in the learner's frame, where an unknown
// assumed the other way has the other sign, and how many equations are needed.
func (s *system) solve() error {
	g := s.g
	s.vars = slices.Clone(g.p.LinearUnknowns())
	if z := g.p.Search(); z >= 0 {
		s.vars = append(s.vars, z)
	}
	for _, c := range s.rows {
		if c.basic {
			s.basis = append(s.basis, c)
		}
	}
	for i, v := range slices.Insert(slices.Clone(g.shelf.solved), 0, g.p.Values) {
		v = slices.Clone(v)
		for _, j := range s.vars {
			v[j] *= g.frame.Sense(g.p.Table.Name(j))
		}
		switch ok := s.settle(v); {
		case ok:
			s.sol = append(s.sol, v)
		case i == 0:
			return fmt.Errorf("with these senses the rows of the %s have no solution; assume friction at its limit the way it acts", g.body.Name)
		}
	}
	s.need = rank(s.basisSlopes(s.sol[0]), dependent)
	return nil
}

// settle moves a state onto all of the body's rows by Newton's method, each
// step the least-squares, least-norm one. It starts on them, but for a friction
// that is tied to a normal force and was assumed the other way.
func (s *system) settle(v []float64) bool {
	for range 20 {
		worst := 0.0
		r := mat.NewVecDense(len(s.basis), nil)
		for i, c := range s.basis {
			x, size := c.sheet.sum.Eval(v), c.sheet.sum.Size(v)
			r.SetVec(i, x)
			worst = max(worst, abs(x)/size)
		}
		if worst < 8*ulp {
			return true
		}
		var jac []float64
		for _, c := range s.basis {
			jac = append(jac, s.slopes(c.sheet.sum.Eval, v)...)
		}
		var svd mat.SVD
		if slices.ContainsFunc(jac, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }) ||
			!svd.Factorize(mat.NewDense(len(s.basis), len(s.vars), jac), mat.SVDThin) {
			return false
		}
		k := svd.Rank(1e-9)
		if k == 0 {
			return false
		}
		var step mat.VecDense
		svd.SolveVecTo(&step, r, k)
		scale := s.scales(v)
		for j, i := range s.vars {
			v[i] -= step.AtVec(j) * scale[j]
		}
		statics.Define(s.g.p.Definitions(), v)
	}
	for _, c := range s.basis {
		if !(abs(c.sheet.sum.Eval(v)) <= 1e-13*c.sheet.sum.Size(v)) {
			return false
		}
	}
	return true
}

// scales are the sizes of the unknowns: of a force, the largest of them, for
// any one may be zero.
func (s *system) scales(v []float64) []float64 {
	out := make([]float64, len(s.vars))
	most := 0.0
	for _, i := range s.g.p.LinearUnknowns() {
		most = max(most, abs(v[i]))
	}
	for j, i := range s.vars {
		if out[j] = most; i == s.g.p.Search() {
			out[j] = abs(v[i])
		}
		if out[j] == 0 {
			out[j] = 1
		}
	}
	return out
}

// slopes are the derivatives of f in the unknowns at v, each times the
// unknown's size, by central differences: exact but for rounding where f is
// affine, as it is in every force.
func (s *system) slopes(f func([]float64) float64, v []float64) []float64 {
	const h = 1e-5
	w := slices.Clone(v)
	scale := s.scales(v)
	out := make([]float64, len(s.vars))
	at := func(i int, x float64) float64 {
		w[i] = x
		statics.Define(s.g.p.Definitions(), w)
		return f(w)
	}
	for j, i := range s.vars {
		out[j] = (at(i, v[i]+h*scale[j]) - at(i, v[i]-h*scale[j])) / (2 * h)
		at(i, v[i])
	}
	return out
}

// unit is a vector made of length 1, and the length it had.
func unit(v []float64) ([]float64, float64) {
	n := math.Sqrt(dot(v, v))
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] / n
	}
	return out, n
}

func (s *system) basisSlopes(v []float64) [][]float64 {
	var out [][]float64
	for _, c := range s.basis {
		if u, n := unit(s.slopes(c.sheet.sum.Eval, v)); n > level*c.sheet.sum.Size(v) {
			out = append(out, u)
		}
	}
	return out
}

// rank is the number of singular values above a tolerance; 0 if a row is not
// finite.
func rank(rows [][]float64, tolerance float64) int {
	flat := slices.Concat(rows...)
	if len(flat) == 0 || slices.ContainsFunc(flat, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }) {
		return 0
	}
	var svd mat.SVD
	if !svd.Factorize(mat.NewDense(len(rows), len(rows[0]), flat), mat.SVDNone) {
		return 0
	}
	n := 0
	for _, x := range svd.Values(nil) {
		if x > tolerance {
			n++
		}
	}
	return n
}

// combines reports whether an equation that holds at the full solutions is, to
// first order, made of the body's rows at each, and not level there.
func (s *system) combines(t *typed) bool {
	for _, v := range s.sol {
		u, n := unit(s.slopes(t.value, v))
		if !(n > level*t.size(v)) || rank(append(s.basisSlopes(v), u), dependent) > s.need {
			return false
		}
	}
	return true
}

// combinesNumbers is combines for an equation with numbers in place of
// symbols, at the problem's own givens. Through one point pass many equations
// that are no setup, so that it must be what someone would write: the sum or
// difference of the two force sums, or, with an unknown eliminated, unknowns
// that no row has by themselves.
func (s *system) combinesNumbers(t *typed) bool {
	v := s.sol[0]
	var all statics.Sum
	for _, c := range s.basis {
		all = all.Plus(c.sheet.sum)
	}
	slopes := s.slopes(t.value, v)
	u, n := unit(slopes)
	residual, tolerance := s.off(t)
	switch used := s.used(slopes, n); {
	case !(residual <= tolerance && n > 10*tolerance*t.size(v)) ||
		rank(append(s.basisSlopes(v), u), max(dependent, 2*tolerance)) > s.need ||
		!s.g.replaces(t, all, func() bool { return false }):
		return false
	case s.addsForces(u, tolerance):
		return true
	default:
		return len(used) > 1 && len(used) < s.need && !slices.ContainsFunc(s.rows, func(c candidate) bool {
			row := s.slopes(c.sheet.sum.Eval, v)
			return slices.Equal(used, s.used(row, math.Sqrt(dot(row, row))))
		})
	}
}

// used are the places of the unknowns that slopes of length n do not leave out.
func (s *system) used(slopes []float64, n float64) []int {
	var out []int
	for j, x := range slopes {
		if abs(x) > level*n {
			out = append(out, j)
		}
	}
	return out
}

// addsForces reports whether a direction is that of the two force sums added,
// or of one less the other.
func (s *system) addsForces(u []float64, tolerance float64) bool {
	var x, y []float64
	for _, c := range s.basis {
		switch slopes := s.slopes(c.sheet.sum.Eval, s.sol[0]); c.row {
		case statics.RowX:
			x = slopes
		case statics.RowY:
			y = slopes
		}
	}
	if x == nil || y == nil {
		return false
	}
	for _, sign := range []float64{1, -1} {
		both := slices.Clone(x)
		for j := range both {
			both[j] += sign * y[j]
		}
		w, _ := unit(both)
		if k := dot(u, w); 1-k*k <= tolerance*tolerance {
			return true
		}
	}
	return false
}

// off is how far an equation is from holding at the problem's own solution,
// relative to half the size of its terms, and how far it may be.
func (s *system) off(t *typed) (residual, tolerance float64) {
	size := t.size(s.sol[0]) / 2
	if !(size > 0) {
		return 1, 0
	}
	return abs(t.value(s.sol[0])) / size, s.g.allowed(t, t.implied(s.sol[0], false)/size)
}

// isValue reports whether an equation says what an unknown comes to at the
// problem's own givens.
func (s *system) isValue(t *typed) bool {
	residual, tolerance := s.off(t)
	used := 0
	for _, i := range s.vars {
		if t.prog.Uses(i) {
			used++
		}
	}
	return used == 1 && t.hasNumbers() && residual <= tolerance
}

// nearest is the row whose coefficients at the problem's own solution point
// most nearly the way the equation's do.
func (s *system) nearest(t *typed) candidate {
	direction := func(f func([]float64) float64) []float64 {
		v := slices.Clone(s.sol[0])
		d := s.slopes(f, v)
		for _, i := range s.g.p.LinearUnknowns() {
			v[i] = 0
		}
		statics.Define(s.g.p.Definitions(), v)
		u, _ := unit(append(d, f(v)))
		return u
	}
	d := direction(t.value)
	best, most := s.rows[0], -1.0
	for _, c := range s.rows {
		if k := abs(dot(d, direction(c.sheet.sum.Eval))); k > most {
			best, most = c, k
		}
	}
	return best
}

// rankOf is how many of the lines are independent: at every full solution, or
// at the problem's own if numbers stand for symbols.
func (s *system) rankOf(lines []line) int {
	states := s.sol
	tolerance := dependent
	for _, l := range lines {
		if l.verdict.Outcome == Remarked {
			_, allowed := s.off(l.t)
			states, tolerance = s.sol[:1], max(tolerance, 2*allowed)
		}
	}
	least := len(lines)
	for _, v := range states {
		var rows [][]float64
		for _, l := range lines {
			u, _ := unit(s.slopes(l.slope, v))
			rows = append(rows, u)
		}
		least = min(least, rank(rows, tolerance))
	}
	return least
}
