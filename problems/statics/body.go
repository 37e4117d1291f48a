// Package statics is plane rigid bodies in symbols: points and forces in,
// equilibrium rows and their solution out.
//
// x is to the right, y is up, angles and moments are positive anticlockwise
// unless a [Frame] says otherwise. Values are SI: metres, newtons, radians.
package statics

import (
	"fmt"
	"slices"
)

// Offset is one step of a chain from point to point: a length at an angle, or
// a pair of components.
type Offset struct {
	Polar  bool
	Len    Sum
	Angle  Angle
	DX, DY Sum
}

// Point is a named place: a chain of offsets from the body's origin.
type Point struct {
	Name    string
	Meaning string
	Chain   []Offset
	Mark    bool // not on the body; a place to name directions by
}

// ForceKind is what makes a force.
type ForceKind string

// The kinds of force and couple.
const (
	Weight   ForceKind = "weight"
	Normal   ForceKind = "normal"
	Friction ForceKind = "friction"
	Tension  ForceKind = "tension"
	Pin      ForceKind = "pin"
	Applied  ForceKind = "applied"
	Spring   ForceKind = "spring"
	Inertia  ForceKind = "inertia"
	Spread   ForceKind = "spread" // the resultant of a distributed load
	Link     ForceKind = "link"   // along a two-force member
	Fixing   ForceKind = "fixing" // a fixed end's force or couple
	Turning  ForceKind = "couple" // an applied or resisting couple
)

// Pushes reports whether contact or cable lets the force act one way only, so
// that its solved size may not be negative.
func (k ForceKind) Pushes() bool { return k == Normal || k == Tension }

// Assumable reports whether a learner may assume the sense of an unknown
// force of this kind either way.
func (k ForceKind) Assumable() bool {
	switch k {
	case Pin, Link, Fixing, Friction, Spring, Applied, Turning:
		return true
	}
	return false
}

// Direction is a line of action with a sense: an angle, or the components of
// the unit vector from one point toward another.
type Direction struct {
	Angle    Angle
	Toward   string // the point aimed at; "" for an angle
	cos, sin Sum    // along +x and +y
}

// At is the direction of an angle, anticlockwise from +x.
func At(a Angle) Direction { return Direction{Angle: a, cos: Cos(a), sin: Sin(a)} }

// Components are the unit vector's x and y components.
func (d Direction) Components() (x, y Sum) { return d.cos, d.sin }

// Reversed is the direction turned about.
func (d Direction) Reversed() Direction {
	if d.Toward == "" {
		return At(d.Angle.Plus(Deg(180)))
	}
	return Direction{Toward: d.Toward, cos: d.cos.Scale(-1), sin: d.sin.Scale(-1)}
}

// Radians is the direction's angle at the given values, in (-π, π].
func (d Direction) Radians(values []float64) float64 {
	return atan2(d.sin.Eval(values), d.cos.Eval(values))
}

// Force is a force on a body, along Dir through At.
type Force struct {
	Symbol    string
	Meaning   string
	At        string
	Dir       Direction
	Magnitude Sum // its size in symbols; for an unknown, the symbol itself
	Unknown   bool
	Kind      ForceKind
	Load      *Load  // for a Spread force, the load it stands for
	Pair      string // for friction, the normal of the same contact
	Sliding   bool   // friction at its limit, with a sense that is fixed by the slip
	MaySlip   bool   // friction that may be more than the contact can give: whether it holds is asked
	Joint     string // the other body the force acts on, reversed; "" where nothing but this body is told of
}

// Couple is a moment with no force. Sense is +1 anticlockwise, -1 clockwise.
type Couple struct {
	Symbol    string
	Meaning   string
	Magnitude Sum
	Unknown   bool
	Sense     float64
	Kind      ForceKind
}

// Shape is how a distributed load is spread.
type Shape string

// The shapes of a load from its first point to its second.
const (
	Uniform Shape = "uniform"
	Rising  Shape = "rising"  // triangular, zero at the first point
	Falling Shape = "falling" // triangular, zero at the second point
)

// Load is a load of PerLength spread over Length from one point to another.
type Load struct {
	Symbol    string
	From, To  string
	PerLength Sum
	Length    Sum
	Shape     Shape
}

// Resultant is the size of the load's resultant and the distance of its line
// of action from the first point, as fractions of w l and l: a uniform load
// acts at half the length, a triangular one at a third from its full end
// (centroids of the rectangle and triangle; any handbook).
func (s Shape) Resultant() (size, centroid float64) {
	switch s {
	case Rising:
		return 1.0 / 2, 2.0 / 3
	case Falling:
		return 1.0 / 2, 1.0 / 3
	}
	return 1, 1.0 / 2
}

// Body is one rigid body, isolated: its points, and every force and couple
// that acts on it from outside.
type Body struct {
	Name    string
	Of      []string // the bodies this one is the assembly of; joint forces between them are internal to it
	Points  []Point
	Forces  []Force
	Couples []Couple
}

// Point finds a point by name.
func (b *Body) Point(name string) (Point, bool) {
	i := slices.IndexFunc(b.Points, func(p Point) bool { return p.Name == name })
	if i < 0 {
		return Point{}, false
	}
	return b.Points[i], true
}

