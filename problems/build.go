package problems

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// reader turns a decoded file into a Scenario, noting every fault on the way.
type reader struct {
	name   string
	file   *file
	places *places // of data; nil for a place typed by a learner
	faults Faults
	s      *Scenario
	table  *notation.Table
	known  []bool // by table index: a given, or defined by givens
}

// fault notes something wrong with the value at path; column is the 1-based
// character inside a quoted value, or 0 for the value as a whole.
func (r *reader) fault(path string, column int, format string, args ...any) {
	f := &Fault{File: r.name, Column: column, Message: fmt.Sprintf(format, args...)}
	if r.places != nil && len(r.faults) < maxFaults {
		f.Line, f.Column = r.places.at(path, column)
	}
	r.note(f)
}

// note keeps a fault; those past the most that are listed are let go, but for
// one, which says that there are more.
func (r *reader) note(f *Fault) {
	if len(r.faults) <= maxFaults {
		r.faults = append(r.faults, f)
	}
}

var (
	idPattern    = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	pointPattern = regexp.MustCompile(`^[A-Z][0-9]?$`)
)

func (r *reader) build() *Scenario {
	f := r.file
	r.s = &Scenario{ID: f.ID, Title: f.Title, Family: f.Family, Level: f.Level, Caution: f.Caution, Skills: f.Skills,
		Statement: strings.Join(strings.Fields(f.Statement), " ")}
	r.head()
	if !r.limits() || !r.symbols() {
		return r.s // nothing below can be read without symbols
	}
	r.definitions()
	for i := range f.Bodies {
		r.body(fmt.Sprintf("bodies.%d", i), &f.Bodies[i])
	}
	if len(f.Bodies) == 0 {
		r.fault("bodies", 0, "no [[bodies]]; a problem needs at least one")
	}
	for i, text := range f.Require {
		r.require(fmt.Sprintf("require.%d", i), text)
	}
	r.steady()
	r.limit()
	for i, d := range f.Figure {
		r.drawn(fmt.Sprintf("figure.%d", i), d)
	}
	if len(r.faults) == 0 {
		r.system()
	}
	return r.s
}

// head checks what is said of the scenario as a whole.
func (r *reader) head() {
	f := r.file
	if !idPattern.MatchString(f.ID) {
		r.fault("id", 0, "an id is small letters, digits and single hyphens, like \"davit-arm\"")
	}
	for _, t := range []struct {
		key, text string
		words     int
		optional  bool
	}{
		{"title", f.Title, 12, false}, {"family", f.Family, 12, false}, {"statement", f.Statement, 150, false}, {"caution", f.Caution, 40, true},
	} {
		if t.text == "" && !t.optional {
			r.fault(t.key, 0, "%s is missing; every scenario says it", t.key)
		}
		if n := len(strings.Fields(t.text)); n > t.words {
			r.fault(t.key, 0, "%s is %d words; keep it to %d", t.key, n, t.words)
		}
		r.printable(t.key, t.text)
	}
	if f.Level < 1 || f.Level > 4 {
		r.fault("level", 0, "level is %d; levels go from 1 to 4", f.Level)
	}
	for i, skill := range f.Skills {
		if !slices.Contains(Skills, skill) {
			r.fault(fmt.Sprintf("skills.%d", i), 0, "\"%s\" is no skill; skills are %s", notation.PrintableMax(skill, 40), strings.Join(Skills, ", "))
		}
	}
}

// limits refuses files with more in them than a problem could mean, so that
// none can take long to read.
func (r *reader) limits() bool {
	f := r.file
	before := len(r.faults)
	check := func(path string, n, most int) {
		if n > most {
			r.fault(path, 0, "%d %s are more than a problem needs; the most is %d", n, path[strings.LastIndexByte(path, '.')+1:], most)
		}
	}
	check("givens", len(f.Givens), notation.MaxSymbols)
	check("unknowns", len(f.Unknowns), notation.MaxSymbols)
	check("defined", len(f.Defined), notation.MaxSymbols)
	check("require", len(f.Require), 32)
	check("skills", len(f.Skills), len(Skills))
	check("figure", len(f.Figure), 100)
	check("bodies", len(f.Bodies), 6)
	for i := range f.Bodies[:min(len(f.Bodies), 6)] {
		b, path := &f.Bodies[i], fmt.Sprintf("bodies.%d.", i)
		check(path+"points", len(b.Points), 26)
		check(path+"marks", len(b.Marks), 26)
		check(path+"forces", len(b.Forces), 24)
		check(path+"supports", len(b.Supports), 12)
		check(path+"loads", len(b.Loads), 12)
		check(path+"couples", len(b.Couples), 12)
	}
	return len(r.faults) == before
}

var blanks = strings.NewReplacer("\n", " ", "\r\n", " ", "\t", " ")

