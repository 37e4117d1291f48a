package notation

import (
	"math"
	"slices"
	"strconv"
)

// Value is the value of n at the values of the symbols, by table index, with
// angles in radians. It is NaN or infinite where n has no finite value, and
// NaN where a symbol has no value in the slice.
func Value(n Node, values []float64) float64 {
	switch n := n.(type) {
	case *Number:
		return n.Value
	case *Symbol:
		if n.Index < 0 || n.Index >= len(values) {
			return math.NaN()
		}
		return values[n.Index]
	case *Unary:
		return -Value(n.Operand, values)
	case *Binary:
		return apply(n.Op, Value(n.Left, values), Value(n.Right, values))
	case *Call:
		if row := functionRow(n.Func); row >= 0 {
			return functions[row].eval(Value(n.Arg, values))
		}
	case *Angle:
		return inRadians(n, Value(n.Operand, values))
	}
	return math.NaN()
}

// apply is the operation op on two values.
func apply(op byte, left, right float64) float64 {
	switch op {
	case '+':
		return left + right
	case '-':
		return left - right
	case '*':
		return left * right
	case '/':
		return left / right
	case '^':
		return math.Pow(left, right)
	}
	return math.NaN()
}

// inRadians is the value of an angle whose operand has the value given.
func inRadians(a *Angle, value float64) float64 {
	if a.Degrees {
		return value * piValue / 180
	}
	return value
}

// Size is the size of the terms of n at the values of the symbols: the scale
// that a relative tolerance on [Value] is of. Terms that cancel in the value
// do not cancel in the size: a sum or difference is the sum of the sizes, a
// product the product. A divisor, a function and a negative power count at
// their value without its sign.
func Size(n Node, values []float64) float64 {
	switch n := n.(type) {
	case *Unary:
		return Size(n.Operand, values)
	case *Binary:
		switch n.Op {
		case '+', '-':
			return Size(n.Left, values) + Size(n.Right, values)
		case '*':
			return Size(n.Left, values) * Size(n.Right, values)
		case '/':
			return Size(n.Left, values) / math.Abs(Value(n.Right, values))
		case '^':
			if exponent := Value(n.Right, values); exponent > 0 {
				return math.Pow(Size(n.Left, values), exponent)
			}
		}
	}
	return math.Abs(Value(n, values))
}

// children are the operands of n, in order.
func children(n Node) [2]Node {
	switch n := n.(type) {
	case *Unary:
		return [2]Node{n.Operand}
	case *Binary:
		return [2]Node{n.Left, n.Right}
	case *Call:
		return [2]Node{n.Arg}
	case *Angle:
		return [2]Node{n.Operand}
	}
	return [2]Node{}
}

// visit calls f for n and everything below it, in the order written.
func visit(n Node, f func(Node)) {
	if n == nil {
		return
	}
	f(n)
	for _, child := range children(n) {
		visit(child, f)
	}
}

// Numbers are the literals of n in the order written, those in angles and
// powers included.
func Numbers(n Node) []*Number {
	var numbers []*Number
	visit(n, func(n Node) {
		if number, ok := n.(*Number); ok {
			numbers = append(numbers, number)
		}
	})
	return numbers
}

// Symbols are the table indexes of the symbols of n, each once, in the order
// of their first appearance.
func Symbols(n Node) []int {
	var indexes []int
	visit(n, func(n Node) {
		if s, ok := n.(*Symbol); ok && !slices.Contains(indexes, s.Index) {
			indexes = append(indexes, s.Index)
		}
	})
	return indexes
}

// Decimals reports whether any literal of n is rounded: not [Number.Exact].
func Decimals(n Node) bool {
	return slices.ContainsFunc(Numbers(n), func(n *Number) bool { return !n.Exact })
}

// WithNumber is n with the literal Numbers(n)[which] given another value. What
// does not lie above that literal is shared with n. If there is no such
// literal, it is n itself.
func WithNumber(n Node, which int, value float64) Node {
	replaced, _ := withNumber(n, which, value)
	return replaced
}

// withNumber returns the copy, and which less the literals n has.
func withNumber(n Node, which int, value float64) (Node, int) {
	if which < 0 {
		return n, which
	}
	switch n := n.(type) {
	case *Number:
		if which == 0 {
			c := *n
			c.Value, c.Text, c.fraction = value, strconv.FormatFloat(value, 'g', -1, 64), [2]int{}
			return &c, -1
		}
		return n, which - 1
	case *Unary:
		c := *n
		if c.Operand, which = withNumber(n.Operand, which, value); which < 0 {
			return &c, which
		}
	case *Call:
		c := *n
		if c.Arg, which = withNumber(n.Arg, which, value); which < 0 {
			return &c, which
		}
	case *Angle:
		c := *n
		if c.Operand, which = withNumber(n.Operand, which, value); which < 0 {
			return &c, which
		}
	case *Binary:
		c := *n
		c.Left, which = withNumber(n.Left, which, value)
		c.Right, which = withNumber(n.Right, which, value)
		if which < 0 {
			return &c, which
		}
	}
	return n, which
}
