package screen

import (
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/grading"
	"steelyard/tutor"
)

// sitting are the terms of a small exam.
var sitting = tutor.Terms{Mode: tutor.Exam, Limit: 45 * time.Minute}

// davitBadly is the davit's arm worked in an exam, with mistakes: W is listed
// the wrong way, a force too many is in the list and V is not.
var davitBadly = []string{"A", "T at B toward C; W at G up", "m g at B down; H at A right", "P at B left", "done",
	"-T cos(alpha)", "T cos(alpha)", "T L sin(alpha)", "0", "M g", "M g L/2", "0", "-m g", "-m g L", "H", "0", "0", "W", "0", "L",
	"3.12 kN", "2890 N", "137 N", "B", "1"}

// under begins the davit's arm on terms, by the stand's clock.
func (s *stand) under(terms tutor.Terms) {
	s.tb.Helper()
	s.underOf("davit-arm", 7, terms)
}

func (s *stand) underOf(id string, seed uint64, terms tutor.Terms) {
	s.tb.Helper()
	p, err := grading.Draw(scenario(s.tb, id), seed)
	if err != nil {
		s.tb.Fatal(err)
	}
	s.rec.now = func() time.Time { return s.clock }
	s.m.open(sitOn(s.tb, p, terms, s.rec))
	s.send(tea.WindowSizeMsg{Width: s.m.width, Height: s.m.height})
}

// inSet makes the stand's house one of a set: an exam of two problems, one of
// them begun.
func (s *stand) inSet() {
	s.m.o.Cards = few().Cards()[:2]
	s.m.o.Done, s.m.o.Unseen = map[string]int{s.m.o.Cards[1].ID: 1}, true
	s.m.o.Unfinished = []Unfinished{{Session: "session-1", Problem: s.m.o.Cards[0].ID, Title: s.m.o.Cards[0].Title, When: "just now"}}
	s.m.o.Progress = func() Progress {
		return Progress{Said: []string{"Mid-term: an arm and a ladder: 1 of 2 problems handed in.", "Time left: 44 minutes."}, Of: []string{"4 of 22 lines written", "handed in"}}
	}
	s.m.o.Start = func(id string, _ uint64) (*tutor.Desk, error) {
		return nil, &tutor.Refusal{Message: "The problem " + id + " is handed in; choose another, or quit for what is done"}
	}
}

// later are the modes in which lines are judged later, with what asks for it.
var later = map[string]tutor.Terms{"practice": tutor.TermsOf(tutor.Practice), "exam": sitting}

// blurred is a text without what two learners differ in: which of sine and
// cosine, which figures, which of two points.
var blurred = strings.NewReplacer("sin", "cos", "1", "0", "2", "0", "3", "0", "4", "0", "5", "0", "6", "0", "7", "0", "8", "0", "9", "0", "at G", "at B")

// mistaken makes of a line one that is wrong and as long.
var mistaken = strings.NewReplacer("sin", "cos", "cos", "sin", "3", "4", "1", "2", "W at G down", "W at B down")

// Until it is asked for nothing on the screen tells right from wrong: the
// frames of two learners, of whom one writes much wrongly, are the same but for
// what they wrote.
func TestNothingIsSaidOfRightAndWrong(t *testing.T) {
	for name, terms := range later {
		t.Run(name, func(t *testing.T) {
			good, bad := newStand(t, bareUnicode, 140, 45, nil), newStand(t, bareUnicode, 140, 45, nil)
			good.under(terms)
			bad.under(terms)
			lines := append(slices.Clone(davitSetup), davitRest(good.m.work.desk)...)
			for _, line := range lines[:len(lines)-1] { // the last is a choice, whose answers are no two alike
				good.say(line)
				bad.say(mistaken.Replace(line))
				a, b := good.m.work, bad.m.work
				if len(a.said) != 1 || !strings.Contains(a.said[0].head, "taken, and not judged yet") {
					t.Fatalf("of %q is said %+v", line, a.said)
				}
				if got, want := blurred.Replace(strings.Join(b.lower(138), "\n")), blurred.Replace(strings.Join(a.lower(138), "\n")); got != want {
					t.Fatalf("after %q, of the wrong line is said\n%s\nof the right one\n%s", line, got, want)
				}
				got, _ := b.written().View(70, 40)
				want, _ := a.written().View(70, 40)
				if got, want := blurred.Replace(strings.Join(got, "\n")), blurred.Replace(strings.Join(want, "\n")); got != want {
					t.Fatalf("after %q the wrong ledger is\n%s\nthe right one\n%s", line, got, want)
				}
				for _, mark := range []string{"✓", "◇", "½"} {
					if terms.Mode == tutor.Exam && strings.Contains(bad.frame(), mark) {
						t.Fatalf("after %q there is a %s in the frame:\n%s", line, mark, bad.frame())
					}
				}
			}
		})
	}
}