func (r *reader) printable(path, text string) {
	if text = blanks.Replace(text); notation.Printable(text) == text {
		return
	}
	for _, c := range text {
		if notation.Printable(string(c)) != string(c) {
			r.fault(path, 0, "holds a character that does not print (%s); take it out", notation.Printable(string(c)))
			return
		}
	}
}

func (r *reader) unit(path, text string) notation.Unit {
	u, err := notation.ParseUnit(text)
	if err != nil {
		r.unread(path, err, 0)
	}
	return u
}

// symbols reads the givens, unknowns and defined symbols, and makes the table.
func (r *reader) symbols() bool {
	before := len(r.faults)
	var specs []notation.Spec
	seen := map[string]bool{}
	degrees := false
	add := func(path, symbol string, u notation.Unit) int {
		if seen[symbol] {
			r.fault(path+".symbol", 0, "symbol %s is named twice; each symbol means one thing", quote(symbol))
		}
		seen[symbol] = true
		angle := notation.SameDim(u, radian)
		degrees = degrees || (angle && u.Name != "rad")
		if _, err := notation.NewTable(false, notation.Spec{Name: symbol}); err != nil {
			r.fault(path+".symbol", 0, "%v", err)
		}
		specs = append(specs, notation.Spec{Name: symbol, Angle: angle})
		return len(specs) - 1
	}
	for i, g := range r.file.Givens {
		r.given(fmt.Sprintf("givens.%d", i), g, add)
	}
	if r.file.Unknowns == nil {
		r.fault("unknowns", 0, "no [[unknowns]]; a problem needs something to find")
	}
	for i, u := range r.file.Unknowns {
		path := fmt.Sprintf("unknowns.%d", i)
		unit := r.unit(path+".unit", u.Unit)
		r.printable(path+".meaning", u.Meaning)
		r.s.Unknowns = append(r.s.Unknowns, Unknown{u.Symbol, u.Meaning, unit, add(path, u.Symbol, unit), Linear})
	}
	for i, d := range r.file.Defined {
		path := fmt.Sprintf("defined.%d", i)
		def := Defined{Symbol: d.Symbol, Meaning: d.Meaning, Text: d.Is}
		if j := slices.IndexFunc(r.s.Unknowns, func(u Unknown) bool { return u.Symbol == d.Symbol }); j >= 0 {
			r.s.Unknowns[j].Role = Dependent
			def.Index, def.Unit = r.s.Unknowns[j].Index, r.s.Unknowns[j].Unit
			def.Meaning = r.s.Unknowns[j].Meaning
		} else {
			def.Unit = r.unit(path+".unit", d.Unit)
			def.Index = add(path, d.Symbol, def.Unit)
		}
		r.printable(path+".meaning", d.Meaning)
		r.s.Defined = append(r.s.Defined, def)
	}
	if len(r.faults) > before {
		return false
	}
	t, err := notation.NewTable(degrees, specs...)
	if err != nil {
		r.fault("givens", 0, "%v", err)
		return false
	}
	r.table, r.s.Table = t, t
	return true
}

var radian = must(notation.ParseUnit("rad"))

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Limits on what a given may be drawn from.
const (
	maxGiven = 1e12 // in its unit
	maxSteps = 1e6
)

func (r *reader) given(path string, g fileGiven, add func(path, symbol string, u notation.Unit) int) {
	u := r.unit(path+".unit", g.Unit)
	r.printable(path+".meaning", g.Meaning)
	out := Given{Symbol: g.Symbol, Meaning: g.Meaning, Unit: u}
	switch {
	case g.Value != nil && (g.From != nil || g.To != nil || g.Step != nil):
		r.fault(path+".value", 0, "a given has a value, or from, to and step, not both")
	case g.Value != nil:
		out.From, out.To = *g.Value, *g.Value
	case g.From == nil || g.To == nil || g.Step == nil:
		r.fault(path, 0, "given %s needs from, to and step, or one value", quote(g.Symbol))
	default:
		out.From, out.To, out.Step = *g.From, *g.To, *g.Step
	}
	sized := true
	for _, v := range []struct {
		key string
		of  *float64
	}{{"value", g.Value}, {"from", g.From}, {"to", g.To}, {"step", g.Step}} {
		if v.of != nil && !(math.Abs(*v.of) <= maxGiven) {
			r.fault(path+"."+v.key, 0, "%s is %g; write a finite number, no larger than %g", v.key, *v.of, maxGiven)
			sized = false
		}
	}
	if sized && g.From != nil && g.To != nil && g.Step != nil {
		switch {
		case out.To <= out.From:
			r.fault(path+".from", 0, "from must be below to; for one value write value = %g", out.From)
		case out.Step <= 0:
			r.fault(path+".step", 0, "step must be above zero")
		case (out.To-out.From)/out.Step > maxSteps:
			r.fault(path+".step", 0, "%.3g steps from %g to %g are too many to draw from; take a longer step", (out.To-out.From)/out.Step, out.From, out.To)
		}
	}
	out.Index = add(path, g.Symbol, u)
	r.s.Givens = append(r.s.Givens, out)
}

