package figure

import (
	"math"
	"slices"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// Stages of the drawing: what lies behind, the members and what they carry,
// and the measures over all of them.
const (
	behind = iota
	members
	measures
)

// things are what a scenario's figure can be made of, by the words of its
// file.
var things = map[string]struct {
	stage int
	draw  func(*builder, problems.Drawn)
}{
	"ground":  {behind, (*builder).ground},
	"wall":    {behind, (*builder).wall},
	"block":   {behind, (*builder).block},
	"fixed":   {behind, (*builder).fixed},
	"water":   {behind, (*builder).water},
	"bar":     {members, (*builder).bar},
	"cable":   {members, (*builder).cable},
	"spring":  {members, (*builder).spring},
	"link":    {members, (*builder).link},
	"pulley":  {members, (*builder).pulley},
	"disc":    {members, (*builder).disc},
	"box":     {members, (*builder).box},
	"crate":   {members, (*builder).crate},
	"hung":    {members, (*builder).hung},
	"person":  {members, (*builder).person},
	"trestle": {members, (*builder).trestle},
	"pin":     {members, (*builder).pin},
	"roller":  {members, (*builder).roller},
	"length":  {measures, (*builder).length},
	"angle":   {measures, (*builder).angle},
}

// Sizes of what a scenario gives no size, as parts of the figure's size.
const (
	overhang    = 0.06 // of a ground or wall beyond its last point
	fixedShare  = 0.16 // of a built-in end's face
	crateShare  = 0.13
	ropeShare   = 0.13
	trestlePart = 0.22
	blockShare  = 0.16
	tallest     = 0.30 // a person, of 1.7 m otherwise
	shortest    = 0.20
	personTall  = 1.7 // m
)

// sizeOr is a size the scenario gives, or else a share of the figure's.
func (b *builder) sizeOr(given statics.Sum, share float64) float64 {
	if len(given) == 0 {
		return share * b.size
	}
	return given.Eval(b.values)
}

// joins notes the points that a thing is fastened to, or measured from.
func (b *builder) joins(names ...string) {
	if b.joined == nil {
		b.joined = map[string]bool{}
	}
	for _, n := range names {
		b.joined[n] = true
	}
}

func (b *builder) bar(d problems.Drawn) {
	b.joins(d.From, d.To)
	from, to := b.at(d.From), b.at(d.To)
	if d.At != "" {
		from, to = b.evenly(from, to, b.at(d.At))
	}
	b.bars = append(b.bars, bar{from, to, false})
	b.add(Line{b.role(Body, d.From, d.To), from, to})
}

// evenly are the ends of a member that covers two places, with what stands on
// them, and reaches as far on both sides of its middle.
func (b *builder) evenly(from, to, middle Vec) (one, two Vec) {
	u, v := from.minus(middle), to.minus(middle)
	length := to.minus(from)
	half := math.Sqrt(max(u.dot(u), v.dot(v))) + 0.55*crateShare*b.size
	along := length.times(half / math.Sqrt(length.dot(length)))
	return middle.minus(along), middle.plus(along)
}

func (b *builder) cable(d problems.Drawn) {
	b.joins(d.From, d.To)
	b.bars = append(b.bars, bar{b.at(d.From), b.at(d.To), true})
	b.add(Line{b.lineRole(d.From, d.To), b.at(d.From), b.at(d.To)})
}

func (b *builder) disc(d problems.Drawn) {
	b.add(Disc{b.role(Body, d.At), b.at(d.At), d.Radius.Eval(b.values)})
}

// spring and link push or pull along their line, and stand in an arrow's way as
// a cable does.
func (b *builder) spring(d problems.Drawn) {
	b.joins(d.From, d.To)
	b.bars = append(b.bars, bar{b.at(d.From), b.at(d.To), true})
	b.add(Coil{b.role(Support, d.From, d.To), b.at(d.From), b.at(d.To)})
}

func (b *builder) link(d problems.Drawn) {
	b.joins(d.From, d.To)
	b.bars = append(b.bars, bar{b.at(d.From), b.at(d.To), true})
	b.add(Strut{b.role(Support, d.From, d.To), b.at(d.From), b.at(d.To)})
}

func (b *builder) pulley(d problems.Drawn) {
	b.joins(d.At)
	b.add(Sign{Kind: SheaveSign, At: b.at(d.At)})
}

// rectangle stands on its foot's middle, turned by the foot's tilt.
func rectangle(foot Vec, w, h, tilt float64) []Vec {
	along := heading(tilt)
	across := Vec{-along.Y, along.X}
	at := func(x, y float64) Vec { return foot.plus(along.times(x)).plus(across.times(y)) }
	return []Vec{at(-w/2, 0), at(w/2, 0), at(w/2, h), at(-w/2, h)}
}

func (b *builder) box(d problems.Drawn) {
	w := b.sizeOr(d.Width, 0.5)
	h := b.sizeOr(d.Height, 0.3)
	b.add(Outline{b.role(Body, d.At), rectangle(b.at(d.At), w, h, d.Angle.Eval(b.values))})
}

func (b *builder) crate(d problems.Drawn) {
	b.joins(d.At)
	w := b.sizeOr(d.Width, crateShare)
	b.add(Outline{b.role(Load, d.At), rectangle(b.at(d.At), w, 0.8*w, d.Angle.Eval(b.values))})
}

func (b *builder) hung(d problems.Drawn) {
	b.joins(d.At)
	w := b.sizeOr(d.Width, crateShare)
	at, rope := b.at(d.At), ropeShare*b.size
	b.add(Line{b.lineRole(d.At), at, at.up(-rope)})
	b.add(Outline{b.role(Load, d.At), rectangle(at.up(-rope-0.8*w), w, 0.8*w, 0)})
}

// person stands on the point; on a steep member, such as a ladder, on its
// upper side, clear of it.
func (b *builder) person(d problems.Drawn) {
	b.joins(d.At)
	h := min(max(personTall, shortest*b.size), tallest*b.size)
	if len(d.Height) > 0 {
		h = d.Height.Eval(b.values)
	}
	at := b.at(d.At)
	for _, m := range b.bars {
		u := m.to.minus(m.from)
		if !b.through(m, at) || math.Abs(u.Y) < math.Abs(u.X)*0.3 {
			continue
		}
		side := -1.0
		if u.X*u.Y < 0 {
			side = 1
		}
		at = at.plus(Vec{side * 0.24 * h, 0.10 * h})
	}
	b.add(Person{b.role(Load, d.At), at, h})
}

// trestle is a pair of spread legs on hatched ground.
func (b *builder) trestle(d problems.Drawn) {
	b.joins(d.At)
	h := b.sizeOr(d.Height, trestlePart)
	at := b.at(d.At)
	left, right := Vec{at.X - 0.45*h, at.Y - h}, Vec{at.X + 0.45*h, at.Y - h}
	b.add(Line{Support, at, left})
	b.add(Line{Support, at, right})
	b.add(Hatch{left.plus(Vec{-0.3 * h, 0}), right.plus(Vec{0.3 * h, 0}), false})
}

// pin and roller are let into a wall or stand on the ground if the point is on
// one.
func (b *builder) pin(d problems.Drawn) {
	b.joins(d.At)
	kind := PinSign
	if _, ok := b.onFace(b.at(d.At)); ok {
		kind = HingeSign
	}
	b.add(Sign{Kind: kind, At: b.at(d.At), Over: b.hangs(b.at(d.At))})
}

// hangs reports whether a member leads steeply down from a place, and none up.
func (b *builder) hangs(at Vec) bool {
	down := false
	for _, m := range b.bars {
		if !b.through(m, at) {
			continue
		}
		for _, end := range []Vec{m.from, m.to} {
			u := end.minus(at)
			steep := math.Abs(u.Y) > math.Abs(u.X)
			switch {
			case steep && u.Y > 0:
				return false
			case steep && u.Y < 0:
				down = true
			}
		}
	}
	return down
}

func (b *builder) roller(d problems.Drawn) {
	b.joins(d.At)
	at := b.at(d.At)
	s := Sign{Kind: RollerSign, At: at, Over: b.hangs(at)}
	if f, ok := b.onFace(at); ok {
		along := f.To.minus(f.From)
		s.Kind, s.Out = WheelSign, Vec{-along.Y, along.X}.times(1/math.Sqrt(along.dot(along)))
	}
	b.add(s)
}

// through reports whether a member goes through the place.
func (b *builder) through(m bar, at Vec) bool {
	u, v := m.to.minus(m.from), at.minus(m.from)
	l := u.dot(u)
	if l == 0 {
		return false
	}
	t := v.dot(u) / l
	return t > -1e-6 && t < 1+1e-6 && math.Abs(u.cross(v))/math.Sqrt(l) < 1e-6*b.size
}

func (b *builder) length(d problems.Drawn) {
	b.joins(d.From, d.To)
	b.add(Length{b.at(d.From), b.at(d.To), b.caption(d.Label)})
}

func (b *builder) angle(d problems.Drawn) {
	at := b.at(d.At)
	c := Corner{At: at, From: d.Angle.Eval(b.values), Span: d.Span.Eval(b.values), Caption: b.caption(d.Label)}
	if c.Span < 0 { // the same corner, the other way round
		c.From, c.Span = c.From+c.Span, -c.Span
	}
	for i, a := range []float64{c.From, c.From + c.Span} {
		lead := slices.ContainsFunc(b.bars, func(m bar) bool { return b.leads(m, at, a) })
		c.Legs[i] = !lead && !b.facing(at, a)
	}
	b.add(c)
}

// heading is the unit vector of an angle.
func heading(angle float64) Vec { return Vec{math.Cos(angle), math.Sin(angle)} }

// leads reports whether a member leads away from the place within 15° of the
// angle.
func (b *builder) leads(m bar, at Vec, angle float64) bool {
	if !b.through(m, at) {
		return false
	}
	for _, end := range []Vec{m.from, m.to} {
		if u := end.minus(at); u.dot(u) > 1e-12*b.size*b.size && apart(math.Atan2(u.Y, u.X), angle) < 15*math.Pi/180 {
			return true
		}
	}
	return false
}

// apart is the angle between two directions, 0 to π.
func apart(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 2*math.Pi)) }
