package sheet

import (
	"slices"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// heldBy are the open unknowns that a row depends on.
func (k *keyer) heldBy(r namedRow, open []int) []int {
	return slices.DeleteFunc(slices.Clone(open), func(u int) bool { return !k.holds(r.sum, u) })
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

// part takes a sum apart: what symbol u is multiplied by in it, and minus what
// does not hold u. It is false if u enters in another way, or not at all.
func (k *keyer) part(s statics.Sum, u int) (times, rest statics.Sum, ok bool) {
	if k.hidden(s, u) {
		return nil, nil, false
	}
	self := statics.Sym(u, k.p.Table.Name(u))
	for _, p := range s {
		term := statics.Sum{p}
		if !term.Uses(u) {
			rest = rest.Minus(term)
			continue
		}
		by := term.Over(self)
		if by.Uses(u) {
			return nil, nil, false
		}
		times = times.Plus(by)
	}
	return times, rest, !times.IsZero()
}

// isolate is what symbol u comes to where s is zero.
func (k *keyer) isolate(s statics.Sum, u int) (string, bool) {
	times, rest, ok := k.part(s, u)
	switch {
	case !ok:
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

// eliminate finds two rows that hold the same two open unknowns, puts what the
// one gives for the second unknown into the other, and solves for the first.
func (k *keyer) eliminate(rows []namedRow, open []int) (best valueView, ok bool) {
	for i, r := range rows {
		in := k.heldBy(r, open)
		if len(in) != 2 {
			continue
		}
		for j, other := range rows {
			if i == j || !slices.Equal(in, k.heldBy(other, open)) {
				continue
			}
			for _, u := range in {
				second := in[0] + in[1] - u
				line, alone := k.without(r.sum, other.sum, u, second)
				if !alone || ok && len(line) >= len(best.line) {
					continue
				}
				best, ok = k.value(u), true
				best.From = r.name + ", with what " + other.name + " gives for " + notation.Display(k.p.Table.Name(second), false)
				k.write(&best, line)
			}
		}
	}
	return best, ok
}

// without solves row s for u, with the second unknown taken from row t.
func (k *keyer) without(s, t statics.Sum, u, second int) (string, bool) {
	times, rest, ok := k.part(s, second)
	by, minus, also := k.part(t, second)
	if !ok || !also || len(by) != 1 || times.Uses(u) || by.Uses(u) {
		return "", false
	}
	return k.isolate(times.Times(minus.Over(by)).Minus(rest), u)
}

// shorter is how much longer than the plain quotient a line may be that was
// divided through, for it is the simpler one to read.
const shorter = 1.3
