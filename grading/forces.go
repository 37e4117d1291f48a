package grading

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Listed is one force as the learner listed it.
type Listed struct {
	Symbol   string // the scenario's
	At       string
	Reversed bool // assumed the other way from the scenario's
}

// MaxListed bounds the lines of a list of forces.
const MaxListed = 32

// Forces grades the list of forces on the body: lines like "T at B toward C",
// "W at G down", "C clockwise", separated by new lines or semicolons. What was
// understood comes back with the verdict, right or wrong, and is whole only if
// the verdict is right.
func (g *Grader) Forces(answer string) (Verdict, []Listed) {
	lines := strings.FieldsFunc(answer, func(c rune) bool { return c == '\n' || c == ';' })
	var list []Listed
	var reads []string
	var faults []Verdict
	seenAt := map[string]bool{}
	column := 1
	if len(lines) > MaxListed {
		return Verdict{Outcome: Unreadable, At: 1, Message: fmt.Sprintf("That is %d lines; a body here has far fewer forces. List each once.", len(lines))}, nil
	}
	for _, line := range lines {
		at := column + len([]rune(line)) - len([]rune(strings.TrimLeft(line, " \t\r")))
		column += len([]rune(line)) + 1
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		l, v, known := g.oneForce(line)
		if v.Outcome == Unreadable {
			v.At += at - 1
			return v, nil
		}
		if known && seenAt[l.Symbol] {
			v = g.slipped("", "listed-twice", g.entryFor(l.Symbol))
		}
		if v.Outcome == Wrong {
			faults = append(faults, v)
			if !known {
				continue
			}
		}
		if known && !seenAt[l.Symbol] {
			seenAt[l.Symbol] = true
			list = append(list, l)
			reads = append(reads, v.ReadsAs)
		}
	}
	if len(lines) == 0 || len(list)+len(faults) == 0 {
		return Verdict{Outcome: Unreadable, At: 1, Message: "List the forces, one a line: a symbol, where it acts and which way, like \"W at G down\"."}, nil
	}
	missing, excused := g.missing(list)
	faults = append(faults, missing...)
	return merge(faults, strings.Join(reads, "; "), excused), list
}

// merge makes one verdict of a list's faults: every slip, and what to say of
// the first two.
func merge(faults []Verdict, reads, excused string) Verdict {
	if len(faults) == 0 {
		if excused != "" {
			return remark(reads, excused)
		}
		return right(reads)
	}
	v := Verdict{Outcome: Wrong, ReadsAs: reads}
	var say []string
	for _, f := range faults {
		for _, code := range f.Slips {
			if !slices.Contains(v.Slips, code) {
				v.Slips = append(v.Slips, code)
			}
		}
		if len(say) < 2 && !slices.Contains(say, f.Message) {
			say = append(say, f.Message)
		}
	}
	v.Message = strings.Join(say, " ")
	if more := len(faults) - len(say); more > 0 {
		v.Message += fmt.Sprintf(" (%d more.)", more)
	}
	return v
}

func (g *Grader) entryFor(symbol string) slip.Entry {
	i, err := g.entry(symbol)
	if err != nil {
		return slip.Entry{Given: notation.Printable(symbol)}
	}
	return entryOf(g.p.Scenario, g.body, i, statics.RowMoment, g.frame)
}

// missing says which forces are not in the list. A steadily accelerating
// body's inertia force may be left out by one who takes moments about the
// centre of mass.
func (g *Grader) missing(list []Listed) (faults []Verdict, excused string) {
	for i := range g.count() {
		s := g.symbolOf(i)
		if slices.ContainsFunc(list, func(l Listed) bool { return l.Symbol == s }) {
			continue
		}
		e := entryOf(g.p.Scenario, g.body, i, statics.RowMoment, g.frame)
		if st := g.p.Steady; st != nil && s == st.Inertia {
			if g.frame.Pivot.Name == st.Centre {
				excused = fmt.Sprintf("Right: about %s, %s has no moment. In the sums along x and y it stands as mass times acceleration.", st.Centre, notation.Display(s, false))
				continue
			}
			e.Given = "the acceleration: about any point but " + st.Centre + ", the inertia force counts"
		} else if e.Couple != nil {
			e.Given = "what turns the " + g.body.Name + " without pushing it"
		} else if e.Force.Kind == statics.Weight {
			e.Given = "what is heavy: " + e.Force.Meaning
		} else {
			e.Given = "what happens at " + pointName(g.body, e.Force.At)
		}
		v := g.slipped("", "force-missing", e)
		v.Message, _, _ = strings.Cut(v.Message, "\n")
		faults = append(faults, v)
	}
	return faults, excused
}

