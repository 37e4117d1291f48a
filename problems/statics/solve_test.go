package statics

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// beam is a level bar from A to B of length L, with its middle G.
func (l *lab) beam(forces ...Force) *Body {
	l.Helper()
	return &Body{Name: "beam", Forces: forces, Points: []Point{
		{Name: "A"}, {Name: "B", Chain: []Offset{l.polar("L", "0")}}, {Name: "G", Chain: []Offset{l.polar("L/2", "0")}},
		{Name: "D", Chain: []Offset{l.polar("d", "0")}},
	}}
}

func TestSolveBeam(t *testing.T) {
	l := newLab(t)
	l.set("L", 4)
	l.set("d", 1)
	l.set("P", 100)
	load := l.force("P", "D", "-90", false)
	b := l.beam(l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.force("N", "B", "90", true), load)
	sol, err := l.solve(b, "H", "V", "N")
	if err != nil {
		t.Fatal(err)
	}
	l.near("H", l.get("H"), 0)
	l.near("V", l.get("V"), 75) // P b/L
	l.near("N", l.get("N"), 25) // P a/L
	if sol.Rank != 3 || !(sol.Condition >= 1 && sol.Condition < 10) || sol.Residual > 1e-12 {
		t.Errorf("solution %+v", sol)
	}
}

func TestSolveFixedEnd(t *testing.T) {
	l := newLab(t)
	b := l.beam(l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.force("P", "B", "-60", false))
	b.Couples = []Couple{{Symbol: "C", Magnitude: l.sum("C"), Unknown: true, Sense: 1, Kind: Fixing}}
	if _, err := l.solve(b, "H", "V", "C"); err != nil {
		t.Fatal(err)
	}
	l.near("H", l.get("H"), -l.get("P")*0.5)
	l.near("V", l.get("V"), l.get("P")*math.Sqrt(3)/2)
	l.near("C", l.get("C"), l.get("P")*l.get("L")*math.Sqrt(3)/2)
}

// A system whose rows come about a far pivot, tilted, clockwise and with
// senses reversed has the same solution, its reversed unknowns the other sign.
func TestSolveInAnyFrame(t *testing.T) {
	l := newLab(t)
	b := l.beam(l.force("T", "B", "180 - alpha", true), l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.weight("M g", "G"))
	if _, err := l.solve(b, "T", "H", "V"); err != nil {
		t.Fatal(err)
	}
	want := []float64{l.get("T"), l.get("H"), l.get("V")}
	far := Point{Name: "Q", Chain: []Offset{l.polar("3 L", "beta"), l.xy("-a", "2 b")}}
	s := System{Search: -1, Unknowns: []int{l.index("T"), l.index("H"), l.index("V")}, Names: []string{"T", "H", "V"},
		Rows: b.Ledger(Frame{Pivot: far, Tilt: l.angle("theta"), Clockwise: true, Reversed: map[string]bool{"H": true}})}
	if _, err := s.Solve(l.values); err != nil {
		t.Fatal(err)
	}
	l.near("T", l.get("T"), want[0])
	l.near("H", l.get("H"), -want[1])
	l.near("V", l.get("V"), want[2])
}

func TestRedundantSupports(t *testing.T) {
	l := newLab(t)
	// Two pins: the level parts cannot be told apart, the upright ones can.
	b := l.beam(l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.force("F", "B", "0", true), l.force("N", "B", "90", true), l.weight("M g", "G"))
	_, err := l.solve(b, "H", "V", "F", "N")
	var e *RedundantError
	if !errors.As(err, &e) || e.Rank != 3 || e.Unknowns != 4 || !slices.Equal(e.Surplus, []string{"H", "F"}) {
		t.Fatalf("%v", err)
	}
	if !strings.Contains(err.Error(), "H, F cannot be told apart; remove 1 of these supports") {
		t.Error(err)
	}
	// A force that enters no row: N is not on the body.
	b = l.beam(l.force("V", "A", "90", true), l.weight("M g", "A"))
	_, err = l.solve(b, "V", "N")
	if !errors.As(err, &e) || !slices.Equal(e.Surplus, []string{"N"}) || !strings.Contains(err.Error(), "nothing in them fixes N") {
		t.Fatalf("%v", err)
	}
}

