package statics

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"steelyard/problems/notation"
)

// RootError reports that the searched unknown has no value in its bracket
// that satisfies the rows, or more than one.
type RootError struct {
	Name   string
	Roots  []float64
	Lo, Hi float64
	Unit   notation.Unit // that the message is in; the fields are SI
}

func (e *RootError) Error() string {
	in := func(v float64) string {
		if e.Unit.Factor != 0 {
			v /= e.Unit.Factor
		}
		return fmt.Sprintf("%.4g", v)
	}
	span := fmt.Sprintf("%s from %s to %s", e.Name, in(e.Lo), in(e.Hi))
	if e.Unit.Name != "" {
		span += " " + e.Unit.Name
	}
	if len(e.Roots) == 0 {
		return fmt.Sprintf("no value of %s balances the rows", span)
	}
	list := in(e.Roots[0])
	for _, r := range e.Roots[1:] {
		list += ", " + in(r)
	}
	return fmt.Sprintf("%d values of %s balance the rows (%s); narrow the range to one", len(e.Roots), span, list)
}

// search finds the one value of s.Search in its bracket at which the rows have
// a solution: where det[a|b] vanishes. It is looked at on a grid; a change of
// sign is closed by the Illinois variant of false position (Dowell and Jarratt,
// BIT 11, 1971, from memory), and a dip toward zero is followed down, so that a
// pair of roots between two points of the grid is not missed.
func (s *System) search(values []float64) error {
	const steps = 24
	lo, hi := s.Lo.Eval(values), s.Hi.Eval(values)
	name := s.Names[len(s.Names)-1]
	if !(hi > lo) || math.IsInf(hi-lo, 0) {
		return fmt.Errorf("the range of %s is empty: from %.4g to %.4g", name, lo, hi)
	}
	values[s.Search] = lo + (hi-lo)*0.4142
	rows, err := s.pick(values)
	if err != nil {
		return err
	}
	f := func(z float64) float64 {
		values[s.Search] = z
		return s.determinant(rows, values)
	}
	// The ends are left out by a hair: at a limit (a distance of zero) a row
	// may vanish for reasons of its own.
	eps := (hi - lo) * 1e-9
	if root, ok := straight(f, lo+eps, hi-eps); ok {
		values[s.Search] = root
		return nil
	}
	var z, y [steps + 1]float64
	var size float64
	for k := range z {
		z[k] = min(max(lo+(hi-lo)*float64(k)/steps, lo+eps), hi-eps)
		y[k] = f(z[k])
		if !math.IsNaN(y[k]) {
			size = max(size, math.Abs(y[k]))
		}
	}
	if size == 0 {
		return &RedundantError{Rank: len(s.Unknowns), Unknowns: len(s.Unknowns) + 1, Surplus: []string{name}}
	}
	var roots []float64
	for k := range z {
		switch {
		case y[k] == 0:
			roots = append(roots, z[k])
		case k > 0 && y[k-1]*y[k] < 0:
			roots = append(roots, enclosed(f, z[k-1], z[k], y[k-1], y[k])...)
		case k > 1 && dips(y[k-2], y[k-1], y[k]):
			roots = append(roots, pair(f, z[k-2], z[k-1], z[k], y[k-2], y[k-1], y[k])...)
		}
	}
	if len(roots) != 1 {
		return &RootError{name, roots, lo, hi, s.Unit}
	}
	values[s.Search] = roots[0]
	return nil
}

// Root reports whether the rows have a solution at some value of the searched
// unknown within `within` of z, in its bracket or out of it: how the other root
// of a quadratic is known. The givens must be set in values, which are left as
// they were.
func (s *System) Root(values []float64, z, within float64) bool {
	if s.Search < 0 || !(within > 0) {
		return false
	}
	v := slices.Clone(values)
	v[s.Search] = z + 0.4142*within
	rows, err := s.pick(v)
	if err != nil {
		return false
	}
	f := func(z float64) float64 {
		v[s.Search] = z
		return s.determinant(rows, v)
	}
	lo, hi := f(z-within), f(z+within)
	return lo*hi < 0 && len(enclosed(f, z-within, z+within, lo, hi)) > 0
}

