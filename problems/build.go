package problems

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
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
	idPattern = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	})
	pointPattern = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^[A-Z][0-9]?$`)
	})
)

func (r *reader) build() *Scenario {
	f := r.file
	r.s = &Scenario{Card: f.card()}
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
	for i, j := range f.Joints {
		r.joint(fmt.Sprintf("joints.%d", i), j)
	}
	r.wholes()
	for i, text := range f.Require {
		r.require(fmt.Sprintf("require.%d", i), text)
	}
	r.steady()
	r.limit()
	for i, a := range f.Asks {
		r.ask(fmt.Sprintf("asks.%d", i), a)
	}
	for i, h := range f.Hints {
		r.hint(fmt.Sprintf("hints.%d", i), h)
	}
	for i, o := range f.Slips {
		if len(f.Bodies) > 0 {
			r.slip(fmt.Sprintf("slips.%d", i), o)
		}
	}
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
	if !idPattern().MatchString(f.ID) {
		r.fault("id", 0, "an id is small letters, digits and single hyphens, like \"davit-arm\"")
	}
	for _, t := range []struct {
		key, text string
		words     int
		optional  bool
	}{
		{"title", f.Title, 12, false}, {"family", f.Family, 12, false}, {"statement", f.Statement, 90, false}, {"caution", f.Caution, 40, true},
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
			r.fault(path, 0, "%s holds %d; the most that a problem needs is %d", path[strings.LastIndexByte(path, '.')+1:], n, most)
		}
	}
	check("givens", len(f.Givens), notation.MaxSymbols)
	check("unknowns", len(f.Unknowns), notation.MaxSymbols)
	check("defined", len(f.Defined), notation.MaxSymbols)
	check("require", len(f.Require), 32)
	check("skills", len(f.Skills), len(Skills))
	check("figure", len(f.Figure), 100)
	check("bodies", len(f.Bodies), 6)
	check("joints", len(f.Joints), 12)
	check("hints", len(f.Hints), 100)
	check("slips", len(f.Slips), 24)
	check("asks", len(f.Asks), 4)
	for i := range f.Asks {
		check(fmt.Sprintf("asks.%d.answers", i), len(f.Asks[i].Answers), 6)
	}
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

func (r *reader) require(path, text string) {
	if q, ok := r.inequality(path, text); ok {
		r.s.requires = append(r.s.requires, q)
	}
}

// inequality reads "d < L" or "f > mu N".
func (r *reader) inequality(path, text string) (requirement, bool) {
	at := strings.IndexAny(text, "<>")
	if at < 0 || strings.ContainsAny(text[at+1:], "<>=") {
		r.fault(path, 1, "a requirement is one inequality, like \"d < L\"")
		return requirement{}, false
	}
	left := r.exprAt(path, text[:at], 0)
	right := r.exprAt(path, text[at+1:], len([]rune(text[:at+1])))
	if left == nil || right == nil {
		return requirement{}, false
	}
	uses := append(notation.Symbols(left), notation.Symbols(right)...)
	early := !slices.ContainsFunc(uses, func(i int) bool { return !r.known[i] })
	return requirement{strings.TrimSpace(text), left, right, text[at] == '<', early}, true
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
