package grading

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// stepLadder is two legs, a pin and a tie, and the ladder as a whole.
func stepLadder(t *testing.T) *problems.Problem {
	t.Helper()
	data, err := os.ReadFile("../problems/testdata/step-ladder.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := problems.Read("step-ladder.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Draw(s, 5)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func graderOf(t *testing.T, p *problems.Problem, c Choice) *Grader {
	t.Helper()
	g, err := New(p, c)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// A force listed on a body it does not act on is said to act elsewhere; one
// between the parts of a whole is said to be internal to it.
func TestForcesOfOtherBodies(t *testing.T) {
	p := stepLadder(t)
	for _, c := range []struct{ body, line, want string }{
		{"left leg", "N_B at B up", "acts on the right leg, not on the left leg"},
		{"left leg", "N_B at C up", "acts on the right leg, not on the left leg"},
		{"right leg", "N_A at B up", "acts on the left leg, not on the right leg"},
		{"whole ladder", "T at D right", "T acts between the left leg and the right leg. Inside the whole ladder it pulls both ways and drops out"},
		{"whole ladder", "C_x at C right", "Inside the whole ladder it pulls both ways"},
	} {
		v, _ := graderOf(t, p, Choice{Body: c.body}).ForceLine(c.line)
		if v.Outcome != Wrong || !slices.Equal(v.Slips, []string{"not-on-body"}) || !strings.Contains(v.Message, c.want) {
			t.Errorf("%s: %q is %v %v %q, want %q", c.body, c.line, v.Outcome, v.Slips, v.Message, c.want)
		}
		if len([]rune(v.Message)) >= 200 {
			t.Errorf("%q is long", v.Message)
		}
	}
}

// The sense of a joint's force is free on the first body it is listed on; on
// the other it is the reverse of that.
func TestPartnerSense(t *testing.T) {
	p := stepLadder(t)
	for _, c := range []struct {
		line     string
		reversed bool // as the left leg took it
		want     Outcome
	}{
		{"C_x at C left", false, Right},
		{"C_x at C right", false, Wrong},
		{"C_x at C right", true, Right},
		{"C_x at C left", true, Wrong},
		{"T at E left", false, Right},
	} {
		ch := Choice{Body: "right leg", Settled: map[string]bool{"C_x": true}, Reversed: map[string]bool{"C_x": c.reversed}}
		v, l := graderOf(t, p, ch).ForceLine(c.line)
		if v.Outcome != c.want || c.want == Wrong && !slices.Equal(v.Slips, []string{"partner-sense"}) {
			t.Errorf("%q, taken reversed %v: %v %v %q, want %v", c.line, c.reversed, v.Outcome, v.Slips, v.Message, c.want)
		}
		if v.Outcome == Right && strings.HasPrefix(c.line, "C_x") && l.Reversed != c.reversed {
			t.Errorf("%q: listed reversed %v", c.line, l.Reversed)
		}
	}
	free := graderOf(t, p, Choice{Body: "right leg"})
	for _, line := range []string{"C_x at C left", "C_x at C right"} {
		if v, _ := free.ForceLine(line); v.Outcome != Right {
			t.Errorf("%q, not settled: %v %q", line, v.Outcome, v.Message)
		}
	}
}

// The right row of another body is told apart from a wrong one.
func TestRowOfAnotherBody(t *testing.T) {
	p := stepLadder(t)
	g := graderOf(t, p, Choice{Body: "left leg", Pivot: "C"})
	right := graderOf(t, p, Choice{Body: "right leg", Pivot: "C"})
	v, err := g.Equation("moment", right.Row("moment", true))
	if err != nil || v.Outcome != Wrong || !slices.Equal(v.Slips, []string{"another-row"}) || !strings.Contains(v.Message, "on the right leg") {
		t.Errorf("%v %v %q %v", v.Outcome, v.Slips, v.Message, err)
	}
}

// Five unknowns: any five independent equations of the bodies are a setup, the
// whole's among them; a sum of the others is caught.
func TestSetupOfSeveralBodies(t *testing.T) {
	p := stepLadder(t)
	row := func(body, pivot string, kind statics.RowKind) string {
		return graderOf(t, p, Choice{Body: body, Pivot: pivot}).Row(kind, true)
	}
	all := graderOf(t, p, Choice{})
	good := []string{row("whole ladder", "A", "moment"), row("whole ladder", "A", "y"), row("right leg", "C", "moment"), row("right leg", "C", "x"), row("right leg", "C", "y")}
	if v, err := all.System(good); err != nil || !v.Earned() {
		t.Errorf("%v %q %v", v.Outcome, v.Message, err)
	}
	poor := []string{row("whole ladder", "A", "y"), row("left leg", "A", "y"), row("right leg", "B", "y"), row("left leg", "A", "moment"), row("right leg", "B", "moment")}
	if v, err := all.System(poor); err != nil || v.Outcome != Wrong || !strings.Contains(v.Message, "sum of lines") {
		t.Errorf("%v %q %v", v.Outcome, v.Message, err)
	}
	if v, err := all.System(good[:3]); err != nil || v.Outcome != Wrong || !strings.Contains(v.Message, "five are needed") {
		t.Errorf("%v %q %v", v.Outcome, v.Message, err)
	}
}

// A value right for one's own equations is followed, whichever bodies they are
// of.
func TestFollowsAcrossBodies(t *testing.T) {
	p := stepLadder(t)
	g := graderOf(t, p, Choice{})
	whole := graderOf(t, p, Choice{Body: "whole ladder", Pivot: "A"})
	right := graderOf(t, p, Choice{Body: "right leg", Pivot: "C"})
	wrong := strings.Replace(right.Row("moment", true), "T L/2 sin(alpha)", "T L/2 cos(alpha)", 1)
	if wrong == right.Row("moment", true) {
		t.Fatalf("no such term in %q", wrong)
	}
	i, _ := p.Table.Index("alpha")
	tan := math.Tan(p.Values[i])
	u, _ := p.Unknown("T")
	carried := problems.Figures(p.Values[u.Index]*tan, 4) + " N"
	v, err := g.Value("T", carried, []string{whole.Row("moment", true), wrong})
	if err != nil || v.Outcome != Remarked || !slices.Equal(v.Slips, []string{"carried-error"}) || !strings.Contains(v.Message, "line 2") {
		t.Errorf("%s: %v %v %q %v", carried, v.Outcome, v.Slips, v.Message, err)
	}
}
