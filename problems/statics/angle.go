package statics

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"steelyard/problems/notation"
)

// Angle is a linear form: degrees plus multiples of angle symbols,
// anticlockwise from +x. Kept so, sin(180° - α) can read sin α.
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
			out.Terms = append(out.Terms, t)
			continue
		}
		out.Terms[i].Coef += t.Coef
		if out.Terms[i].Coef == 0 {
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
	return len(d.Terms) == 0 && math.Mod(d.Degrees, 360) == 0
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
func AngleFromNode(n notation.Node) (Angle, bool) {
	switch n := n.(type) {
	case *notation.Number:
		return Deg(n.Value), true
	case *notation.Angle:
		v, ok := n.Operand.(*notation.Number)
		if !ok {
			return Angle{}, false
		}
		if n.Degrees {
			return Deg(v.Value), true
		}
		return Deg(v.Value * 180 / math.Pi), true
	case *notation.Symbol:
		return Angle{Terms: []AngleTerm{{1, n.Index, n.Name}}}, true
	case *notation.Unary:
		a, ok := AngleFromNode(n.Operand)
		return a.scale(-1), ok
	case *notation.Binary:
		l, lok := AngleFromNode(n.Left)
		r, rok := AngleFromNode(n.Right)
		if !lok || !rok {
			return Angle{}, false
		}
		switch {
		case n.Op == '+':
			return l.Plus(r), true
		case n.Op == '-':
			return l.Minus(r), true
		case n.Op == '*' && len(l.Terms) == 0:
			return r.scale(l.Degrees), true
		case n.Op == '*' && len(r.Terms) == 0:
			return l.scale(r.Degrees), true
		case n.Op == '/' && len(r.Terms) == 0 && r.Degrees != 0:
			return l.scale(1 / r.Degrees), true
		}
	}
	return Angle{}, false
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

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func minus(ascii bool) string {
	if ascii {
		return "-"
	}
	return "−"
}
