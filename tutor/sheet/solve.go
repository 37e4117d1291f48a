package sheet

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// valueView is how one unknown is found.
type valueView struct {
	Symbol  template.HTML
	From    string
	Line    template.HTML // "" where several unknowns are found together
	Numbers template.HTML
	Value   string
	Meaning string
	Note    string

	line, numbers string // as they may be read again
	index         int
}

// values finds the unknowns in the order in which a row gives one at a time;
// what no row gives alone is found from several together.
func (k *keyer) values() []valueView {
	var out []valueView
	open := slices.Clone(k.p.LinearUnknowns())
	if z := k.p.Search(); z >= 0 {
		open = append(open, z)
	}
	for len(open) > 0 {
		v, ok := k.next(open)
		if !ok {
			break
		}
		out = append(out, v)
		open = slices.DeleteFunc(open, func(u int) bool { return u == v.index })
	}
	for _, u := range k.p.Unknowns {
		if slices.Contains(open, u.Index) {
			out = append(out, k.together(u, open))
		}
	}
	for _, u := range k.p.Unknowns {
		if u.Role == problems.Dependent {
			out = append(out, k.dependent(u))
		}
	}
	return out
}

// next finds the rows that hold one of the open unknowns alone, and linearly,
// and solves for the one that has the shortest line.
func (k *keyer) next(open []int) (best valueView, ok bool) {
	for _, r := range k.rows {
		s := r.Sum()
		in := slices.DeleteFunc(slices.Clone(open), func(u int) bool { return !k.holds(s, u) })
		if len(in) != 1 {
			continue
		}
		line, alone := k.isolate(s, in[0])
		if !alone || ok && len(line) >= len(best.line) {
			continue
		}
		best, ok = k.value(in[0]), true
		best.From = k.rowName(r)
		k.write(&best, line)
	}
	return best, ok
}

// holds reports whether a sum depends on symbol u, by itself or through a
// symbol that is defined by it.
func (k *keyer) holds(s statics.Sum, u int) bool {
	return s.Uses(u) || k.hidden(s, u)
}

func (k *keyer) hidden(s statics.Sum, u int) bool {
	for _, d := range k.p.Definitions() {
		if s.Uses(d.Index) && k.follows(d, u) {
			return true
		}
	}
	return false
}

// follows reports whether a definition depends on symbol u.
func (k *keyer) follows(d statics.Definition, u int) bool {
	for _, i := range notation.Symbols(d.Is) {
		if i == u {
			return true
		}
		for _, e := range k.p.Definitions() {
			if e.Index == i && i != d.Index && k.follows(e, u) {
				return true
			}
		}
	}
	return false
}

// isolate is what symbol u comes to where s is zero: minus what does not hold
// it, over what it is multiplied by.
func (k *keyer) isolate(s statics.Sum, u int) (string, bool) {
	if k.hidden(s, u) {
		return "", false
	}
	self := statics.Sym(u, k.p.Table.Name(u))
	var times, rest statics.Sum
	for _, p := range s {
		term := statics.Sum{p}
		if !term.Uses(u) {
			rest = rest.Minus(term)
			continue
		}
		by := term.Over(self)
		if by.Uses(u) {
			return "", false
		}
		times = times.Plus(by)
	}
	switch {
	case times.IsZero():
		return "", false
	case rest.IsZero():
		return "0", true
	case times.Eval(k.p.Values) < 0: // fewer signs: (W c)/(w − c)
		times, rest = times.Scale(-1), rest.Scale(-1)
	}
	quotient := "(" + rest.Text(false) + ")/(" + times.Text(false) + ")"
	if len(times) > 1 {
		return quotient, true
	}
	if line := rest.Over(times).Text(false); float64(len(line)) < shorter*float64(len(quotient)) {
		return line, true
	}
	return quotient, true
}

// shorter is how much longer than the plain quotient a line may be that was
// divided through, for it is the simpler one to read.
const shorter = 1.3

// value is the part of a view that does not depend on how it is found.
func (k *keyer) value(index int) valueView {
	v := valueView{Symbol: Math(k.p.Table.Name(index)), index: index}
	for _, u := range k.p.Unknowns {
		if u.Index != index {
			continue
		}
		x := k.p.In(u.Index, u.Unit)
		v.Value, v.Meaning = withUnit(number(x, 0), u.Unit.Name), notation.Printable(u.Meaning)
		if x < 0 && u.Role == problems.Linear {
			v.Note = "negative: it acts against the sense assumed"
		}
	}
	return v
}

// write puts a line for the unknown, and the line in numbers, into its view.
func (k *keyer) write(v *valueView, line string) {
	v.line, v.Line = line, Math(line)
	if numbers, ok := k.nums.put(line, nil); ok && numbers != line {
		v.numbers, v.Numbers = numbers, Math(numbers)
	}
}

// together is an unknown that no row gives alone.
func (k *keyer) together(u problems.Unknown, open []int) valueView {
	v := k.value(u.Index)
	var from []string
	for _, r := range k.rows {
		if s := r.Sum(); slices.ContainsFunc(open, func(o int) bool { return k.holds(s, o) }) {
			from = append(from, k.rowName(r))
		}
	}
	v.From = "together from " + strings.Join(from, "; ")
	if u.Role == problems.Searched {
		v.From = "found by trying values, until these hold: " + strings.Join(from, "; ")
	}
	return v
}

// dependent is an unknown that follows from the others by its definition.
func (k *keyer) dependent(u problems.Unknown) valueView {
	v := k.value(u.Index)
	v.From = "by definition"
	for _, d := range k.p.Definitions() {
		if d.Index == u.Index {
			k.write(&v, statics.FromNode(d.Is).Text(false))
		}
	}
	return v
}

// rowName names a row in a sentence: "moments about A", "along x of the leg".
func (k *keyer) rowName(r statics.Row) string {
	name := "along " + string(r.Kind)
	if r.Kind == statics.RowMoment {
		name = "moments about " + notation.Printable(r.Pivot)
	}
	if len(k.p.Bodies) > 1 {
		name = fmt.Sprintf("%s, %s", notation.Printable(r.Body), name)
	}
	return name
}
