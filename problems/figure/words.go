package figure

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Words tells the figure in sentences, for those who hear it read: what is
// drawn, its measures, the forces so far, the pivot, and the force in hand.
// It tells no more than the figure shows: what is to be found goes by its
// symbol.
func Words(p *problems.Problem, v View) []string {
	b := newBuilder(p, v)
	for _, d := range p.Figure { // faces first: they say how supports stand
		if t, ok := things[d.Draw]; ok && t.stage == behind {
			t.draw(b, d)
		}
	}
	t := &teller{builder: b, named: map[string]bool{}, measured: map[string]bool{}}
	t.apart()
	for _, stage := range []int{members, behind, measures} {
		for _, d := range p.Figure {
			if tell, ok := told[d.Draw]; ok && things[d.Draw].stage == stage {
				t.say(tell(t, d))
			}
		}
	}
	t.joints()
	t.loads()
	t.couples()
	t.forces()
	t.pivot()
	t.axes()
	t.selected()
	t.scale()
	return t.lines
}

// teller gathers the sentences.
type teller struct {
	*builder
	lines    []string
	named    map[string]bool // points whose meaning has been told
	measured map[string]bool // lengths told with their member
}

func (t *teller) say(line string) {
	if line != "" {
		t.lines = append(t.lines, line+".")
	}
}

// point names a point; the first time with its meaning: "A (hinge)".
func (t *teller) point(name string) string {
	pt, _ := t.builder.point(name)
	if pt.Meaning == "" || t.named[name] {
		return notation.Printable(name)
	}
	t.named[name] = true
	return notation.Printable(name + " (" + pt.Meaning + ")")
}

// bodyAt names the body that some points are of.
func (t *teller) bodyAt(points ...string) string {
	if body, ok := t.bodyOf(points...); ok {
		return notation.Printable(body.Name)
	}
	return "body"
}

// apart says which of several bodies is in view.
func (t *teller) apart() {
	if t.own == nil || len(t.p.Bodies) < 2 {
		return
	}
	var faint []string
	for _, body := range t.bodies() {
		if !t.plain(body) {
			faint = append(faint, "the "+notation.Printable(body.Name))
		}
	}
	name := notation.Printable(t.own.Name)
	switch {
	case len(faint) > 0:
		t.say(fmt.Sprintf("The body in view is the %s; %s drawn fainter", name, series(faint)+map[bool]string{true: " is", false: " are"}[len(faint) == 1]))
	case t.own.Whole():
		var parts []string
		for _, of := range t.own.Of {
			parts = append(parts, "the "+notation.Printable(of))
		}
		t.say(fmt.Sprintf("The body in view is the %s: %s as one", name, series(parts)))
	}
}

// joints tells what holds the bodies together.
func (t *teller) joints() {
	verbs := map[statics.ForceKind]string{statics.Pin: "are pinned together", statics.Normal: "touch"}
	for _, j := range t.jointsOf() {
		t.say(fmt.Sprintf("The %s and the %s %s at %s", notation.Printable(j.on[0]), notation.Printable(j.on[1]), verbs[j.kind], t.point(j.at)))
	}
}

// series joins names: "a", "a and b", "a, b and c".
func series(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

func symbol(name string) string { return Caption{Symbol: name}.Short(false) }

// way says where a displacement leads: "right", "up and left".
func way(d Vec) string {
	u, level := "", ""
	l := math.Hypot(d.X, d.Y)
	if d.Y > l*1e-6 {
		u = "up"
	} else if d.Y < -l*1e-6 {
		u = "down"
	}
	if d.X > l*1e-6 {
		level = "right"
	} else if d.X < -l*1e-6 {
		level = "left"
	}
	if u != "" && level != "" {
		return u + " and " + level
	}
	return u + level
}

// between says how a line runs: "right from A (hinge) to B (tip)".
func (t *teller) between(from, to string) string {
	return way(t.at(to).minus(t.at(from))) + " from " + t.point(from) + " to " + t.point(to)
}

// lengthOf is the dimension drawn between two points, if there is one.
func (t *teller) lengthOf(from, to string) (Caption, bool) {
	for _, d := range t.p.Figure {
		if d.Draw == "length" && (d.From == from && d.To == to || d.From == to && d.To == from) {
			return t.caption(d.Label), true
		}
	}
	return Caption{}, false
}

// amount is a caption in a sentence: "L = 3.2 m", "r₂, to be found".
func amount(c Caption) string {
	if c.Asked {
		return c.Short(false) + ", to be found"
	}
	return c.Full(false)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// ties bring their force from the other body by something between.
var ties = map[statics.ForceKind]bool{statics.Tension: true, statics.Link: true, statics.Spring: true}

// verbs of forces; others act.
var verbs = map[statics.ForceKind]string{statics.Tension: "pulls", statics.Normal: "pushes"}

func (t *teller) forces() {
	if len(t.v.Forces) == 0 {
		t.say("No forces are drawn yet")
	}
	if t.v.Unjudged {
		t.asWritten()
		return
	}
	for _, l := range t.v.Forces {
		if _, f, ok := t.force(l.Symbol); ok {
			verb, ok := verbs[f.Kind]
			if !ok {
				verb = "acts"
			}
			from := ""
			if f.Joint != "" && t.own != nil && !ties[f.Kind] {
				from = ", exerted by the " + notation.Printable(f.Joint)
			}
			t.say(fmt.Sprintf("%s%s %s at %s, %s%s", symbol(l.Symbol), t.meaning(f.Meaning, heading(t.angleOf(f, Listed{})), l), verb, t.place(l.At, f.At), t.slope(f, l), from))
		} else if body, c, ok := t.couple(l.Symbol); ok {
			turn := "anticlockwise"
			if (c.Sense < 0) != l.Reversed {
				turn = "clockwise"
			}
			t.say(fmt.Sprintf("%s%s turns the %s %s", symbol(l.Symbol), t.meaning(c.Meaning, Vec{}, l), notation.Printable(body.Name), turn))
		}
	}
}

// sense is the end of a meaning that says which way a force or couple acts.
var sense = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`, (?:to the )?(right|left|up|down|upward|downward|clockwise|anticlockwise)$`)
})

