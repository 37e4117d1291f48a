package grading

import (
	"errors"
	"math"
	"slices"
	"strings"

	"steelyard/problems/notation"
)

// typed is an answer read and compiled.
type typed struct {
	prog   *notation.Program
	nodes  []notation.Node // one for an expression, two for the sides of an equation
	reads  string
	digits []digits // of the numbers of each node that may be rounded
	given  bool     // a number is the value of a given
}

// expression reads and compiles an answer.
func (g *Grader) expression(text string) (*typed, *Verdict) {
	n, err := g.p.Table.Parse(text)
	if err != nil {
		return nil, unreadable(err)
	}
	prog, err := notation.Compile(n)
	if err != nil {
		return nil, unreadable(err)
	}
	return &typed{prog: prog, nodes: []notation.Node{n}, reads: notation.ReadBack(n, false)}, nil
}

// equation reads and compiles an equation as the difference of its sides.
func (g *Grader) equation(text string) (*typed, *Verdict) {
	if strings.TrimSpace(text) != "" && !strings.Contains(text, "=") {
		if _, err := g.p.Table.Parse(text); err != nil {
			return nil, unreadable(err)
		}
		return nil, &Verdict{Outcome: Unreadable, At: len([]rune(text)) + 1, Message: "An equation has an = in it. End the sum with \"= 0\", or put a side on each side of =."}
	}
	l, r, err := g.p.Table.ParseEquation(text)
	if err != nil {
		return nil, unreadable(err)
	}
	prog, err := notation.CompileDifference(l, r)
	if err != nil {
		return nil, unreadable(err)
	}
	return &typed{prog: prog, nodes: []notation.Node{l, r}, reads: notation.ReadBackEquation(l, r, false)}, nil
}

// unreadable is the verdict on a line that could not be read, or that has no
// value to compare.
func unreadable(err error) *Verdict {
	v := &Verdict{Outcome: Unreadable, Message: err.Error(), At: 1}
	var e *notation.Error
	switch {
	case errors.As(err, &e):
		v.At = e.At
	case errors.Is(err, notation.ErrNotFinite):
		v.Message = "This has no finite value: look for a division by zero, or the root of something negative."
	}
	return v
}

// evalAll is the value at every state.
func (t *typed) evalAll(states [][]float64) ([]float64, error) {
	out := make([]float64, len(states))
	for i, v := range states {
		x, err := t.prog.Eval(v)
		if err != nil {
			return nil, err
		}
		out[i] = x
	}
	return out, nil
}

// value is the value at one state by a walk down the tree: for diagnosis,
// where a value that is not finite only rules an explanation out.
func (t *typed) value(v []float64) float64 {
	x := notation.Value(t.nodes[0], v)
	if len(t.nodes) == 2 {
		x -= notation.Value(t.nodes[1], v)
	}
	return x
}

// size is the size of the terms at v.
func (t *typed) size(v []float64) float64 {
	var s float64
	for _, n := range t.nodes {
		s += notation.Size(n, v)
	}
	return s
}

// dust bounds what rounding in floating point can have done to the value at v.
func (t *typed) dust(v []float64) float64 {
	var total float64
	for _, n := range t.nodes {
		x, e := dust(n, v)
		total += e + ulp*abs(x)
	}
	return total
}

const ulp = 0x1p-53

// dust is the value of n and a bound on its rounding error: a running error
// analysis, in which every operation passes on its operands' errors and adds
// half a unit in the last place (Wilkinson, 1963; Higham, Accuracy and
// Stability of Numerical Algorithms, section 3.3; from memory).
func dust(n notation.Node, v []float64) (x, e float64) {
	switch n := n.(type) {
	case *notation.Number:
		return n.Value, ulp * abs(n.Value)
	case *notation.Symbol:
		x = notation.Value(n, v)
		return x, 4 * ulp * abs(x) // a dependent symbol has been computed
	case *notation.Unary:
		x, e = dust(n.Operand, v)
		return -x, e
	case *notation.Angle:
		_, e = dust(n.Operand, v)
		x = notation.Value(n, v)
		if n.Degrees {
			e *= math.Pi / 180
		}
		return x, e + 2*ulp*abs(x)
	case *notation.Call:
		a, ea := dust(n.Arg, v)
		x = notation.Value(n, v)
		return x, ea*slope(n.Func, a, x, ea) + 2*ulp*max(abs(x), roundOff[n.Func])
	case *notation.Binary:
		l, el := dust(n.Left, v)
		r, er := dust(n.Right, v)
		switch n.Op {
		case '+':
			x, e = l+r, el+er
		case '-':
			x, e = l-r, el+er
		case '*':
			x, e = l*r, abs(l)*er+abs(r)*el+el*er
		case '/':
			x = l / r
			e = (el + abs(x)*er) / max(abs(r)-er, 0)
		case '^':
			x = math.Pow(l, r)
			if l != 0 {
				e = abs(x) * (abs(r)*el/abs(l) + abs(math.Log(abs(l)))*er)
			}
		}
		return x, e + ulp*abs(x)
	}
	return math.NaN(), math.Inf(1)
}

