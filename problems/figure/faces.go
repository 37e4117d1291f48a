package figure

import (
	"math"

	"steelyard/problems"
)

// Faces of what is solid, and water between them.

// face adds a hatched face, and draws it on beyond an end where it is free:
// ground does not stop at the last point on it.
func (b *builder) face(h Hatch, fromFree, toFree bool) {
	along := h.To.minus(h.From)
	if l := math.Sqrt(along.dot(along)); l > 0 {
		more := along.times(overhang * b.size / l)
		if fromFree {
			h.From = h.From.minus(more)
		}
		if toFree {
			h.To = h.To.plus(more)
		}
	}
	b.faces = append(b.faces, h)
	b.add(h)
}

// free reports whether no other ground, wall or masonry of the figure ends at
// the point.
func (b *builder) free(name string, self problems.Drawn) bool {
	at, eps := b.at(name), 1e-6*b.size
	for _, d := range b.p.Figure {
		if solid := d.Draw == "ground" || d.Draw == "wall" || d.Draw == "block"; !solid || d.Draw == self.Draw && d.From == self.From && d.To == self.To {
			continue
		}
		if at.near(b.at(d.From), eps) || at.near(b.at(d.To), eps) {
			return false
		}
		if d.Draw == "block" && len(d.Height) > 0 {
			foot := -d.Height.Eval(b.values)
			if at.near(b.at(d.From).up(foot), eps) || at.near(b.at(d.To).up(foot), eps) {
				return false
			}
		}
	}
	return true
}

func (b *builder) ground(d problems.Drawn) {
	from, to := b.at(d.From), b.at(d.To)
	b.face(Hatch{from, to, d.Rough}, b.free(d.From, d), b.free(d.To, d))
	b.roughness(from.mid(to), d.Rough)
}

// wall is hatched on the left of one who goes along it, in a scenario file; a
// Hatch on the right.
func (b *builder) wall(d problems.Drawn) {
	from, to := b.at(d.From), b.at(d.To)
	b.face(Hatch{to, from, d.Rough}, b.free(d.To, d), b.free(d.From, d))
	b.roughness(from.mid(to), d.Rough)
}

// roughness puts the word beside a rough face, for whom the closer hatching
// says nothing.
func (b *builder) roughness(at Vec, rough bool) {
	if rough {
		b.add(Word{Ground, at, "rough"})
	}
}

// block is masonry with a level top; its sides go down by the height.
func (b *builder) block(d problems.Drawn) {
	from, to := b.at(d.From), b.at(d.To)
	h := b.sizeOr(d.Height, blockShare)
	b.face(Hatch{from, to, d.Rough}, false, false)
	b.add(Line{Ground, from, from.up(-h)})
	b.add(Line{Ground, to, to.up(-h)})
	b.roughness(from.mid(to).up(-h/2), d.Rough)
}

// onFace finds the face that the point is on.
func (b *builder) onFace(at Vec) (Hatch, bool) {
	for _, f := range b.faces {
		if b.through(bar{f.From, f.To, false}, at) {
			return f, true
		}
	}
	return Hatch{}, false
}

// facing reports whether a face at the place runs along the angle.
func (b *builder) facing(at Vec, angle float64) bool {
	f, ok := b.onFace(at)
	return ok && math.Abs(f.To.minus(f.From).cross(heading(angle))) < 0.05*b.size
}

// fixed is a face that the body is built into, square to the way it leaves. If
// a wall of the figure is there already, that is the face.
func (b *builder) fixed(d problems.Drawn) {
	at := b.at(d.At)
	b.joins(d.At)
	if _, ok := b.onFace(at); ok {
		return
	}
	u := heading(d.Angle.Eval(b.values))
	half := Vec{-u.Y, u.X}.times(fixedShare * b.size / 2)
	b.face(Hatch{at.plus(half), at.minus(half), false}, false, false)
}

func (b *builder) water(d problems.Drawn) {
	b.joins(d.From, d.To)
	b.add(Water{b.at(d.From), b.at(d.To), d.Height.Eval(b.values)})
}
