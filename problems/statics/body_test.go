package statics

import (
	"math"
	"slices"
	"testing"
)

// A chain gives the same place and the same arm however it is written.
func TestChains(t *testing.T) {
	l := newLab(t)
	chains := map[string][]Offset{
		"polar":          {l.polar("L", "alpha"), l.polar("a", "beta + 90")},
		"Cartesian":      {l.xy("L cos(alpha)", "L sin(alpha)"), l.xy("-a sin(beta)", "a cos(beta)")},
		"mixed":          {l.xy("L cos(alpha)", "L sin(alpha)"), l.polar("a", "beta + 90")},
		"in steps":       {l.polar("L/2", "alpha"), l.polar("a", "90 + beta"), l.polar("L/2", "alpha")},
		"there and back": {l.polar("L", "alpha"), l.polar("b", "theta"), l.polar("a", "beta + 90"), l.polar("b", "theta + 180")},
	}
	pivot := Point{Name: "Q", Chain: []Offset{l.polar("h", "20"), l.xy("d", "-b")}}
	for name, chain := range chains {
		p := Point{Name: "P", Chain: chain}
		for seed := range uint64(20) {
			l.shake(seed)
			x, y := l.get("L")*math.Cos(l.get("alpha"))-l.get("a")*math.Sin(l.get("beta")), l.get("L")*math.Sin(l.get("alpha"))+l.get("a")*math.Cos(l.get("beta"))
			gx, gy := p.XY(l.values)
			l.near(name+" x", gx, x)
			l.near(name+" y", gy, y)
			qx, qy := pivot.XY(l.values)
			phi := l.get("theta") + 0.5
			d := At(Angle{Degrees: 0.5 * 180 / math.Pi, Terms: l.angle("theta").Terms})
			l.near(name+" arm", Between(pivot, p).Arm(d).Eval(l.values), (x-qx)*math.Sin(phi)-(y-qy)*math.Cos(phi))
			l.near(name+" length", Between(pivot, p).Length().Eval(l.values), math.Hypot(x-qx, y-qy))
		}
	}
}

// What two chains share drops out, so that an arm reads as a textbook's.
func TestArmTexts(t *testing.T) {
	l := newLab(t)
	foot := Point{Name: "A"}
	top := Point{Name: "B", Chain: []Offset{l.polar("L", "alpha")}}
	man := Point{Name: "D", Chain: []Offset{l.polar("d", "alpha")}}
	axle := Point{Name: "O", Chain: []Offset{l.xy("-a", "L - h")}}
	for _, c := range []struct {
		from, to Point
		angle    string
		want     string
	}{
		{foot, top, "180", "L sin α"}, {foot, top, "-90", "−L cos α"}, {top, foot, "90", "−L cos α"},
		{man, top, "180", "L sin α − d sin α"}, {foot, top, "alpha", "0"}, {foot, top, "alpha + 90", "L"}, {foot, top, "alpha + 180", "0"},
		{foot, axle, "0", "−L + h"}, {foot, axle, "-90", "a"}, {axle, foot, "180", "−L + h"}, {top, top, "35", "0"},
	} {
		if got := Between(c.from, c.to).Arm(At(l.angle(c.angle))).Text(false); got != c.want {
			t.Errorf("from %s to %s at %s: %s, want %s", c.from.Name, c.to.Name, c.angle, got, c.want)
		}
	}
}

// A direction toward a point is that of the vector, in symbols as simple as
// the chain allows.
func TestTowardPoint(t *testing.T) {
	l := newLab(t)
	from := Point{Name: "A", Chain: []Offset{l.xy("a", "b")}}
	to := func(offsets ...Offset) Point {
		return Point{Name: "B", Chain: append(slices.Clone(from.Chain), offsets...)}
	}
	for _, c := range []struct {
		name  string
		to    Point
		exact bool // an angle, not a quotient by the distance
	}{
		{"along an offset", to(l.polar("L", "180 - alpha")), true},
		{"against an offset", to(l.polar("-L", "alpha")), true},
		{"along two offsets of one line", to(l.polar("L", "alpha"), l.polar("L/2", "alpha")), true},
		{"straight up", to(l.xy("0", "h")), true},
		{"straight left", to(l.xy("-h", "0")), true},
		{"level and up", to(l.polar("L", "0"), l.polar("h", "90")), false},
		{"a difference of lengths", to(l.polar("L - d", "alpha")), false},
		{"in components", to(l.xy("-L", "h")), false},
	} {
		d, err := TowardPoint(from, c.to)
		if err != nil || (d.Toward == "") != c.exact {
			t.Errorf("%s: toward %q, %v", c.name, d.Toward, err)
		}
		for seed := range uint64(20) {
			l.shake(seed)
			ax, ay := from.XY(l.values)
			bx, by := c.to.XY(l.values)
			l.near(c.name, math.Remainder(d.Radians(l.values)-math.Atan2(by-ay, bx-ax), 2*math.Pi), 0)
			x, y := d.Components()
			l.near(c.name+": a unit", math.Hypot(x.Eval(l.values), y.Eval(l.values)), 1)
			// No arm about a point of its own line.
			l.near(c.name+": its own line", Between(from, c.to).Arm(d).Eval(l.values), 0)
			// The same rows, whichever way the direction is kept.
			l.near(c.name+": tilted", component(d, l.angle("theta")).Eval(l.values), math.Cos(math.Atan2(by-ay, bx-ax)-l.get("theta")))
		}
	}
	if _, err := TowardPoint(from, from); err == nil {
		t.Error("a direction from a point to itself")
	}
}

// The resultant of a load, against the integral of its strips.
func TestResultants(t *testing.T) {
	const strips = 20000
	for shape, at := range map[Shape]func(s float64) float64{
		Uniform: func(float64) float64 { return 1 }, Rising: func(s float64) float64 { return s }, Falling: func(s float64) float64 { return 1 - s },
	} {
		var size, moment float64
		for i := range strips {
			s := (float64(i) + 0.5) / strips
			size += at(s) / strips
			moment += s * at(s) / strips
		}
		gotSize, gotCentroid := shape.Resultant()
		if math.Abs(gotSize-size) > 1e-8 || math.Abs(gotCentroid-moment/size) > 1e-8 {
			t.Errorf("%s: %g at %g, want %g at %g", shape, gotSize, gotCentroid, size, moment/size)
		}
	}
}

func TestAdvice(t *testing.T) {
	l := newLab(t)
	b := l.beam(l.force("T", "B", "180 - alpha", true), l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.weight("M g", "G"))
	want := map[string][]string{"A": {"H", "V"}, "B": {"T", "H"}, "G": {"H"}, "D": {"H"}}
	for _, a := range b.Advise() {
		if a.Unknowns != 3 || !slices.Equal(a.Vanish, want[a.Point]) {
			t.Errorf("about %s: %v of %d vanish, want %v", a.Point, a.Vanish, a.Unknowns, want[a.Point])
		}
	}
	// Off the body, where the stay's line meets the mast.
	off := Point{Name: "C", Chain: []Offset{l.polar("L", "0"), l.polar("L/cos(alpha)", "180 - alpha")}}
	if a := b.AdviseAt(off); !slices.Contains(a.Vanish, "T") {
		t.Errorf("about the stay's own line: %v vanish", a.Vanish)
	}
}
