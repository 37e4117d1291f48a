package figure

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"steelyard/problems"
)

// TestNoAnswer changes the whole solution: neither figure nor words may.
func TestNoAnswer(t *testing.T) {
	for _, s := range figures(t) {
		for seed := range uint64(10) {
			p := drawProblem(t, s, seed)
			v := everything(s)
			v.Selected = v.Forces[len(v.Forces)-1].Symbol
			scene, words := Build(p, v), Words(p, v)
			other := *p
			other.Values = slices.Clone(p.Values)
			for _, u := range s.Unknowns {
				other.Values[u.Index] *= 1.37
			}
			if again := Build(&other, v); !reflect.DeepEqual(scene.Shapes, again.Shapes) || !reflect.DeepEqual(scene.Room, again.Room) {
				t.Errorf("%s, seed %d: the figure depends on the solution", s.ID, seed)
			}
			if again := Words(&other, v); !slices.Equal(words, again) {
				t.Errorf("%s, seed %d: the words depend on the solution:\n%v\n%v", s.ID, seed, words, again)
			}
		}
	}
}

// TestSupposed holds the places of what is to be found to those promised, and
// to the true ones once the learner has found them.
func TestSupposed(t *testing.T) {
	for _, c := range []struct {
		id, unknown, of, origin string
		share                   float64
	}{
		{"hull-ladder-limit", "d", "L", "A", shareAhead},
		{"quay-plank", "x", "e", "E", shareAhead},
		{"plank-balance", "r_2", "r_1", "O", shareBehind},
	} {
		s := scenario(t, c.id)
		for seed := range uint64(10) {
			p := drawProblem(t, s, seed)
			value := func(symbol string) float64 { i, _ := s.Table.Index(symbol); return p.Values[i] }
			distance := func(v View) float64 {
				b := &builder{p: p, v: v, values: drawnValues(p, v.Learned)}
				d := b.at("D").minus(b.at(c.origin))
				return math.Hypot(d.X, d.Y)
			}
			if got, want := distance(View{}), c.share*value(c.of); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, seed %d: %s is drawn as %v, want %v", c.id, seed, c.unknown, got, want)
			}
			learned := View{Learned: map[string]bool{c.unknown: true}}
			if got, want := distance(learned), value(c.unknown); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, seed %d: %s, learned, is drawn as %v, want %v", c.id, seed, c.unknown, got, want)
			}
		}
	}
}

// TestArrows checks directions against the scenario's words.
func TestArrows(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	i, _ := p.Table.Index("alpha")
	alpha := p.Values[i]
	l, _ := p.Table.Index("L")
	for _, c := range []struct {
		listed  Listed
		angle   float64
		at      Vec
		arrives bool
	}{
		{Listed{Symbol: "T"}, math.Pi - alpha, Vec{p.Values[l], 0}, false},
		{Listed{Symbol: "T", Reversed: true}, -alpha, Vec{p.Values[l], 0}, false},
		{Listed{Symbol: "W"}, -math.Pi / 2, Vec{p.Values[l] / 2, 0}, false},
		{Listed{Symbol: "W", At: "B"}, -math.Pi / 2, Vec{p.Values[l], 0}, false},
		{Listed{Symbol: "W", At: "A + L/4 @ 0"}, -math.Pi / 2, Vec{p.Values[l] / 4, 0}, false},
		{Listed{Symbol: "H"}, 0, Vec{}, true}, // the arm is on its right
		{Listed{Symbol: "V"}, math.Pi / 2, Vec{}, false},
	} {
		var got []Arrow
		for _, shape := range Build(p, View{Forces: []Listed{c.listed}}).Shapes {
			if a, ok := shape.(Arrow); ok {
				got = append(got, a)
			}
		}
		if len(got) != 1 {
			t.Fatalf("%+v gives %d arrows", c.listed, len(got))
		}
		if a := got[0]; apart(a.Angle, c.angle) > 1e-9 || !a.At.near(c.at, 1e-9) || a.Arrives != c.arrives {
			t.Errorf("%+v is drawn as %+v; want angle %v at %v, arrives %v", c.listed, a, c.angle, c.at, c.arrives)
		}
	}
}

// TestArm checks that the arm is square to the line of action and as long as
// the solver's moment coefficient says.
func TestArm(t *testing.T) {
	for _, s := range figures(t) {
		p := drawProblem(t, s, 4)
		for _, pivot := range s.Bodies[0].Points {
			for _, f := range s.Bodies[0].Forces {
				v := everything(s)
				v.Pivot, v.Selected = pivot.Name, f.Symbol
				at, _ := s.Bodies[0].Point(f.At)
				values := drawnValues(p, nil)
				px, py := pivot.XY(values)
				x, y := at.XY(values)
				phi := f.Dir.Radians(values)
				want := math.Abs((x-px)*math.Sin(phi) - (y-py)*math.Cos(phi))
				got := 0.0
				for _, shape := range Build(p, v).Shapes {
					if l, ok := shape.(Line); ok && l.Role == Arm {
						d := l.To.minus(l.From)
						got = math.Hypot(d.X, d.Y)
						if along := math.Abs(d.dot(heading(phi))); along > 1e-9 {
							t.Errorf("%s: the arm of %s about %s is not square to it", s.ID, f.Symbol, pivot.Name)
						}
					}
				}
				if math.Abs(got-want) > 1e-6 {
					t.Errorf("%s: the arm of %s about %s is drawn %v long, want %v", s.ID, f.Symbol, pivot.Name, got, want)
				}
			}
		}
	}
}