// Force finds a force by symbol, and its place in the ledger.
func (b *Body) Force(symbol string) (int, bool) {
	i := slices.IndexFunc(b.Forces, func(f Force) bool { return f.Symbol == symbol })
	return i, i >= 0
}

// Aim adds a point of another body as a mark, to name a direction by, unless
// the body has it.
func (b *Body) Aim(other *Body, name string) {
	if _, have := b.Point(name); have {
		return
	}
	if p, ok := other.Point(name); ok {
		p.Mark = true
		b.Points = append(b.Points, p)
	}
}

// Whole reports whether the body is an assembly of others, so that its rows
// are sums of theirs.
func (b *Body) Whole() bool { return len(b.Of) > 0 }

// TwoForce reports whether forces act on the body at two points only, none of
// them given and no couple, and names the points: then the two forces are
// equal, opposite and along the line between them (any statics text: the
// two-force member).
func (b *Body) TwoForce() (from, to string, ok bool) {
	if len(b.Couples) > 0 {
		return "", "", false
	}
	for _, f := range b.Forces {
		switch {
		case !f.Unknown:
			return "", "", false
		case from == "" || from == f.At:
			from = f.At
		case to == "" || to == f.At:
			to = f.At
		default:
			return "", "", false
		}
	}
	return from, to, to != ""
}

// Vector is a displacement in symbols: polar parts gathered by angle, and
// Cartesian parts.
type Vector struct {
	Polar  []Offset
	DX, DY Sum
}

// Between is the displacement from q to p, with what their chains share, and
// what lies along one line, gathered.
func Between(q, p Point) Vector {
	var v Vector
	for _, o := range p.Chain {
		v.add(o, 1)
	}
	for _, o := range q.Chain {
		v.add(o, -1)
	}
	return v
}

func (v *Vector) add(o Offset, sign float64) {
	if !o.Polar {
		v.DX = v.DX.Plus(o.DX.Scale(sign))
		v.DY = v.DY.Plus(o.DY.Scale(sign))
		return
	}
	i := slices.IndexFunc(v.Polar, func(u Offset) bool { return u.Angle.Equal(o.Angle) })
	if i < 0 {
		v.Polar = append(v.Polar, Offset{Polar: true, Angle: o.Angle, Len: o.Len.Scale(sign)})
		return
	}
	v.Polar[i].Len = v.Polar[i].Len.Plus(o.Len.Scale(sign))
	if v.Polar[i].Len.IsZero() {
		v.Polar = slices.Delete(v.Polar, i, i+1)
	}
}

// XY is the displacement in components along +x and +y.
func (v Vector) XY() (x, y Sum) {
	x, y = v.DX, v.DY
	for _, o := range v.Polar {
		x = x.Plus(o.Len.Times(Cos(o.Angle)))
		y = y.Plus(o.Len.Times(Sin(o.Angle)))
	}
	return x, y
}

// Arm is the signed lever arm, anticlockwise positive, of a unit force along
// d at the end of v: the sum over the chain of s sin(φ - θ), and x sin φ - y cos φ
// for Cartesian parts.
func (v Vector) Arm(d Direction) Sum {
	arm := v.DX.Times(d.sin).Minus(v.DY.Times(d.cos))
	for _, o := range v.Polar {
		if d.Toward == "" {
			arm = arm.Plus(o.Len.Times(Sin(d.Angle.Minus(o.Angle))))
			continue
		}
		arm = arm.Plus(o.Len.Times(Cos(o.Angle)).Times(d.sin))
		arm = arm.Minus(o.Len.Times(Sin(o.Angle)).Times(d.cos))
	}
	return arm.OrZero()
}

// XY is where the point is at the given values.
func (p Point) XY(values []float64) (x, y float64) {
	dx, dy := Between(Point{}, p).XY()
	return dx.Eval(values), dy.Eval(values)
}

// TowardPoint is the direction from one point to another. Where the two are
// joined by a single polar offset of one term the direction is that offset's
// angle; otherwise its components are quotients by the distance.
func TowardPoint(from, to Point) (Direction, error) {
	v := Between(from, to)
	if v.DX.IsZero() && v.DY.IsZero() && len(v.Polar) == 1 && len(v.Polar[0].Len) == 1 {
		o := v.Polar[0]
		a := o.Angle
		if o.Len[0].Coef < 0 {
			a = a.Plus(Deg(180))
		}
		d := At(a)
		return d, nil
	}
	x, y := v.XY()
	if x.IsZero() && y.IsZero() {
		return Direction{}, fmt.Errorf("points %s and %s coincide, so there is no direction between them", from.Name, to.Name)
	}
	switch {
	case x.IsZero() && len(y) == 1:
		return At(Deg(90 * sign(y[0].Coef))), nil
	case y.IsZero() && len(x) == 1:
		return At(Deg(90 - 90*sign(x[0].Coef))), nil
	}
	d := Direction{Toward: to.Name}
	inv := ofAtom(distance(x, y))[0].inverse()
	d.cos, d.sin = x.Times(Sum{inv}), y.Times(Sum{inv})
	return d, nil
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}
