package screen

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// The whole davit's arm, from the list of problems to another like it, with
// the mistakes that learners make.
func TestDavitByKeys(t *testing.T) {
	s := newStand(t, fullColour, 80, 24, nil)
	s.sees("Go on with", "A painter on a ladder", "yesterday")
	s.typed("davit")
	s.sees("A davit's arm and its stay", "Caution:")
	s.press("enter")
	s.sees("Choose a pivot", "seed 7", "setting up")
	s.say("A")
	s.sees("pivot: right", "List the forces on the arm")
	s.say("T at B toward C", "W at G up")
	s.sees("forces: not right")
	s.say("W at G down", "m g at B down; H at A right", "done")
	s.sees("forces: not right")
	s.say("V at A up", "done")
	s.sees("along x", "T at B", "W_c at B", "sum along x ○ 0 of 5 entries", "Part of T along x:")
	s.typed("-T cos(alpha)")
	s.sees("reads as: −T · cos α")
	s.press("enter")
	s.sees("x part of T: right. −T · cos α")
	s.say("T cos(alpha)")
	s.sees("y part of T: not right", "Sine and cosine", "▸!")
	if got := s.m.work.entry.Value(); got != "T cos(alpha)" {
		t.Errorf("a wrong line is to be mended, but the entry holds %q", got)
	}
	s.press("hint")
	s.sees("Sine and cosine", "Hint 1 of 3 (y part of T), a question.")
	s.say(davitRest(s.m.work.desk)[1:15]...)
	s.sees("sum along x ✓ −T · cos α + H = 0", "Value of T")
	s.press("view")
	s.sees("sum of moments ✓ T · L · sin α − M · g · L / 2 − m · g · L = 0")
	d := s.m.work.desk
	rest := davitRest(d)
	s.say(rest[15:18]...)
	s.sees("Doubt it.")
	s.say("A")
	s.sees("doubt: another point: not right")
	s.say("B")
	s.sees("They vanish there too", "1 falls to zero", "3 grows without bound")
	s.say("1", "3")
	if s.m.stage != finishing || !d.Finished() {
		t.Fatalf("every line is right, but this is not the last screen:\n%s", s.frame())
	}
	s.sees("22 lines: 18 right first time, 1 with hints, 3 at a later try.", "sine and cosine swapped", "1 wrong, 1 hint", "another like it")
	if last := s.rec.events[len(s.rec.events)-1]; last.Kind != tutor.Finished {
		t.Errorf("the last event is %s, want finished", last.Kind)
	}
	s.typed("a")
	s.sees("Choose a pivot", "seed 8")
	s.press("list")
	s.sees("Go on with")
	if last := s.rec.events[len(s.rec.events)-1]; last.Kind != tutor.Left {
		t.Errorf("the last event is %s, want left", last.Kind)
	}
	s.press("quit")
	if !s.quit {
		t.Error("the quit key does not quit")
	}
}

func TestNothingIsConfirmedUnrecorded(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.say(davitSetup...)
	before := len(s.rec.events)
	s.rec.fail = errors.New("disk full\x1b]0;owned\a")
	for _, act := range []struct{ key, says string }{
		{"enter", "Not saved: this line could not be recorded"},
		{"hint", "Not saved: the hint could not be recorded"},
		{"undo", "Not saved: taking it back could not be recorded"},
		{"tab", "Not saved: the move could not be recorded"},
		{"pivot", "Not saved: the move could not be recorded"},
		{"signs", "Not saved: the choice of signs could not be recorded"},
		{"quit", "Not saved: that you leave could not be recorded"},
		{"list", "Not saved: that you leave could not be recorded"},
	} {
		s.press("clear")
		if s.m.work.entry.Value() == "" {
			s.typed("-T cos(alpha)")
		}
		s.press(act.key)
		s.sees(act.says, `disk full\x1b]0;owned\x07`, "Part of T along x:")
		s.sound(80, 24, false)
		if strings.Contains(s.frame(), ": right") || s.m.stage != working || s.quit {
			t.Fatalf("%s: something was confirmed:\n%s", act.key, s.frame())
		}
		if got := s.m.work.entry.Value(); got != "-T cos(alpha)" {
			t.Errorf("%s: the entry holds %q; what was typed is lost", act.key, got)
		}
	}
	if len(s.rec.events) != before {
		t.Errorf("%d events were recorded by a recorder that fails", len(s.rec.events)-before)
	}
	s.press("quit", "quit")
	if !s.quit {
		t.Error("a learner whose disk is full cannot leave")
	}
	s.rec.fail = nil
}

func TestStartThatFailsIsSaid(t *testing.T) {
	s := newStand(t, bareUnicode, 80, 24, nil)
	s.rec.fail = errors.New("disk full")
	s.typed("davit")
	s.press("enter")
	s.sees("Not opened.", "disk full")
	if s.m.stage != choosing {
		t.Error("a problem that could not be begun was opened")
	}
}

