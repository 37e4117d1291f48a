package tutor

import (
	"math"
	"slices"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// sceneWords are what the texts of reasons can speak of. A word that is not to
// be had in a scene is empty, and a text with it is not said there.
var sceneWords = map[string]func(*scene) string{
	"point":    func(sc *scene) string { return sc.place(sc.point.Name) },
	"pivot":    chosenPivot,
	"body":     func(sc *scene) string { return notation.Printable(sc.b.Name) },
	"force":    func(sc *scene) string { return sc.name(sc.force.Symbol) },
	"at":       func(sc *scene) string { return sc.place(sc.force.At) },
	"Drops":    func(sc *scene) string { return sc.drops(sc.point) },
	"drop":     dropOrDrops,
	"instead":  (*scene).instead,
	"stays":    func(sc *scene) string { return sc.name(sc.staying().Symbol) },
	"known":    func(sc *scene) string { return sc.name(sc.knownForce().Symbol) },
	"weight":   func(sc *scene) string { w, _ := sc.weight(); return sc.name(w.Symbol) },
	"nearer":   nearerToWeight,
	"other":    anotherPoint,
	"along":    func(sc *scene) string { return sc.name(sc.alongContact().Symbol) },
	"mu":       func(sc *scene) string { return sc.name(sc.coefficient()) },
	"normal":   func(sc *scene) string { return sc.name(sc.force.Pair) },
	"axis":     func(sc *scene) string { return axisNames[sc.alongWhich()] },
	"across":   func(sc *scene) string { return axisNames[acrossFrom[sc.alongWhich()]] },
	"carrier":  carrier,
	"end":      func(sc *scene) string { f := sc.atEnd(); return sc.place(f.At) },
	"occupant": func(sc *scene) string { return sc.name(sc.atEnd().Symbol) },
	"from":     func(sc *scene) string { from, _, _ := sc.b.TwoForce(); return notation.Printable(from) },
	"to":       func(sc *scene) string { _, to, _ := sc.b.TwoForce(); return notation.Printable(to) },
	"one":      func(sc *scene) string { return notation.Printable(sc.on.Name) },
	"two":      func(sc *scene) string { return notation.Printable(sc.force.Joint) },
	"partner":  func(sc *scene) string { return sc.name(sc.partner().Symbol) },
}

var (
	axisNames  = map[statics.RowKind]string{statics.RowX: "x", statics.RowY: "y"}
	acrossFrom = map[statics.RowKind]statics.RowKind{statics.RowX: statics.RowY, statics.RowY: statics.RowX}
)

func chosenPivot(sc *scene) string {
	if !sc.chosen {
		return ""
	}
	return sc.place(sc.fr.Pivot.Name)
}

func dropOrDrops(sc *scene) string {
	if len(sc.b.AdviseAt(sc.point).Vanish) == 1 {
		return "drops"
	}
	return "drop"
}

// About pivots.

// best is the most unknowns that are rid of about any point of the body, and
// the first point that does it.
func (sc *scene) best() (statics.PivotAdvice, statics.Point) {
	var best statics.PivotAdvice
	var at statics.Point
	for _, p := range sc.b.Points {
		if a := sc.b.AdviseAt(p); !p.Mark && (at.Name == "" || len(a.Vanish) > len(best.Vanish)) {
			best, at = a, p
		}
	}
	return best, at
}

func bestPoint(sc *scene) statics.Point { _, at := sc.best(); return at }

// choice reports whether there is a choice of pivots that matters: several
// points, several unknowns, and about the best point something left to write.
func (sc *scene) choice() bool {
	_, more := sc.other(func(statics.Point) bool { return true })
	_, best := sc.best()
	left := sc.first(func(f statics.Force) bool { return sc.arm(f, sc.b, best) })
	return more && sc.b.AdviseAt(sc.point).Unknowns > 1 && (left.Symbol != "" || len(sc.b.Couples) > 0)
}

func atBestPivot(sc *scene) []string {
	best, _ := sc.best()
	if !sc.choice() || len(sc.b.AdviseAt(sc.point).Vanish) < len(best.Vanish) {
		return nil
	}
	return []string{""}
}

func atPoorPivot(sc *scene) []string {
	best, _ := sc.best()
	if !sc.choice() || len(sc.b.AdviseAt(sc.fr.Pivot).Vanish) >= len(best.Vanish) {
		return nil
	}
	return []string{""}
}

func unknownsDrop(sc *scene) bool { return len(sc.b.AdviseAt(sc.point).Vanish) > 0 }

func moreDrop(sc *scene) bool {
	return len(sc.b.AdviseAt(sc.point).Vanish) > len(sc.b.AdviseAt(sc.fr.Pivot).Vanish)
}

func (sc *scene) staying() statics.Force {
	return sc.first(func(f statics.Force) bool { return f.Unknown && sc.clear(f, sc.b, sc.point) })
}

func allDrop(sc *scene) bool {
	return sc.staying().Symbol == "" && !slices.ContainsFunc(sc.b.Couples, func(c statics.Couple) bool { return c.Unknown })
}

func (sc *scene) knownForce() statics.Force {
	return sc.first(func(f statics.Force) bool { return !f.Unknown && sc.clear(f, sc.b, sc.point) })
}

func knownDrops(sc *scene) bool { return !sc.clear(sc.knownForce(), sc.b, sc.point) }

func nearestToWeight(sc *scene) bool { return nearerToWeight(sc) == "" }

func nearerToWeight(sc *scene) string {
	w, at := sc.weight()
	if w.Symbol == "" {
		return ""
	}
	mine := sc.apart(at, sc.point)
	p, ok := sc.other(func(p statics.Point) bool { return sc.apart(at, p) < 0.99*mine })
	if !ok {
		return ""
	}
	return sc.place(p.Name)
}

func anotherPoint(sc *scene) string {
	p, ok := sc.other(func(statics.Point) bool { return true })
	if !ok {
		return ""
	}
	return sc.place(p.Name)
}

// onlyThere reports whether the moments add to zero about the point alone.
func onlyThere(sc *scene) bool {
	_, ok := sc.other(func(p statics.Point) bool { _, vanish := sc.moments(p); return vanish })
	return !ok
}

func notAtPivot(sc *scene) bool {
	_, pivot := sc.moments(sc.fr.Pivot)
	_, point := sc.moments(sc.point)
	return !pivot || !point
}

func noneNegative(sc *scene) bool {
	list, _ := sc.moments(sc.point)
	dust := 1e-6 * sc.p.ForceScale() * sc.reach()
	return !slices.ContainsFunc(list, func(v float64) bool { return v < -dust })
}

// shorterSums reports whether the entries along x and y that are not zero are
// fewer with moments about the point than about another.
func shorterSums(sc *scene) bool {
	entries := func(about statics.Point) int {
		fr, n := sc.fr, 0
		fr.Pivot = about
		for _, row := range []statics.RowKind{statics.RowX, statics.RowY} {
			for _, c := range sc.b.Row(row, fr).Cells {
				if !c.Coef.IsZero() {
					n++
				}
			}
		}
		return n
	}
	p, ok := sc.other(func(statics.Point) bool { return true })
	return ok && entries(sc.point) < entries(p)
}

// About single forces.

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

// About members and joints.

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
