package tutor_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/tutor"
)

// A session cut off between its last line and the event that ends it is ended
// when it is gone on with, once, so that it is not offered as unfinished.
func TestCutOffBeforeItsEnd(t *testing.T) {
	for _, mode := range tutor.Modes {
		d, b := examine(t, "plank-balance", 7, tutor.TermsOf(mode))
		for _, line := range []string{"O", "N at O up; W at O down; W_1 at C down; W_2 at D down", "done", "go",
			"N = W + W_1 + W_2", "W_1 r_1 = W_2 r_2", "N = 830 N", "r_2 = 0.947 m", "C", "1"} {
			if line == "go" { // equations, in place of entries
				if _, err := d.Go(tutor.StepEquation, "y"); err != nil {
					t.Fatal(err)
				}
				continue
			}
			if _, err := d.Answer(line); err != nil {
				t.Fatal(err)
			}
		}
		for !d.Finished() { // an exam is handed in at the second asking
			if _, err := d.Answer(map[string]string{tutor.Practice: "check", tutor.Exam: "hand in"}[mode]); err != nil {
				t.Fatal(err)
			}
		}
		last := len(b.events) - 1
		if !d.Finished() || b.events[last].Kind != tutor.Finished {
			t.Fatalf("%s: not finished at %s", mode, b.events[last].Kind)
		}
		kept := slices.Clone(b.events[:last])
		for range 2 { // the second time there is nothing to do
			back, err := tutor.Resume(d.Problem(), kept)
			if err != nil {
				t.Fatal(err)
			}
			again := &bell{memory{events: kept}, kept[len(kept)-1].At, 0}
			if d, err = tutor.Sit(back, again, slices.Clone(kept)); err != nil || !d.Finished() {
				t.Fatalf("%s: gone on with, it is finished: %v, %v", mode, d.Finished(), err)
			}
			kept = again.events
		}
		if len(kept) != last+1 || kept[last].Kind != tutor.Finished {
			t.Errorf("%s: %d events after it is gone on with twice, the last %s, want %d, the last finished", mode, len(kept), kept[len(kept)-1].Kind, last+1)
		}
	}
}

// If the end cannot be recorded, going on with it says so.
func TestCutOffAndUnrecordable(t *testing.T) {
	d, b := sit(t, "plank-balance", 7)
	for range 60 {
		if c := d.Current(); c != nil {
			if _, err := d.Hint(); err != nil {
				t.Fatal(err)
			}
		}
	}
	kept := b.events[:len(b.events)-1]
	back, err := tutor.Resume(d.Problem(), kept)
	if err != nil || !back.Finished() {
		t.Fatalf("finished: %v, %v", back.Finished(), err)
	}
	full := errors.New("disk full")
	if _, err := tutor.Sit(back, &memory{fail: full}, kept); err != full {
		t.Errorf("the error is %v, want that of the disk", err)
	}
}

// What was said of a line that was judged with others can be had again at that
// line, until it is judged anew.
func TestSaidOfJudgedLines(t *testing.T) {
	d, _ := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Practice))
	check := func() {
		t.Helper()
		if _, err := d.Answer("check"); err != nil {
			t.Fatal(err)
		}
	}
	list := d.Find(tutor.StepForces, "")
	write(t, d, []string{"A", "T at B toward C; W at G up; m g at B down; H at A right; V at A up", "done"})
	if said := d.Said(list); said != "" {
		t.Errorf("said %q before it was judged", said)
	}
	check()
	if said := d.Said(list); !strings.Contains(said, "W (weight of the arm) cannot act that way") {
		t.Errorf("of the list of forces is said %q", said)
	}
	if said := d.Said(d.Find(tutor.StepPivot, "")); said != "" {
		t.Errorf("of a line that is right is said %q", said)
	}
	write(t, d, []string{"W at G down", "done", "-T cos(alpha)", "T cos(alpha)"})
	check()
	if said := d.Said(list); said != "" {
		t.Errorf("of a list that is right now is said %q", said)
	}
	if said := d.Said(d.Find(tutor.StepY, "T")); !strings.HasPrefix(said, "T · cos α. Sine and cosine have changed places") {
		t.Errorf("said %q", said)
	}
}

// An answer by number is read as the words it stands for.
func TestChoiceReadsAsItsWords(t *testing.T) {
	for _, typed := range []string{"3", "grows without bound", "grows without"} {
		d, _ := davit(t)
		if _, err := d.Go(tutor.StepDoubt, tutor.DoubtLimit); err != nil {
			t.Fatal(err)
		}
		say(t, d, typed, grading.Right)
		if reads := d.Find(tutor.StepDoubt, tutor.DoubtLimit).Reads; reads != "grows without bound" {
			t.Errorf("%q reads %q", typed, reads)
		}
	}
}

// The list that a hint shows says which way as the scenario does: toward a
// point where there is one on the line.
func TestShownForcesAimAtPoints(t *testing.T) {
	for _, c := range []struct{ id, want string }{
		{"davit-arm", "T at B toward C"}, // its stay is told by an angle
		{"hatch-prop", "P at C away from D"},
		{"slip-beam-overhang", "P at B toward E"},
	} {
		d, _ := sit(t, c.id, 7)
		say(t, d, "A", grading.Right)
		text := ""
		for range 3 {
			var err error
			if text, err = d.Hint(); err != nil {
				t.Fatal(err)
			}
		}
		if !strings.Contains(text, c.want) || strings.Contains(text, " deg") {
			t.Errorf("%s: %q, want %q in it", c.id, text, c.want)
		}
	}
}
