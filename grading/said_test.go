package grading

import (
	"math"
	"strings"
	"testing"

	"steelyard/problems"
)

// What a line of a list says, whatever the body has.
func TestSaid(t *testing.T) {
	sc, err := problems.Builtin().Scenario("davit-arm")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Draw(sc, 1)
	if err != nil {
		t.Fatal(err)
	}
	g, err := New(p, Choice{})
	if err != nil {
		t.Fatal(err)
	}
	i, _ := p.Table.Index("alpha")
	alpha := p.Values[i]
	for _, c := range []struct {
		line string
		want Said // At and Turn empty where the line is not read
	}{
		{"T at B toward C", Said{At: "B", Way: "toward C", Angle: math.Pi - alpha, Toward: true}},
		{"- T at b towards c.", Said{At: "B", Way: "towards c", Angle: math.Pi - alpha, Toward: true}},
		{"T at B away from C", Said{At: "B", Way: "away from C", Angle: -alpha}},
		{"T at B at 145 deg", Said{At: "B", Way: "at 145 deg", Angle: 145 * math.Pi / 180}},
		{"T at B, up and left", Said{At: "B", Way: "up and left", Angle: 3 * math.Pi / 4}},
		{"T at B 180 - alpha", Said{At: "B", Way: "180 - alpha", Angle: math.Pi - alpha}},
		{"T at G along AB", Said{At: "G", Way: "along AB"}},
		{"nothing at A up", Said{At: "A", Way: "up", Angle: math.Pi / 2}},
		{"m g down at G", Said{At: "G", Way: "down", Angle: -math.Pi / 2}},
		{"the weight acting at point b, straight down", Said{At: "B", Way: "straight down", Angle: -math.Pi / 2}},
		{"C clockwise", Said{Turn: -1}},
		{"M_A at A ccw", Said{At: "A", Turn: 1}},
		{"W at Z down", Said{}},
		{"W at G", Said{}},
		{"W at G sideways", Said{}},
		{"", Said{}},
		{"T at B toward B", Said{}},
		{strings.Repeat("W", 300) + " at G down", Said{}},
	} {
		got, ok := g.Said(c.line)
		if ok != (c.want.At != "" || c.want.Turn != 0) {
			t.Errorf("%q is read: %v, as %+v", c.line, ok, got)
			continue
		}
		same := math.Cos(got.Angle-c.want.Angle) > 1-1e-12
		if got.Angle, c.want.Angle = 0, 0; ok && (!same || got != c.want) {
			t.Errorf("%q says %+v, its angle right: %v; want %+v", c.line, got, same, c.want)
		}
	}
}

// Whatever line of a list is read by who judges it says something before it is
// judged; and one that is right says the way that its force acts, or the other
// if that was assumed.
func TestJudgedLinesSaySomething(t *testing.T) {
	read, rights := 0, 0
	for _, c := range corpus(t) {
		if c.request.Step != "forces" {
			continue
		}
		sc, err := problems.Builtin().Scenario(c.request.Problem)
		if err != nil {
			continue // a scenario of testdata
		}
		p, err := Draw(sc, 7)
		if err != nil {
			t.Fatal(err)
		}
		for i := range sc.Bodies {
			body := &sc.Bodies[i]
			g, err := New(p, Choice{Body: body.Name, Pivot: body.Points[0].Name})
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.FieldsFunc(c.request.Answer, func(r rune) bool { return r == ';' || r == '\n' }) {
				v, l := g.ForceLine(line)
				if v.Outcome == Unreadable {
					continue
				}
				read++
				said, ok := g.Said(line)
				if !ok && !strings.Contains(v.Message, "acts on") { // a force of another body, at a point of that
					t.Errorf("%s: %q is judged %s, and says nothing", c.place, line, v.Outcome)
				}
				j, ok := body.Force(l.Symbol)
				if !ok || !v.Earned() {
					continue
				}
				rights++
				angle := body.Forces[j].Dir.Radians(p.Values)
				if l.Reversed {
					angle += math.Pi
				}
				if math.Cos(said.Angle-angle) < math.Sqrt2/2-1e-9 { // two words say a quadrant
					t.Errorf("%s: %q is right, and says %v, not %v", c.place, line, said.Angle, angle)
				}
			}
		}
	}
	t.Logf("%d lines are read, %d of them right", read, rights)
	if read < 300 || rights < 100 {
		t.Errorf("only %d lines are read, %d of them right", read, rights)
	}
}
