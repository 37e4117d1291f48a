package notation

import (
	"errors"
	"fmt"
	"math"

	"github.com/Knetic/govaluate"
)

// Program is a compiled expression. It is immutable, and safe for use by
// several goroutines.
//
// Every operation is handed over in brackets of its own, so that govaluate's
// precedences decide nothing. A sign becomes a product with -1, because
// govaluate's prefix minus binds tighter than its power. Constant parts are
// worked out beforehand: govaluate would evaluate them every time.
type Program struct {
	expression *govaluate.EvaluableExpression
	uses       uint64 // bit i: symbol i occurs
	need       int    // how many values it takes: one more than the last index used
}

// Compile makes a program of n. It is an error if n has a symbol beyond the
// last a table can have, or a node that the parser does not make.
func Compile(n Node) (*Program, error) {
	c := compiler{tokens: make([]govaluate.ExpressionToken, 0, 48)}
	c.root(n)
	return c.finish()
}

// CompileDifference makes a program of l - r.
func CompileDifference(l, r Node) (*Program, error) {
	return Compile(&Binary{Op: '-', Left: l, Right: r})
}

// Uses reports whether symbol i occurs in the program.
func (p *Program) Uses(i int) bool { return i >= 0 && i < MaxSymbols && p.uses>>i&1 == 1 }

// ErrNotFinite is wrapped by the error of [Program.Eval] where the expression
// has no finite value: a division by zero, the root of a negative number.
var ErrNotFinite = errors.New("the line has no finite value here")

// Eval is the value of the program. The values are those of the table's
// symbols, by index, with angles in radians.
func (p *Program) Eval(values []float64) (float64, error) {
	if len(values) < p.need {
		return 0, fmt.Errorf("evaluate: %d values given, %d needed: give one for every symbol of the table", len(values), p.need)
	}
	result, err := p.expression.Eval(&point{values})
	if err != nil {
		return 0, fmt.Errorf("evaluate: %w", err)
	}
	value, ok := result.(float64)
	if !ok {
		return 0, fmt.Errorf("evaluate: got a %T, not a number", result)
	}
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return 0, fmt.Errorf("evaluate: %w (%v)", ErrNotFinite, value)
	}
	return value, nil
}

// point gives govaluate the values by name.
type point struct{ values []float64 }

// variables are the names the symbols go by in a program: the one byte of a
// name is its symbol's index, so that finding a value takes no map.
var variables = func() (names [MaxSymbols]any) {
	for i := range names {
		names[i] = string([]byte{byte(i)})
	}
	return names
}()

// Get implements govaluate.Parameters.
func (p *point) Get(name string) (any, error) { return p.values[name[0]], nil }

// The tokens that stand for the same thing in every program.
var (
	opening = govaluate.ExpressionToken{Kind: govaluate.CLAUSE}
	closing = govaluate.ExpressionToken{Kind: govaluate.CLAUSE_CLOSE}

	operations = map[byte]govaluate.ExpressionToken{
		'+': {Kind: govaluate.MODIFIER, Value: "+"},
		'-': {Kind: govaluate.MODIFIER, Value: "-"},
		'*': {Kind: govaluate.MODIFIER, Value: "*"},
		'/': {Kind: govaluate.MODIFIER, Value: "/"},
		'^': {Kind: govaluate.MODIFIER, Value: "**"},
	}
	functionTokens = func() (tokens []govaluate.ExpressionToken) {
		for row := range functions {
			eval := functions[row].eval
			tokens = append(tokens, govaluate.ExpressionToken{Kind: govaluate.FUNCTION,
				Value: govaluate.ExpressionFunction(func(arguments ...any) (any, error) {
					return eval(arguments[0].(float64)), nil
				})})
		}
		return tokens
	}()
)

// compiler turns a tree into tokens.
type compiler struct {
	tokens []govaluate.ExpressionToken
	uses   uint64
	need   int
	err    error
}

func (c *compiler) finish() (*Program, error) {
	if c.err != nil {
		return nil, c.err
	}
	expression, err := govaluate.NewEvaluableExpressionFromTokens(c.tokens)
	if err != nil {
		return nil, fmt.Errorf("compile: %w", err)
	}
	expression.ChecksTypes = false // there are only numbers
	return &Program{expression, c.uses, c.need}, nil
}

func (c *compiler) emit(tokens ...govaluate.ExpressionToken) { c.tokens = append(c.tokens, tokens...) }

func (c *compiler) literal(value float64) {
	c.emit(govaluate.ExpressionToken{Kind: govaluate.NUMERIC, Value: value})
}

// operand writes n as one operand: a literal, a variable, a call or brackets.
func (c *compiler) operand(n Node) {
	switch n.(type) {
	case *Unary, *Binary, *Angle:
		if !constant(n) {
			c.emit(opening)
			c.root(n)
			c.emit(closing)
			return
		}
	}
	c.root(n)
}

// root writes n without brackets around it: at the root, or inside brackets
// that are there already. Brackets directly within brackets would cost
// govaluate a step at every evaluation and mean nothing.
func (c *compiler) root(n Node) {
	if constant(n) {
		c.literal(Value(n, nil))
		return
	}
	switch n := n.(type) {
	case *Symbol:
		if n.Index < 0 || n.Index >= MaxSymbols {
			c.err = fmt.Errorf("compile: symbol %s has index %d; a table has indexes 0 to %d", quote(n.Name), n.Index, MaxSymbols-1)
			return
		}
		c.uses |= 1 << n.Index
		c.need = max(c.need, n.Index+1)
		c.emit(govaluate.ExpressionToken{Kind: govaluate.VARIABLE, Value: variables[n.Index]})
	case *Unary:
		c.literal(-1)
		c.emit(operations['*'])
		c.operand(n.Operand)
	case *Binary:
		n = unsigned(n)
		op, ok := operations[n.Op]
		if !ok {
			c.err = fmt.Errorf("compile: no operation %s", quote(string(rune(n.Op))))
			return
		}
		c.operand(n.Left)
		c.emit(op)
		c.operand(n.Right)
	case *Call:
		row := functionRow(n.Func)
		if row < 0 {
			c.err = fmt.Errorf("compile: no function %s", quote(n.Func))
			return
		}
		c.emit(functionTokens[row], opening)
		c.root(n.Arg)
		c.emit(closing)
	case *Angle:
		// An angle unit is read after constants only; a tree built by hand may differ.
		if !n.Degrees {
			c.root(n.Operand)
			return
		}
		c.operand(n.Operand)
		c.emit(operations['*'])
		c.literal(piValue / 180)
	default:
		c.err = fmt.Errorf("compile: a %T is no part of an expression", n)
	}
}

// unsigned writes a sum with a signed term as a difference, which is the same
// to the last bit and spares a multiplication at every evaluation.
func unsigned(n *Binary) *Binary {
	if !isSum(n) {
		return n
	}
	if right, ok := n.Right.(*Unary); ok {
		return unsigned(&Binary{n.column, '+' + '-' - n.Op, n.Left, right.Operand})
	}
	if left, ok := n.Left.(*Unary); ok && n.Op == '+' {
		return &Binary{n.column, '-', n.Right, left.Operand}
	}
	return n
}

// constant reports whether no symbol occurs in n.
func constant(n Node) bool {
	switch n := n.(type) {
	case *Number:
		return true
	case *Unary:
		return constant(n.Operand)
	case *Binary:
		return constant(n.Left) && constant(n.Right)
	case *Call:
		return constant(n.Arg)
	case *Angle:
		return constant(n.Operand)
	}
	return false
}
