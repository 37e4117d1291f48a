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
	v, fixed := g.solveOwn(progs, u)
	return line, fixed && near(got, v, abs(v), g.tolerance)
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

// solveOwn solves equations for the unknowns at the problem's own givens by
// Newton's method from the true solution, each step the least-squares,
// least-norm one (SVD), and reports u's value if the equations fix it.
func (g *Grader) solveOwn(eqs []*typed, u problems.Unknown) (float64, bool) {
	vars := slices.Clone(g.p.LinearUnknowns())
	if z := g.p.Search(); z >= 0 {
		vars = append(vars, z)
	}
	v := slices.Clone(g.p.Values)
	m, n := len(eqs), len(vars)
	residual := func() (*mat.VecDense, bool) {
		r := mat.NewVecDense(m, nil)
		for i, t := range eqs {
			d, err := t.prog.Eval(v)
			if err != nil {
				return nil, false
			}
			r.SetVec(i, d/max(t.size(v), 1e-300))
		}
		return r, true
	}
	fixed := false
	for range 40 {
		r, ok := residual()
		if !ok {
			return 0, false
		}
		jac := mat.NewDense(m, n, nil)
		for j, i := range vars {
			x := v[i]
			h := 1e-6 * max(abs(x), 1e-3)
			v[i] = x + h
			statics.Define(g.p.Definitions(), v)
			up, ok := residual()
			v[i] = x
			statics.Define(g.p.Definitions(), v)
			if !ok {
				return 0, false
			}
			for k := range m {
				jac.Set(k, j, (up.AtVec(k)-r.AtVec(k))/h*max(abs(x), 1e-3))
			}
		}
		var svd mat.SVD
		if !svd.Factorize(jac, mat.SVDFull) {
			return 0, false
		}
		rank := svd.Rank(1e-7)
		if rank == 0 {
			return 0, false
		}
		var step mat.VecDense
		svd.SolveVecTo(&step, r, rank)
		moved := 0.0
		for j, i := range vars {
			d := step.AtVec(j) * max(abs(v[i]), 1e-3)
			v[i] -= d
			moved = max(moved, abs(step.AtVec(j)))
		}
		statics.Define(g.p.Definitions(), v)
		fixed = g.fixedBy(&svd, rank, vars, u)
		if moved < 1e-10 {
			break
		}
	}
	r, ok := residual()
	if !ok || mat.Norm(r, math.Inf(1)) > 1e-6 {
		return 0, false
	}
	return v[u.Index] * g.frame.Sense(u.Symbol), fixed
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