// Where a list is judged later, the ledger says each force where the learner
// put it, wherever it acts.
func TestForcesStandAsListed(t *testing.T) {
	for name, terms := range later {
		s := newStand(t, bareUnicode, 140, 45, nil)
		s.under(terms)
		s.say("A", "W at B down", "T at g toward A", "H, A, up", "P at C left", "V down at G", "M_q clockwise", "done")
		s.sees("W at B │", "T at G │", "H at A │", "P at C │", "V at G │", "M_q │")
		if t.Failed() {
			t.Log(name)
		}
	}
}

// Without a hint to be had its key is not offered, and pressed all the same it
// says why there is none.
func TestNoHintInAnExam(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(sitting)
	s.say("A")
	if strings.Contains(s.frame(), "hint") {
		t.Errorf("a hint is offered:\n%s", s.frame())
	}
	s.press("hint")
	s.sees("An exam gives no hints.")
	if d := s.m.work.desk; d.Current().Hints != 0 {
		t.Error("a hint was counted")
	}

	one := newStand(t, bareUnicode, 100, 30, nil)
	one.under(tutor.Terms{Mode: tutor.Practice, Hints: 1})
	one.press("hint")
	one.sees("Hint 1 of 1 (pivot), a question.", "Which point do the most unknown forces pass through?")
	one.press("hint")
	one.sees("There is no deeper hint in this set.")
}

// The key for being ready says what the mode has for it. What stands on the
// line and was not sent is not left out unasked.
func TestReady(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(tutor.TermsOf(tutor.Practice))
	s.press("ready")
	s.sees("There is nothing to check yet")
	s.say(davitSetup...)
	s.typed("T cos")
	s.press("ready")
	s.sees("The line you are on is not kept yet.", "T cos")
	s.press("ready")
	s.sees("6 lines checked, all right.", "Part of T along x", "T cos")
	if n := s.m.work.desk.Summary(nil).Taken; n != 0 {
		t.Errorf("%d lines are not judged", n)
	}

	e := newStand(t, bareUnicode, 100, 30, nil)
	e.under(sitting)
	e.say("A")
	e.press("ready")
	e.sees("9 lines are still open.", "Say hand in to hand the paper in")
	if e.m.stage != working || e.m.work.desk.HandedIn() {
		t.Fatal("handed in at the first asking")
	}
	e.press("up")
	e.press("ready", "ready")
	e.sees("The paper is handed in.")
	if e.m.stage != finishing {
		t.Error("handed in, and the work goes on")
	}

	guided := davit(t, bareUnicode, 100, 30)
	before := len(guided.rec.events)
	guided.press("ready")
	if len(guided.rec.events) != before {
		t.Error("the key does something where there is nothing to be ready for")
	}
}

// In practice the wrong lines are gone back to, and each says what is wrong
// with it until it is mended and judged again.
func TestPracticeGoesBackToWrongLines(t *testing.T) {
	s := newStand(t, bareUnicode, 140, 45, nil)
	s.under(tutor.TermsOf(tutor.Practice))
	s.say(davitSetup...)
	s.say("-T cos(alpha)", "T cos(alpha)", "T L cos(alpha)", "0", "check")
	s.sees("10 lines checked: 8 right, 2 not.", "y part of T: not right.", "Sine and cosine have changed places in T.", "✓ −T · cos α", "▸! 1 wrong", "Part of T along y:")
	s.press("tab")
	s.sees("moment of T: not right.", "Moment of T about A")
	s.press("back")
	s.say("T sin(alpha)")
	s.sees("● T · sin α", "moment of T: not right.")
	s.say("T L sin(alpha)")
	s.press("ready")
	s.sees("2 lines checked, all right.", "✓ T · sin α", "✓ T · L · sin α")
	rest := davitRest(s.m.work.desk)
	s.say(rest[4:]...)
	s.press("ready")
	if s.m.stage != finishing {
		t.Fatalf("all is right, and the work goes on:\n%s", s.frame())
	}
	s.sees("20 right first time, 2 at a later try", "Slips on the way: ")
}

// In an exam a line may be changed, by typing it again or by mending it, and
// one that is taken back is on the entry to mend.
func TestExamLinesAreChanged(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(sitting)
	s.say(davitBadly[:7]...)
	s.press("back")
	s.sees("written: T · cos α; ← → to mend it")
	s.press("left")
	s.sees("▸ T cos(alpha)")
	s.press("home")
	s.typed("2 ")
	s.press("enter")
	d := s.m.work.desk
	if y := d.Find(tutor.StepY, "T"); y.Reads != "2 · T · cos α" || y.Status != tutor.Taken {
		t.Errorf("mended, it reads %q", y.Reads)
	}
	s.press("back")
	s.say("T sin(alpha)")
	if y := d.Find(tutor.StepY, "T"); y.Reads != "T · sin α" {
		t.Errorf("typed again, it reads %q", y.Reads)
	}
	s.press("undo")
	s.sees("Taken back: y part of T.", "▸ T sin(alpha)")
	s.press("enter")

	// The list of forces: one anew, one more, one off.
	for d.Current().Step != tutor.StepForces {
		s.press("back")
	}
	s.sees("● W at G up", "a force to add, or to list anew; drop W takes W off")
	s.say("W at G down", "V at A up", "drop P")
	if got := strings.Join(d.Lines(), "; "); got != "T at B toward C; W at G down; m g at B down; H at A right; V at A up" {
		t.Errorf("the list is %q", got)
	}
	s.sees("● W at G down")
	if y := d.Find(tutor.StepY, "T"); y.Reads != "T · sin α" {
		t.Errorf("with another list, an entry reads %q", y.Reads)
	}
}

