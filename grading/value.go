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

// Value grades the value of an unknown. equations are the learner's own, if
// any: a value that is wrong for the problem but right for them earns the
// solving, and the line to mend is named.
func (g *Grader) Value(symbol, answer string, equations []string) (Verdict, error) {
	u, ok := g.p.Unknown(symbol)
	if !ok {
		return Verdict{}, fmt.Errorf("\"%s\" is not an unknown of %s; unknowns are %s", notation.Printable(symbol), g.p.ID, unknownNames(g.p))
	}
	q, err := g.p.Table.ParseValue(answer)
	if err != nil {
		return *unreadable(err), nil
	}
	name := notation.Display(symbol, false)
	if q.Symbol != "" && q.Symbol != symbol {
		return Verdict{Outcome: Unreadable, At: 1, Message: fmt.Sprintf("This asks for %s, and that line is for %s.", name, notation.Display(q.Symbol, false))}, nil
	}
	inSymbols := len(notation.Symbols(q.Expr)) > 0
	if q.Product != nil && !notation.SameDim(q.Unit, u.Unit) && q.HasUnit && g.isValue(q.Product, u) {
		q.Expr, q.Unit, q.HasUnit, inSymbols = q.Product, notation.Unit{Factor: 1}, false, true
	}
	reads := name + " = " + notation.ReadBack(q.Expr, false)
	if q.HasUnit {
		reads += " " + q.Unit.Name
	}
	if v, bad := g.unitOf(q, u, inSymbols, reads); bad {
		return v, nil
	}
	got := q.SI(g.p.Values)
	if inSymbols {
		if waiting := g.stillUnknown(q.Expr); waiting != "" {
			return Verdict{Outcome: Unreadable, At: 1, ReadsAs: reads, Message: fmt.Sprintf("%s is not a value yet: find it first, then write %s as a number with its unit.", waiting, name)}, nil
		}
		got = notation.Value(q.Expr, g.p.Values)
	}
	if math.IsNaN(got) || math.IsInf(got, 0) {
		return Verdict{Outcome: Unreadable, At: 1, Message: "That has no finite value; look for a division by zero."}, nil
	}
	want := g.p.Values[u.Index] * g.frame.Sense(symbol)
	v := g.compare(got, want, q, u, reads)
	if v.Outcome == Wrong && len(equations) > 0 {
		if line, ok := g.follows(u, got, equations); ok {
			return g.carried(u, reads, line), nil
		}
	}
	return v, nil
}

// isValue reports whether an expression has the value of an unknown.
func (g *Grader) isValue(n notation.Node, u problems.Unknown) bool {
	want := g.p.Values[u.Index] * g.frame.Sense(u.Symbol)
	return near(notation.Value(n, g.p.Values), want, abs(want), Tolerance)
}

// lastDigit is half a unit of the last digit of a plain number, in SI; 0 of
// anything else.
func lastDigit(q notation.Quantity) float64 {
	n := q.Expr
	if u, ok := n.(*notation.Unary); ok {
		n = u.Operand
	}
	x, ok := n.(*notation.Number)
	switch {
	case !ok:
		return 0
	case x.Exact:
		return 0.5 * q.Unit.Factor
	}
	return x.Rounding * q.Unit.Factor
}

func unknownNames(p *problems.Problem) string {
	out := ""
	for i, u := range p.Unknowns {
		if i > 0 {
			out += ", "
		}
		out += u.Symbol
	}
	return out
}

// unitOf refuses a value whose unit is missing or of another kind.
func (g *Grader) unitOf(q notation.Quantity, u problems.Unknown, inSymbols bool, reads string) (Verdict, bool) {
	pure := u.Unit.Name == ""
	switch {
	case !q.HasUnit && !pure && !inSymbols:
		return Verdict{Outcome: Unreadable, ReadsAs: reads, At: 1,
			Message: fmt.Sprintf("A number alone is not yet %s: add its unit, like %s.", u.Unit.DimName(), u.Unit.Name)}, true
	case q.HasUnit && !notation.SameDim(q.Unit, u.Unit):
		e := slip.Entry{Given: q.Unit.DimName()}
		v := g.slipped(reads, "wrong-unit", e)
		v.Message = fmt.Sprintf("%s is %s; %s is a unit of %s.", notation.Display(u.Symbol, false), u.Unit.DimName(), q.Unit.Name, q.Unit.DimName())
		return v, true
	}
	return Verdict{}, false
}

// stillUnknown finds an unknown in the expression, shown by name.
func (g *Grader) stillUnknown(n notation.Node) string {
	for _, i := range notation.Symbols(n) {
		for _, u := range g.p.Unknowns {
			if u.Index == i {
				return notation.Display(u.Symbol, false)
			}
		}
	}
	return ""
}

func (g *Grader) compare(got, want float64, q notation.Quantity, u problems.Unknown, reads string) Verdict {
	size := abs(want)
	if size == 0 {
		size = 1
	}
	off := func(target float64) float64 { return abs(got-target) / size }
	entry := slip.Entry{Problem: g.p.Scenario, Given: notation.Display(u.Symbol, false)}
	switch {
	case off(want) <= Tolerance:
		return right(reads)
	case off(-want) <= Tolerance:
		v := g.slipped(reads, "sense-reversed", entry)
		v.Message = fmt.Sprintf("The size is right, the sign is not. A minus says that %s acts against the sense you assumed for it.", entry.Given)
		return v
	}
	if half := lastDigit(q); half > 0 && abs(got-want) <= 1.05*half && half < size/3 || off(want) <= 2*Tolerance {
		return g.slipped(reads, "rounded-early", entry)
	}
	for _, k := range []float64{1e3, 1e-3, 1e2, 1e-2, 1e6, 1e-6} {
		if abs(got-want*k) <= Tolerance*size*k {
			return g.slipped(reads, "unit-prefix", entry)
		}
	}
	return Verdict{Outcome: Wrong, ReadsAs: reads, Message: fmt.Sprintf("That is not %s. Put it back into your equations: which one fails?", entry.Given)}
}

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
	return line, fixed && near(got, v, abs(v), Tolerance)
}

// someRow reports whether an equation is right for any row, about any point,
// at the problem's own givens.
func (g *Grader) someRow(t *typed) bool {
	frames := []statics.Frame{g.frame}
	for _, p := range g.body.Points {
		fr := g.frame
		fr.Pivot = p
		frames = append(frames, fr)
	}
	for i, fr := range frames {
		for _, row := range statics.Rows {
			if i > 0 && row != statics.RowMoment {
				continue
			}
			sh := g.sheetOf(row, fr)
			if sh.blank {
				continue
			}
			if e := (&equation{g: g, t: t, row: row, sheet: sh}); e.isRow(sh) {
				return true
			}
		}
	}
	return false
}

// isRow reports whether the equation is a row at the problem's own givens,
// within half the tolerance.
func (e *equation) isRow(sh *ownSheet) bool {
	worst, _ := e.residual(sh.on)
	return worst <= Tolerance/2
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
