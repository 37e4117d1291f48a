package grading

import (
	"math"
	"slices"

	"steelyard/problems/statics"
)

// A row times (T - 5) holds wherever the row holds, and where T is 5 too. To
// find such a factor, the quotient of equation and row is followed along each
// unknown: where it comes to zero, the equation holds and the row need not.
const (
	factorFrom = 1e-5 // times an unknown's value, up and down
	factorTo   = 1e3
	factorStep = 1.6
	// vanished is the quotient, to its size nearby, that counts as zero.
	vanished = 1e-8
)

const strayFactor = "This holds where the sum is 0, but also where a factor that is no part of the sum is 0. Divide that factor out: what is left?"

// nothingHere reports whether the equation is true of any forces at the
// problem's own givens: a row times (L - 3), where L is 3.
func (e *equation) nothingHere() bool {
	holds, err := e.t.vanishes(e.g.own)
	return err == nil && holds
}

// extraFactor reports whether the equation, which holds on the row, holds
// somewhere else for the sake of a factor: along an unknown kept positive, so
// that a row times T, or over T, or squared on both sides, is none.
func (e *equation) extraFactor() bool {
	vars := slices.Clone(e.g.p.LinearUnknowns())
	if z := e.g.p.Search(); z >= 0 {
		vars = append(vars, z)
	}
	for _, v := range e.g.shelf.states[:2] {
		if slices.ContainsFunc(vars, func(i int) bool { return e.vanishesAlong(v, i) }) {
			return true
		}
	}
	return false
}

// vanishesAlong reports whether the quotient of equation and row comes to zero
// as symbol i alone is varied.
func (e *equation) vanishesAlong(v []float64, i int) bool {
	w := slices.Clone(v)
	q := func(k float64) float64 {
		w[i] = k * v[i]
		statics.Define(e.g.p.Definitions(), w)
		return e.t.value(w) / e.sheet.sum.Eval(w)
	}
	if a := q(0.37); near(a, q(1), abs(a), exact) && near(a, q(2.9), abs(a), exact) {
		return false // free of the unknown, as nearly all are
	}
	elsewhere := func(k float64, zero bool) bool { // not on the row, as the row's square is
		q(k)
		return zero && abs(e.sheet.sum.Eval(w)) > level*e.sheet.sum.Size(w)
	}
	var last [3]float64 // the quotient at k/step², k/step, k
	for k := factorFrom; k < factorTo; k *= factorStep {
		last = [3]float64{last[1], last[2], q(k)}
		switch a, b, c := last[0], last[1], last[2]; {
		case b*c < 0 && elsewhere(zeroBetween(q, k/factorStep, k)):
			return true
		case abs(b) < abs(a) && abs(b) < abs(c) && elsewhere(touchesZero(q, k/factorStep/factorStep, k)):
			return true
		}
	}
	return false
}

// zeroBetween tells a zero from a pole where a function changes sign, by
// halving in the geometric sense.
func zeroBetween(q func(float64) float64, lo, hi float64) (at float64, zero bool) {
	least := min(abs(q(lo)), abs(q(hi)))
	a := q(lo)
	for range 50 {
		mid := math.Sqrt(lo * hi)
		if m := q(mid); m*a > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, abs(q(lo)) <= vanished*least
}

// touchesZero reports whether the size of a function falls to zero between lo
// and hi, by golden sections.
func touchesZero(q func(float64) float64, lo, hi float64) (at float64, zero bool) {
	most := max(abs(q(lo)), abs(q(hi)))
	golden := (math.Sqrt(5) - 1) / 2
	for range 60 {
		a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
		if abs(q(a)) < abs(q(b)) {
			hi = b
		} else {
			lo = a
		}
	}
	at = (lo + hi) / 2
	return at, abs(q(at)) <= vanished*most
}
