package plain

import (
	"strings"
	"testing"
)

var leftLeg = []string{"step-ladder", "C", "N_A at A up; W at P down; T at D right; C_x at C left; C_y at C up", "done"}

// What is said of bodies, word by word.
func TestBodies(t *testing.T) {
	for _, c := range []struct {
		typed []string
		want  []string
	}{
		{[]string{"bodies"}, []string{"The left leg, in hand: not begun.", "The right leg: not begun.", "The whole ladder: not begun."}},
		{[]string{"body"}, []string{"The left leg, in hand: not begun."}},
		{[]string{"body right leg"}, []string{"Choose a pivot for the right leg"}},
		{[]string{"body RIGHT LEG", "bodies"}, []string{"The right leg, in hand: not begun."}},
		{[]string{"body mast\x1b[2J"}, []string{`Not done: no body "mast\x1b[2J" here; bodies are left leg, right leg, whole ladder.`}},
		{[]string{"ledger"}, []string{"No forces are listed yet on the left leg."}},
		{[]string{"go moment Q"}, []string{`There is no line "moment Q" on the left leg. Open lines: pivot, forces, equation x, equation y, equation moment, value N_A,`}},
		{leftLeg[1:], []string{"The left leg. Part of N_A along x:"}},
		{append(leftLeg[1:], "bodies"), []string{"The left leg, in hand: 2 of 20 lines done."}},
		{append(leftLeg[1:], "body whole ladder", "go equation y"), []string{"The whole equation for the y axis on the whole ladder:"}},
		{append(leftLeg[1:], "body right leg", "undo"), []string{"Taken back on the left leg: forces."}},
		{append(leftLeg[1:], "0", "T = C_x", "0", "0", "ledger"), []string{"The ledger of the left leg.", "Sum for the x axis: T = C_x."}},
		{append(leftLeg[1:], "body right leg", "C", "C_x at C left"), []string{"Not right. C_x acts on the left leg too"}},
		{append(leftLeg[1:], "body whole ladder", "A", "T at D right"), []string{"Not right. T"}},
		{[]string{"figure"}, []string{"left leg"}},
	} {
		said := converse(t, false, append([]string{"step-ladder"}, c.typed...)...)
		for _, want := range c.want {
			if !strings.Contains(said, want) {
				t.Errorf("%q says\n%s\nwant %q", c.typed, said, want)
			}
		}
	}
}

// Lines go on from body to body, and the one that is not needed is said so.
func TestBodiesToTheEnd(t *testing.T) {
	lines := append([]string{}, leftLeg...)
	lines = append(lines, "T = C_x", "N_A + C_y = W", "N_A L cos(alpha) = W (L - s) cos(alpha) + T L/2 sin(alpha)",
		"C", "C_x at C right; C_y at C down; T at E left; N_B at B up", "done", "C_x = T", "N_B = C_y", "N_B L cos(alpha) = T L/2 sin(alpha)")
	for range 5 {
		lines = append(lines, "hint", "hint", "hint")
	}
	lines = append(lines, "B", "2", "2", "1", "solution")
	said := converse(t, false, lines...)
	at := 0
	for _, want := range []string{"The left leg is done.", "Choose a pivot for the right leg", "The right leg is done.", "The whole ladder is not needed, since the others fix every unknown.",
		"Value of N_A", "The right leg. Doubt it.", "Which foot is pressed harder?", "  1 the foot of the painter's leg", "Not right. Compare", "Reads as: the foot of the painter's leg.", "N_A > N_B:", "Done. 18 lines", "Say solution",
		"The left leg, with moments about C.", "For the x axis: yours T = C_x; reference −C_x + T = 0.", "The right leg, with moments about C.", "For the y axis: yours N_B = C_y; reference N_B − C_y = 0.",
		"The whole ladder was not needed", "the force N_A: stays finite.", "Which foot is pressed harder? the foot of the painter's leg: N_A > N_B:"} {
		i := strings.Index(said[at:], want)
		if i < 0 {
			t.Fatalf("%q is not said after the rest:\n%s", want, said)
		}
		at += i
	}
}

// next goes to the next open line, of whichever body it is.
func TestNextGoesOnToTheNextBody(t *testing.T) {
	said := converse(t, false, append(append([]string{}, leftLeg...), strings.Split(strings.Repeat("next\n", 18), "\n")...)...)
	if !strings.Contains(said, "Choose a pivot for the right leg") || strings.Contains(said, "Value of") {
		t.Errorf("said\n%s", said)
	}
}

// One body is no choice of bodies.
func TestOneBody(t *testing.T) {
	said := converse(t, false, "davit-arm", "bodies", "body mast")
	if !strings.Contains(said, "There is one body: the arm.") || !strings.Contains(said, `no body "mast" here; bodies are arm.`) {
		t.Errorf("said\n%s", said)
	}
}