func TestMechanisms(t *testing.T) {
	l := newLab(t)
	l.set("L", 2)
	for _, c := range []struct {
		name     string
		forces   []Force
		unknowns []string
		free     string
	}{
		{"rollers under a pull", []Force{l.force("N", "A", "90", true), l.force("V", "B", "90", true), l.force("P", "G", "0", false)}, []string{"N", "V"}, "moving along x"},
		{"smooth walls", []Force{l.force("N", "A", "0", true), l.force("P", "A", "-90", false)}, []string{"N"}, "moving along y"},
		{"a pin alone", []Force{l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.weight("M g", "G")}, []string{"H", "V"}, "turning about A"},
		{"a pin at the far end", []Force{l.force("H", "B", "0", true), l.force("V", "B", "90", true), l.weight("M g", "G")}, []string{"H", "V"}, "turning about the point (2, 0) m from A"},
		{"a smooth slope", []Force{l.force("N", "A", "120", true), l.weight("M g", "A")}, []string{"N"}, "moving at -150 degrees from x"},
		{"nothing holds it", []Force{l.weight("M g", "A")}, nil, "moving along y"},
	} {
		_, err := l.solve(l.beam(c.forces...), c.unknowns...)
		var e *MechanismError
		if !errors.As(err, &e) || e.Free != c.free {
			t.Errorf("%s: %v, want %q", c.name, err, c.free)
		}
	}
	// In balance by its place, a mechanism is at rest.
	if _, err := l.solve(l.beam(l.force("N", "A", "90", true), l.weight("M g", "A")), "N"); err != nil {
		t.Error(err)
	}
	two := System{Search: -1, Unknowns: []int{l.index("N")}, Names: []string{"N"}}
	held, loose := l.beam(l.force("N", "A", "90", true), l.weight("M g", "A")), l.beam(l.force("P", "A", "0", false))
	loose.Name = "hook"
	for _, b := range []*Body{held, loose} {
		two.Rows = append(two.Rows, b.Ledger(Frame{Pivot: b.Points[0]})...)
	}
	if _, err := two.Solve(l.values); err == nil || !strings.Contains(err.Error(), "moving along x (hook)") {
		t.Errorf("%v", err)
	}
}

// Two bodies, one on the other: the force between them acts on both, reversed.
func TestSolveTwoBodies(t *testing.T) {
	l := newLab(t)
	upper := l.beam(l.force("F", "A", "90", true), l.weight("m g", "A"))
	lower := l.beam(l.force("F", "A", "-90", true), l.force("N", "A", "90", true), l.weight("M g", "A"))
	s := System{Search: -1, Unknowns: []int{l.index("F"), l.index("N")}, Names: []string{"F", "N"}}
	for _, b := range []*Body{upper, lower} {
		s.Rows = append(s.Rows, b.Ledger(Frame{Pivot: b.Points[0]})...)
	}
	if _, err := s.Solve(l.values); err != nil {
		t.Fatal(err)
	}
	l.near("F", l.get("F"), l.get("m")*l.get("g"))
	l.near("N", l.get("N"), (l.get("m")+l.get("M"))*l.get("g"))
}

// search solves the body's rows for the unknowns and, between lo and hi, the
// searched symbol.
func (l *lab) search(symbol, lo, hi string, b *Body, unknowns ...string) error {
	l.Helper()
	s := System{Rows: b.Ledger(Frame{Pivot: b.Points[0]}), Search: l.index(symbol), Lo: l.sum(lo), Hi: l.sum(hi)}
	for _, u := range unknowns {
		s.Unknowns, s.Names = append(s.Unknowns, l.index(u)), append(s.Names, u)
	}
	s.Names = append(s.Names, symbol)
	_, err := s.Solve(l.values)
	return err
}

// lever is a bar on a trestle at A, with the weight M g at the distance d to
// the right and m g at arm to the left.
func (l *lab) lever(arm string) *Body {
	l.Helper()
	b := l.beam(l.force("N", "A", "90", true), l.weight("M g", "D"))
	b.Points = append(b.Points, Point{Name: "E", Chain: []Offset{l.polar(arm, "180")}})
	b.Forces = append(b.Forces, l.weight("m g", "E"))
	return b
}

