package tutor

import (
	"math"
	"slices"
	"strings"

	"steelyard/problems/statics"
)

// What holds of single forces, of members and of joints.

func isZero(sc *scene) bool    { return sc.none(sc.force) }
func isUnknown(sc *scene) bool { return sc.force.Unknown && !sc.force.Sliding }

func throughPivot(sc *scene) bool { return !sc.clear(sc.force, sc.on, sc.fr.Pivot) }

// symbols are those of the forces on the body that suit.
func (sc *scene) symbols(suits func(statics.Force) bool) []string {
	var out []string
	for _, f := range sc.b.Forces {
		if suits(f) {
			out = append(out, f.Symbol)
		}
	}
	return out
}

// smooth reports whether a force is all that a contact gives: the normal force
// of a support without friction. What is told on two bodies, and is no joint,
// is not told as a contact.
func (sc *scene) smooth(f statics.Force) bool {
	rough := slices.ContainsFunc(sc.b.Forces, func(o statics.Force) bool {
		return o.Kind == statics.Friction && (o.Pair == f.Symbol || o.At == f.At)
	})
	told := 0
	for i := range sc.p.Bodies {
		if _, here := sc.p.Bodies[i].Force(f.Symbol); here && !sc.p.Bodies[i].Whole() {
			told++
		}
	}
	return f.Kind == statics.Normal && f.Unknown && !rough && (told < 2 || f.Joint != "")
}

func smoothContacts(sc *scene) []string { return sc.symbols(sc.smooth) }
func isSmooth(sc *scene) bool           { return sc.smooth(sc.force) }

// alongContact is another force with a part along the contact.
func (sc *scene) alongContact() statics.Force {
	nx, ny := sc.force.Dir.Components()
	return sc.first(func(f statics.Force) bool {
		x, y := f.Dir.Components()
		return f.Symbol != sc.force.Symbol && !y.Times(nx).Minus(x.Times(ny)).OrZero().IsZero() && !sc.none(f)
	})
}

func nothingAlong(sc *scene) bool { return sc.alongContact().Symbol == "" }

// heldByFriction are the friction forces of contacts that are not said to
// slide.
func heldByFriction(sc *scene) []string {
	return sc.symbols(func(f statics.Force) bool {
		return f.Kind == statics.Friction && f.Unknown && !f.Sliding && f.Pair != ""
	})
}

// isAtLimit reports whether friction comes to its limit, within 1 %, though it
// is not said to.
func isAtLimit(sc *scene) bool {
	mu, known := sc.p.Table.Index(sc.coefficient())
	n, pair := sc.p.Table.Index(sc.force.Pair)
	if !known || !pair {
		return true // it cannot be told
	}
	most := sc.p.Values[mu] * math.Abs(sc.p.Values[n])
	return math.Abs(math.Abs(sc.size(sc.force))-most) <= 0.01*most
}

// alongWhich is the axis that a force lies along; "" if it has parts along
// both.
func (sc *scene) alongWhich() statics.RowKind {
	x, y := sc.axis(sc.force, statics.RowX), sc.axis(sc.force, statics.RowY)
	switch {
	case sc.force.Symbol == "" || x == y:
		return ""
	case x:
		return statics.RowX
	}
	return statics.RowY
}

func alongAnAxis(sc *scene) []string {
	return sc.symbols(func(f statics.Force) bool {
		return f.Kind == statics.Tension && sc.axis(f, statics.RowX) != sc.axis(f, statics.RowY)
	})
}

func liesAlong(sc *scene) bool     { return sc.alongWhich() != "" }
func hasPartAcross(sc *scene) bool { return sc.axis(sc.force, acrossFrom[sc.alongWhich()]) }

// carrier is another force with a part along the axis that the force has none
// along.
func carrier(sc *scene) string {
	across := acrossFrom[sc.alongWhich()]
	if across == "" {
		return ""
	}
	f := sc.first(func(f statics.Force) bool { return f.Symbol != sc.force.Symbol && sc.axis(f, across) })
	return sc.name(f.Symbol)
}

// own reports whether a force is the weight of the body itself, as its meaning
// tells.
func (sc *scene) own(f statics.Force) bool {
	return f.Kind == statics.Weight && strings.EqualFold(f.Meaning, "weight of the "+sc.b.Name)
}

func ownWeight(sc *scene) []string { return sc.symbols(sc.own) }
func isOwnWeight(sc *scene) bool   { return sc.own(sc.force) }