func pointName(b *statics.Body, name string) string {
	if p, ok := b.Point(name); ok && p.Meaning != "" {
		return fmt.Sprintf("%s (%s)", name, p.Meaning)
	}
	return name
}

var (
	forceLine  = regexp.MustCompile(`(?i)^(.+?)\s+(?:at|on)\s+([A-Za-z][0-9]?)[\s,]+(.+)$`)
	coupleLine = regexp.MustCompile(`(?i)^(.+?)[\s,]+((?:anti|counter)?-?clockwise|ccw|cw)$`)
)

// oneForce grades one line of the list; known says that l names a force of the
// body, rightly placed or not.
func (g *Grader) oneForce(line string) (l Listed, v Verdict, known bool) {
	if m := coupleLine.FindStringSubmatch(line); m != nil {
		return g.oneCouple(m[1], strings.ToLower(m[2]))
	}
	m := forceLine.FindStringSubmatch(line)
	if m == nil {
		return l, Verdict{Outcome: Unreadable, At: 1, Message: fmt.Sprintf("\"%s\" is not read: write a symbol, where it acts and which way, like \"W at G down\" or \"T at B toward C\".", notation.PrintableMax(line, 40))}, false
	}
	name, at, way := strings.TrimSpace(m[1]), strings.ToUpper(m[2]), strings.TrimSpace(m[3])
	if _, ok := g.body.Point(at); !ok {
		return l, Verdict{Outcome: Unreadable, At: len([]rune(m[1])) + 2, Message: fmt.Sprintf("There is no point %s here; points are %s.", notation.Printable(at), bodyPoints(g.body))}, false
	}
	h, err := g.heading(way, at)
	if err != nil {
		return l, Verdict{Outcome: Unreadable, At: strings.Index(line, m[3]) + 1, Message: err.Error()}, false
	}
	i, ok := g.find(name, at)
	if !ok {
		v := g.slipped("", "not-on-body", slip.Entry{Given: "\"" + notation.PrintableMax(name, 24) + "\""})
		return l, v, false
	}
	f := g.body.Forces[i]
	l = Listed{Symbol: f.Symbol, At: f.At}
	reads := fmt.Sprintf("%s at %s %s", notation.Display(f.Symbol, false), at, notation.Printable(way))
	e := entryOf(g.p.Scenario, g.body, i, statics.RowMoment, g.frame)
	if at != f.At && !g.sameLine(f, at) {
		e.Place = at
		v := g.slipped(reads, "misplaced", e)
		return l, v, true
	}
	switch along, against := h.fits(f.Dir.Radians(g.p.Values)), h.fits(f.Dir.Radians(g.p.Values)+math.Pi); {
	case along:
		return l, right(reads), true
	case against && f.Kind == statics.Friction && f.Sliding:
		return l, g.slipped(reads, "friction-reversed", e), true
	case against && f.Unknown && f.Kind.Assumable():
		l.Reversed = true
		return l, right(reads), true
	case against:
		v := g.slipped(reads, "sense-reversed", e)
		v.Message = fmt.Sprintf("%s (%s) cannot act that way: a %s", notation.Display(f.Symbol, false), f.Meaning, oneWay[f.Kind])
		return l, v, true
	}
	return l, g.slipped(reads, "wrong-direction", e), true
}

