package problems

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"steelyard/problems/statics"
)

// The step-ladder's closed form: moments on the whole about B give N_A, and on
// the right leg about C give T (common practice).
func TestStepLadder(t *testing.T) {
	s := bench(t, "step-ladder")
	p, err := s.Enter(1, []string{"L=3", "s=1.2", "W=800", "alpha=70"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	c, tan := math.Cos(70*math.Pi/180), math.Tan(70*math.Pi/180)
	base := 2 * 3 * c
	nA := 800 * (base - 1.2*c) / base
	nB := 800 - nA
	tension := nB * (base / 2) / (1.5 * c * tan) // N_B, half the base out, against T, half the height below the pin
	for symbol, want := range map[string]float64{"N_A": nA, "N_B": nB, "T": tension, "C_x": -tension, "C_y": nB} {
		u, _ := s.Unknown(symbol)
		if got := p.Values[u.Index]; math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s = %g, want %g", symbol, got, want)
		}
	}
	if k, err := p.Answer(0); err != nil || k != 0 {
		t.Errorf("answer %d, %v", k, err)
	}
}

// A joint's force acts on both bodies, equal and opposite; on the whole it does
// not act, and the whole's rows vanish at the solution too.
func TestJointsActBothWays(t *testing.T) {
	p, err := bench(t, "step-ladder").Draw(3, nil)
	if err != nil {
		t.Fatal(err)
	}
	left, right, whole := &p.Bodies[0], &p.Bodies[1], &p.Bodies[2]
	for _, symbol := range []string{"C_x", "C_y", "T"} {
		i, ok := left.Force(symbol)
		j, also := right.Force(symbol)
		if !ok || !also {
			t.Fatalf("%s is not on both legs", symbol)
		}
		turn := left.Forces[i].Dir.Radians(p.Values) - right.Forces[j].Dir.Radians(p.Values)
		if math.Abs(math.Abs(turn)-math.Pi) > 1e-12 {
			t.Errorf("%s: the directions differ by %g, want a half turn", symbol, turn)
		}
		if left.Forces[i].Joint != "right leg" || right.Forces[j].Joint != "left leg" {
			t.Errorf("%s: joint of %q and %q", symbol, left.Forces[i].Joint, right.Forces[j].Joint)
		}
		if _, on := whole.Force(symbol); on {
			t.Errorf("%s acts on the whole", symbol)
		}
	}
	if !whole.Whole() || len(whole.Forces) != 3 {
		t.Fatalf("the whole has %d forces, want the floor's two and the weight", len(whole.Forces))
	}
	for _, row := range p.Rows() {
		sum, big := 0.0, 0.0
		for _, c := range row.Cells {
			x := c.Coef.Eval(p.Values) * c.Magnitude.Eval(p.Values)
			sum, big = sum+x, max(big, math.Abs(x))
		}
		if math.Abs(sum) > 1e-9*big {
			t.Errorf("%s of %s is %g of %g", row.Kind, row.Body, sum, big)
		}
	}
}

func TestTwoForceMember(t *testing.T) {
	p, err := bench(t, "step-ladder").Draw(3, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, ok := p.Bodies[0].TwoForce(); ok {
		t.Error("a leg with three forces is no two-force member")
	}
	strut := statics.Body{Name: "strut", Forces: []statics.Force{{Symbol: "X", At: "A", Unknown: true}, {Symbol: "Y", At: "A", Unknown: true}, {Symbol: "Z", At: "B", Unknown: true}}}
	if from, to, ok := strut.TwoForce(); !ok || from != "A" || to != "B" {
		t.Errorf("%s %s %v", from, to, ok)
	}
}

// What is wrong with joints, wholes, questions and hints is said with its
// place.
func TestJointFaults(t *testing.T) {
	data, err := os.ReadFile("testdata/step-ladder.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, want string }{
		{`on = ["left leg", "right leg"]`, `on = ["left leg"]`, "a joint is on two bodies"},
		{`on = ["left leg", "right leg"]`, `on = ["left leg", "mast"]`, `no body "mast" that a joint could be on`},
		{`on = ["left leg", "right leg"]`, `on = ["left leg", "whole ladder"]`, `no body "whole ladder" that a joint could be on`},
		{`of = ["left leg", "right leg"]`, `of = ["left leg"]`, "two bodies or more"},
		{`of = ["left leg", "right leg"]`, `of = ["left leg", "left leg"]`, `"left leg" is named twice`},
		{`of = ["left leg", "right leg"]`, `of = ["left leg", "boat"]`, `no body "boat" before this one`},
		{`to = "E"`, `to = "F"`, `no point "F" on body "right leg"`},
		{`at = "C + L @ -alpha"`, `at = "Q + L @ -alpha"`, "a place begins with a point named before it"},
		{"name = \"C\"\nmeaning = \"pin at the top\"\nat = \"C\"", "name = \"C\"\nat = \"A + L/2 @ alpha\"", `point C is elsewhere on body "left leg"`},
		{`when = "N_A > N_B"`, `when = "N_A = N_B"`, "a requirement is one inequality"},
		{`question = "Which foot is pressed harder?"`, ``, "question is missing"},
		{`step = "pivot"`, `step = "sing"`, `"sing" is no step`},
		{`body = "whole ladder"`, `body = "mast"`, `no body "mast"`},
		{"at = \"D\"\nto = \"E\"", "at = \"D\"\nto = \"E\"\nmay_slip = true", "only a rough support may slip"},
	} {
		text := strings.Replace(string(data), c.old, c.new, 1)
		if text == string(data) {
			t.Fatalf("%q is not in the file", c.old)
		}
		_, err := Read("f.toml", []byte(text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.new, err, c.want)
		} else if !slices.ContainsFunc(strings.Split(err.Error(), "\n"), func(l string) bool { return strings.HasPrefix(l, "f.toml:") }) {
			t.Errorf("%s: no place in %v", c.new, err)
		}
	}
}

// A question whose answers do not exclude each other says so of the draw.
func TestAskNeedsOneAnswer(t *testing.T) {
	data, err := os.ReadFile("testdata/step-ladder.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, want string }{
		{`when = "N_A < N_B"`, `when = "N_A > N_B/2"`, "both"},
		{`when = "N_A > N_B"`, `when = "N_A > 9 N_B"`, "none of its answers holds"},
	} {
		s, err := Read("f.toml", []byte(strings.Replace(string(data), c.old, c.new, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Draw(1, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.new, err, c.want)
		}
	}
}
