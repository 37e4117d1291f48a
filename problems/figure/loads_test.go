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

// Two loads over one stretch lie one beyond the other, the even one next to the
// line, each with a name beside it; loads on stretches that only meet do not.
func TestStackedLoads(t *testing.T) {
	for _, c := range []struct {
		id    string
		lanes []int
		names []string
	}{
		{"tank-flap", []int{0, 1}, []string{"P", "Q"}},
		{"loaded-beam", []int{0, 0}, []string{"w", "q"}},
	} {
		scene := Build(drawProblem(t, scenario(t, c.id), 7), View{})
		for i, l := range only[Spread](scene) {
			if l.Lane != c.lanes[i] || l.Stacked != (c.id == "tank-flap") || l.Caption.Symbol != c.names[i] {
				t.Errorf("%s: load %d is %+v; want lane %d, named %s", c.id, i, l, c.lanes[i], c.names[i])
			}
		}
	}
	// In SVG no arrow of one crosses the other.
	scene := Build(drawProblem(t, scenario(t, "tank-flap"), 7), View{})
	loads := only[Spread](scene)
	c := scene.onCanvas(560, 360)
	for _, part := range []float64{0, 0.5, 1} {
		inner, outer := c.onEdge(loads[0], part), c.onFoot(loads[1], part)
		if outer.x >= inner.x {
			t.Errorf("at %v the outer load begins at %v, within the inner one's edge at %v", part, outer, inner)
		}
	}
}

func TestLoadsOver(t *testing.T) {
	down, up := -math.Pi/2, math.Pi/2
	one := Spread{From: Vec{0, 0}, To: Vec{4, 0}, Angle: down}
	for _, c := range []struct {
		what  string
		other Spread
		want  bool
	}{
		{"the same stretch", Spread{From: Vec{4, 0}, To: Vec{0, 0}, Angle: down}, true},
		{"a part of it", Spread{From: Vec{3, 0}, To: Vec{9, 0}, Angle: down}, true},
		{"the next stretch", Spread{From: Vec{4, 0}, To: Vec{9, 0}, Angle: down}, false},
		{"the other side", Spread{From: Vec{0, 0}, To: Vec{4, 0}, Angle: up}, false},
		{"another line", Spread{From: Vec{0, 1}, To: Vec{4, 1}, Angle: down}, false},
	} {
		if got := one.over(c.other, 1e-6); got != c.want {
			t.Errorf("%s: over is %v", c.what, got)
		}
	}
}

// A couple without a place is drawn on its body, clear of the points where
// forces act; on a wheel at the centre.
func TestCoupleAtTheMiddle(t *testing.T) {
	for _, s := range figures(t) {
		p := drawProblem(t, s, 3)
		b := newBuilder(p, View{})
		for i := range s.Bodies {
			body := &s.Bodies[i]
			for _, c := range body.Couples {
				at := b.coupleAt(body, c)
				if at != b.middle(body) {
					continue // it has a place
				}
				wheel, on := false, false
				for _, d := range p.Figure {
					wheel = wheel || d.Draw == "disc" && b.at(d.At) == at
					on = on || d.Draw == "bar" && b.through(bar{b.at(d.From), b.at(d.To), false}, at)
				}
				if !wheel && !on {
					t.Errorf("%s: %s is drawn at %v, on no bar and at no wheel's centre", s.ID, c.Symbol, at)
				}
				for _, pt := range body.Points {
					if d := place(pt, b.values).minus(at); !wheel && !pt.Mark && math.Sqrt(d.dot(d)) < 0.08*b.size {
						t.Errorf("%s: %s is drawn at %v, over the point %s", s.ID, c.Symbol, at, pt.Name)
					}
				}
			}
		}
	}
}
