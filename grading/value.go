package grading

import (
	"fmt"
	"math"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
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
	return near(notation.Value(n, g.p.Values), want, abs(want), g.tolerance)
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
	case !q.HasUnit && !pure && !inSymbols && q.SI(g.p.Values) != 0: // nothing is nothing in any unit
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

// isZero reports whether an unknown comes out as nothing, beside the other
// forces or what it is made of.
func (g *Grader) isZero(u problems.Unknown) bool {
	v := abs(g.p.Values[u.Index])
	return v == 0 || u.Role != problems.Searched && v < 1e-9*g.p.ForceScale()
}

// compareZero grades the value of an unknown that is nothing: only nothing is
// that, to within the tolerance of the forces about it.
func (g *Grader) compareZero(got float64, u problems.Unknown, reads string) Verdict {
	if abs(got) <= 1e-6*g.p.ForceScale() {
		return right(reads)
	}
	name := notation.Display(u.Symbol, false)
	return Verdict{Outcome: Wrong, ReadsAs: reads, Message: fmt.Sprintf("That is not %s. Put it back into your equations: what else is there in that row to balance it?", name)}
}

func (g *Grader) compare(got, want float64, q notation.Quantity, u problems.Unknown, reads string) Verdict {
	size := abs(want)
	if g.isZero(u) {
		return g.compareZero(got, u, reads)
	}
	off := func(target float64) float64 { return abs(got-target) / size }
	entry := slip.Entry{Problem: g.p.Scenario, Given: notation.Display(u.Symbol, false)}
	switch {
	case off(want) <= g.tolerance:
		return right(reads)
	case g.p.OtherRoot(u, got*g.frame.Sense(u.Symbol), g.tolerance*abs(got)):
		return g.slipped(reads, "other-root", entry)
	case off(-want) <= g.tolerance:
		v := g.slipped(reads, "sense-reversed", entry)
		v.Message = fmt.Sprintf("The size is right, the sign is not. A minus says that %s acts against the sense you assumed for it.", entry.Given)
		return v
	}
	if half := lastDigit(q); half > 0 && abs(got-want) <= 1.05*half && half < size/3 || off(want) <= g.nearly() {
		return g.slipped(reads, "rounded-early", entry)
	}
	for _, k := range []float64{1e3, 1e-3, 1e2, 1e-2, 1e6, 1e-6} {
		if abs(got-want*k) <= g.tolerance*size*k {
			return g.slipped(reads, "unit-prefix", entry)
		}
	}
	return Verdict{Outcome: Wrong, ReadsAs: reads, Message: fmt.Sprintf("That is not %s. Put it back into your equations: which one fails?", entry.Given)}
}
