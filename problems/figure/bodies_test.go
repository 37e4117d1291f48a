package figure

import (
	"math"
	"math/bits"
	"slices"
	"strings"
	"testing"
)

// TestJointForces looks at the pin's force on both legs of a step-ladder: at
// one place, in opposite senses.
func TestJointForces(t *testing.T) {
	s := scenario(t, "step-ladder")
	p := drawProblem(t, s, 5)
	for _, symbol := range []string{"C_x", "C_y", "T"} {
		var angles []float64
		for _, body := range []string{"left leg", "right leg"} {
			arrows := only[Arrow](Build(p, View{Body: body, Forces: []Listed{{Symbol: symbol}}}))
			if len(arrows) != 1 {
				t.Fatalf("%s on the %s is drawn as %+v", symbol, body, arrows)
			}
			angles = append(angles, arrows[0].Angle)
		}
		if d := apart(angles[0], angles[1]); math.Abs(d-math.Pi) > 1e-9 {
			t.Errorf("%s acts at %v on one leg and %v on the other", symbol, angles[0], angles[1])
		}
	}
	whole := Build(p, View{Body: "whole ladder", Forces: []Listed{{Symbol: "C_x"}, {Symbol: "N_B"}}})
	if arrows := only[Arrow](whole); len(arrows) != 1 || arrows[0].Symbol != "N_B" {
		t.Errorf("on the whole ladder are drawn %+v; want N_B alone, for C_x is internal", arrows)
	}
}

// TestBodyInView looks at which bars are plain, and that what bodies share is
// drawn once.
func TestBodyInView(t *testing.T) {
	s := scenario(t, "step-ladder")
	p := drawProblem(t, s, 5)
	for _, c := range []struct {
		body string
		bars []Role // left leg, right leg
		room int    // forces and couples it has
	}{
		{"", []Role{Body, Body}, 8},
		{"left leg", []Role{Body, Other}, 5},
		{"right leg", []Role{Other, Body}, 4},
		{"whole ladder", []Role{Body, Body}, 3},
		{"no such body", []Role{Body, Body}, 8},
	} {
		scene := Build(p, View{Body: c.body})
		var bars []Role
		for _, l := range only[Line](scene) {
			if l.Role == Body || l.Role == Other {
				bars = append(bars, l.Role)
			}
		}
		if !slices.Equal(bars, c.bars) {
			t.Errorf("body %q: bars are drawn as %v, want %v", c.body, bars, c.bars)
		}
		if c.body != "" && c.body != "no such body" && len(scene.Room) != c.room {
			t.Errorf("body %q: room is kept for %d, want %d", c.body, len(scene.Room), c.room)
		}
		var names []string
		for _, m := range only[Mark](scene) {
			names = append(names, m.Name)
		}
		slices.Sort(names)
		if got := strings.Join(names, " "); got != "A B C D E P" {
			t.Errorf("body %q: points %s are marked", c.body, got)
		}
	}
}

// TestOthersAreDotted tells plain from faint without colour: the left leg, which
// rises to the right, has no slash once it is out of view, and far fewer dots.
func TestOthersAreDotted(t *testing.T) {
	p := drawProblem(t, scenario(t, "step-ladder"), 5)
	strokes := func(body string, ascii bool) (n int) {
		for _, row := range Build(p, View{Body: body}).Text(60, 20, ascii).Rows {
			for _, c := range row[:30] { // the left leg is in the left half
				switch {
				case ascii && c.Rune == '/':
					n++
				case c.Rune > 0x2800 && c.Rune < 0x2900:
					n += bits.OnesCount8(uint8(c.Rune))
				}
			}
		}
		return n
	}
	for _, ascii := range []bool{true, false} {
		if in, out := strokes("left leg", ascii), strokes("right leg", ascii); in < 6 || 2*out > in {
			t.Errorf("ascii %v: the left leg has %d strokes in view and %d out of view", ascii, in, out)
		}
	}
}