// Enter on a line that is there and not touched leaves it, and goes on.
func TestEnterLeavesALine(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(sitting)
	s.say(davitBadly[:8]...)
	s.press("back", "back", "enter")
	s.sees("Moment of T about A")
	if y := s.m.work.desk.Find(tutor.StepY, "T"); y.Typed != "T cos(alpha)" {
		t.Errorf("it is now %q", y.Typed)
	}
}

// With several bodies, too, nothing is called done that may be wrong.
func TestExamOfSeveralBodies(t *testing.T) {
	s := newStand(t, bareUnicode, 140, 45, nil)
	s.underOf("step-ladder", 3, sitting)
	s.say("C", "N_A at A up; W at P down; T at D right; C_x at C left; C_y at C up", "done")
	s.press("pivot")
	for _, row := range []string{"x", "y", "moment"} {
		s.send(placeMsg{place{"left leg", tutor.StepEquation, row}})
		s.say("T = C_x")
	}
	s.sees("The left leg is written. Now the right leg.", "0 of 5 values written")
}

// A change of pivot or signs asks for nothing again that is not judged yet.
func TestChoicesLeaveWhatIsTaken(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(sitting)
	s.say(davitBadly[:8]...)
	s.press("signs")
	s.sees("Clockwise moments are positive from here on.", "What is not judged yet stays as you wrote it")
	s.press("pivot")
	s.sees("The moments written so far are about A.", "What is not judged yet stays as you wrote it")
	s.say("B")
	if m := s.m.work.desk.Find(tutor.StepMoment, "T"); m.Status != tutor.Taken || m.Typed != "T L sin(alpha)" {
		t.Errorf("the moment is now %+v", m)
	}
}

// A problem that is worked for the learner goes on with each Enter, a line and
// its reason at a time, to its end; or the learner goes on alone.
func TestWatched(t *testing.T) {
	watching := tutor.Terms{Mode: tutor.Guided, Hints: 3, Help: tutor.HelpWorked}
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(watching)
	s.sees("This one is worked for you: press Enter for each line and its reason", "Enter the next line", "R go on alone")
	for range 40 {
		if s.m.stage == working {
			s.press("enter")
			if len(s.m.work.said) == 0 || s.m.stage == working && !strings.HasPrefix(s.m.work.said[0].body, "Why: ") {
				t.Fatalf("said %+v", s.m.work.said)
			}
		}
	}
	s.sees("22 lines: 0 right first time, 22 shown, and so not earned.")

	for _, alone := range []func(s *stand){func(s *stand) { s.say("own") }, func(s *stand) { s.press("ready") }} {
		s := newStand(t, bareUnicode, 100, 30, nil)
		s.under(watching)
		s.press("enter", "enter")
		alone(s)
		s.sees("From here on the lines are yours.", "Enter check")
		if strings.Contains(s.frame(), "go on alone") {
			t.Errorf("it is still offered to go on alone:\n%s", s.frame())
		}
		s.say("T cos(alpha)")
		s.sees("not right.")
	}
}

// What is refused is said where it was asked for.
func TestRefused(t *testing.T) {
	s := newStand(t, bareUnicode, 140, 45, nil)
	s.inSet()
	s.send(listMsg{})
	s.press("down", "down", "enter")
	s.sees("is handed in; choose another", "1 of 2 problems handed in.", "Time left: 44 minutes.", "4 of 22 lines written", "It is handed in.")
	if strings.Contains(s.frame(), "Not opened") {
		t.Error("a refusal reads like a failure")
	}
	s.press("up") // one that is begun may be read here, one that is not may not
	s.sees("A light bar of length L")
	s.m.o.Unfinished = nil
	s.send(listMsg{})
	s.sees("It is told when it is begun.")
	if strings.Contains(s.frame(), "A light bar") {
		t.Error("a problem of an exam can be read before it is begun")
	}
}

// While a reason is asked for, being ready waits: its word is no reason.
func TestReadyWaitsForAReason(t *testing.T) {
	terms := tutor.TermsOf(tutor.Practice)
	terms.Reasons = true
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(terms)
	s.say(davitSetup...)
	s.press("ready")
	s.sees("6 lines checked, all right.", "An aside.")
	before := len(s.rec.events)
	s.press("ready")
	s.sees("A reason is asked for first")
	if len(s.rec.events) != before {
		t.Errorf("recorded %+v", s.rec.events[before:])
	}
}
