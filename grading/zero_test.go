package grading

import (
	"testing"

	"steelyard/problems"
)

// A row that says only that a force is nothing is told from a row that holds
// for nothing alone: H + V = 0 is not H = 0.
func TestRowThatSaysZero(t *testing.T) {
	s, err := problems.Builtin().Scenario("quay-bracket")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Draw(s, 1)
	if err != nil {
		t.Fatal(err)
	}
	g, err := New(p, Choice{})
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]Outcome{
		"H = 0": Right, "0 = H": Right, "-2 H = 0": Right,
		"H + V = 0": Wrong, "H = V": Wrong, "H + 186.4 = 0": Wrong, "H = 5": Wrong,
	} {
		if v, err := g.Equation("x", text); err != nil || v.Outcome != want {
			t.Errorf("%q is %v %v %q (%v), want %v", text, v.Outcome, v.Slips, v.Message, err, want)
		}
	}
	for text, want := range map[string]Outcome{"0": Right, "0 N": Right, "H = 0 kN": Right, "5 N": Wrong, "-0.2 kN": Wrong, "5": Unreadable} {
		if v, err := g.Value("H", text, nil); err != nil || v.Outcome != want {
			t.Errorf("H = %q is %v %v %q (%v), want %v", text, v.Outcome, v.Slips, v.Message, err, want)
		}
	}
}
