package tutor

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// scene is what a reason is judged by: a body with its forces at the problem's
// values, and the learner's pivot, axes and signs.
type scene struct {
	p      *problems.Problem
	b      *statics.Body
	fr     statics.Frame
	ascii  bool
	chosen bool          // the pivot is the learner's
	point  statics.Point // that a question about pivots speaks of
	force  statics.Force // that the question is asked of; zero if of none
	on     *statics.Body // the body it acts on: the one in hand, or a part of it

	advice map[string]statics.PivotAdvice // by point, as far as it was asked for
}

// advise is what a pivot at a point would do.
func (sc *scene) advise(at statics.Point) statics.PivotAdvice {
	a, ok := sc.advice[at.Name]
	if !ok {
		a = sc.b.AdviseAt(at)
		sc.advice[at.Name] = a
	}
	return a
}

// take finds the force that a question is asked of.
func (sc *scene) take(symbol string) {
	sc.force, sc.on = statics.Force{}, sc.b
	for _, b := range append([]*statics.Body{sc.b}, sc.parts()...) {
		if i, ok := b.Force(symbol); ok {
			sc.force, sc.on = b.Forces[i], b
			return
		}
	}
}

// parts are the bodies that the one in hand is the assembly of.
func (sc *scene) parts() []*statics.Body {
	var out []*statics.Body
	for _, name := range sc.b.Of {
		if b, ok := sc.p.Body(name); ok {
			out = append(out, b)
		}
	}
	return out
}

// offer is the codes of the reasons that can be offered: first the true one,
// then those that are false here. It is empty if the first does not hold, or
// one of its words is not to be had.
func (sc *scene) offer(of *inquiry) []string {
	var out []string
	for i, c := range of.claims {
		_, says := sc.fill(c.says)
		_, wrong := sc.fill(c.wrong)
		fits := says && wrong && c.holds(sc) == (i == 0)
		switch {
		case fits:
			out = append(out, c.code)
		case i == 0:
			return nil
		}
	}
	return out
}

// fill puts what is known of the scene into a text. It is false if something
// that the text speaks of is not there.
func (sc *scene) fill(text string) (string, bool) {
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(text, "{")
		b.WriteString(before)
		name, after, closed := strings.Cut(rest, "}")
		if !open || !closed {
			return b.String(), true
		}
		word := ""
		if of, known := sceneWords[name]; known {
			word = of(sc)
		}
		if word == "" {
			return "", false
		}
		b.WriteString(word)
		text = after
	}
}

// moments are the moments about a point at the problem's values, by the
// learner's sign, and whether they vanish.
func (sc *scene) moments(about statics.Point) (list []float64, vanish bool) {
	fr := sc.fr
	fr.Pivot, fr.Reversed = about, nil
	sum, size := 0.0, 0.0
	for _, c := range sc.b.Row(statics.RowMoment, fr).Cells {
		v := c.Coef.Eval(sc.p.Values) * c.Magnitude.Eval(sc.p.Values)
		list = append(list, v)
		sum, size = sum+v, max(size, math.Abs(v))
	}
	return list, math.Abs(sum) <= 1e-9*max(size, sc.p.ForceScale())
}

// arm reports whether a force has a lever arm about a point.
func (sc *scene) arm(f statics.Force, on *statics.Body, about statics.Point) bool {
	at, _ := on.Point(f.At)
	return !statics.Between(about, at).Arm(f.Dir).IsZero()
}

// clear reports whether the line of a force passes clear of a point, also at
// the problem's own values: where a crate is about to tip, its weight does not.
func (sc *scene) clear(f statics.Force, on *statics.Body, about statics.Point) bool {
	at, _ := on.Point(f.At)
	return sc.arm(f, on, about) && math.Abs(statics.Between(about, at).Arm(f.Dir).Eval(sc.p.Values)) > 1e-6*sc.reach()
}

// reach is how far the points of the body lie apart, in metres.
func (sc *scene) reach() float64 {
	far := 0.0
	for _, p := range sc.b.Points {
		far = max(far, sc.apart(p, sc.b.Points[0]))
	}
	return far
}

