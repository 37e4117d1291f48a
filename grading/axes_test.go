package grading

import (
	"encoding/json"
	"strings"
	"testing"

	"steelyard/problems"
)

// Axes laid along a slope by its angle or by its number give the same entries:
// what is along the slope is whole, what is square to it nothing.
func TestAxesAlongASlope(t *testing.T) {
	s, err := problems.Builtin().Scenario("sledge-on-slip")
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.Enter(1, []string{"alpha=20"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tilt := range []string{"alpha", "20", "20°", " 20 deg "} {
		g, err := New(p, Choice{Tilt: tilt})
		if err != nil {
			t.Fatal(err)
		}
		for i := range g.count() {
			line, err := g.Line("x", g.symbolOf(i), true)
			if err != nil {
				t.Fatal(err)
			}
			if v, err := g.Cell("x", g.symbolOf(i), line); err != nil || v.Outcome != Right {
				t.Errorf("axes %q: x of %s: %q is %v %v %v", tilt, g.symbolOf(i), line, v.Outcome, v.Slips, err)
			}
			if strings.Contains(line, "20") || strings.Contains(line, "cos(0") {
				t.Errorf("axes %q: x of %s is %q, not told by the slope's angle", tilt, g.symbolOf(i), line)
			}
		}
	}
	for _, c := range []struct{ tilt, want string }{
		{"mu", "the tilt of the x axis is an angle"},
		{"al", "the tilt of the x axis, \"al\""},
		{"1e9", "the tilt of the x axis"},
		{"\x1b[2J", `\x1b`},
	} {
		if _, err := New(p, Choice{Tilt: c.tilt}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("tilt %q: %v, want %q", c.tilt, err, c.want)
		}
	}
	var r Request
	for in, want := range map[string]string{`{"tilt":-35.5}`: "-35.5", `{"tilt":"180 - alpha"}`: "180 - alpha"} {
		if err := json.Unmarshal([]byte(in), &r); err != nil || string(r.Tilt) != want {
			t.Errorf("%s: %q %v", in, r.Tilt, err)
		}
	}
	if err := json.Unmarshal([]byte(`{"tilt":[1]}`), &r); err == nil {
		t.Error("a list is no tilt")
	}
}
