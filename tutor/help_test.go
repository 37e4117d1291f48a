package tutor_test

import (
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/tutor"
)

// A worked problem shows each line with its reason, one at a time, to the end;
// none of it is earned.
func TestWorkedToTheEnd(t *testing.T) {
	for _, id := range []string{"davit-arm", "trailer-braking", "step-ladder-tie"} {
		d, b := examine(t, id, 3, tutor.Terms{Mode: tutor.Guided, Hints: 3, Help: tutor.HelpWorked})
		for n := 0; !d.Finished(); n++ {
			title := d.Title(d.Current())
			r, err := d.Answer("")
			if err != nil || !r.IsTaken() || !strings.HasPrefix(r.Note, "Why: ") || len(r.Note) < 12 || !strings.EqualFold(r.Message[:len(title)], title) {
				t.Fatalf("%s: at %s is shown %q, %q, %v", id, title, r.Message, r.Note, err)
			}
			if n > 100 {
				t.Fatal("it has no end")
			}
		}
		if sum := d.Summary(b.events); sum.Shown != sum.Lines || sum.FirstTime != 0 {
			t.Errorf("%s: worked to %+v", id, sum)
		}
		back, err := tutor.Resume(d.Problem(), b.events)
		if err != nil || state(t, back) != state(t, d.Session) {
			t.Errorf("%s: resumed otherwise, %v", id, err)
		}
	}
}

// Who does not need it goes on alone, at any line.
func TestWorkedNoMore(t *testing.T) {
	d, _ := examine(t, "davit-arm", 7, tutor.Terms{Mode: tutor.Guided, Hints: 3, Help: tutor.HelpWorked})
	for _, line := range []string{"", "", "own"} {
		if _, err := d.Answer(line); err != nil {
			t.Fatal(err)
		}
	}
	say(t, d, "-T cos(alpha)", grading.Right)
	say(t, d, "T cos(alpha)", grading.Wrong, "sine-cosine")
}

// A half-worked problem begins with half of its entries, and the rest is the
// learner's; what a new pivot opens again is filled in anew.
func TestHalfWorked(t *testing.T) {
	d, b := examine(t, "davit-arm", 7, tutor.Terms{Mode: tutor.Guided, Hints: 3, Help: tutor.HelpHalf})
	count := func() (shown, open int) {
		for _, task := range d.Ledger() {
			switch {
			case task.IsCell() && task.Status == tutor.Shown:
				shown++
			case task.IsCell() && task.Status == tutor.Open:
				open++
			}
		}
		return
	}
	if shown, open := count(); shown != 8 || open != 7 {
		t.Errorf("%d entries are filled in and %d open, want 8 and 7", shown, open)
	}
	if c := d.Current(); c.Step != tutor.StepY || c.Cell != "T" {
		t.Errorf("asked for %s", d.Title(c))
	}
	say(t, d, "T cos(alpha)", grading.Wrong, "sine-cosine")
	say(t, d, "T sin(alpha)", grading.Right)
	if _, err := d.Go(tutor.StepPivot, ""); err != nil {
		t.Fatal(err)
	}
	say(t, d, "B", grading.Right)
	if shown, _ := count(); shown != 8 {
		t.Errorf("about another pivot %d entries are filled in, want 8", shown)
	}
	back, err := tutor.Resume(d.Problem(), b.events)
	if err != nil || state(t, back) != state(t, d.Session) {
		t.Errorf("resumed otherwise, %v", err)
	}
}