// Words that are also names of keys, arriving all at once, are words.
func TestWordsAreNotKeys(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.say("A")
	for _, word := range []string{"up", "down", "left", "right", "home", "end", "tab", "enter", "esc", "f1", "delete", "pgdown"} {
		s.typed("H at A " + word)
		if got, want := s.m.work.entry.Value(), "H at A "+word; got != want || s.m.page != nil {
			t.Errorf("typed %q, the entry holds %q", want, got)
		}
		s.press("clear")
	}
}

func TestPasteOfTenKilobytes(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.say("A")
	much := tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(strings.Repeat("W at G down\n", 900))}
	s.typed("T at B to")
	s.press("left", "left")
	s.send(much)
	if v := s.m.work.entry.Value(); v != "T at B to" {
		t.Errorf("the entry holds %.40q", v)
	}
	s.sees("What you pasted is too long", "None of it was taken")
	s.sound(80, 24, false)
	s.press("right", "right")
	s.typed("ward C")
	s.press("enter")
	s.sees("✓ T at B toward C")
	s.say("W at B down")
	s.send(much) // a line that is to be mended stays, and can still be
	if v := s.m.work.entry.Value(); v != "W at B down" || !s.m.work.entry.held {
		t.Errorf("the line to mend is %.40q", v)
	}
	// Without the brackets of a paste it is typing, and the line fills up.
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: much.Runes})
	v := s.m.work.entry.Value()
	if len(v) > notation.MaxBytes || len(v) < notation.MaxBytes-16 || strings.ContainsAny(v, "\n\r") {
		t.Errorf("the entry holds %d bytes: %.40q", len(v), v)
	}
	s.sees("A line holds 512 characters at most; the rest was left out.")
	s.press("undo")
	s.press("clear")
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("T at B toward C\nW at G down\n")})
	s.press("enter")
	s.sees("✓ T at B toward C", "✓ W at G down")
}

// Neither a new size nor a look elsewhere costs a character.
func TestNothingTypedIsLost(t *testing.T) {
	s := davit(t, bareUnicode, 140, 45)
	s.say(davitSetup...)
	s.typed("-T cos(al")
	for _, size := range [][2]int{{80, 24}, {20, 5}, {1, 1}, {0, 0}, {200, 60}, {60, 20}} {
		s.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		if got := s.m.work.entry.Value(); got != "-T cos(al" {
			t.Fatalf("at %v the entry holds %q", size, got)
		}
	}
	s.press("down")
	s.sees("Part of W along x:")
	s.typed("0.5")
	s.press("up", "help", "enter", "view")
	if got := s.m.work.entry.Value(); got != "-T cos(al" {
		t.Errorf("back at its entry, %q stands there", got)
	}
	s.press("down")
	if got := s.m.work.entry.Value(); got != "0.5" {
		t.Errorf("the other entry holds %q", got)
	}
	s.press("up", "clear", "clear")
	s.typed("pha)")
	s.press("enter")
	s.sees("x part of T: right")
}

func TestUndoBringsTheLineBack(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.say(davitSetup...)
	s.press("undo")
	s.sees("Taken back: forces.", "T at B toward C; W at G down")
	s.press("enter")
	s.say("done", "-T cos(alpha)")
	s.press("undo")
	s.sees("Taken back: x part of T.", "▸ -T cos(alpha)", "Part of T along x:")
	s.typed("0")
	if got := s.m.work.entry.Value(); got != "0" {
		t.Errorf("typing over a line brought back gives %q", got)
	}
}

// A line that was not right stays: typing replaces it, moving in it mends it,
// and sending it again as it stands is no second attempt.
func TestWrongLineIsReplacedOrMended(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.say(davitSetup...)
	s.say("T cos(alpha)")
	s.sees("x part of T: not right", "▸ T cos(alpha)", "type a new line, or mend this one with ← →")
	before := len(s.rec.events)
	s.press("enter")
	s.sees("This line has been checked as it stands.")
	if len(s.rec.events) != before {
		t.Error("the same line sent again was recorded as another attempt")
	}
	s.typed("T sin")
	if got := s.m.work.entry.Value(); got != "T sin" {
		t.Errorf("typing after a wrong line gives %q", got)
	}
	s.press("clear", "clear", "clear", "clear")
	s.typed("(beta)")
	s.press("enter")
	s.sees("not read, and not counted")
	s.press("left", "delete", "delete", "delete", "delete")
	s.typed("alpha")
	if got := s.m.work.entry.Value(); got != "T sin(alpha)" {
		t.Errorf("mended, the line is %q", got)
	}
	s.press("home")
	s.press("clear")
	s.say("-T cos(alpha)")
	s.sees("x part of T: right")
}

func TestSignsAskBeforeMomentsAreLost(t *testing.T) {
	s := davit(t, bareUnicode, 100, 30)
	s.press("signs")
	s.sees("Clockwise moments are positive from here on.")
	s.press("signs")
	s.say(davitSetup...)
	s.press("tab", "tab")
	s.say("T L sin(alpha)")
	s.press("signs")
	s.sees("Count clockwise as positive?")
	s.press("left")
	s.press("signs")
	s.sees("Count clockwise as positive?", "✓ T · L · sin α")
	s.press("signs")
	s.sees("clockwise positive", "moments about A, clockwise positive")
	if s.m.work.desk.Find(tutor.StepMoment, "T").Done() {
		t.Error("a moment written under the other convention still counts")
	}
}