// roundOff is the scale of a function's own rounding, where that is not its
// value's: the library reduces an angle by a pi of finite length.
var roundOff = map[string]float64{"sin": 1, "cos": 1}

// slope bounds the derivative of a function near a, where its value is x.
func slope(function string, a, x, ea float64) float64 {
	switch function {
	case "tan":
		return 1 + x*x
	case "asin", "acos":
		return 1 / math.Sqrt(max(1-a*a, ea, ulp))
	case "sqrt":
		return 1 / (2 * max(x, math.Sqrt(ea), ulp))
	}
	return 1
}

// digits are what the number n of a node implies by the digits typed.
type digits struct {
	which int
	half  float64 // it could be off by so much and be written the same
	long  bool    // a decimal, or a whole number of three figures or more
}

// numbers finds the literals of each node that may stand rounded for
// something: not whole ones inside an angle or power, nor one that is a given's
// own value, nor a small whole one, which counts things.
func (g *Grader) numbers(t *typed) {
	t.digits, t.given = nil, false
	for k, n := range t.nodes {
		i := 0
		walkNumbers(n, false, func(x *notation.Number, fixed bool) {
			d := digits{which: k<<16 | i, half: x.Rounding, long: !x.Exact}
			i++
			isGiven := g.isGiven(x.Value)
			t.given = t.given || isGiven && !fixed && !(x.Exact && abs(x.Value) < 10)
			if whole := x.Exact && x.Value == math.Trunc(x.Value); whole {
				if abs(x.Value) < 10 || abs(x.Value) > 1e9 {
					return
				}
				d.half, d.long = 0.5, abs(x.Value) >= 100
			}
			if !(fixed && x.Exact) && d.half > 0 && !isGiven {
				t.digits = append(t.digits, d)
			}
		})
	}
}

// walkNumbers visits the literals in the order of [notation.Numbers]; fixed
// says that one is part of an angle or a power.
func walkNumbers(n notation.Node, fixed bool, f func(*notation.Number, bool)) {
	switch n := n.(type) {
	case *notation.Number:
		f(n, fixed)
	case *notation.Unary:
		walkNumbers(n.Operand, fixed, f)
	case *notation.Angle:
		walkNumbers(n.Operand, true, f)
	case *notation.Call:
		walkNumbers(n.Arg, fixed, f)
	case *notation.Binary:
		walkNumbers(n.Left, fixed, f)
		walkNumbers(n.Right, fixed || n.Op == '^', f)
	}
}

// isGiven reports whether a number is the value of a given, in its own unit.
func (g *Grader) isGiven(x float64) bool {
	for _, given := range g.p.Givens {
		if near(g.p.In(given.Index, given.Unit), x, abs(x), 1e-9) {
			return true
		}
	}
	return false
}

// hasNumbers reports whether a number other than zero is typed.
func (t *typed) hasNumbers() bool {
	return slices.ContainsFunc(t.nodes, func(n notation.Node) bool {
		return slices.ContainsFunc(notation.Numbers(n), func(x *notation.Number) bool { return x.Value != 0 })
	})
}

// rounds reports whether a number typed implies rounding.
func (t *typed) rounds() bool {
	return slices.ContainsFunc(t.digits, func(d digits) bool { return d.long })
}

// decimals reports whether a number typed has decimals.
func (t *typed) decimals() bool { return slices.ContainsFunc(t.nodes, notation.Decimals) }

// implied is how far the value at v could move if every number typed were off
// by half a unit of its last digit; short also counts whole numbers of two
// figures.
func (t *typed) implied(v []float64, short bool) float64 {
	var total float64
	for _, d := range t.digits {
		if !d.long && !short {
			continue
		}
		n := t.nodes[d.which>>16]
		i := d.which & 0xffff
		x := notation.Numbers(n)[i].Value
		moved := notation.Value(notation.WithNumber(n, i, x+d.half), v)
		total += abs(moved - notation.Value(n, v))
	}
	return total
}

// tooCoarse is the verdict on a line in which numbers so large cancel that
// nothing can be told of the rest.
func (t *typed) tooCoarse() Verdict {
	return Verdict{Outcome: Unreadable, At: 1, ReadsAs: t.reads,
		Message: "Numbers so large cancel here that the rest is lost among them. Take out what cancels."}
}
