package sheet

import (
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

// values finds the unknowns in the order in which a row gives one at a time:
// the rows of the ledgers first, then moments about other points and sums along
// slanting lines. What no row gives alone is found from several together.
func (k *keyer) values() []valueView {
	var out []valueView
	open := slices.Clone(k.p.LinearUnknowns())
	z := k.p.Search()
	if z >= 0 {
		open = append(open, z)
	}
	written := k.written()
	var further []namedRow // made when the written ones do not do
	for len(open) > 0 {
		v, ok := k.next(written, open)
		if !ok {
			if further == nil {
				further = k.further()
			}
			v, ok = k.next(slices.Concat(written, further), open)
		}
		if !ok {
			v, ok = k.eliminate(written, open)
		}
		if !ok && slices.Contains(open, z) {
			v, ok = k.tried(z, written, open), true
		}
		if !ok {
			break
		}
		out = append(out, v)
		open = slices.DeleteFunc(open, func(u int) bool { return u == v.index })
	}
	for _, u := range k.p.Unknowns {
		if slices.Contains(open, u.Index) {
			v := k.value(u.Index)
			v.From = "together from " + strings.Join(k.holding(written, open), "; ")
			out = append(out, v)
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
func (k *keyer) next(rows []namedRow, open []int) (best valueView, ok bool) {
	for _, r := range rows {
		in := k.heldBy(r, open)
		if len(in) != 1 {
			continue
		}
		line, alone := k.isolate(r.sum, in[0])
		if !alone || ok && len(line) >= len(best.line) {
			continue
		}
		best, ok = k.value(in[0]), true
		best.From = r.name
		k.write(&best, line)
	}
	return best, ok
}

// holding names the rows that depend on an open unknown.
func (k *keyer) holding(rows []namedRow, open []int) []string {
	var out []string
	for _, r := range rows {
		if len(k.heldBy(r, open)) > 0 {
			out = append(out, r.name)
		}
	}
	return out
}

// tried is the unknown that is searched for, with the rows it makes hold: one
// that it is alone in, if there is one.
func (k *keyer) tried(z int, rows []namedRow, open []int) valueView {
	v := k.value(z)
	names := k.holding(rows, open)
	for _, r := range rows {
		if in := k.heldBy(r, open); len(in) == 1 && in[0] == z {
			names = []string{r.name}
			break
		}
	}
	v.From = "by trying values, until this holds: "
	if len(names) > 1 {
		v.From = "by trying values, until these hold together: "
	}
	v.From += strings.Join(names, "; ")
	return v
}

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
	if numbers, ok := k.nums.put(line, nil); ok && !strings.HasPrefix(v.Value+fixed, numbers+fixed) {
		v.numbers, v.Numbers = numbers, Math(numbers)
	}
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
