package screen

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/problems"
	"steelyard/tutor"
)

// The lines by which the two legs of the step-ladder are set up, with the pin's
// level force taken to the left on the left leg. Whole equations stand for
// most of the entries.
var (
	leftLeg = []string{"C", "N_A at A up; W at P down", "T at D right; C_x at C left; C_y at C up", "done",
		"T = C_x", "N_A + C_y = W", "N_A L cos(alpha) = W (L - s) cos(alpha) + T L/2 sin(alpha)"}
	rightLeg = []string{"C", "C_x at C right; C_y at C down; T at E left; N_B at B up", "done", "C_x", "C_x = T", "N_B = C_y", "N_B L cos(alpha) = T L/2 sin(alpha)"}
)

// ladderRest are the right lines from there to the closing question.
func ladderRest(d *tutor.Desk) []string {
	var lines []string
	p := d.Problem()
	for _, u := range p.Unknowns {
		lines = append(lines, problems.Figures(p.Values[u.Index]*d.Grader().Frame().Sense(u.Symbol), 4)+" N")
	}
	return append(lines, "B", "2")
}

func ladder(tb testing.TB, on surface, width, height int) *stand {
	s := newStand(tb, on, width, height, nil)
	s.send(beginMsg{"step-ladder"})
	return s
}

// The whole step-ladder by keys, with the mistakes that two bodies invite: a
// force of the other body, and a joint's force not turned about.
func TestStepLadderByKeys(t *testing.T) {
	s := ladder(t, fullColour, 80, 24)
	s.sees("▸ left leg: not begun right leg: not begun whole ladder: not begun", "Choose a pivot for the left leg", "F9 next body", "0 of 5 values found")
	s.say("C", "N_B at A up")
	s.sees("N_B acts on the right leg", "▸ left leg: setting up")
	s.say(leftLeg[1:4]...)
	s.sees("Ledger: left leg", "▸ left leg: 2 of 20", "Left leg. Part of N_A along x:")
	s.say(leftLeg[4:]...)
	s.sees("The left leg is done. Now the right leg.", "left leg: done ▸ right leg: not begun", "Choose a pivot for the right leg")
	s.say("C", "C_x at C left")
	s.sees("C_x acts on the left leg too")
	s.say(rightLeg[1:]...)
	s.sees("The right leg is done. The whole ladder is not needed: what is written fixes every unknown.", "whole ladder: not needed", "Value of N_A",
		"sum along x ✓ C_x = T")
	rest := ladderRest(s.m.work.desk)
	s.say(rest[:5]...)
	s.sees("5 of 5 values found", "Right leg. Doubt it. Name another point")
	s.say(rest[5:]...)
	s.sees("Which foot is pressed harder?", "1 the foot of the painter's leg 2 the other foot", "1 or 2")
	s.say("3")
	s.sees("Answer 1 or 2.")
	s.say("2")
	s.sees("doubt: a question: not right", "question: 1 wrong")
	s.say("the foot of the painter")
	if s.m.stage != finishing {
		t.Fatalf("every line is right, but this is not the last screen:\n%s", s.frame())
	}
	s.sees("N_A > N_B:", "joint's force not turned about on the other body", "Left leg: moments about C, anticlockwise positive")
	s.send(tea.WindowSizeMsg{Width: 120, Height: 70})
	s.sees("5 on the left leg", "−C_x + T = 0", "Right leg: moments about C", "4 on the right leg", "C_x − T = 0",
		"Whole ladder: not needed, since the other bodies fix every unknown", "Values, and doubting them", "the foot of the painter's leg: N_A > N_B:")
	if last := s.rec.events[len(s.rec.events)-1]; last.Kind != tutor.Finished {
		t.Errorf("the last event is %s; the finish page recorded something", last.Kind)
	}
}

// The key takes the bodies in turn; what was typed for a line of one stays with
// that line, and is no line of the other.
func TestNextBody(t *testing.T) {
	s := ladder(t, bareUnicode, 100, 30)
	s.say("C")
	s.typed("N_A at A")
	s.press("body")
	s.sees("▸ right leg: not begun", "Choose a pivot for the right leg", "left leg: setting up")
	if got := s.m.work.entry.Value(); got != "" {
		t.Errorf("what was typed for the left leg stands on the right leg's line: %q", got)
	}
	s.say("C")
	s.typed("N_B")
	s.press("body")
	s.sees("▸ whole ladder: not begun")
	s.press("body")
	s.sees("List the forces on the left leg")
	if got := s.m.work.entry.Value(); got != "N_A at A" {
		t.Errorf("back on the left leg, the line holds %q", got)
	}
	s.press("body")
	if got := s.m.work.entry.Value(); got != "N_B" {
		t.Errorf("back on the right leg, the line holds %q", got)
	}
	for _, size := range [][2]int{{20, 5}, {1, 1}, {0, 0}, {80, 24}} {
		s.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		if got := s.m.work.entry.Value(); got != "N_B" {
			t.Fatalf("at %v the line holds %q", size, got)
		}
	}
}

