// Package notation is the mathematical notation that scenarios and answers
// are written in: scan, parse, read back, compile.
//
// Text becomes a small tree; the tree is read back to whoever typed it, and
// compiled to govaluate tokens for evaluation. Learner text never reaches
// govaluate's own text parser.
package notation

// Limits on what is read. Anything larger is refused with an [Error].
const (
	MaxBytes = 512
	MaxDepth = 64
)

// Node is one vertex of a parsed expression. Its String reads it back in
// plain ASCII that parses to the same tree, with the same table of symbols;
// only a typographic fraction comes back as a division, and only what was
// written without brackets right up to the limits may come back beyond them.
type Node interface {
	String() string
	// Column is where the node begins in the text: a 1-based count of
	// characters (runes).
	Column() int
}

// Column is a 1-based position in characters; 0 when a node was built, not read.
type column int

func (c column) Column() int { return int(c) }

// Number is a literal. Exact numbers (integers, the typographic fractions)
// imply no rounding; a decimal implies half a unit of its last digit.
type Number struct {
	column
	Value    float64
	Text     string  // as typed
	Exact    bool    // no rounding implied
	Rounding float64 // half a unit of the last digit typed; 0 if Exact

	fraction [2]int // numerator and denominator, if a typographic fraction was typed
}

const (
	piText  = "pi"
	piValue = 3.14159265358979323846264338327950288 // OEIS A000796
)

func newPi(at int) *Number {
	return &Number{column: column(at), Value: piValue, Text: piText, Exact: true}
}

// Symbol is one of the problem's own symbols.
type Symbol struct {
	column
	Name  string // canonical name, e.g. "W_1", "alpha"
	Index int    // its place in the [Table]
}

// Unary is a sign written before an operand; only "-" is kept.
type Unary struct {
	column
	Operand Node
}

// Binary is an operation on two operands. Implicit multiplication is '*' too.
type Binary struct {
	column
	Op          byte // '+', '-', '*', '/', '^'
	Left, Right Node
}

// Call is a function of one argument: a row of the table of functions.
type Call struct {
	column
	Func string // "sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "abs"
	Arg  Node
}

// Angle is a value given an angle unit: 35°, 35 deg, 0.61 rad. A bare number
// as an additive term inside sin, cos or tan becomes an Angle in degrees
// when the table says the problem gives degrees.
type Angle struct {
	column
	Operand Node
	Degrees bool // otherwise radians
	Implied bool // no unit was written
}
