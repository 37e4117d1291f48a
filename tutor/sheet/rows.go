package sheet

import (
	"slices"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// namedRow is a row with what to call it in a sentence.
type namedRow struct {
	sum  statics.Sum
	name string
}

// row names a row, with what is defined by unknowns written out in it: mu N
// for f, so that it shows what it depends on.
func (k *keyer) row(r statics.Row, name string) namedRow {
	s := r.Sum()
	defs := k.p.Definitions()
	for i := len(defs) - 1; i >= 0; i-- { // a definition uses those before it
		if d := defs[i]; s.Uses(d.Index) && slices.ContainsFunc(k.p.Unknowns, func(u problems.Unknown) bool { return k.follows(d, u.Index) }) {
			s = k.spell(s, d)
		}
	}
	return namedRow{s, name}
}

// spell writes a definition out in the terms that hold its symbol as a factor.
func (k *keyer) spell(s statics.Sum, d statics.Definition) statics.Sum {
	var out statics.Sum
	self := statics.Sym(d.Index, k.p.Table.Name(d.Index))
	for _, p := range s {
		term := statics.Sum{p}
		if rest := term.Over(self); term.Uses(d.Index) && !rest.Uses(d.Index) {
			term = rest.Times(statics.FromNode(d.Is))
		}
		out = out.Plus(term)
	}
	return out
}

// written are the rows of the ledgers.
func (k *keyer) written() []namedRow {
	var out []namedRow
	for _, r := range k.rows {
		name := "along " + string(r.Kind)
		if r.Kind == statics.RowMoment {
			name = "moments about " + notation.Printable(r.Pivot)
		}
		out = append(out, k.row(r, k.of(r.Body, name)))
	}
	return out
}

// further are rows that no ledger has: moments about the other points of each
// body, and the sum along the line square to each unknown force, in which that
// force has no part.
func (k *keyer) further() []namedRow {
	out := []namedRow{}
	for i := range k.p.Bodies {
		b := &k.p.Bodies[i]
		for _, p := range b.Points {
			if !p.Mark {
				r := b.Row(statics.RowMoment, statics.Frame{Pivot: p})
				out = append(out, k.row(r, k.of(b.Name, "moments about "+notation.Printable(p.Name))))
			}
		}
		for _, f := range b.Forces {
			if f.Unknown && f.Dir.Toward == "" {
				r := b.Row(statics.RowX, statics.Frame{Pivot: b.Points[0], Tilt: f.Dir.Angle.Minus(statics.Deg(90))})
				out = append(out, k.row(r, k.of(b.Name, "along the line square to "+notation.Display(f.Symbol, false))))
			}
		}
	}
	return out
}

// of says whose row it is, where there are several bodies.
func (k *keyer) of(body, row string) string {
	if len(k.p.Bodies) > 1 {
		return notation.Printable(body) + ", " + row
	}
	return row
}