// quote shows a name from the file.
func quote(name string) string { return `"` + notation.PrintableMax(name, 40) + `"` }

// unread notes that a text could not be read; shift is how many characters of
// the value come before it.
func (r *reader) unread(path string, err error, shift int) {
	var e *notation.Error
	if !errors.As(err, &e) {
		r.fault(path, 0, "%s", notation.Printable(err.Error()))
		return
	}
	message := e.Reason
	if e.Suggestion != "" {
		message += "; " + e.Suggestion
	}
	r.fault(path, e.At+shift, "%s", message)
}

// expr reads an expression in the scenario's symbols.
func (r *reader) expr(path, text string) notation.Node {
	return r.exprAt(path, text, 0)
}

func (r *reader) exprAt(path, text string, shift int) notation.Node {
	n, err := r.table.Parse(text)
	if err != nil {
		r.unread(path, err, shift)
		return nil
	}
	return n
}

func (r *reader) sum(path, text string) statics.Sum {
	if n := r.expr(path, text); n != nil {
		return statics.FromNode(n)
	}
	return nil
}

func (r *reader) angle(path, text string) (statics.Angle, bool) {
	return r.angleAt(path, text, 0)
}

func (r *reader) angleAt(path, text string, shift int) (statics.Angle, bool) {
	n := r.exprAt(path, text, shift)
	if n == nil {
		return statics.Angle{}, false
	}
	shift += utf8.RuneCountInString(text) - utf8.RuneCountInString(strings.TrimLeft(text, " \t"))
	a, ok := statics.AngleFromNode(n)
	if !ok {
		r.fault(path, 1+shift, "an angle is a sum of angle symbols and degrees, like \"180 - alpha\"")
		return a, false
	}
	for _, t := range a.Terms {
		if !r.table.IsAngle(t.Index) {
			r.fault(path, 1+shift, "%s is not an angle; give it the unit deg or rad", t.Name)
			return a, false
		}
	}
	return a, true
}

// definitions reads what defined symbols stand for, each by what comes before
// it, and sorts out which symbols are known before the rows are solved.
func (r *reader) definitions() {
	r.known = make([]bool, r.table.Len())
	for _, g := range r.s.Givens {
		r.known[g.Index] = true
	}
	later := map[int]bool{}
	for _, d := range r.s.Defined {
		later[d.Index] = true
	}
	for i := range r.s.Defined {
		path := fmt.Sprintf("defined.%d.is", i)
		d := &r.s.Defined[i]
		n := r.expr(path, d.Text)
		if n == nil {
			continue
		}
		known, sound := true, true
		for _, used := range notation.Symbols(n) {
			if later[used] {
				r.fault(path, 0, "%s is defined by %s, which is not defined before it; put it first", d.Symbol, r.table.Name(used))
				sound = false
			}
			known = known && r.known[used]
		}
		if sound {
			d.Is, r.known[d.Index] = n, known
			delete(later, d.Index)
			r.s.defs = append(r.s.defs, statics.Definition{Index: d.Index, Is: n})
		}
	}
}

func (r *reader) require(path, text string) {
	at := strings.IndexAny(text, "<>")
	if at < 0 || strings.ContainsAny(text[at+1:], "<>=") {
		r.fault(path, 1, "a requirement is one inequality, like \"d < L\"")
		return
	}
	left := r.exprAt(path, text[:at], 0)
	right := r.exprAt(path, text[at+1:], len([]rune(text[:at+1])))
	if left != nil && right != nil {
		uses := append(notation.Symbols(left), notation.Symbols(right)...)
		early := !slices.ContainsFunc(uses, func(i int) bool { return !r.known[i] })
		r.s.requires = append(r.s.requires, requirement{strings.TrimSpace(text), left, right, text[at] == '<', early})
	}
}

func (r *reader) steady() {
	f := r.file.Steady
	if f == nil {
		return
	}
	b, ok := r.s.Body("")
	if !ok {
		return
	}
	if _, ok := b.Force(f.Inertia); !ok {
		r.fault("steady.inertia", 0, "no force %s on the first body; name its inertia force", quote(f.Inertia))
	}
	if _, ok := b.Point(f.Centre); !ok {
		r.fault("steady.centre", 0, "no point %s on the first body; name its centre of mass", quote(f.Centre))
	}
	r.s.Steady = &Steady{f.Inertia, f.Centre}
}