func TestSearchDistance(t *testing.T) {
	l := newLab(t)
	for seed := range uint64(50) {
		l.shake(seed)
		if err := l.search("d", "0", "20 L", l.lever("a"), "N"); err != nil {
			t.Fatal(err)
		}
		l.near("d", l.get("d"), l.get("a")*l.get("m")/l.get("M"))
		l.near("N", l.get("N"), (l.get("m")+l.get("M"))*l.get("g"))
	}
}

// The angle at which the
// couple C balances the weight at the tip, M g L cos(theta) = C.
func TestSearchAngle(t *testing.T) {
	l := newLab(t)
	l.set("C", 0.6*l.get("M")*l.get("g")*l.get("L"))
	b := &Body{Name: "rod", Points: []Point{{Name: "A"}, {Name: "B", Chain: []Offset{l.polar("L", "theta")}}}}
	b.Forces = []Force{l.force("V", "A", "90", true), l.weight("M g", "B")}
	b.Couples = []Couple{{Symbol: "C", Magnitude: l.sum("C"), Sense: 1, Kind: Turning}}
	if err := l.search("theta", "0", "1.5", b, "V"); err != nil {
		t.Fatal(err)
	}
	l.near("theta", l.get("theta"), math.Acos(0.6))
	// From -1.5 to 1.5 there are two such angles.
	var e *RootError
	if err := l.search("theta", "-1.5", "1.5", b, "V"); !errors.As(err, &e) || len(e.Roots) != 2 {
		t.Fatalf("%v", err)
	}
	if !strings.Contains(e.Error(), "2 values of theta from -1.5 to 1.5 balance the rows (-0.9273, 0.9273)") {
		t.Error(e)
	}
}

// The least coefficient of friction on a slope is its tangent.
func TestSearchFriction(t *testing.T) {
	l := newLab(t)
	b := l.beam(l.force("N", "A", "90 + alpha", true), l.weight("M g", "A"))
	rub := l.force("f", "A", "alpha", true)
	rub.Magnitude = l.sum("mu N")
	b.Forces = append(b.Forces, rub)
	if err := l.search("mu", "0", "5", b, "N"); err != nil {
		t.Fatal(err)
	}
	l.near("mu", l.get("mu"), math.Tan(l.get("alpha")))
}

func TestSearchFails(t *testing.T) {
	l := newLab(t)
	l.set("L", 2)
	for _, c := range []struct {
		name, arm, lo, hi, want string
	}{
		{"no root", "-a", "0", "L", "no value of d from 0 to 2 balances the rows"},
		{"two roots", "d^2 + 0.1", "0", "L", "2 values of d"},
		{"two roots near each other", "d^2 + 0.2499999", "0", "1.9", "2 values of d"},
		{"a pole is no root", "2/(d - 1)", "0.5", "1.9", "no value of d"},
		{"an empty range", "a", "L", "L", "the range of d is empty"},
		{"a range the wrong way round", "a", "L", "0", "the range of d is empty"},
		{"any value", "d", "0", "L", "nothing in them fixes d"},
		{"NaN everywhere", "d + sqrt(-L)", "0", "L", "d"},
	} {
		l.set("m", 2)
		l.set("M", 2)
		body := l.lever(c.arm)
		err := l.search("d", c.lo, c.hi, body, "N")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	// One root, where the curve touches zero between two points of the grid.
	if err := l.search("d", "0", "1.9", l.lever("d^2 + 0.25"), "N"); err != nil {
		t.Error(err)
	} else if math.Abs(l.get("d")-0.5) > 1e-5 {
		t.Errorf("d = %g, want 0.5", l.get("d"))
	}
	// Too few rows for the unknowns.
	if err := l.search("d", "0", "L", l.lever("a"), "N", "V"); err == nil {
		t.Error("an unknown without a row is solved for")
	}
}

// A force that is the square of an unknown is not solved as if it were linear.
func TestNotLinear(t *testing.T) {
	l := newLab(t)
	f := l.force("N", "A", "90", true)
	f.Magnitude = l.sum("N^2")
	b := l.beam(f, l.weight("M g", "A"))
	if _, err := l.solve(b, "N"); err == nil || !strings.Contains(err.Error(), "not linear in N") {
		t.Errorf("%v", err)
	}
	f.Magnitude = l.sum("N/(L - L)")
	if _, err := l.solve(l.beam(f, l.weight("M g", "A")), "N"); err == nil || !strings.Contains(err.Error(), "finite") {
		t.Errorf("%v", err)
	}
}