// straight finds the root between lo and hi of an f that is a straight line,
// as it is for most distances and for a coefficient of friction: five points,
// unevenly spaced, tell. The grid sees to all else, and to what goes wrong.
func straight(f func(float64) float64, lo, hi float64) (root float64, ok bool) {
	f0, f1 := f(lo), f(hi)
	if !(f0*f1 < 0) {
		return 0, false
	}
	near := 1e-11 * max(math.Abs(f0), math.Abs(f1))
	for _, u := range [...]float64{0.2137, 0.5, 0.8291} {
		if !(math.Abs(f(lo+u*(hi-lo))-(f0+u*(f1-f0))) <= near) {
			return 0, false
		}
	}
	root = lo + (hi-lo)*f0/(f0-f1)
	if fr := f(root); fr != 0 { // one step more takes out what rounding left
		root -= fr * (hi - lo) / (f1 - f0)
	}
	return root, true
}

// pick chooses as many independent rows of [a|b] as it has columns, at a value
// of Search that is no root; rows that are zero whatever the values drop out.
func (s *System) pick(values []float64) ([]int, error) {
	n := len(s.Unknowns)
	a, b := s.matrix(values)
	var rows []int
	var basis []*mat.VecDense
	for i := range s.Rows {
		if s.Rows[i].blank() || len(rows) == n+1 {
			continue
		}
		v := mat.NewVecDense(n+1, nil)
		for j := range n {
			v.SetVec(j, a.At(i, j))
		}
		v.SetVec(n, b.AtVec(i))
		v.ScaleVec(1/largest(v.RawVector().Data), v)
		for _, e := range basis {
			v.AddScaledVec(v, -mat.Dot(v, e), e)
		}
		if size := mat.Norm(v, 2); size > 1e-9 {
			v.ScaleVec(1/size, v)
			rows, basis = append(rows, i), append(basis, v)
		}
	}
	if len(rows) == n+1 {
		return rows, nil
	}
	e := &RedundantError{Rank: len(rows), Unknowns: n + 1, Surplus: s.Names}
	if _, err := s.linear(values); err == nil {
		e.Surplus = s.Names[n:] // any value of Search will do
	}
	return nil, e
}

func (r *Row) blank() bool {
	for _, c := range r.Cells {
		if !c.Coef.IsZero() {
			return false
		}
	}
	return true
}

// determinant is det[a|b] over the rows given.
func (s *System) determinant(rows []int, values []float64) float64 {
	a, b := s.matrix(values)
	n := len(s.Unknowns)
	square := mat.NewDense(n+1, n+1, nil)
	for k, i := range rows {
		for j := range n {
			square.Set(k, j, a.At(i, j))
		}
		square.Set(k, n, b.AtVec(i))
	}
	return mat.Det(square)
}

// enclosed finds the root between a and b, where f changes sign from fa to fb;
// none if the change is a pole.
func enclosed(f func(float64) float64, a, b, fa, fb float64) []float64 {
	size := max(math.Abs(fa), math.Abs(fb))
	for range 100 {
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		if fc == 0 || math.Abs(b-a) <= 1e-14*math.Abs(b) || math.Abs(c-b) <= 1e-15*math.Abs(c) {
			b, fb = c, fc
			break
		}
		if fc*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	if !(math.Abs(fb) <= 1e-6*size) {
		return nil
	}
	return []float64{b}
}

// dips reports whether the middle of three values of one sign is the nearest
// to zero.
func dips(f0, f1, f2 float64) bool {
	return f0*f1 > 0 && f1*f2 > 0 && math.Abs(f1) <= math.Abs(f0) && math.Abs(f1) < math.Abs(f2)
}

// pair follows a dip at b, between a and c, toward zero by golden sections:
// two roots if it crosses, one if it touches, else none.
func pair(f func(float64) float64, a, b, c, fa, fb, fc float64) []float64 {
	const golden = 0.3819660112501051
	size, lo, hi, flo, fhi := math.Abs(fb), a, c, fa, fc
	for range 60 {
		z := b + golden*(c-b)
		if b-a > c-b {
			z = b - golden*(b-a)
		}
		fz := f(z)
		if fz*fb < 0 {
			return append(enclosed(f, lo, z, flo, fz), enclosed(f, z, hi, fz, fhi)...)
		}
		if math.Abs(fz) < math.Abs(fb) {
			if z > b {
				a = b
			} else {
				c = b
			}
			b, fb = z, fz
		} else if z > b {
			c = z
		} else {
			a = z
		}
	}
	if math.Abs(fb) <= 1e-12*size {
		return []float64{b}
	}
	return nil
}
