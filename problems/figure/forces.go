package figure

import (
	"math"

	"steelyard/problems/statics"
)

// acting are the bodies whose forces may be drawn: the view's own, or all.
func (b *builder) acting() []*statics.Body {
	if b.own != nil {
		return b.bodies()[:1]
	}
	return b.bodies()
}

// force finds a force by symbol. One between two bodies acts on each in its own
// sense: the view's body decides.
func (b *builder) force(symbol string) (*statics.Body, statics.Force, bool) {
	for _, body := range b.acting() {
		if n, ok := body.Force(symbol); ok {
			return body, body.Forces[n], true
		}
	}
	return nil, statics.Force{}, false
}

// couple finds a couple by symbol.
func (b *builder) couple(symbol string) (*statics.Body, statics.Couple, bool) {
	for _, body := range b.acting() {
		for _, c := range body.Couples {
			if c.Symbol == symbol {
				return body, c, true
			}
		}
	}
	return nil, statics.Couple{}, false
}

// angleOf is the direction of a force as the learner has it.
func (b *builder) angleOf(f statics.Force, l Listed) float64 {
	a := f.Dir.Radians(b.values)
	if l.Reversed {
		a += math.Pi
	}
	return a
}

// where is the place of a force as the learner has it.
func (b *builder) where(reference string, l Listed) Vec {
	if pt, ok := b.point(l.At); ok {
		return place(pt, b.values)
	}
	return b.at(reference)
}

// forces draws the forces and couples listed, in order.
func (b *builder) forces() {
	if b.v.Unjudged {
		b.asWritten()
		return
	}
	var taken []ray
	for _, l := range b.v.Forces {
		role := Force
		if l.Symbol == b.v.Selected {
			role = Selected
		}
		if _, f, ok := b.force(l.Symbol); ok {
			a := b.arrow(f, l, taken)
			a.Role = role
			taken = append(taken, a.ray())
			b.add(a)
			continue
		}
		if body, c, ok := b.couple(l.Symbol); ok {
			at := b.coupleAt(body, c)
			if pt, ok := b.point(l.At); ok {
				at = place(pt, b.values)
			}
			b.add(Turn{Role: role, At: at, Clockwise: (c.Sense < 0) != l.Reversed, Symbol: l.Symbol})
		}
	}
}

// roomForForces keeps room for every force and couple there is, drawn or not.
func (b *builder) roomForForces() {
	if b.v.Unjudged {
		b.roomForAny()
		return
	}
	for _, body := range b.acting() {
		var taken []ray
		for _, f := range body.Forces {
			a := b.arrow(f, Listed{Symbol: f.Symbol}, taken)
			taken = append(taken, a.ray())
			b.scene.Room = append(b.scene.Room, a)
		}
		for _, c := range body.Couples {
			b.scene.Room = append(b.scene.Room, Turn{At: b.coupleAt(body, c)})
		}
	}
}

// ray is the side of a point that an arrow takes.
type ray struct {
	at    Vec
	angle float64
}

func (a Arrow) ray() ray {
	if a.Arrives {
		return ray{a.At, a.Angle + math.Pi}
	}
	return ray{a.At, a.Angle}
}

// What an arrow costs where something is in its way already. A force may be
// slid along its line of action, so an arrow may leave its point or arrive at
// it; weights hang and cables pull, and leave it unless that side is full.
const (
	overArrow   = 10
	overInLine  = 4
	overMember  = 3
	overSolid   = 2
	overLoad    = 2
	overSpread  = 3
	overCorner  = 1.5
	arrives     = 0.5
	mostlyLeave = 3
)

// arrow draws a force on the side of its point that is freer.
func (b *builder) arrow(f statics.Force, l Listed, taken []ray) Arrow {
	return b.onFreerSide(Arrow{Role: Force, At: b.where(f.At, l), Angle: b.angleOf(f, l), Symbol: f.Symbol}, f.Kind, taken)
}

func (b *builder) onFreerSide(a Arrow, kind statics.ForceKind, taken []ray) Arrow {
	reluctance := arrives
	if kind == statics.Weight || kind == statics.Tension || kind == statics.Inertia || kind == statics.Spread {
		reluctance = mostlyLeave
	}
	leave := b.crowd(ray{a.At, a.Angle}, kind, taken)
	arrive := b.crowd(ray{a.At, a.Angle + math.Pi}, kind, taken)
	a.Arrives = arrive+reluctance < leave
	return a
}