// A body that others make unnecessary half-way is said not to be needed, not to
// be done.
func TestBodyLeftHalfWay(t *testing.T) {
	s := ladder(t, bareUnicode, 100, 30)
	s.press("body", "body")
	s.say("A", "N_A at A up; N_B at B up; W at P down", "done", "0", "N_A + N_B = W")
	s.sees("▸ whole ladder: 4 of")
	s.press("body")
	s.say(leftLeg...)
	s.sees("left leg: done ▸ right leg: not begun whole ladder: 4 of")
	s.say(rightLeg...)
	s.sees("whole ladder: not needed")
}

// Help tells the bodies too; a low window has a line for the one in hand alone.
func TestBodiesElsewhere(t *testing.T) {
	s := ladder(t, bareUnicode, 64, 18)
	s.sees("Body 1 of 3 ▸ left leg: not begun")
	s.say(leftLeg[:4]...)
	s.press("body")
	s.sees("Body 2 of 3 ▸ right leg: not begun")
	s.press("help")
	s.sees("Bodies, taken in hand in turn", "left leg 2 of 20 lines done", "right leg not begun; in hand", "Signs now in force on the right leg")
}

// A problem of one body has no key for the next, and says nothing of bodies.
func TestOneBodyHasNoNext(t *testing.T) {
	s := davit(t, bareUnicode, 100, 30)
	before := len(s.rec.events)
	s.press("body")
	if len(s.rec.events) != before || strings.Contains(s.frame(), "next body") || strings.Contains(s.frame(), "Bodies") {
		t.Errorf("one body, and yet:\n%s", s.frame())
	}
}

// Tab goes on past a body's last line to the next body, and back again to that
// line; arrows stay in the column of the body in hand.
func TestMovingBetweenBodies(t *testing.T) {
	s := ladder(t, bareUnicode, 100, 30)
	s.say(leftLeg[:4]...)
	s.press("down", "down", "down", "down")
	s.sees("Left leg. Part of C_y along x:")
	s.press("down")
	s.sees("The whole equation for the x axis on the left leg:")
	s.press("tab", "tab")
	s.sees("The whole equation for moments about C on the left leg:")
	s.press("tab")
	s.sees("Choose a pivot for the right leg")
	s.press("back")
	s.sees("The whole equation for moments about C on the left leg:", "▸ left leg: 2 of 20")
	s.press("tab", "tab", "tab", "tab", "tab", "tab")
	s.sees("Choose a pivot for the whole ladder", "▸ whole ladder: not begun")
	s.press("tab", "tab")
	s.sees("The whole equation for the y axis on the whole ladder:") // along x nothing acts on it
	s.press("tab", "tab")
	s.sees("Value of N_A")
	s.press("back", "back", "back")
	s.sees("List the forces on the whole ladder")
}

// What was earned last is taken back on the body it was earned on, its list of
// forces as it was typed there.
func TestUndoOnTheOtherBody(t *testing.T) {
	s := ladder(t, bareUnicode, 100, 30)
	s.say(leftLeg[:4]...)
	s.press("body", "undo")
	s.sees("Taken back: forces.", "N_A at A up; W at P down; T at D right; C_x at C left; C_y at C up", "List the forces on the left leg")
	s.press("enter")
	s.say("done")
	s.sees("▸ left leg: 2 of 20")
	s.say(leftLeg[4:]...)
	s.say(rightLeg...)
	s.sees("whole ladder: not needed")
	s.press("undo")
	s.sees("Taken back: moment equation.", "whole ladder: not begun", "▸ N_B L cos(alpha) = T L/2 sin(alpha)")
}

// Once every body is done the key shows them in turn, and goes back to the line
// that is open.
func TestDoneBodiesAreShownInTurn(t *testing.T) {
	s := ladder(t, bareUnicode, 100, 30)
	s.say(leftLeg...)
	s.say(rightLeg...)
	s.sees("Value of N_A", "▸ right leg: done")
	s.press("body")
	s.sees("▸ left leg: done", "✓ T = C_x")
	s.press("body")
	s.sees("Value of N_A", "▸ left leg: done")
	s.press("body")
	s.sees("▸ right leg: done")
}

// A recorder that fails leaves the body in hand as it is.
func TestNextBodyUnrecorded(t *testing.T) {
	s := ladder(t, bareUnicode, 80, 24)
	s.typed("C")
	s.rec.fail = errDisk
	for _, k := range []string{"body", "tab"} {
		s.press(k)
		if k == "body" {
			s.sees("Not saved: the move could not be recorded", "▸ left leg: not begun")
		}
		if got := s.m.work.entry.Value(); got != "C" {
			t.Errorf("%s: the line holds %q", k, got)
		}
	}
}

// Every size there is, on each body.
func TestEverySizeOfBodies(t *testing.T) {
	for _, on := range []surface{bareUnicode, bareASCII} {
		s := ladder(t, on, 80, 24)
		s.say(leftLeg[:4]...)
		for range 3 {
			for width := 1; width <= 200; width += 1 + width/12 {
				for height := 1; height <= 60; height += 1 + height/10 {
					s.send(tea.WindowSizeMsg{Width: width, Height: height})
					s.sound(width, height, on.ascii)
				}
			}
			s.press("body")
		}
	}
}
