package grading

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

func (g *Grader) carried(u problems.Unknown, reads string, line int) Verdict {
	v := g.slipped(reads, "carried-error", slip.Entry{Given: fmt.Sprintf("line %d", line)})
	v.Outcome = Remarked
	return v
}

// follows solves the learner's own equations and reports whether they give
// the value, and the first of them that is not right.
func (g *Grader) follows(u problems.Unknown, got float64, equations []string) (line int, ok bool) {
	if len(equations) > MaxListed {
		return 0, false
	}
	var progs []*typed
	for i, text := range equations {
		t, bad := g.equation(text)
		if bad != nil {
			return 0, false
		}
		progs = append(progs, t)
		if line == 0 && !g.someRow(t) {
			line = i + 1
		}
	}
	if line == 0 {
		return 0, false // all right: the error is in the solving
	}
	return line, g.givenBy(progs, u, got)
}

// someRow reports whether an equation is right for any row, about any point,
// at the problem's own givens.
func (g *Grader) someRow(t *typed) bool {
	var sheets []*ownSheet
	for _, row := range statics.Rows {
		sheets = append(sheets, g.sheetOf(row, g.frame))
	}
	for _, sh := range append(sheets, g.otherSheets("")...) {
		if sh.blank {
			continue
		}
		if e := (&equation{g: g, t: t, row: sh.row, sheet: sh}); e.isRow(sh) {
			return true
		}
	}
	return false
}

// isRow reports whether the equation is a row at the problem's own givens,
// within half the tolerance.
func (e *equation) isRow(sh *ownSheet) bool {
	worst, _ := e.residual(sh.on)
	return worst <= e.g.likeness()/2
}

// givenBy reports whether a learner's own equations fix u, at the problem's own
// givens, and at the value got. They are solved from the true solution. Where an
// unknown is no force they need not be linear, and their root may be far from the
// truth: then also from the same with u at got.
func (g *Grader) givenBy(eqs []*typed, u problems.Unknown, got float64) bool {
	sense := g.frame.Sense(u.Symbol)
	starts := []float64{g.p.Values[u.Index]}
	if g.p.Search() >= 0 {
		starts = append(starts, got*sense)
	}
	for _, start := range starts {
		o := g.newOwn(eqs)
		o.v[u.Index] = start
		statics.Define(g.p.Definitions(), o.v)
		if !o.solve() || !g.fixedBy(&o.svd, o.rank, o.vars, u) {
			continue
		}
		if v := o.v[u.Index] * sense; near(got, v, abs(v), g.tolerance) {
			return true
		}
	}
	return false
}

// own is a learner's equations as a system to be solved. What an equation comes
// to is told in the size of its terms at the truth, and each unknown in its own
// size there, a force in a thousandth of the largest at least. Both stay as they
// are while it is solved: an equation told in its size at each new point
// flattens out away from its root, and the steps with it.
type own struct {
	g    *Grader
	eqs  []*typed
	vars []int     // table indexes of what is solved for
	v    []float64 // where it stands
	size []float64 // by equation
	unit []float64 // by unknown

	svd  mat.SVD // of the Jacobian where the last step began
	rank int
}

func (g *Grader) newOwn(eqs []*typed) *own {
	o := &own{g: g, eqs: eqs, vars: slices.Clone(g.p.LinearUnknowns()), v: slices.Clone(g.p.Values)}
	if z := g.p.Search(); z >= 0 {
		o.vars = append(o.vars, z)
	}
	force := 0.0
	for _, i := range g.p.LinearUnknowns() {
		force = max(force, abs(o.v[i]))
	}
	sized := slices.Clone(o.v)
	for _, i := range o.vars {
		o.unit = append(o.unit, max(abs(o.v[i]), 1e-3*force, 1e-3))
		sized[i] = o.unit[len(o.unit)-1]
	}
	statics.Define(g.p.Definitions(), sized)
	for _, t := range eqs {
		o.size = append(o.size, max(t.size(sized), 1e-300))
	}
	return o
}

