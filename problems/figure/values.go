package figure

import (
	"math"
	"math/rand/v2"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// The figure is drawn before the learner has solved anything, so it may not be
// drawn from the solution. All unknowns are replaced, and what depends on them
// computed anew, before a single place is worked out:
//
//   - the size of an unknown force, which no place depends on, by any number;
//   - an unknown distance by 0.6 of the way to whatever lies farthest ahead
//     along it: a painter who climbs to d stands at 0.6 of the ladder,
//     wherever the ladder really slips. If nothing lies ahead, as beyond the
//     second crate on a plank, by 1.25 of what lies farthest behind;
//   - an unknown angle by the middle of the range it is searched in.
//
// None of these uses the solution, so the figure of one set of givens is the
// same whatever the answer.
const (
	shareAhead   = 0.6
	shareBehind  = 1.25
	unknownForce = 1.0
)

// drawnValues are the problem's values as the figure may know them.
func drawnValues(p *problems.Problem, learned map[string]bool) []float64 {
	solved := p.Values
	values := make([]float64, len(solved))
	for _, g := range p.Givens {
		values[g.Index] = solved[g.Index]
	}
	for _, u := range p.LinearUnknowns() {
		values[u] = unknownForce
	}
	z := p.Search()
	switch {
	case z < 0:
	case learned[p.Table.Name(z)]:
		values[z] = solved[z]
	default:
		values[z] = supposed(p, values)
	}
	statics.Define(p.Definitions(), values)
	if z >= 0 && !drawable(p, values) { // a definition may have no value there
		low, high := searchRange(p, values)
		values[z] = (low + high) / 2
		statics.Define(p.Definitions(), values)
	}
	return values
}

// drawable reports whether every point has a place.
func drawable(p *problems.Problem, values []float64) bool {
	for i := range p.Bodies {
		for _, pt := range p.Bodies[i].Points {
			if at := place(pt, values); !(math.Abs(at.X)+math.Abs(at.Y) < math.MaxFloat64) {
				return false
			}
		}
	}
	return true
}

// supposed is the value the searched unknown is drawn with.
func supposed(p *problems.Problem, values []float64) float64 {
	z := p.Search()
	low, high := searchRange(p, values)
	middle := (low + high) / 2
	if p.Table.IsAngle(z) {
		return middle
	}
	v, ok := placed(p, values)
	if !ok {
		return middle
	}
	return min(max(v, low), high)
}

// still is a source of random numbers that all are the same, by which a draw
// can be made at a chosen part of its range.
type still uint64

func (s still) Uint64() uint64 { return uint64(s) }

// searchRange is where the searched unknown is looked for. A scenario draws
// free states from 0.2 to 0.8 of it.
func searchRange(p *problems.Problem, values []float64) (low, high float64) {
	z := p.Search()
	state := append([]float64(nil), values...)
	p.Free(rand.New(still(0)), state)
	fifth := state[z]
	p.Free(rand.New(still(math.MaxUint64)), state)
	length := (state[z] - fifth) / 0.6
	low = fifth - 0.2*length
	return low, low + length
}

// placed is a value that puts the points the unknown moves where a draughtsman
// would. It is false if the unknown moves no point, or not along a line.
func placed(p *problems.Problem, values []float64) (float64, bool) {
	at := func(v float64) []float64 {
		state := append([]float64(nil), values...)
		state[p.Search()] = v
		statics.Define(p.Definitions(), state)
		return state
	}
	none, one := at(0), at(1)
	var from, along Vec
	var fixed []Vec
	for i := range p.Bodies {
		for _, pt := range p.Bodies[i].Points {
			a, b := place(pt, none), place(pt, one)
			if d := b.minus(a); d.dot(d) > 1e-18 {
				from, along = a, d
				continue
			}
			fixed = append(fixed, a)
		}
	}
	rate := math.Sqrt(along.dot(along)) // metres for one of the unknown
	if rate == 0 || !(rate < math.MaxFloat64) {
		return 0, false
	}
	ahead, behind := 0.0, 0.0
	for _, q := range fixed {
		d := q.minus(from).dot(along) / rate
		ahead, behind = max(ahead, d), max(behind, -d)
	}
	switch {
	case ahead > 0:
		return shareAhead * ahead / rate, true
	case behind > 0:
		return shareBehind * behind / rate, true
	}
	return 0, false
}

func place(pt statics.Point, values []float64) Vec {
	x, y := pt.XY(values)
	return Vec{x, y}
}