// crowd is how much is in the way of an arrow on one side of its point.
func (b *builder) crowd(r ray, kind statics.ForceKind, taken []ray) float64 {
	cost, eps := 0.0, 1e-6*b.size
	for _, t := range taken {
		if t.at.near(r.at, eps) && apart(t.angle, r.angle) < 25*math.Pi/180 {
			cost += overArrow
		} else if b.meets(t, r) {
			cost += overInLine
		}
	}
	for _, m := range b.bars {
		if b.leads(m, r.at, r.angle) && !(m.taut && kind == statics.Tension) {
			cost += overMember
		}
	}
	u := heading(r.angle)
	if f, ok := b.onFace(r.at); ok {
		along := f.To.minus(f.From)
		if along.cross(u)/math.Sqrt(along.dot(along)) < -0.3 { // the solid is on the right
			cost += overSolid
		}
	}
	for _, s := range b.scene.Shapes {
		switch s := s.(type) {
		case Person:
			if s.At.near(r.at, 0.3*s.Height) && u.Y > 0.7 {
				cost += overLoad
			}
		case Outline:
			upright := s.Points[3].minus(s.Points[0])
			if s.Role == Load && s.Points[0].mid(s.Points[1]).near(r.at, eps) && u.dot(upright) > 0.7*math.Sqrt(upright.dot(upright)) {
				cost += overLoad
			}
		case Spread:
			if s.against(r, eps) {
				cost += overSpread
			}
		case Sign:
			if s.At.near(r.at, eps) && (s.Over && u.Y > 0.7 || !s.Over && u.Y < -0.7) {
				cost += overSolid
			}
		case Corner:
			if in := math.Mod(r.angle-s.From+4*math.Pi, 2*math.Pi); s.At.near(r.at, eps) && in > 0.05 && in < s.Span-0.05 ||
				s.At.near(r.at, eps) && (in <= 0.05 || in >= 2*math.Pi-0.05) && !s.Legs[0] {
				cost += overCorner
			}
		}
	}
	return cost
}

// meets reports whether arrows on two rays along one line would lie over each
// other. Arrows have no scale; they are about a quarter of the figure long.
func (b *builder) meets(r, t ray) bool {
	long, eps := 0.25*b.size, 1e-6*b.size
	u, between := heading(r.angle), t.at.minus(r.at)
	if math.Abs(u.cross(between)) > eps || math.Abs(u.cross(heading(t.angle))) > 1e-6 {
		return false
	}
	from := between.dot(u)
	to := from + long*u.dot(heading(t.angle))
	return min(from, to) < long-eps && max(from, to) > eps
}

// inHand is where the force in hand acts, and along what, as it is drawn.
func (b *builder) inHand() (at, along Vec, ok bool) {
	if b.v.Unjudged {
		for _, w := range b.read {
			if w.Symbol == b.v.Selected && w.Said.Turn == 0 {
				return b.at(w.Said.At), heading(w.Said.Angle), true
			}
		}
		return Vec{}, Vec{}, false
	}
	for _, l := range b.v.Forces {
		if _, f, ok := b.force(l.Symbol); ok && l.Symbol == b.v.Selected {
			return b.where(f.At, l), heading(b.angleOf(f, l)), true
		}
	}
	return Vec{}, Vec{}, false
}

// armIsAsked reports whether the arm of the force in hand is the learner's to
// find.
func (b *builder) armIsAsked() bool { return b.v.NoArm || b.v.Unjudged }

// How far the line of action is drawn beyond what is on it; and to each side of
// the point, where it may not show how far the pivot's foot is.
const (
	beyond   = 0.12
	eachSide = 0.3
)

// selected draws the line of action of the force in hand, and the
// perpendicular to it from the pivot: the lever arm.
func (b *builder) selected() {
	at, u, ok := b.inHand()
	if !ok {
		return
	}
	more := u.times(beyond * b.size)
	pivot, ok := b.point(b.v.Pivot)
	switch {
	case b.armIsAsked():
		more = u.times(eachSide * b.size)
		fallthrough
	case !ok:
		b.add(Line{Action, at.minus(more), at.plus(more)})
		return
	}
	from := place(pivot, b.values)
	t := from.minus(at).dot(u)
	foot := at.plus(u.times(t))
	low, high := min(t, 0), max(t, 0)
	b.add(Line{Action, at.plus(u.times(low)).minus(more), at.plus(u.times(high)).plus(more)})
	if foot.near(from, 1e-6*b.size) {
		return // the line goes through the pivot: no arm
	}
	b.add(Line{Arm, from, foot})
	back := from.minus(foot)
	away := u
	if t > 0 {
		away = u.times(-1)
	}
	b.add(Square{foot, math.Atan2(back.Y, back.X), math.Atan2(away.Y, away.X)})
	b.add(Word{Arm, from.mid(foot), "arm"})
}
