package statics

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"steelyard/problems/notation"
)

// Text writes s as a textbook does: T L sin α, −M g L/2, N (w − c).
// With ascii it uses plain characters. Either form reads back to the same
// value.
func (s Sum) Text(ascii bool) string {
	if len(s) == 0 {
		return "0"
	}
	var b strings.Builder
	for i, p := range s {
		switch {
		case i == 0 && p.Coef < 0:
			b.WriteString(minus(ascii))
		case i > 0 && p.Coef < 0:
			b.WriteString(" " + minus(ascii) + " ")
		case i > 0:
			b.WriteString(" + ")
		}
		b.WriteString(p.around("", ascii))
	}
	return b.String()
}

// ProductText writes the product of a and b, bracketing b if it has more
// than one term: N (w − c). It is how a force and its arm are written. What
// every term of the bracket has in common stands outside it: N (L − d) sin α.
// Where the bracket is negative at values, its sign is written before it, so
// that a length reads as one: −P (R − h). values may be nil.
func ProductText(a, b Sum, ascii bool, values []float64) string {
	if len(a) != 1 || len(b) < 2 {
		return a.Times(b).Text(ascii)
	}
	common, rest := b.commonFactor()
	whole := a[0].times(common)
	if rest.negative(values) {
		rest, whole.Coef = rest.Scale(-1), -whole.Coef
	}
	out := whole.around("("+rest.positiveFirst().Text(ascii)+")", ascii)
	if whole.Coef < 0 {
		out = minus(ascii) + out
	}
	return out
}

// commonFactor takes out of s what all its terms share: sines and cosines
// always, symbols where a symbol is left in every term, so that the bracket
// stays a length: w (L² − L d) is w L (L − d), but L cos α − a sin α + L sin α
// keeps its lengths.
func (s Sum) commonFactor() (Product, Sum) {
	common := Product{Coef: 1}
	for _, f := range s[0].Factors {
		if f.Power < 0 || (!f.Atom.isTrig() && f.Atom.kind != symbolAtom) {
			continue
		}
		for _, p := range s[1:] {
			f.Power = min(f.Power, p.power(&f.Atom))
		}
		if f.Power <= 0 {
			continue
		}
		with := common.times(Product{Coef: 1, Factors: []Factor{f}})
		if f.Atom.isTrig() || s.Over(Sum{with}).eachHasSymbol() {
			common = with
		}
	}
	return common, s.Over(Sum{common})
}

func (s Sum) eachHasSymbol() bool {
	return !slices.ContainsFunc(s, func(p Product) bool {
		return !slices.ContainsFunc(p.Factors, func(f Factor) bool { return f.Power > 0 && f.Atom.kind == symbolAtom })
	})
}

func (s Sum) negative(values []float64) bool {
	if values != nil {
		return s.Eval(values) < 0
	}
	return !slices.ContainsFunc(s, func(p Product) bool { return p.Coef > 0 })
}

func (s Sum) positiveFirst() Sum {
	out := slices.Clone(s)
	slices.SortStableFunc(out, func(p, q Product) int {
		return cmp.Compare(math.Copysign(1, q.Coef), math.Copysign(1, p.Coef))
	})
	return out
}

// around writes the product without its sign, and bracket, which may be empty,
// where a length would stand. Functions come last, after any division, for
// T L sin α/2 could be taken for half the angle: T L/2 sin α.
func (p Product) around(bracket string, ascii bool) string {
	num, den := ratio(math.Abs(p.Coef))
	var top, under, functions []string
	if num != "1" {
		top = append(top, num)
	}
	if den != "1" {
		under = append(under, den)
	}
	for _, f := range p.gatherTangents() {
		switch {
		case f.Power < 0:
			f.Power = -f.Power
			under = append(under, f.text(ascii, true))
		case f.Atom.isTrig():
			functions = append(functions, f.text(ascii, false))
		default:
			top = append(top, f.text(ascii, false))
		}
	}
	if bracket != "" {
		top = append(top, bracket)
	}
	if len(under) == 0 {
		if top = append(top, functions...); len(top) == 0 {
			return "1"
		}
		return strings.Join(top, " ")
	}
	bottom := strings.Join(under, " ")
	if len(under) > 1 {
		bottom = "(" + bottom + ")"
	}
	switch {
	case len(functions) == 0 && len(top) == 0:
		return "1/" + bottom
	case len(functions) == 0:
		return strings.Join(top, " ") + "/" + bottom
	case len(top) == 0:
		return "(" + strings.Join(functions, " ") + ")/" + bottom
	}
	quotient := strings.Join(top, " ") + "/" + bottom
	if len(under) > 1 || den == "1" {
		quotient = "(" + quotient + ")" // (P b/L) sin α: the sine is not below the line
	}
	return quotient + " " + strings.Join(functions, " ")
}

// gatherTangents are the factors of p with sin α/cos α written as tan α.
func (p Product) gatherTangents() []Factor {
	out := slices.Clone(p.Factors)
	for i := range out {
		sin := &out[i]
		if sin.Atom.kind != sinAtom || sin.Power <= 0 {
			continue
		}
		j := slices.IndexFunc(out, func(f Factor) bool {
			return f.Atom.kind == cosAtom && f.Power == -sin.Power && f.Atom.angle.Equal(sin.Atom.angle)
		})
		if j >= 0 {
			sin.Atom.kind = tanAtom
			out[j].Power = 0
		}
	}
	return slices.DeleteFunc(out, func(f Factor) bool { return f.Power == 0 })
}

// text writes the factor; a function's argument is bracketed where ascii or
// closed asks for it, or it is more than one word.
func (f Factor) text(ascii, closed bool) string {
	if fn := f.Atom.function(); fn != "" {
		arg := f.Atom.angle.text(ascii)
		if ascii || closed || strings.Contains(arg, " ") {
			return fn + superscript(f.Power, ascii) + "(" + arg + ")"
		}
		return fn + superscript(f.Power, ascii) + " " + arg
	}
	if f.Atom.kind == symbolAtom {
		return notation.Display(f.Atom.name, ascii) + superscript(f.Power, ascii)
	}
	base := strings.ReplaceAll(notation.ReadBack(f.Atom.node, ascii), " ^ ", "^")
	_, call := f.Atom.node.(*notation.Call)
	if !call || strings.Contains(base, " ") && !strings.HasSuffix(base, ")") || f.Power != 1 {
		base = "(" + base + ")"
	}
	return base + superscript(f.Power, ascii)
}

func superscript(n int, ascii bool) string {
	if n == 1 {
		return ""
	}
	digits := number(float64(n))
	if ascii {
		return "^" + digits
	}
	const raised = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	var b strings.Builder
	for _, d := range digits {
		b.WriteRune([]rune(raised)[d-'0'])
	}
	return b.String()
}

// ratio writes v as a whole number over a small one where it is that.
func ratio(v float64) (num, den string) {
	for _, d := range []float64{1, 2, 3, 4, 5, 6, 8, 12} {
		if n := math.Round(v * d); n > 0 && n < 1e6 && math.Abs(v*d-n) < 1e-12*n {
			return number(n), number(d)
		}
	}
	return number(v), "1"
}
