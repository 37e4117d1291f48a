package problems

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"steelyard/problems/statics"
)

// Several bodies share one origin. What acts between two of them is told once,
// as a joint, and acts on both: on the first as told, on the second reversed.

// pointFor finds a point of the body, or else of a body before it.
func (s *Scenario) pointFor(b *statics.Body, name string) (statics.Point, bool) {
	if p, ok := b.Point(name); ok {
		return p, true
	}
	for i := range s.Bodies {
		if p, ok := s.Bodies[i].Point(name); ok {
			return p, true
		}
	}
	return statics.Point{}, false
}

func (r *reader) joint(path string, f fileJoint) {
	if len(f.On) != 2 || f.On[0] == f.On[1] {
		r.fault(path+".on", 0, "a joint is on two bodies: on = [\"first\", \"second\"]")
		return
	}
	var on [2]*statics.Body
	for i, name := range f.On {
		b, ok := r.s.Body(name)
		if !ok || name == "" || b.Whole() {
			r.fault(fmt.Sprintf("%s.on.%d", path, i), 0, "no body %s that a joint could be on; bodies are %s", quote(name), r.s.bodyNames())
			return
		}
		on[i] = b
	}
	ends := [2]string{f.At, f.At}
	if f.To != "" {
		ends[1] = f.To
	}
	if !r.onBody(path+".at", ends[0], on[0]) || !r.onBody(path+map[bool]string{true: ".to", false: ".at"}[f.To != ""], ends[1], on[1]) {
		return
	}
	if f.To != "" {
		on[0].Aim(on[1], f.To)
		on[1].Aim(on[0], f.At)
	}
	before := [2]int{len(on[0].Forces), len(on[0].Couples)}
	r.support(path, fileSupport{Kind: f.Kind, At: f.At, Symbols: f.Symbols, Angles: f.Angles, Toward: f.To, Slides: f.Slides, MaySlip: f.MaySlip}, on[0])
	for i := before[0]; i < len(on[0].Forces); i++ {
		on[0].Forces[i].Joint = on[1].Name
		back := on[0].Forces[i]
		back.At, back.Joint = ends[1], on[0].Name
		if back.Dir = back.Dir.Reversed(); f.To != "" {
			from, _ := on[1].Point(ends[1])
			to, _ := on[1].Point(f.At)
			back.Dir, _ = statics.TowardPoint(from, to)
		}
		if !r.twice(path, back.Symbol, on[1]) {
			on[1].Forces = append(on[1].Forces, back)
		}
	}
	for _, c := range on[0].Couples[before[1]:] {
		if c.Sense = -c.Sense; !r.twice(path, c.Symbol, on[1]) {
			on[1].Couples = append(on[1].Couples, c)
		}
	}
}

func (s *Scenario) bodyNames() string {
	m := map[string]bool{}
	for _, b := range s.Bodies {
		m[quote(b.Name)] = true
	}
	return names(m)
}

// whole reads a body that is the assembly of others; it is put together once
// they are complete.
func (r *reader) whole(path string, f *fileBody, b statics.Body) {
	if len(f.Points)+len(f.Marks)+len(f.Forces)+len(f.Supports)+len(f.Couples)+len(f.Loads) > 0 {
		r.fault(path, 0, "body %s is made of others, so it has their points and forces; take its own out", quote(f.Name))
	}
	if len(f.Of) < 2 {
		r.fault(path+".of", 0, "a whole is made of two bodies or more")
	}
	for i, name := range f.Of {
		part, ok := r.s.Body(name)
		switch at := fmt.Sprintf("%s.of.%d", path, i); {
		case !ok || name == "" || part.Whole():
			r.fault(at, 0, "no body %s before this one that it could be made of", quote(name))
		case slices.Contains(f.Of[:i], name):
			r.fault(at, 0, "%s is named twice; name each part once", quote(name))
		}
	}
	b.Of = f.Of
	b.Points = []statics.Point{{}} // until it is put together
	r.s.Bodies = append(r.s.Bodies, b)
}

// wholes puts together the bodies that are made of others: their points, and
// what acts on them from outside.
func (r *reader) wholes() {
	if len(r.faults) > 0 {
		return
	}
	for i := range r.s.Bodies {
		w := &r.s.Bodies[i]
		if !w.Whole() {
			continue
		}
		w.Points = nil
		for _, name := range w.Of {
			part, _ := r.s.Body(name)
			for _, p := range part.Points {
				if k := slices.IndexFunc(w.Points, func(o statics.Point) bool { return o.Name == p.Name }); k < 0 {
					w.Points = append(w.Points, p)
				} else if !p.Mark {
					w.Points[k].Mark = false
				}
			}
			for _, f := range part.Forces {
				if slices.Contains(w.Of, f.Joint) {
					continue
				}
				if _, twice := w.Force(f.Symbol); twice {
					r.fault(fmt.Sprintf("bodies.%d.of", i), 0, "%s acts on two of these bodies; if it is the force between them, tell it once, as a joint, or else give each its own symbol", quote(f.Symbol))
					continue
				}
				w.Forces = append(w.Forces, f)
			}
			for _, c := range part.Couples {
				if _, joint := r.jointCouple(c.Symbol, w.Of); !joint {
					w.Couples = append(w.Couples, c)
				}
			}
		}
	}
}

// jointCouple reports whether a couple acts on two of the bodies named, and so
// is internal to them.
func (r *reader) jointCouple(symbol string, of []string) (first string, ok bool) {
	for _, name := range of {
		part, _ := r.s.Body(name)
		if !slices.ContainsFunc(part.Couples, func(c statics.Couple) bool { return c.Symbol == symbol }) {
			continue
		}
		if first != "" {
			return first, true
		}
		first = name
	}
	return first, false
}

// shared checks, at a few states, that points which bodies name alike are one
// place.
func (r *reader) shared() {
	if len(r.s.Bodies) < 2 {
		return
	}
	rng := rand.New(rand.NewPCG(3, 4))
	values := make([]float64, r.table.Len())
	first := map[string]int{}
	for range 4 {
		r.s.Sample(rng, values)
		for i := range r.s.Bodies {
			b := &r.s.Bodies[i]
			for j, p := range b.Points {
				k, seen := first[p.Name]
				if !seen {
					first[p.Name] = i
					continue
				}
				other, _ := r.s.Bodies[k].Point(p.Name)
				x, y := p.XY(values)
				u, v := other.XY(values)
				if math.Hypot(x-u, y-v) > 1e-9*max(1, math.Hypot(x, y)) {
					r.fault(fmt.Sprintf("bodies.%d.points.%d.at", i, j), 0, "point %s is elsewhere on body %s; points named alike are one place: give this one its own name, or at = \"%s\"",
						p.Name, quote(r.s.Bodies[k].Name), p.Name)
					return
				}
			}
		}
	}
}
