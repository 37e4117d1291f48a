package statics

import (
	"math"
	"strings"
	"testing"

	"steelyard/problems/notation"
)

func eval(n notation.Node, l *lab) float64 { return notation.Value(n, l.values) }

// Whatever an expression is made into, it keeps its value.
func TestFromNodeKeepsTheValue(t *testing.T) {
	l := newLab(t)
	for _, text := range []string{
		"L", "-L/2", "(L - d)(a + b)", "(L - d)^2", "2 sin(180 - alpha)", "cos(alpha - beta + 90)", "tan(alpha)", "tan(alpha + 90)",
		"L tan(alpha) cos(alpha)", "L/(a + b)", "(a + b)/(a + b)", "a/(L b)", "sqrt(h(2L + h))", "L^3/d^2", "L^-2", "L^0", "0^2 + L", "0*L",
		"sin(alpha)^2 + cos(alpha)^2", "sin(0.61 rad)", "sin(2(alpha - 10))", "sin(alpha/2)", "sin((alpha + beta)/(1 + 1))", "arctan(a/b)",
		"(a+b)(d+h)(M+m)(P+T)(N+f)(H+V)(C+w)", "mu N", "L(a + b)/(a + b)", "1/(1/L)", "a - a", "1e-14 L",
		"sin(alpha) cos(beta) - cos(alpha) sin(beta)", "tan(30)", "tan(60)/tan(30)",
	} {
		n := l.node(text)
		for seed := range uint64(5) {
			l.shake(seed)
			got, want := FromNode(n).Eval(l.values), notation.Value(n, l.values)
			if !(math.Abs(got-want) <= 1e-12*max(notation.Size(n, l.values), math.Abs(want))) {
				t.Errorf("%s: %g, want %g", text, got, want)
			}
		}
	}
}

// In a problem that gives radians a bare number in a sine is radians.
func TestFromNodeRadians(t *testing.T) {
	table, err := notation.NewTable(false, notation.Spec{Name: "phi", Angle: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"sin(phi + 0.5)", "cos(0.5)", "sin(2 phi - 0.25)", "sin(30 deg + phi)"} {
		n, err := table.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		v := []float64{0.7}
		if got, want := FromNode(n).Eval(v), notation.Value(n, v); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %g, want %g", text, got, want)
		}
	}
}

// Multiplying out is bounded: this would be two to the sixtieth terms.
func TestFromNodeIsBounded(t *testing.T) {
	l := newLab(t)
	var b strings.Builder
	names := append([]string{}, labOthers...)
	for i := range 60 {
		b.WriteString("(" + names[i%len(names)] + "+" + names[(i+1+i/len(names))%len(names)] + ")")
		if b.Len() > 480 {
			break
		}
	}
	n := l.node(b.String())
	s := FromNode(n)
	if len(s) > maxTerms {
		t.Errorf("%d terms, want at most %d", len(s), maxTerms)
	}
	if got, want := s.Eval(l.values), notation.Value(n, l.values); math.Abs(got-want) > 1e-9*math.Abs(want) {
		t.Errorf("%g, want %g", got, want)
	}
}

func TestSumsGather(t *testing.T) {
	l := newLab(t)
	long := "a + b + d + h + M + m + P + T + N + f + H + V + C + w + mu + F + S + L + K_1 + K_2"
	for _, c := range []struct{ left, right string }{
		{"L sin(alpha) - L sin(180 - alpha)", "0 L"},
		{"L a + a L", "2 a L"},
		{"0.1 L + 0.2 L - 0.3 L", "0 L"},
		{"1e-9 L + 1e-9 L", "2e-9 L"},
		{"sin(alpha + beta)", "sin(beta + alpha)"},
		{"sin(alpha - beta)", "-sin(beta - alpha)"},
		{"tan(alpha) cos(alpha)", "sin(alpha)"},
		{"L (" + long + ")", "(" + long + ") L"},
	} {
		if !l.sum(c.left).Equal(l.sum(c.right)) {
			t.Errorf("%s and %s are not the same sum", c.left, c.right)
		}
	}
	if d := l.sum(long).Minus(l.sum(long)); !d.IsZero() {
		t.Errorf("a long sum less itself is %s", d.Text(true))
	}
	if l.sum("L").Equal(l.sum("L + 1e-12")) {
		t.Error("a small term is lost")
	}
}

// Quarter turns come out of sines and cosines; a table that the eye can check.
func TestAngles(t *testing.T) {
	l := newLab(t)
	for _, c := range []struct{ angle, sin, cos string }{
		{"0", "0", "1"}, {"90", "1", "0"}, {"180", "0", "-1"}, {"270", "-1", "0"}, {"-90", "-1", "0"}, {"360", "0", "1"}, {"450", "1", "0"},
		{"alpha", "sin(alpha)", "cos(alpha)"},
		{"90 + alpha", "cos(alpha)", "-sin(alpha)"}, {"90 - alpha", "cos(alpha)", "sin(alpha)"},
		{"180 + alpha", "-sin(alpha)", "-cos(alpha)"}, {"180 - alpha", "sin(alpha)", "-cos(alpha)"},
		{"270 - alpha", "-cos(alpha)", "-sin(alpha)"}, {"-alpha", "-sin(alpha)", "cos(alpha)"},
		{"30", "sin(30 deg)", "cos(30 deg)"}, {"120", "cos(30 deg)", "-sin(30 deg)"},
		{"2 alpha", "sin(2 alpha)", "cos(2 alpha)"}, {"alpha - beta + 90", "cos(alpha - beta)", "-sin(alpha - beta)"},
	} {
		a := l.angle(c.angle)
		if got := Sin(a).Text(true); got != c.sin {
			t.Errorf("sin(%s) is %s, want %s", c.angle, got, c.sin)
		}
		if got := Cos(a).Text(true); got != c.cos {
			t.Errorf("cos(%s) is %s, want %s", c.angle, got, c.cos)
		}
		l.near("sin("+c.angle+")", Sin(a).Eval(l.values), math.Sin(a.Eval(l.values)))
		l.near("cos("+c.angle+")", Cos(a).Eval(l.values), math.Cos(a.Eval(l.values)))
	}
	for _, text := range []string{"alpha^2", "alpha beta", "sin(alpha)", "1/alpha"} {
		if a, ok := AngleFromNode(l.node(text)); ok {
			t.Errorf("%s is taken for the angle %v", text, a)
		}
	}
}
