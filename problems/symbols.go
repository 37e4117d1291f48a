package problems

import (
	"fmt"
	"math"
	"slices"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

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
