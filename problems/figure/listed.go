package figure

import (
	"math"
	"slices"

	"steelyard/problems/statics"
)

// A list of forces that is not judged yet is drawn as it was written. Nothing
// here looks at the forces that the scenario has: a figure that knew them would
// tell which lines are right.

// Said is what a line of the list says, right or wrong.
type Said struct {
	At     string  // the point; "" for a couple that is told without one
	Way    string  // the way in the learner's words; "" for a couple
	Angle  float64 // the same in radians anticlockwise from +x
	Toward bool    // it was told as a pull toward a point
	Turn   int     // of a couple, +1 anticlockwise and -1 clockwise; 0 for a force
}

// readList keeps what the list of an unjudged view says. What says no place and no
// way is left out: it was never taken for one of the list.
func (b *builder) readList() {
	if !b.v.Unjudged {
		return
	}
	for _, l := range b.v.Forces {
		if l.Said.Turn != 0 || b.named(l.Said.At) {
			b.read = append(b.read, l)
		}
	}
}

// named reports whether a body has a point of the name.
func (b *builder) named(point string) bool {
	return slices.ContainsFunc(b.bodies(), func(body *statics.Body) bool {
		_, ok := body.Point(point)
		return ok
	})
}

// asWritten draws the list of an unjudged view.
func (b *builder) asWritten() {
	var taken []ray
	for _, w := range b.read {
		role := Force
		if w.Symbol == b.v.Selected {
			role = Selected
		}
		if w.Said.Turn != 0 {
			b.add(Turn{Role: role, At: b.turnsAt(w), Clockwise: w.Said.Turn < 0, Symbol: w.Symbol})
			continue
		}
		kind := statics.Applied
		if w.Said.Toward {
			kind = statics.Tension // drawn from its point, along what it pulls by
		}
		a := b.onFreerSide(Arrow{Role: role, At: b.at(w.Said.At), Angle: w.Said.Angle, Symbol: w.Symbol}, kind, taken)
		taken = append(taken, a.ray())
		b.add(a)
	}
}

// turnsAt is where a couple of the list is drawn: where its line says, or where
// the problem shows the couple of that name that it gives, or else at the middle
// of the body, whether the body has such a couple or not.
func (b *builder) turnsAt(w Listed) Vec {
	if b.named(w.Said.At) {
		return b.at(w.Said.At)
	}
	for _, body := range b.acting() {
		for _, c := range body.Couples {
			if c.Symbol == w.Symbol && !c.Unknown {
				return b.coupleAt(body, c)
			}
		}
	}
	return b.middle(b.acting()[0])
}

// roomForAny keeps room for an arrow each way at every point of the bodies, and
// for a couple, so that what is left white says nothing of the forces either.
func (b *builder) roomForAny() {
	for _, body := range b.acting() {
		for _, pt := range body.Points {
			if pt.Mark {
				continue
			}
			for quarter := range 4 {
				b.scene.Room = append(b.scene.Room, Arrow{At: place(pt, b.values), Angle: float64(quarter) * math.Pi / 2, Symbol: "W_A"})
			}
		}
		b.scene.Room = append(b.scene.Room, Turn{At: b.middle(body)})
	}
}
