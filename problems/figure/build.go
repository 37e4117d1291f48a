// Package figure is a problem as a to-scale drawing: a [Scene] of plain shapes
// in metres, its rendering as text, and the same told in sentences.
//
// The figure never tells an answer. Unknown distances and angles are drawn
// where the solution has no say (values.go), their captions have no value, and
// all forces are arrows of one length.
package figure

import (
	"math"
	"strconv"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// Listed is one force or couple as the learner has it.
type Listed struct {
	Symbol   string
	Reversed bool   // assumed the other way from the scenario's
	At       string // a point, or a place such as "A + L/4 @ 0"; "" where the scenario has it

	// Said is what the learner wrote, in a view that is not judged.
	Said Said
}

// View is what the learner has chosen so far.
type View struct {
	// Body is the one whose forces are listed; the others are drawn fainter. A
	// body made of others shows all its parts plain. "" shows every body plain.
	Body      string
	Pivot     string // a point or a place; "" before one is chosen
	Clockwise bool   // clockwise moments are positive
	Forces    []Listed
	Selected  string // the force whose line of action, and arm to the pivot, are drawn
	NoArm     bool   // of the force in hand the line alone is drawn: the arm is what is asked
	Tilt      string // how far x is turned from the level: "20", "alpha"; "" if it is not

	// Unjudged says that nobody has told the learner whether the list is right.
	// Each force is drawn by what is Said of it alone, and not by what ought to be
	// said; a force of which nothing is said is not drawn, nor is any arm.
	Unjudged bool

	// Learned are the unknowns whose values the learner has found. They are
	// drawn to scale and told with their values.
	Learned map[string]bool
}

// builder gathers the shapes of one scene.
type builder struct {
	p      *problems.Problem
	v      View
	own    *statics.Body // the view's; nil for all
	order  []*statics.Body
	values []float64
	size   float64 // the larger side of what is drawn, in metres
	scene  Scene
	bars   []bar
	faces  []Hatch         // to know what is solid
	joined map[string]bool // points fastened to, or measured from
	spread []string        // loads drawn, by the symbol of their resultant
	read   []Listed        // of an unjudged view, what says where it acts or which way it turns
}

// bar is a stiff or taut member between two places.
type bar struct {
	from, to Vec
	taut     bool
}

// Build is the scene of a problem as the learner has it so far. What the view
// names and the problem does not have is left out.
func Build(p *problems.Problem, v View) Scene {
	b := newBuilder(p, v)
	b.scene.Title, b.scene.words = p.Title, func() []string { return Words(p, v) }
	for _, stage := range []int{behind, members, measures} {
		for _, d := range p.Figure {
			if t, ok := things[d.Draw]; ok && t.stage == stage {
				t.draw(b, d)
			}
		}
	}
	b.joints()
	b.loads()
	b.couples()
	b.roomForForces()
	b.selected()
	b.forces()
	b.axes()
	b.marks()
	return b.scene
}

func newBuilder(p *problems.Problem, v View) *builder {
	b := &builder{p: p, v: v, values: drawnValues(p, v.Learned)}
	if body, ok := p.Body(v.Body); ok && v.Body != "" {
		b.own = body
	}
	b.measure()
	b.readList()
	return b
}

func (b *builder) add(s Shape) { b.scene.Shapes = append(b.scene.Shapes, s) }

// point finds a point of any body, or a place named by an offset from one; the
// view's own body has the first word.
func (b *builder) point(name string) (statics.Point, bool) {
	for _, body := range b.bodies() {
		if pt, ok := body.Point(name); ok {
			return pt, true
		}
	}
	for _, body := range b.bodies() {
		if pt, err := b.p.Place(body, name); err == nil && name != "" {
			return pt, true
		}
	}
	return statics.Point{}, false
}

// at is where a point of the figure is. The scenario's reader has seen to it
// that the names in a figure are points.
func (b *builder) at(name string) Vec {
	pt, _ := b.point(name)
	return place(pt, b.values)
}

// measure finds the size of the figure, in proportion to which things without
// a size of their own are drawn.
func (b *builder) measure() {
	low, high := Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}
	for i := range b.p.Bodies {
		for _, pt := range b.p.Bodies[i].Points {
			at := place(pt, b.values)
			low = Vec{min(low.X, at.X), min(low.Y, at.Y)}
			high = Vec{max(high.X, at.X), max(high.Y, at.Y)}
		}
	}
	b.size = max(high.X-low.X, high.Y-low.Y)
	if !(b.size > 0) || math.IsInf(b.size, 0) {
		b.size = 1
	}
}

// caption is a label of the figure: a symbol, with its value if that is given
// or learned; any other text as it stands.
func (b *builder) caption(label string) Caption {
	c := Caption{Symbol: label}
	for _, g := range b.p.Givens {
		if g.Symbol == label {
			c.Number, c.Unit = plain(b.p.In(g.Index, g.Unit)), g.Unit.Name
			return c
		}
	}
	if u, ok := b.p.Unknown(label); ok {
		if c.Asked = !b.v.Learned[label]; !c.Asked {
			c.Number, c.Unit = problems.Figures(b.p.In(u.Index, u.Unit), 4), u.Unit.Name
		}
	}
	return c
}

// plain writes a given's value with no more digits than it has; an entered
// value may have more than a figure has room for.
func plain(v float64) string {
	short := strconv.FormatFloat(v, 'f', -1, 64)
	if len(short) > 7 {
		return problems.Figures(v, 4)
	}
	return short
}

// marks are the named places, the pivot last so that nothing covers it. What
// two bodies name alike is one place.
func (b *builder) marks() {
	seen := map[string]bool{b.v.Pivot: true}
	for _, body := range b.bodies() {
		for _, pt := range body.Points {
			// A mark that only ground, a wall or masonry ends at helps the
			// drawing alone; its name would crowd the figure.
			off := b.offBody(pt.Name)
			if seen[pt.Name] || off && !b.joined[pt.Name] || b.unlistedCentroid(pt.Name) {
				continue
			}
			seen[pt.Name] = true
			b.add(Mark{Role: Point, At: place(pt, b.values), Name: pt.Name, Off: off})
		}
	}
	if pt, ok := b.point(b.v.Pivot); ok {
		turn := 1
		if b.v.Clockwise {
			turn = -1
		}
		b.add(Mark{Role: Pivot, At: place(pt, b.values), Name: b.pointName(pt), Turn: turn})
	}
}

// pointName is the name of a point, and "" for a place that has none.
func (b *builder) pointName(pt statics.Point) string {
	for _, body := range b.bodies() {
		if _, ok := body.Point(pt.Name); ok {
			return pt.Name
		}
	}
	return ""
}
