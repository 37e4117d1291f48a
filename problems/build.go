package problems

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// reader turns a decoded file into a Scenario, noting every fault on the way.
type reader struct {
	name   string
	file   *file
	places map[string]place
	faults Faults
	s      *Scenario
	table  *notation.Table
}

// fault notes something wrong with the value at path; column is the 1-based
// character inside a quoted value, or 0 for the value as a whole.
func (r *reader) fault(path string, column int, format string, args ...any) {
	p, ok := r.places[path]
	for !ok && path != "" {
		path = path[:max(strings.LastIndexByte(path, '.'), 0)]
		p, ok = r.places[path]
	}
	f := &Fault{File: r.name, Line: p.line, Column: p.column, Message: fmt.Sprintf(format, args...)}
	if column > 0 {
		f.Column += p.quoted + column - 1
	}
	r.faults = append(r.faults, f)
}

var (
	idPattern    = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	pointPattern = regexp.MustCompile(`^[A-Z][0-9]?$`)
)

func (r *reader) build() *Scenario {
	f := r.file
	r.s = &Scenario{ID: f.ID, Title: f.Title, Family: f.Family, Level: f.Level, Caution: f.Caution, Skills: f.Skills,
		Statement: strings.Join(strings.Fields(f.Statement), " ")}
	if !idPattern.MatchString(f.ID) {
		r.fault("id", 0, "an id is small letters, digits and single hyphens, like \"davit-arm\"")
	}
	for key, text := range map[string]string{"title": f.Title, "family": f.Family, "statement": f.Statement, "caution": f.Caution} {
		if text == "" && key != "caution" {
			r.fault(key, 0, "%s is missing; every scenario says it", key)
		}
		r.printable(key, text)
	}
	if f.Level < 1 || f.Level > 4 {
		r.fault("level", 0, "level is %d; levels go from 1 to 4", f.Level)
	}
	if !r.symbols() {
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

func (r *reader) printable(path, text string) {
	for _, c := range text {
		if c != '\n' && c != '\t' && notation.Printable(string(c)) != string(c) {
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
			r.fault(path+".symbol", 0, "symbol %q is named twice; each symbol means one thing", notation.Printable(symbol))
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
	for i, u := range r.file.Unknowns {
		path := fmt.Sprintf("unknowns.%d", i)
		unit := r.unit(path+".unit", u.Unit)
		r.printable(path+".meaning", u.Meaning)
		r.s.Unknowns = append(r.s.Unknowns, Unknown{u.Symbol, u.Meaning, unit, add(path, u.Symbol, unit), Linear})
	}
	if len(r.s.Unknowns) == 0 {
		r.fault("unknowns", 0, "no [[unknowns]]; a problem needs something to find")
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
		r.fault(path, 0, "given %s needs from, to and step, or one value", notation.Printable(g.Symbol))
	case *g.To <= *g.From || *g.Step <= 0:
		r.fault(path+".from", 0, "from must be below to, and step above zero")
	default:
		out.From, out.To, out.Step = *g.From, *g.To, *g.Step
	}
	out.Index = add(path, g.Symbol, u)
	r.s.Givens = append(r.s.Givens, out)
}

// unread notes that a text could not be read; shift is how many characters of
// the value come before it.
func (r *reader) unread(path string, err error, shift int) {
	var e *notation.Error
	if !errors.As(err, &e) {
		r.fault(path, 0, "%v", err)
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

func (r *reader) definitions() {
	for i := range r.s.Defined {
		path := fmt.Sprintf("defined.%d.is", i)
		d := &r.s.Defined[i]
		d.Is = r.expr(path, d.Text)
		if d.Is == nil {
			continue
		}
		for _, used := range notation.Symbols(d.Is) {
			for _, later := range r.s.Defined[i:] {
				if later.Index == used {
					r.fault(path, 0, "%s is defined by %s, which is not defined before it; put it first", d.Symbol, later.Symbol)
				}
			}
		}
		r.s.defs = append(r.s.defs, statics.Definition{Index: d.Index, Is: d.Is})
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
		r.s.requires = append(r.s.requires, requirement{text, left, right, text[at] == '<'})
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
		r.fault("steady.inertia", 0, "no force %q; name the inertia force", notation.Printable(f.Inertia))
	}
	if _, ok := b.Point(f.Centre); !ok {
		r.fault("steady.centre", 0, "no point %q; name the centre of mass", notation.Printable(f.Centre))
	}
	r.s.Steady = &Steady{f.Inertia, f.Centre}
}

func (r *reader) limit() {
	f := r.file.Limit
	if f == nil {
		return
	}
	l := &Limit{Question: f.Question, Symbol: f.Symbol, Vary: f.Vary, Below: f.Side != "above"}
	r.printable("limit.question", f.Question)
	if f.Side != "above" && f.Side != "below" {
		r.fault("limit.side", 0, "side says whence %s comes: \"above\" or \"below\"", notation.Printable(f.Vary))
	}
	if _, ok := r.s.Unknown(f.Symbol); !ok {
		r.fault("limit.symbol", 0, "%q is not one of the unknowns", notation.Printable(f.Symbol))
	}
	if !slices.ContainsFunc(r.s.Givens, func(g Given) bool { return g.Symbol == f.Vary }) {
		r.fault("limit.vary", 0, "%q is not one of the givens", notation.Printable(f.Vary))
	}
	i, _ := r.table.Index(f.Vary)
	if r.table.IsAngle(i) {
		if a, ok := r.angle("limit.toward", f.Toward); ok {
			l.Toward = statics.Const(a.Eval(nil))
		}
	} else {
		l.Toward = r.sum("limit.toward", f.Toward)
	}
	r.s.Limit = l
}

// system gathers the rows of every body and sorts out the unknowns.
func (r *reader) system() {
	s := r.s
	sys := statics.System{Search: -1, Defs: s.defs}
	magnitude := map[string]bool{}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		sys.Rows = append(sys.Rows, b.Ledger(statics.Frame{Pivot: b.Points[0]})...)
		for _, f := range b.Forces {
			magnitude[f.Symbol] = magnitude[f.Symbol] || f.Unknown
		}
		for _, c := range b.Couples {
			magnitude[c.Symbol] = magnitude[c.Symbol] || c.Unknown
		}
	}
	var names []string
	for i := range s.Unknowns {
		u := &s.Unknowns[i]
		path := fmt.Sprintf("unknowns.%d", i)
		within := r.file.Unknowns[i].Within
		switch {
		case u.Role == Dependent:
		case magnitude[u.Symbol]:
			names = append(names, u.Symbol)
			sys.Unknowns = append(sys.Unknowns, u.Index)
		case sys.Search >= 0:
			r.fault(path, 0, "%s and %s are both unknowns that are no force; at most one may be searched for", u.Symbol, s.Table.Name(sys.Search))
		case len(within) != 2:
			r.fault(path, 0, "%s is no force on a body; give within = [\"least\", \"most\"] so that it can be searched for, or define it", u.Symbol)
		default:
			u.Role, sys.Search = Searched, u.Index
			sys.Lo = r.sum(path+".within.0", within[0])
			sys.Hi = r.sum(path+".within.1", within[1])
		}
	}
	if sys.Search >= 0 {
		names = append(names, s.Table.Name(sys.Search))
	}
	sys.Names = names
	s.rows, s.system = sys.Rows, sys
}
