package statics

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"steelyard/problems/notation"
)

// Angle is a linear form: degrees plus multiples of angle symbols, in the
// order of the table, anticlockwise from +x. Kept so, sin(180° - α) can read
// sin α.
type Angle struct {
	Degrees float64
	Terms   []AngleTerm
}

// AngleTerm is a multiple of one angle symbol.
type AngleTerm struct {
	Coef  float64
	Index int
	Name  string
}

// Deg is a constant angle.
func Deg(d float64) Angle { return Angle{Degrees: d} }

// Eval is the angle in radians; values are by table index, angles in radians.
func (a Angle) Eval(values []float64) float64 {
	v := a.Degrees * math.Pi / 180
	for _, t := range a.Terms {
		v += t.Coef * values[t.Index]
	}
	return v
}

// Plus is a + b.
func (a Angle) Plus(b Angle) Angle {
	out := Angle{a.Degrees + b.Degrees, slices.Clone(a.Terms)}
	for _, t := range b.Terms {
		i := slices.IndexFunc(out.Terms, func(u AngleTerm) bool { return u.Index == t.Index })
		if i < 0 {
			at := slices.IndexFunc(out.Terms, func(u AngleTerm) bool { return u.Index > t.Index })
			if at < 0 {
				at = len(out.Terms)
			}
			out.Terms = slices.Insert(out.Terms, at, t)
			continue
		}
		out.Terms[i].Coef += t.Coef
		if math.Abs(out.Terms[i].Coef) < 1e-12 { // 1/3 + 2/3 - 1
			out.Terms = slices.Delete(out.Terms, i, i+1)
		}
	}
	return out
}

// Minus is a - b.
func (a Angle) Minus(b Angle) Angle { return a.Plus(b.scale(-1)) }

// Equal reports whether a and b are the same form, whole turns aside.
func (a Angle) Equal(b Angle) bool {
	d := a.Minus(b)
	return len(d.Terms) == 0 && math.Abs(math.Remainder(d.Degrees, 360)) < 1e-9
}

func (a Angle) scale(k float64) Angle {
	out := Angle{a.Degrees * k, slices.Clone(a.Terms)}
	for i := range out.Terms {
		out.Terms[i].Coef *= k
	}
	return out
}

func (a Angle) uses(i int) bool {
	return slices.ContainsFunc(a.Terms, func(t AngleTerm) bool { return t.Index == i })
}

// AngleFromNode reads an expression as a linear form in symbols, or says it is
// not one. Bare numbers are degrees.
func AngleFromNode(n notation.Node) (Angle, bool) { return linear(n, 1) }

// linear is AngleFromNode with a bare number worth so many degrees: inside a
// sine the notation has marked the numbers that are degrees, and what is still
// bare is radians.
func linear(n notation.Node, bare float64) (Angle, bool) {
	switch n := n.(type) {
	case *notation.Number:
		return Deg(n.Value * bare), true
	case *notation.Angle:
		v, ok := scalar(n.Operand)
		if n.Degrees {
			return Deg(v), ok
		}
		return Deg(v * 180 / math.Pi), ok
	case *notation.Symbol:
		return Angle{Terms: []AngleTerm{{1, n.Index, n.Name}}}, true
	case *notation.Unary:
		a, ok := linear(n.Operand, bare)
		return a.scale(-1), ok
	case *notation.Binary:
		return linearBinary(n, bare)
	}
	return Angle{}, false
}

func linearBinary(n *notation.Binary, bare float64) (Angle, bool) {
	switch n.Op {
	case '+', '-':
		l, lok := linear(n.Left, bare)
		r, rok := linear(n.Right, bare)
		if n.Op == '-' {
			r = r.scale(-1)
		}
		return l.Plus(r), lok && rok
	case '*':
		if k, ok := scalar(n.Left); ok {
			a, ok := linear(n.Right, bare)
			return a.scale(k), ok
		}
		k, kok := scalar(n.Right)
		a, ok := linear(n.Left, bare)
		return a.scale(k), kok && ok
	case '/':
		k, kok := scalar(n.Right)
		a, ok := linear(n.Left, bare)
		return a.scale(1 / k), kok && ok && k != 0
	}
	return Angle{}, false
}

// scalar is the value of an expression of plain numbers.
func scalar(n notation.Node) (float64, bool) {
	switch n := n.(type) {
	case *notation.Number:
		return n.Value, true
	case *notation.Unary:
		v, ok := scalar(n.Operand)
		return -v, ok
	case *notation.Binary:
		_, lok := scalar(n.Left)
		_, rok := scalar(n.Right)
		return notation.Value(n, nil), lok && rok
	}
	return 0, false
}

// Sin is the sine of a with quarter turns taken out: sin(180° - α) is sin α,
// sin(90° + α) is cos α.
func Sin(a Angle) Sum { return trig(a, 0) }

// Cos is the cosine of a, as [Sin].
func Cos(a Angle) Sum { return trig(a, 1) }

// trig is sin(a + 90° quarter).
func trig(a Angle, quarter int) Sum {
	deg := math.Mod(a.Degrees, 360)
	q := math.Round(deg / 90)
	quarter += int(q)
	rest := Angle{deg - 90*q, a.Terms}
	if math.Abs(rest.Degrees) < 1e-9 {
		rest.Degrees = 0
	}
	quarter = ((quarter % 4) + 4) % 4
	sign := 1.0
	if quarter >= 2 {
		sign, quarter = -1, quarter-2
	}
	if len(rest.Terms) == 0 && rest.Degrees == 0 {
		if quarter == 0 {
			return nil
		}
		return Const(sign)
	}
	if leading := rest.leading(); leading < 0 {
		rest = rest.scale(-1)
		if quarter == 0 {
			sign = -sign
		}
	}
	at := Atom{kind: sinAtom, angle: rest, name: "sin(" + rest.ascii() + ")"}
	if quarter == 1 {
		at.kind, at.name = cosAtom, "cos("+rest.ascii()+")"
	}
	return ofAtom(at).Scale(sign)
}

func (a Angle) leading() float64 {
	if len(a.Terms) > 0 {
		return a.Terms[0].Coef
	}
	return a.Degrees
}

func (a Angle) ascii() string { return a.text(true) }

func (a Angle) text(ascii bool) string {
	var b strings.Builder
	put := func(v float64, s string) {
		switch {
		case b.Len() == 0 && v < 0:
			b.WriteString(minus(ascii))
		case b.Len() > 0 && v < 0:
			b.WriteString(" " + minus(ascii) + " ")
		case b.Len() > 0:
			b.WriteString(" + ")
		}
		b.WriteString(s)
	}
	for _, t := range a.Terms {
		name := notation.Display(t.Name, ascii)
		if m := math.Abs(t.Coef); m != 1 {
			name = number(m) + " " + name
		}
		put(t.Coef, name)
	}
	if a.Degrees != 0 || b.Len() == 0 {
		unit := "°"
		if ascii {
			unit = " deg"
		}
		put(a.Degrees, number(math.Abs(a.Degrees))+unit)
	}
	return b.String()
}

// number writes v to the last digit that is not the dust of arithmetic.
func number(v float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 14, 64), 64)
	if err != nil {
		rounded = v
	}
	format := byte('f')
	if a := math.Abs(rounded); a != 0 && (a < 1e-6 || a >= 1e15) {
		format = 'e'
	}
	return strconv.FormatFloat(rounded, format, -1, 64)
}

func minus(ascii bool) string {
	if ascii {
		return "-"
	}
	return "−"
}