func TestTurning(t *testing.T) {
	p := drawProblem(t, scenario(t, "winch-bar"), 2)
	for _, c := range []struct {
		view View
		want string
	}{
		{View{Forces: []Listed{{Symbol: "C"}}}, "C ↻"},
		{View{Forces: []Listed{{Symbol: "C", Reversed: true}}}, "C ↺"},
		{View{Pivot: "S"}, "S +↺"},
		{View{Pivot: "S", Clockwise: true}, "S +↻"},
	} {
		if got := Build(p, c.view).Text(60, 20, false).String(); !strings.Contains(got, c.want) {
			t.Errorf("%+v shows no %q:\n%s", c.view, c.want, got)
		}
	}
}

// TestToScale measures the drawn slopes in dots, which are square.
func TestToScale(t *testing.T) {
	for seed := range uint64(20) {
		p := drawProblem(t, scenario(t, "hull-ladder"), seed)
		i, _ := p.Table.Index("alpha")
		d := Build(p, View{}).drawn(60, 20, false)
		b := &builder{p: p, values: p.Values}
		foot, top := d.spot(b.at("A")), d.spot(b.at("B"))
		cell := 2.0 * CellAspect / dotsDown // the height of a dot, in its widths
		if got := math.Atan2((foot.y-top.y)*cell, top.x-foot.x); math.Abs(got-p.Values[i]) > 1e-9 {
			t.Errorf("seed %d: the ladder stands at %v, want %v", seed, got, p.Values[i])
		}
	}
}

// leaning is a scenario whose unknown is an angle: how steep must a stay of
// given pull be?
const leaning = `
id = "leaning-stay"
title = "How steep a stay?"
family = "test"
level = 1
statement = "Find the angle beta of the stay."
skills = ["forces"]

[[givens]]
symbol = "L"
meaning = "length of the arm"
unit = "m"
from = 2
to = 4
step = 0.1

[[givens]]
symbol = "W"
meaning = "weight of the arm"
unit = "N"
from = 100
to = 200
step = 10

[[givens]]
symbol = "T"
meaning = "pull of the stay"
unit = "N"
from = 150
to = 300
step = 10

[[unknowns]]
symbol = "beta"
meaning = "angle between the stay and the arm"
unit = "deg"
within = ["0", "88"]

[[unknowns]]
symbol = "H"
meaning = "level part of the hinge's force"
unit = "N"

[[unknowns]]
symbol = "V"
meaning = "upright part of the hinge's force"
unit = "N"

[[bodies]]
name = "arm"

[[bodies.points]]
name = "A"
meaning = "hinge"
at = "0"

[[bodies.points]]
name = "G"
meaning = "middle"
at = "A + L/2 @ 0"

[[bodies.points]]
name = "B"
meaning = "tip"
at = "A + L @ 0"

[[bodies.marks]]
name = "C"
meaning = "head of the stay"
at = "B + L/2 @ 180 - beta"

[[bodies.supports]]
kind = "pin"
at = "A"
symbols = ["H", "V"]

[[bodies.forces]]
symbol = "T"
kind = "tension"
at = "B"
angle = "180 - beta"

[[bodies.forces]]
symbol = "W"
kind = "weight"
at = "G"

[limit]
question = "As the arm weighs ever less, the angle:"
symbol = "beta"
vary = "W"
toward = "0"
side = "above"

[[figure]]
draw = "bar"
from = "A"
to = "B"

[[figure]]
draw = "cable"
from = "B"
to = "C"

[[figure]]
draw = "angle"
at = "B"
angle = "180 - beta"
span = "beta"
label = "beta"
`

func TestUnknownAngle(t *testing.T) {
	s, err := problems.Read("leaning-stay.toml", []byte(leaning))
	if err != nil {
		t.Fatal(err)
	}
	i, _ := s.Table.Index("beta")
	for seed := range uint64(10) {
		p := drawProblem(t, s, seed)
		if got, want := drawnValues(p, nil)[i], 44*math.Pi/180; math.Abs(got-want) > 1e-9 {
			t.Errorf("seed %d: beta is drawn as %v, want the middle of its range, %v", seed, got, want)
		}
		v := everything(s)
		text, words := Build(p, v).Text(60, 20, false).String(), strings.Join(Words(p, v), "\n")
		if !strings.Contains(text, "β = ?") {
			t.Errorf("seed %d: the figure does not ask for β:\n%s", seed, text)
		}
		for _, want := range []string{
			"At B the angle between the level to the left and the line to C is β, to be found.",
			"T (pull of the stay) pulls at B, up and left, β above the level.",
			"Not to scale: β is to be found, so C may be elsewhere.",
		} {
			if !strings.Contains(words, want) {
				t.Errorf("seed %d: no %q in\n%s", seed, want, words)
			}
		}
		v.Learned = map[string]bool{"beta": true}
		if got := drawnValues(p, v.Learned)[i]; got != p.Values[i] {
			t.Errorf("seed %d: beta, learned, is drawn as %v, want %v", seed, got, p.Values[i])
		}
		if words := strings.Join(Words(p, v), "\n"); strings.Contains(words, "to be found") {
			t.Errorf("seed %d: what is learned is still to be found:\n%s", seed, words)
		}
	}
}