// meaning says what a force is. Its sense is left to the rest of the sentence,
// which has it as the learner assumes it; a joint's force whose meaning is told
// of the other body is called the opposite of that.
func (t *teller) meaning(text string, own Vec, l Listed) string {
	if m := sense().FindStringSubmatchIndex(text); m != nil {
		told, ahead := text[m[2]:m[3]], straight[way(own)]
		text = text[:m[0]]
		if ahead != "" && !strings.Contains(told, "clock") && !strings.Contains(ahead, told) {
			text = "equal and opposite to the " + text
		}
	}
	if l.Reversed {
		text = strings.TrimPrefix(text+", taken the other way", ", ")
	}
	if text == "" {
		return ""
	}
	return " (" + notation.Printable(text) + ")"
}

// place names where the learner has a force.
func (t *teller) place(at, reference string) string {
	if pt, ok := t.builder.point(at); ok {
		return t.point(pt.Name)
	}
	return t.point(reference)
}

var straight = map[string]string{"right": "to the right", "left": "to the left", "up": "upward", "down": "downward"}

// slope says the direction of a force: by words where it is level or upright,
// else with its angle to the level, by symbol where the scenario has one.
func (t *teller) slope(f statics.Force, l Listed) string {
	a := t.angleOf(f, l)
	u := heading(a)
	text := way(u)
	if toward, ok := straight[text]; ok {
		return toward
	}
	side := "above"
	if u.Y < 0 {
		side = "below"
	}
	if f.Dir.Toward != "" {
		if l.Reversed {
			return text + ", away from " + t.point(f.Dir.Toward)
		}
		return text + ", toward " + t.point(f.Dir.Toward)
	}
	for _, quarter := range []float64{0, 180, -180, 360, -360} {
		rest := f.Dir.Angle.Minus(statics.Deg(quarter))
		if rest.Degrees == 0 && len(rest.Terms) == 1 && math.Abs(rest.Terms[0].Coef) == 1 {
			c := t.caption(rest.Terms[0].Name)
			c.Asked = false // its angle sentence has said so
			return fmt.Sprintf("%s, %s %s the level", text, c.Full(false), side)
		}
	}
	if len(f.Dir.Angle.Terms) > 0 { // may hold what is to be found
		return text
	}
	off := math.Asin(min(math.Abs(u.Y), 1)) * 180 / math.Pi
	return fmt.Sprintf("%s, %s° %s the level", text, problems.Figures(off, 3), side)
}

func (t *teller) pivot() {
	pt, ok := t.builder.point(t.v.Pivot)
	if !ok {
		t.say("No pivot is chosen yet")
		return
	}
	turn := "anticlockwise"
	if t.v.Clockwise {
		turn = "clockwise"
	}
	t.say(fmt.Sprintf("The pivot is %s; %s moments are positive", t.point(pt.Name), turn))
}

func (t *teller) selected() {
	at, u, ok := t.inHand()
	if !ok {
		return
	}
	name := notation.Printable(symbol(t.v.Selected))
	pt, ok := t.builder.point(t.v.Pivot)
	if !ok || t.armIsAsked() {
		t.say(fmt.Sprintf("The line of action of %s is drawn", name))
		return
	}
	off := place(pt, t.values).minus(at)
	if math.Abs(u.cross(off)) < 1e-6*t.size {
		t.say(fmt.Sprintf("The line of action of %s goes through the pivot", name))
		return
	}
	t.say(fmt.Sprintf("The line of action of %s is drawn, and the arm from the pivot square to it", name))
}

// scale warns of what is drawn at a place that means nothing.
func (t *teller) scale() {
	z := t.p.Search()
	if z < 0 || t.v.Learned[t.p.Table.Name(z)] {
		return
	}
	other := append([]float64(nil), t.values...)
	other[z] *= 1.01
	statics.Define(t.p.Definitions(), other)
	var moved []string
	for _, b := range t.p.Bodies {
		for _, pt := range b.Points {
			if !place(pt, other).near(place(pt, t.values), 1e-9*t.size) {
				moved = append(moved, t.point(pt.Name))
			}
		}
	}
	if len(moved) > 0 {
		t.say(fmt.Sprintf("Not to scale: %s is to be found, so %s may be elsewhere", symbol(t.p.Table.Name(z)), series(moved)))
	}
}