func TestResumeAndFailure(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, func(o *Options) {
		o.Unfinished = append(o.Unfinished, Unfinished{Session: "gone", Problem: "no-such", Title: "Gone\x1b[2J"})
	})
	s.sees(`Gone\x1b[2J`)
	s.press("down")
	s.sees("The bank no longer has this problem.")
	s.press("enter")
	s.sees("Not opened.", "no such session")
	s.press("up", "enter")
	s.sees("A painter on a ladder", "Choose a pivot")
}

// Every problem can be gone through by hints alone, and ends on the last
// screen: one of several bodies at every size, those of the bank each at one.
func TestEveryProblemByHints(t *testing.T) {
	ids := []string{"step-ladder"}
	for _, sc := range problems.Builtin().Scenarios {
		ids = append(ids, sc.ID)
	}
	for k, id := range ids {
		for i, size := range sizes {
			if k > 0 && k%len(sizes) != i {
				continue // the bank is large; it goes through the sizes in turn
			}
			on := []surface{bareUnicode, bareASCII}[i%2]
			s := newStand(t, on, size[0], size[1], nil)
			s.send(beginMsg{id})
			for n := 0; s.m.stage == working && n < 400; n++ {
				s.press("hint")
				s.sound(size[0], size[1], on.ascii)
			}
			if s.m.stage != finishing {
				t.Fatalf("%s does not end:\n%s", id, s.frame())
			}
			s.press("pgdn")
			s.sound(size[0], size[1], on.ascii)
			s.sees("shown, and so not earned", "another like it")
		}
	}
}

// A hint for a line that is earned would make it a shown one.
func TestNoHintForWhatIsDone(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.say("A")
	s.press("up", "hint", "hint", "hint")
	s.sees("This line is done; there is nothing to hint at.")
	if got := s.m.work.desk.Find(tutor.StepPivot, "").Status; got != tutor.Earned {
		t.Errorf("the pivot is %v after hints, want earned", got)
	}
}

// The walkthrough comes first if asked for, can be skipped, and is had again
// from help.
func TestWalkthrough(t *testing.T) {
	s := newStand(t, bareUnicode, 80, 24, func(o *Options) { o.Walkthrough, o.Notice = true, "Set aside." })
	s.sees("Set aside.", "Press a key")
	s.press("enter")
	s.sees("One line at a time", "1 of 4")
	s.press("enter", "enter", "left", "enter")
	s.sees("The ledger", "3 of 4")
	s.press("esc")
	s.sees("Go on with")
	s.press("help")
	s.typed("t")
	s.sees("1 of 4")
	s.press("enter", "enter", "enter", "enter")
	s.sees("What may be typed")
	s.press("esc")
	s.sees("Go on with")
}

// The quit key quits from help, the walkthrough and a notice too, and the
// leaving is recorded.
func TestQuitFromAnywhere(t *testing.T) {
	for _, over := range []func(s *stand){
		func(s *stand) { s.press("help") },
		func(s *stand) { s.press("help"); s.typed("t") },
		func(s *stand) { s.m.notice = "Set aside." },
	} {
		s := davit(t, bareUnicode, 80, 24)
		over(s)
		s.press("quit")
		if last := s.rec.events[len(s.rec.events)-1]; !s.quit || last.Kind != tutor.Left {
			t.Errorf("quit %v, the last event is %s", s.quit, last.Kind)
		}
	}
}

// A learner who knows the way may write a whole equation, or a value, where an
// entry is asked: it reads, and goes, where it belongs.
func TestWholeEquationAndValueStraightOff(t *testing.T) {
	s := davit(t, bareUnicode, 140, 45)
	s.say(davitSetup...)
	s.press("tab", "tab")
	s.typed("T L sin(alpha) = M g L/2 + m g L")
	s.sees("sum of moments ○ T · L · sin α = M · g · L / 2 + m · g · L", "reads as: T · L · sin α = M · g · L / 2 + m · g · L")
	s.press("enter")
	s.sees("moment equation: right", "= in the sum")
	d := s.m.work.desk
	i, _ := d.Problem().Table.Index("T")
	value := problems.Figures(d.Problem().Values[i], 4) + " N"
	s.typed("T = " + value)
	s.sees("reads as: T = "+value, "○ T = "+value)
	s.press("enter")
	s.sees("value of T: right", "✓ T = "+value)
}

// A key that is none of the entry's leaves a line that was sent as it is: typing
// still replaces it, and is not added to it.
func TestOddKeyAfterAWrongLine(t *testing.T) {
	for _, odd := range []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune{'x'}, Alt: true}, {Type: tea.KeyF9}, {Type: tea.KeyInsert}, {Type: tea.KeyF20}} {
		s := davit(t, bareUnicode, 80, 24)
		s.say("A", "W at B down")
		s.send(odd)
		s.typed("W")
		if got := s.m.work.entry.Value(); got != "W" {
			t.Errorf("after %v the line is %q, want what was typed alone", odd, got)
		}
	}
}
