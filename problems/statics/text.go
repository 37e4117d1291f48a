package statics

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"steelyard/problems/notation"
)

// Text writes s as a textbook does: T L sin α, −M g L/2, N (w − c).
// With ascii it uses plain characters that read back to the same expression.
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
		b.WriteString(p.text(ascii))
	}
	return b.String()
}

// ProductText writes the product of a and b, bracketing b if it has more
// than one term: N (w − c). It is how a force and its arm are written. Where
// the bracket is negative at values, its sign is written before it, so that a
// length reads as one: −P (R − h). values may be nil.
func ProductText(a, b Sum, ascii bool, values []float64) string {
	if len(a) != 1 || len(b) < 2 {
		return a.Times(b).Text(ascii)
	}
	sign := a[0].Coef < 0
	if sign {
		a = a.Scale(-1)
	}
	if b.negative(values) {
		b, sign = b.Scale(-1), !sign
	}
	out := a.Text(ascii) + " (" + b.positiveFirst().Text(ascii) + ")"
	if sign {
		out = minus(ascii) + out
	}
	return out
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

// text writes the product without its sign.
func (p Product) text(ascii bool) string {
	num, den := ratio(math.Abs(p.Coef))
	var top, bottom []string
	if num != "1" {
		top = append(top, num)
	}
	if den != "1" {
		bottom = append(bottom, den)
	}
	for _, f := range p.Factors {
		if f.Power > 0 {
			top = append(top, power(f, f.Power, ascii))
		} else {
			bottom = append(bottom, power(f, -f.Power, ascii))
		}
	}
	if len(top) == 0 {
		top = []string{"1"}
	}
	out := strings.Join(top, " ")
	if den != "1" && len(bottom) == 1 && endsInFunction(p) {
		// (T L/2) sin α, not T L sin α/2, which could read as half the angle.
		for i := len(top) - 1; i >= 0; i-- {
			if !isFunction(top[i]) {
				top[i] += "/" + den
				return strings.Join(top, " ")
			}
		}
		return "(" + out + ")/" + den
	}
	switch len(bottom) {
	case 0:
		return out
	case 1:
		return out + "/" + bottom[0]
	}
	return out + "/(" + strings.Join(bottom, " ") + ")"
}

func isFunction(s string) bool {
	return strings.HasPrefix(s, "sin") || strings.HasPrefix(s, "cos")
}

func endsInFunction(p Product) bool {
	for i := len(p.Factors) - 1; i >= 0; i-- {
		if p.Factors[i].Power > 0 {
			k := p.Factors[i].Atom.kind
			return k == sinAtom || k == cosAtom
		}
	}
	return false
}

func power(f Factor, n int, ascii bool) string {
	fn := map[atomKind]string{sinAtom: "sin", cosAtom: "cos"}[f.Atom.kind]
	if fn != "" {
		arg := f.Atom.angle.text(ascii)
		if ascii || strings.ContainsAny(arg, " ") {
			arg = "(" + arg + ")"
		} else {
			arg = " " + arg
		}
		if n == 1 {
			return fn + arg
		}
		return fn + superscript(n, ascii) + arg
	}
	var base string
	switch f.Atom.kind {
	case symbolAtom:
		base = notation.Display(f.Atom.name, ascii)
	default:
		base = notation.ReadBack(f.Atom.node, ascii)
		if _, call := f.Atom.node.(*notation.Call); !call {
			base = "(" + base + ")"
		}
	}
	if n == 1 {
		return base
	}
	return base + superscript(n, ascii)
}

func superscript(n int, ascii bool) string {
	if ascii {
		return "^" + number(float64(n))
	}
	const digits = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	return string([]rune(digits)[n%10])
}

// ratio writes v as a whole number over a small one where it is that.
func ratio(v float64) (num, den string) {
	for _, d := range []float64{1, 2, 3, 4, 5, 6, 8, 12} {
		if n := v * d; math.Abs(n-math.Round(n)) < 1e-9 && n < 1e6 {
			return number(math.Round(n)), number(d)
		}
	}
	return number(v), "1"
}
