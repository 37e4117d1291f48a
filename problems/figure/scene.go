package figure

import (
	"math"

	"steelyard/problems/notation"
)

// Vec is a place, or a displacement, in metres: x to the right, y up.
type Vec struct{ X, Y float64 }

func (a Vec) plus(b Vec) Vec      { return Vec{a.X + b.X, a.Y + b.Y} }
func (a Vec) minus(b Vec) Vec     { return Vec{a.X - b.X, a.Y - b.Y} }
func (a Vec) times(k float64) Vec { return Vec{a.X * k, a.Y * k} }
func (a Vec) dot(b Vec) float64   { return a.X*b.X + a.Y*b.Y }
func (a Vec) cross(b Vec) float64 { return a.X*b.Y - a.Y*b.X }
func (a Vec) mid(b Vec) Vec       { return a.plus(b).times(0.5) }
func (a Vec) up(by float64) Vec   { return Vec{a.X, a.Y + by} }
func (a Vec) from(b Vec) float64  { return math.Hypot(a.X-b.X, a.Y-b.Y) }
func (a Vec) near(b Vec, eps float64) bool {
	d := a.minus(b)
	return d.dot(d) <= eps*eps
}

// Role is what a part of the figure is there for. Renderers style by it.
type Role uint8

// The roles.
const (
	Empty     Role = iota
	Body           // the body whose equilibrium is written
	Other          // a body that is not, at the moment
	OtherLine      // a taut line of such a body
	Cable          // a taut line
	Load           // what stands on the body or hangs from it
	Support        // what holds the body
	Ground         // ground, walls, masonry
	Liquid         // still water
	Point          // the mark of a named place, and its name
	Pivot          // the pivot, its name, and which turning is positive
	Force          // a force or couple, and its name
	Selected       // the force in hand
	Action         // the line of action of the force in hand
	Arm            // the perpendicular from the pivot to that line
	Dimension      // a length, with its symbol
	Angle          // an angle, with its symbol
	Note           // a word beside a part
	Axis           // an axis of the learner's, where x is not level
	Roles          // how many there are
)

var roleNames = [Roles]string{"empty", "body", "other", "other line", "cable", "load", "support", "ground", "liquid", "point", "pivot",
	"force", "selected", "action", "arm", "dimension", "angle", "note", "axis"}

func (r Role) String() string { return roleNames[r] }

// Scene is a problem's figure as plain shapes. Lengths and places are in
// metres; what the trade draws without scale (arrows, hatching, the signs of
// supports, marks, lettering) has a place and a direction, and each renderer
// gives it a size that suits its medium.
type Scene struct {
	Title  string  // of the problem
	Shapes []Shape // in the order they are drawn

	// Room are the arrows and turns that may yet be drawn. A renderer leaves
	// room for them, so that the figure keeps its place and scale as forces are
	// listed.
	Room []Shape

	words func() []string // the same in sentences
}

// Shape is one of the types below.
type Shape interface{ shape() }

// Line is straight, from place to place.
type Line struct {
	Role     Role
	From, To Vec
}

// Outline is a closed polygon.
type Outline struct {
	Role   Role
	Points []Vec
}

// Disc is a circle.
type Disc struct {
	Role   Role
	Centre Vec
	Radius float64
}

// Hatch is the face of something solid: a line, hatched on the right of one
// who goes along it. What is rough is hatched twice as close.
type Hatch struct {
	From, To Vec
	Rough    bool
}

// Person stands with the feet at a place.
type Person struct {
	Role   Role
	At     Vec
	Height float64
}

// Coil is a spring from place to place.
type Coil struct {
	Role     Role
	From, To Vec
}

// Strut is a light bar with a pin at each end.
type Strut struct {
	Role     Role
	From, To Vec
}

// Water is still: its level surface runs from left to right, and it goes down
// to a depth.
type Water struct {
	From, To Vec
	Depth    float64
}