var oneWay = map[statics.ForceKind]string{
	statics.Weight:  "weight pulls down.",
	statics.Normal:  "contact can only push.",
	statics.Tension: "cable can only pull.",
	statics.Inertia: "inertia force points against the acceleration.",
	statics.Applied: "given force acts as it is given.",
	statics.Spread:  "load presses the way it is given.",
}

func bodyPoints(b *statics.Body) string {
	var out []string
	for _, p := range b.Points {
		if !p.Mark {
			out = append(out, p.Name)
		}
	}
	return strings.Join(out, ", ")
}

func (g *Grader) oneCouple(name, sense string) (l Listed, v Verdict, known bool) {
	name = strings.TrimSpace(name)
	for i, c := range g.body.Couples {
		if c.Symbol != name {
			continue
		}
		l = Listed{Symbol: c.Symbol}
		clockwise := sense == "cw" || sense == "clockwise"
		reads := notation.Display(c.Symbol, false) + " " + map[bool]string{true: "clockwise", false: "anticlockwise"}[clockwise]
		if clockwise == (c.Sense < 0) {
			return l, right(reads), true
		}
		if c.Unknown {
			l.Reversed = true
			return l, right(reads), true
		}
		e := entryOf(g.p.Scenario, g.body, len(g.body.Forces)+i, statics.RowMoment, g.frame)
		return l, g.slipped(reads, "sense-reversed", e), true
	}
	return l, g.slipped("", "not-on-body", slip.Entry{Given: "\"" + notation.PrintableMax(name, 24) + "\""}), false
}

// find finds a force by symbol, in any of the ways the symbol may be
// written, or by its size.
func (g *Grader) find(name, at string) (int, bool) {
	if i, ok := g.body.Force(name); ok {
		return i, true
	}
	n, err := g.p.Table.Parse(name)
	if err != nil {
		return 0, false
	}
	if s, ok := n.(*notation.Symbol); ok {
		if i, ok := g.body.Force(s.Name); ok {
			return i, true
		}
	}
	if i, ok := g.bySize(n, at); ok {
		return i, true
	}
	return g.bySize(n, "")
}

// sameLine reports whether point at lies on the force's line of action, where
// the force does the same.
func (g *Grader) sameLine(f statics.Force, at string) bool {
	here, _ := g.body.Point(f.At)
	there, _ := g.body.Point(at)
	return f.Kind != statics.Weight && !there.Mark && statics.Between(here, there).Arm(f.Dir).IsZero()
}

// heading is which way a line says a force points: a quadrant, or an angle.
type heading struct {
	dx, dy int // words; 0, 0 if an angle was given
	angle  float64
}

// fits reports whether an angle is that way, within a degree for directions
// that are exact.
func (h heading) fits(angle float64) bool {
	const degree = math.Pi / 180
	if h.dx == 0 && h.dy == 0 {
		return math.Cos(angle-h.angle) > math.Cos(degree)
	}
	c, s := math.Cos(angle), math.Sin(angle)
	same := func(v float64, d int) bool {
		if d == 0 {
			return math.Abs(v) < math.Sin(degree)
		}
		return v*float64(d) > math.Sin(degree)
	}
	return same(c, h.dx) && same(s, h.dy)
}

var ways = map[string][2]int{
	"up": {0, 1}, "upward": {0, 1}, "upwards": {0, 1}, "down": {0, -1}, "downward": {0, -1}, "downwards": {0, -1},
	"left": {-1, 0}, "right": {1, 0}, "forward": {1, 0}, "backward": {-1, 0}, "leftward": {-1, 0}, "rightward": {1, 0},
}

var angleWords = regexp.MustCompile(`(?i)^(?:at\s+)?(?:an\s+)?(?:angle\s+)?(?:of\s+)?(.+)$`)

