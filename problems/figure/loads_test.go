package figure

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// only are the shapes of one type.
func only[T Shape](s Scene) (out []T) {
	for _, shape := range s.Shapes {
		if t, ok := shape.(T); ok {
			out = append(out, t)
		}
	}
	return out
}

// TestGivenLoads looks at what is drawn before anything is listed: the loads,
// with their symbols, and no resultant nor its point.
func TestGivenLoads(t *testing.T) {
	s := scenario(t, "loaded-beam")
	p := drawProblem(t, s, 2)
	scene := Build(p, View{})
	loads := only[Spread](scene)
	if len(loads) != 2 || loads[0].Start != 1 || loads[0].End != 1 || loads[1].Start != 0 || loads[1].End != 1 {
		t.Fatalf("the loads are %+v; want an even and a rising one", loads)
	}
	for i, symbol := range []string{"w", "q"} {
		l := loads[i]
		if l.Caption.Symbol != symbol || l.Caption.Number == "" || apart(l.Angle, -math.Pi/2) > 1e-9 {
			t.Errorf("load %d is %+v; want %s with its number, pressing down", i, l, symbol)
		}
	}
	named := func(scene Scene, name string) bool {
		return slices.ContainsFunc(only[Mark](scene), func(m Mark) bool { return m.Name == name })
	}
	if len(only[Arrow](scene)) > 0 || named(scene, "K1") || named(scene, "K2") {
		t.Error("a resultant, or its point, is drawn before it is listed")
	}
	scene = Build(p, View{Forces: []Listed{{Symbol: "F_q"}}})
	if len(only[Arrow](scene)) != 1 || named(scene, "K1") || !named(scene, "K2") || len(only[Spread](scene)) != 2 {
		t.Error("F_q is listed: its arrow and K2 are to be drawn, and both loads still")
	}
	words := strings.Join(Words(p, View{}), " ")
	for _, want := range []string{"a load of w = ", "rises from nothing at E to q = ", "A couple C = "} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in %q", want, words)
		}
	}
}

// TestGivenCouple is drawn once, at the point where no force acts.
func TestGivenCouple(t *testing.T) {
	s := scenario(t, "loaded-beam")
	p := drawProblem(t, s, 2)
	d, _ := s.Bodies[0].Point("D")
	at := place(d, p.Values)
	for _, c := range []struct {
		listed []Listed
		role   Role
		sense  bool
	}{
		{nil, Load, true},
		{[]Listed{{Symbol: "C"}}, Force, true},
		{[]Listed{{Symbol: "C", Reversed: true}}, Force, false},
	} {
		turns := only[Turn](Build(p, View{Forces: c.listed}))
		if len(turns) != 1 || turns[0].Role != c.role || turns[0].Clockwise != c.sense || !turns[0].At.near(at, 1e-9) {
			t.Errorf("with %v listed the couple is drawn as %+v", c.listed, turns)
		}
	}
	if turns := only[Turn](Build(drawProblem(t, scenario(t, "fixed-boom"), 2), View{})); len(turns) > 0 {
		t.Errorf("the wall's couple is unknown, and drawn as %+v", turns)
	}
}