// Sign is a support drawn by the trade's sign for it, below the point, or over it
// where the body hangs from it.
type Sign struct {
	Kind SignKind
	At   Vec
	Over bool
	Out  Vec // for a wheel, the unit vector away from the face it stands on
}

// SignKind is which sign.
type SignKind uint8

// The signs: a triangle on hatching, rollers on a line, a hinge let into a
// wall, a wheel standing on the ground, a small sheave about the point.
const (
	PinSign SignKind = iota
	RollerSign
	HingeSign
	WheelSign
	SheaveSign
)

// Arrow is a force: its line of action goes through At, along Angle. It leaves
// the point, or arrives at it where the other side is taken. All arrows are
// of one length: a figure to the scale of forces would tell the answer.
type Arrow struct {
	Role    Role // Force or Selected
	At      Vec
	Angle   float64 // radians, anticlockwise from +x
	Arrives bool
	Symbol  string // of the notation
}

// Turn is a couple, told by a sense of turning at a place.
type Turn struct {
	Role      Role
	At        Vec
	Clockwise bool
	Symbol    string
}

// Spread is a load spread along a line: arrows onto it, under an edge that is
// as far off as the load is great there. It has no scale but its own: the
// greatest load of each is drawn alike.
type Spread struct {
	Role       Role
	From, To   Vec
	Angle      float64 // the way it presses, in radians
	Start, End float64 // its share of its greatest at each end, 0 to 1
	Lane       int     // how many loads lie between it and the line; it presses through them
	Stacked    bool    // another lies over it or under it, so that its name goes beside it
	Caption    Caption // of the greatest; the zero Caption if that has no symbol
}

// Length is a dimension between two places.
type Length struct {
	From, To Vec
	Caption  Caption
}

// Corner is an angle at a place, from an angle anticlockwise through a span,
// in radians. Legs says which of its two sides no other line shows.
type Corner struct {
	At         Vec
	From, Span float64
	Legs       [2]bool
	Caption    Caption
}

// Square marks a right angle at a place, between two directions in radians.
type Square struct {
	At       Vec
	One, Two float64
}

// Mark is a named place.
type Mark struct {
	Role Role // Point or Pivot
	At   Vec
	Name string // "" if the place has none of its own
	Off  bool   // not on the body
	Turn int    // for the pivot: +1 if anticlockwise is positive, -1 if clockwise
}

// Word is a short text beside a place; the first to go when there is no room.
type Word struct {
	Role Role
	At   Vec
	Text string
}

func (Line) shape()    {}
func (Outline) shape() {}
func (Disc) shape()    {}
func (Hatch) shape()   {}
func (Person) shape()  {}
func (Coil) shape()    {}
func (Strut) shape()   {}
func (Water) shape()   {}
func (Sign) shape()    {}
func (Arrow) shape()   {}
func (Turn) shape()    {}
func (Length) shape()  {}
func (Spread) shape()  {}
func (Corner) shape()  {}
func (Square) shape()  {}
func (Mark) shape()    {}
func (Word) shape()    {}

// Caption is what stands beside a dimension or an angle: the symbol, with its
// value where the learner has it, or a question mark where it is asked for.
type Caption struct {
	Symbol string // of the notation, or a text from the scenario
	Number string
	Unit   string // of the notation: "m", "deg"
	Asked  bool
}

// Full is the caption with its value: "L = 3.2 m", "α = 35°", "r₂ = ?".
func (c Caption) Full(ascii bool) string {
	name := c.Short(ascii)
	switch {
	case c.Asked:
		return name + " = ?"
	case c.Number == "":
		return name
	case c.Unit == "deg" && !ascii:
		return name + " = " + c.Number + "°"
	case c.Unit == "":
		return name + " = " + c.Number
	}
	return name + " = " + c.Number + " " + c.Unit
}

// Short is the symbol alone.
func (c Caption) Short(ascii bool) string { return notation.Display(c.Symbol, ascii) }
