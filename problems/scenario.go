// Package problems is the bank: scenarios, and the problems drawn from them.
//
// A [Scenario] is one parameterised situation, read from a text file. With a
// seed, or with given values, it becomes a [Problem]: the same scenario and
// seed give the same problem on every machine.
package problems

import (
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Scenario is one situation with its symbols still without values.
type Scenario struct {
	Card
	Hash string // of the file's bytes, so that a log can tell editions apart

	Table    *notation.Table
	Givens   []Given
	Defined  []Defined
	Unknowns []Unknown
	Bodies   []statics.Body
	Steady   *Steady // for a body that accelerates steadily
	Limit    *Limit
	Asks     []Ask
	Hints    []Hint
	Slips    []OwnSlip
	Figure   []Drawn

	requires []requirement
	contacts []contact
	defs     []statics.Definition // dependent symbols, in order
	rows     []statics.Row        // of every body, about its first point; those of a whole come last
	system   statics.System
}

// Given is a symbol with a value. A problem draws it from From, From+Step, ...
// up to To, in Unit.
type Given struct {
	Symbol, Meaning string
	Unit            notation.Unit
	From, To, Step  float64 // in Unit; From == To for a constant
	Index           int     // in the table
}

// Constant reports whether the given has the same value in every draw.
func (g Given) Constant() bool { return g.From == g.To }

// Defined is a symbol that stands for an expression in others: W = M g.
type Defined struct {
	Symbol, Meaning string
	Unit            notation.Unit
	Text            string
	Is              notation.Node
	Index           int
}

// Unknown is a symbol to find.
type Unknown struct {
	Symbol, Meaning string
	Unit            notation.Unit
	Index           int
	Role            Role
}

// Role is how an unknown enters the equations.
type Role int

// The roles of an unknown.
const (
	Linear    Role = iota // the size of a force or couple
	Searched              // a distance, an angle, a coefficient of friction
	Dependent             // follows from the others by a definition
)

// Steady says that a body accelerates steadily, and how.
type Steady struct {
	Inertia string // the symbol of the inertia force
	Centre  string // the centre of mass
}

// Limit is the question of limits asked when a problem is solved: what happens
// to Symbol as Vary goes toward Toward. The solver computes the answer.
type Limit struct {
	Question string
	Symbol   string
	Vary     string
	Toward   statics.Sum // in SI units
	Below    bool        // approached from below
}

// Drawn is one thing in the figure, told in points and lengths of the scenario.
type Drawn struct {
	Draw   string // a row of the table of things that can be drawn
	From   string
	To     string
	At     string
	Label  string
	Radius statics.Sum
	Width  statics.Sum
	Height statics.Sum
	Angle  statics.Angle
	Span   statics.Angle
	Rough  bool
}

// Hint is what the scenario has to say on a line itself, in place of the
// general hints.
type Hint struct {
	Body, Step, Cell, Ask, Recall string // Body and Cell may be empty: any
}

// requirement is an inequality every problem drawn must satisfy.
type requirement struct {
	text        string
	left, right notation.Node
	less        bool
	early       bool // only of what is known before the rows are solved
}

func (r requirement) holds(values []float64) bool {
	l, rt := notation.Value(r.left, values), notation.Value(r.right, values)
	if r.less {
		return l < rt
	}
	return l > rt
}

// Body finds a body by name; the empty name is the first.
func (s *Scenario) Body(name string) (*statics.Body, bool) {
	for i := range s.Bodies {
		if name == "" || s.Bodies[i].Name == name {
			return &s.Bodies[i], true
		}
	}
	return nil, false
}

// Unknown finds an unknown by symbol.
func (s *Scenario) Unknown(symbol string) (Unknown, bool) {
	for _, u := range s.Unknowns {
		if u.Symbol == symbol {
			return u, true
		}
	}
	return Unknown{}, false
}

// Meaning says what a symbol stands for.
func (s *Scenario) Meaning(symbol string) string {
	for _, g := range s.Givens {
		if g.Symbol == symbol {
			return g.Meaning
		}
	}
	for _, u := range s.Unknowns {
		if u.Symbol == symbol {
			return u.Meaning
		}
	}
	for _, d := range s.Defined {
		if d.Symbol == symbol {
			return d.Meaning
		}
	}
	return ""
}

// Definitions are the dependent symbols, in the order they are computed.
func (s *Scenario) Definitions() []statics.Definition { return s.defs }

// Search is the table index of the unknown that is not a force, or -1.
func (s *Scenario) Search() int { return s.system.Search }

// LinearUnknowns are the table indexes of the unknown forces and couples.
func (s *Scenario) LinearUnknowns() []int { return s.system.Unknowns }
