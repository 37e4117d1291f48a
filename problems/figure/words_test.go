package figure

import (
	"math/rand/v2"
	"strings"
	"testing"

	"unicode/utf8"

	"steelyard/problems/notation"
)

func TestWordsAreSentences(t *testing.T) {
	for _, s := range figures(t) {
		for seed := range uint64(20) {
			p := drawProblem(t, s, seed)
			v := anyView(rand.New(rand.NewPCG(seed, 6)), s)
			lines := Words(p, v)
			text := strings.Join(lines, " ")
			for _, l := range lines {
				first, _ := utf8.DecodeRuneInString(l)
				if !strings.HasSuffix(l, ".") || strings.Contains(l, "  ") || strings.Contains(l, "..") || strings.Contains(l, " ,") || first == ' ' {
					t.Errorf("%s: %q is no sentence", s.ID, l)
				}
			}
			for _, l := range v.Forces {
				if !strings.Contains(text, notation.Display(l.Symbol, false)+" ") {
					t.Errorf("%s: %s is not told of in %q", s.ID, l.Symbol, text)
				}
			}
			for _, d := range s.Figure {
				if _, ok := told[d.Draw]; !ok {
					t.Errorf("%s: a %s is drawn and not told", s.ID, d.Draw)
				}
				if d.Label != "" && !strings.Contains(text, notation.Display(d.Label, false)) {
					t.Errorf("%s: %s is not told of", s.ID, d.Label)
				}
			}
		}
	}
}

// What is said of some figures, word by word: sides of angles by the lines that
// run along them, parts of a body as parts, sizes that are symbols, and senses
// once.
func TestWordsSay(t *testing.T) {
	bank := figures(t)
	for _, c := range []struct {
		id, body string
		listed   []Listed
		want     string
	}{
		{"davit-arm", "", nil, "At B the angle between the level to the left and the line to C is α = "},
		{"quay-arm-oblique", "", nil, "At B the angle between the line from A carried on and the line to E is β = "},
		{"back-lift", "", nil, "At D the angle between the line to S and the line to H is φ = "},
		{"winch-bar", "", nil, "At B the angle between the level to the right and the direction up and right is θ = "},
		{"bell-crank-spring", "", nil, "(a) right from O (pin) to A (end of the level arm)."},
		{"quay-plank", "", nil, "The plank runs "},
		{"crate-braking", "", nil, "A line runs right from J "},
		{"drum-kerb", "", nil, "The drum is drawn as a circle of radius R = "},
		{"barrow-load", "", nil, "A circle is drawn about A (axle)."},
		{"mooring-two-lines", "", nil, "The boat is drawn as a circle about C."},
		{"crate-hold", "", nil, "The crate is drawn as a rectangle standing on A (middle of the foot)."},
		{"tank-flap", "", nil, "to S (surface at the wall)."},
		{"ladder-steepness", "", nil, "so G (middle), D, B and C may be elsewhere."},
		{"hatch-rope", "", []Listed{{Symbol: "H", At: "A"}}, "H (level part of the hinge's force) acts at A, to the right."},
		{"hatch-rope", "", []Listed{{Symbol: "H", At: "A", Reversed: true}}, "H (level part of the hinge's force, taken the other way) acts at A, to the left."},
		{"jetty-hinge-uniform", "outer beam", []Listed{{Symbol: "C_x", At: "C"}}, "C_x (equal and opposite to the level part of the outer beam's force on the inner) acts at C, to the left, exerted by the inner beam."},
		{"jetty-hinge-uniform", "inner beam", []Listed{{Symbol: "C_x", At: "C"}}, "C_x (level part of the outer beam's force on the inner) acts at C, to the right, exerted by the outer beam."},
	} {
		for _, s := range bank {
			if s.ID != c.id {
				continue
			}
			text := strings.Join(Words(drawProblem(t, s, 7), View{Forces: c.listed, Body: c.body}), "\n")
			if !strings.Contains(text, c.want) {
				t.Errorf("%s says\n%s\nwant %q", c.id, text, c.want)
			}
			c.id = ""
		}
		if c.id != "" {
			t.Errorf("no scenario %s", c.id)
		}
	}
}