// atEnd is a force that acts elsewhere than the weight, so far off that the
// moments differ if they can.
func (sc *scene) atEnd() statics.Force {
	here, _ := sc.b.Point(sc.force.At)
	away := func(f statics.Force) bool {
		p, ok := sc.b.Point(f.At)
		return ok && !p.Mark && sc.force.At != "" && f.Kind != statics.Spread && sc.apart(here, p) > 1e-9
	}
	if f := sc.first(func(f statics.Force) bool { return away(f) && sc.shifts(f.At) }); f.Symbol != "" {
		return f
	}
	return sc.first(away)
}

// shifts reports whether the force would have another moment about the pivot
// if it acted at a point.
func (sc *scene) shifts(at string) bool {
	here, _ := sc.b.Point(sc.force.At)
	there, _ := sc.b.Point(at)
	return math.Abs(statics.Between(here, there).Arm(sc.force.Dir).Eval(sc.p.Values)) > 1e-6*sc.reach()
}

func sameAtEnd(sc *scene) bool { return !sc.shifts(sc.atEnd().At) }

func isHeldThere(sc *scene) bool {
	return slices.ContainsFunc(sc.b.Forces, func(f statics.Force) bool { return f.At == sc.force.At && f.Symbol != sc.force.Symbol })
}

func twoForceMember(sc *scene) []string {
	if _, _, ok := sc.b.TwoForce(); !ok {
		return nil
	}
	return []string{""}
}

func isTwoForce(sc *scene) bool { _, _, ok := sc.b.TwoForce(); return ok }

func nothingActs(sc *scene) bool {
	return !slices.ContainsFunc(sc.b.Forces, func(f statics.Force) bool { return !sc.none(f) })
}

func isLink(sc *scene) bool { return sc.force.Kind == statics.Link }

func links(sc *scene) []string {
	return sc.symbols(func(f statics.Force) bool { return f.Kind == statics.Link })
}

// internal are the forces between parts of the body, each once.
func (sc *scene) internal() []statics.Force {
	var out []statics.Force
	for _, part := range sc.parts() {
		for _, f := range part.Forces {
			known := slices.ContainsFunc(out, func(o statics.Force) bool { return o.Symbol == f.Symbol })
			if slices.Contains(sc.b.Of, f.Joint) && !known {
				out = append(out, f)
			}
		}
	}
	return out
}

func internalForces(sc *scene) []string {
	var out []string
	for _, f := range sc.internal() {
		out = append(out, f.Symbol)
	}
	return out
}

// isInternal reports whether the force acts on two parts of the body, and on
// the second as on the first turned about.
func isInternal(sc *scene) bool {
	if _, listed := sc.b.Force(sc.force.Symbol); listed {
		return false
	}
	back, ok := sc.reaction()
	if !ok {
		return false
	}
	x, y := sc.force.Dir.Components()
	u, v := back.Dir.Components()
	near := func(a, b statics.Sum) bool { return math.Abs(a.Plus(b).Eval(sc.p.Values)) < 1e-9 }
	return near(x, u) && near(y, v)
}

// reaction is the force as it acts on the other part.
func (sc *scene) reaction() (statics.Force, bool) {
	other, ok := sc.p.Body(sc.force.Joint)
	if !ok || sc.force.Joint == "" || !slices.Contains(sc.b.Of, sc.force.Joint) {
		return statics.Force{}, false
	}
	i, ok := other.Force(sc.force.Symbol)
	if !ok {
		return statics.Force{}, false
	}
	return other.Forces[i], true
}

func onOneList(sc *scene) bool { _, twice := sc.reaction(); return !twice }

// partner is the other internal force at the same point of the same part.
func (sc *scene) partner() statics.Force {
	for _, f := range sc.on.Forces {
		if f.At == sc.force.At && f.Symbol != sc.force.Symbol && f.Joint == sc.force.Joint && f.Joint != "" {
			return f
		}
	}
	return statics.Force{}
}

// cancelsPartner reports whether the force and its partner add to nothing.
func cancelsPartner(sc *scene) bool {
	f, o := sc.force, sc.partner()
	x, y := f.Dir.Components()
	u, v := o.Dir.Components()
	a, b := sc.size(f), sc.size(o)
	dx := a*x.Eval(sc.p.Values) + b*u.Eval(sc.p.Values)
	dy := a*y.Eval(sc.p.Values) + b*v.Eval(sc.p.Values)
	return math.Hypot(dx, dy) <= 1e-6*sc.p.ForceScale()
}