// axis reports whether a force has a part along the x axis, or the y axis, as
// the learner laid them.
func (sc *scene) axis(f statics.Force, row statics.RowKind) bool {
	tilt := sc.fr.Tilt
	if row == statics.RowY {
		tilt = tilt.Plus(statics.Deg(90))
	}
	x, y := f.Dir.Components()
	return !x.Times(statics.Cos(tilt)).Plus(y.Times(statics.Sin(tilt))).OrZero().IsZero()
}

// size is how large a force comes out, in newtons.
func (sc *scene) size(f statics.Force) float64 { return f.Magnitude.Eval(sc.p.Values) }

// none reports whether a force is nothing beside the others.
func (sc *scene) none(f statics.Force) bool {
	return math.Abs(sc.size(f)) <= 1e-6*sc.p.ForceScale()
}

func (sc *scene) name(symbol string) string {
	if symbol == "" {
		return ""
	}
	return notation.Display(symbol, sc.ascii)
}

// names is symbols in a sentence: "H and V".
func (sc *scene) names(symbols []string) string {
	var out []string
	for _, s := range symbols {
		out = append(out, sc.name(s))
	}
	return andList(out)
}

func andList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// place is a point with what it is.
func (sc *scene) place(name string) string {
	if p, ok := sc.b.Point(name); ok && p.Meaning != "" {
		return fmt.Sprintf("%s (%s)", notation.Printable(name), notation.Printable(p.Meaning))
	}
	return notation.Printable(name)
}

// apart is how far two points are from each other, in metres.
func (sc *scene) apart(p, q statics.Point) float64 {
	x, y := statics.Between(p, q).XY()
	return math.Hypot(x.Eval(sc.p.Values), y.Eval(sc.p.Values))
}

// other is the first point of the body, no mark, that suits.
func (sc *scene) other(suits func(statics.Point) bool) (statics.Point, bool) {
	i := slices.IndexFunc(sc.b.Points, func(p statics.Point) bool {
		return !p.Mark && sc.apart(p, sc.point) > 1e-9 && suits(p)
	})
	if i < 0 {
		return statics.Point{}, false
	}
	return sc.b.Points[i], true
}

// first is the first force on the body that suits; its symbol is empty if none
// does.
func (sc *scene) first(suits func(statics.Force) bool) statics.Force {
	for _, f := range sc.b.Forces {
		if suits(f) {
			return f
		}
	}
	return statics.Force{}
}

func (sc *scene) weight() (statics.Force, statics.Point) {
	w := sc.first(func(f statics.Force) bool { return f.Kind == statics.Weight })
	p, _ := sc.b.Point(w.At)
	return w, p
}

// coefficient is the symbol of the contact's coefficient of friction: the one
// with a subscript of the contact, or the plain one; "" if the problem gives
// none.
func (sc *scene) coefficient() string {
	subscript := func(symbol string) string { _, sub, _ := strings.Cut(symbol, "_"); return sub }
	for _, name := range []string{"mu_" + subscript(sc.force.Symbol), "mu_" + subscript(sc.force.Pair), "mu_" + sc.force.At, "mu", "mu_s"} {
		if slices.ContainsFunc(sc.p.Givens, func(g problems.Given) bool { return g.Symbol == name }) {
			return name
		}
	}
	return ""
}

// counted is a number of things as a sentence begins with it.
func counted(n int) string {
	words := []string{"None", "One", "Two", "Three", "Four", "Five", "Six"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// drops says which unknowns act through a point: "Two unknowns, H and V, act
// through A (hinge)".
func (sc *scene) drops(about statics.Point) string {
	a := sc.advise(about)
	switch n := len(a.Vanish); n {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("One unknown, %s, acts through %s", sc.names(a.Vanish), sc.place(about.Name))
	default:
		return fmt.Sprintf("%s unknowns, %s, act through %s", counted(n), sc.names(a.Vanish), sc.place(about.Name))
	}
}

// instead says how many unknowns act through the pivot that was chosen.
func (sc *scene) instead() string {
	a := sc.advise(sc.fr.Pivot)
	switch len(a.Vanish) {
	case 0:
		return "none does"
	case 1:
		return "only " + sc.names(a.Vanish) + " does"
	}
	return "only " + sc.names(a.Vanish) + " do"
}