// Bounds of the solving (ours): steps, halvings of a step that makes things
// worse, how small a step is none, how near zero the equations must come, in the
// size of their terms, and how near is enough to stop at.
const (
	ownSteps    = 40
	ownHalvings = 12
	ownStill    = 1e-10
	ownZero     = 1e-6
	ownEnough   = 1e-9
)

// solve takes Newton's steps, each the least-squares, least-norm one (SVD), and
// halved until the equations come nearer to zero (damped Newton; Nocedal and
// Wright, Numerical Optimization, chapter 11, from memory). It reports whether
// they come to zero.
func (o *own) solve() bool {
	r, ok := o.residual()
	if !ok {
		return false
	}
	for range ownSteps {
		if !o.factorize(r) {
			return false
		}
		var step mat.VecDense
		o.svd.SolveVecTo(&step, r, o.rank)
		next, moved := o.move(r, &step)
		if next != nil {
			r = next
		}
		if moved < ownStill || mat.Norm(r, math.Inf(1)) < ownEnough {
			break
		}
	}
	return mat.Norm(r, math.Inf(1)) <= ownZero
}

// residual is what the equations come to; ok is false where one has no value.
func (o *own) residual() (r *mat.VecDense, ok bool) {
	r = mat.NewVecDense(len(o.eqs), nil)
	for i, t := range o.eqs {
		d, err := t.prog.Eval(o.v)
		if err != nil || math.IsNaN(d) || math.IsInf(d, 0) {
			return nil, false
		}
		r.SetVec(i, d/o.size[i])
	}
	return r, true
}

// set puts the j-th unknown at x, and what is made from it.
func (o *own) set(j int, x float64) {
	o.v[o.vars[j]] = x
	statics.Define(o.g.p.Definitions(), o.v)
}

// factorize takes the Jacobian apart, by differences from r.
func (o *own) factorize(r *mat.VecDense) bool {
	jac := mat.NewDense(len(o.eqs), len(o.vars), nil)
	for j, i := range o.vars {
		x := o.v[i]
		h := 1e-6 * max(abs(x), o.unit[j])
		o.set(j, x+h)
		up, ok := o.residual()
		o.set(j, x)
		if !ok {
			return false
		}
		for k := range o.eqs {
			jac.Set(k, j, (up.AtVec(k)-r.AtVec(k))/h*o.unit[j])
		}
	}
	if !o.svd.Factorize(jac, mat.SVDFull) {
		return false
	}
	o.rank = o.svd.Rank(1e-7)
	return o.rank > 0
}

// move takes the step, or what is left of it when halved, and gives what the
// equations come to then and how far it moved, in units. Where no part of the
// step does any good it stays.
func (o *own) move(r, step *mat.VecDense) (next *mat.VecDense, moved float64) {
	from, was := slices.Clone(o.v), mat.Norm(r, 2)
	share := 1.0
	for range ownHalvings {
		for j, i := range o.vars {
			o.v[i] = from[i] - share*step.AtVec(j)*o.unit[j]
		}
		statics.Define(o.g.p.Definitions(), o.v)
		if next, ok := o.residual(); ok && mat.Norm(next, 2) < was {
			return next, share * mat.Norm(step, math.Inf(1))
		}
		share /= 2
	}
	copy(o.v, from)
	return nil, 0
}

// fixedBy reports whether no direction that the equations leave free changes
// u (or, for a dependent unknown, anything it is made from).
func (g *Grader) fixedBy(svd *mat.SVD, rank int, vars []int, u problems.Unknown) bool {
	var vm mat.Dense
	svd.VTo(&vm)
	matters := []int{u.Index}
	for _, d := range g.p.Definitions() {
		if d.Index == u.Index {
			matters = notation.Symbols(d.Is)
		}
	}
	for j, i := range vars {
		if !slices.Contains(matters, i) {
			continue
		}
		for k := rank; k < len(vars); k++ {
			if abs(vm.At(j, k)) > 1e-6 {
				return false
			}
		}
	}
	return true
}