// heading reads "up", "up and left", "toward C", "away from C", "along AB",
// or an angle anticlockwise from +x: "at 145 deg", "180 - alpha".
func (g *Grader) heading(way, at string) (heading, error) {
	words := strings.FieldsFunc(strings.ToLower(way), func(c rune) bool { return c == ' ' || c == ',' || c == '-' })
	words = slices.DeleteFunc(words, func(w string) bool { return w == "and" || w == "to" || w == "the" })
	h := heading{}
	ok := len(words) > 0 && len(words) <= 2
	for _, w := range words {
		d, found := ways[w]
		ok = ok && found
		h.dx, h.dy = h.dx+d[0], h.dy+d[1]
	}
	if ok && (h.dx != 0 || h.dy != 0) {
		return h, nil
	}
	fields := strings.Fields(way)
	if len(fields) > 0 {
		switch first := strings.ToLower(fields[0]); {
		case (first == "toward" || first == "towards") && len(fields) == 2:
			return g.aim(at, fields[1], 0)
		case first == "away" && len(fields) == 3:
			return g.aim(at, fields[2], math.Pi)
		case first == "along" && len(fields) == 2 && len(fields[1]) == 2:
			return g.aim(fields[1][:1], fields[1][1:], 0)
		}
	}
	if m := angleWords.FindStringSubmatch(way); m != nil {
		if n, err := g.p.Table.Parse("sin(" + m[1] + ")"); err == nil {
			if call, ok := n.(*notation.Call); ok {
				if a, ok := statics.AngleFromNode(call.Arg); ok {
					return heading{angle: a.Eval(g.p.Values)}, nil
				}
			}
		}
	}
	return heading{}, fmt.Errorf("which way? Say up, down, left, right, two of them (up left), toward or away from a point, or an angle like 145 deg")
}

func (g *Grader) aim(from, to string, turn float64) (heading, error) {
	a, ok1 := g.body.Point(strings.ToUpper(from))
	b, ok2 := g.body.Point(strings.ToUpper(to))
	if !ok1 || !ok2 {
		return heading{}, fmt.Errorf("there is no point \"%s\" here; points are %s", notation.PrintableMax(to, 12), pointList(g.body))
	}
	ax, ay := a.XY(g.p.Values)
	bx, by := b.XY(g.p.Values)
	if math.Hypot(bx-ax, by-ay) < 1e-9 {
		return heading{}, fmt.Errorf("%s and %s are one place, so that is no direction", a.Name, b.Name)
	}
	return heading{angle: math.Atan2(by-ay, bx-ax) + turn}, nil
}

func pointList(b *statics.Body) string {
	var out []string
	for _, p := range b.Points {
		out = append(out, p.Name)
	}
	return strings.Join(out, ", ")
}

// Pivot grades the choice of a pivot: every point is allowed, and a longer way
// is remarked on.
func (g *Grader) Pivot(answer string) (Verdict, statics.Point) {
	answer = strings.TrimSpace(answer)
	if answer == "" {
		return Verdict{Outcome: Unreadable, At: 1, Message: "Name a point, like " + g.body.Points[0].Name + "."}, statics.Point{}
	}
	p, err := g.p.Place(g.body, answer)
	if err != nil {
		if q, err2 := g.p.Place(g.body, strings.ToUpper(answer)); err2 == nil {
			p, err = q, nil
		}
	}
	if err != nil {
		return Verdict{Outcome: Unreadable, At: 1, Message: err.Error()}, statics.Point{}
	}
	mine := g.body.AdviseAt(p)
	best := mine
	for _, a := range g.body.Advise() {
		if len(a.Vanish) > len(best.Vanish) {
			best = a
		}
	}
	reads := "moments about " + pointName(g.body, p.Name)
	if len(best.Vanish) > len(mine.Vanish) {
		return remark(reads, fmt.Sprintf("Allowed. About %s, %s in the moment row; another point would leave fewer.", p.Name, left(mine))), p
	}
	return right(reads), p
}

// left says how many unknown forces stay in the moment row.
func left(a statics.PivotAdvice) string {
	switch n := a.Unknowns - len(a.Vanish); n {
	case 1:
		return "one unknown force stays"
	default:
		return fmt.Sprintf("%d unknown forces stay", n)
	}
}
