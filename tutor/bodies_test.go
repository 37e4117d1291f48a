package tutor_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// stepLadder is two legs, the ladder as a whole, and a closing question.
func stepLadder(t *testing.T) *problems.Scenario {
	t.Helper()
	data, err := os.ReadFile("../problems/testdata/step-ladder.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := problems.Read("step-ladder.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// show takes the three hints of the current line.
func show(t *testing.T, d *tutor.Desk) {
	t.Helper()
	for range 3 {
		if text, err := d.Hint(); err != nil || text == "" {
			t.Fatalf("%s: no hint (%v)", d.Title(d.Current()), err)
		}
	}
}

// Once the bodies worked fix every unknown, the others are not asked.
func TestBodiesThatAreNotNeeded(t *testing.T) {
	d, _ := sitAt(t, stepLadder(t), 3)
	if err := d.Turn("whole ladder"); err != nil {
		t.Fatal(err)
	}
	asked := map[string]bool{}
	for d.Current() != nil && d.Current().Body == "whole ladder" {
		asked[d.Current().Body] = true
		show(t, d)
	}
	if c := d.Current(); c == nil || c.Body == "" || d.Body().Name == "whole ladder" {
		t.Fatalf("the whole alone leaves the joint's forces; asked for %v", c)
	}
	if err := d.Turn("right leg"); err != nil {
		t.Fatal(err)
	}
	for d.Current() != nil && d.Current().Body == "right leg" {
		show(t, d)
	}
	if c := d.Current(); c == nil || c.Step != tutor.StepValue {
		t.Fatalf("the whole and one leg fix all; asked for %+v", c)
	}
	for _, task := range d.Tasks() {
		if task.Body == "left leg" && task.Status != tutor.Covered {
			t.Errorf("left leg: %s %s is %v", task.Step, task.Cell, task.Status)
		}
	}
	for !d.Finished() {
		show(t, d)
	}
	if last := d.Events()[len(d.Events())-1]; last.Kind != tutor.Finished {
		t.Errorf("the last event is %s", last.Kind)
	}
}

// A joint's force assumed one way on one body is reversed on the other; the
// line shown there reverses it too.
func TestJointSenseCarriesOver(t *testing.T) {
	d, _ := sitAt(t, stepLadder(t), 3)
	say(t, d, "C", grading.Right)
	say(t, d, "N_A at A up; W at P down; T at D right; C_x at C left; C_y at C up", grading.Right)
	say(t, d, "done", grading.Right)
	if err := d.Turn("right leg"); err != nil {
		t.Fatal(err)
	}
	say(t, d, "C", grading.Right)
	r := say(t, d, "C_x at C left", grading.Wrong, "partner-sense")
	if !strings.Contains(r.Message, "left leg") {
		t.Errorf("%q does not name the other body", r.Message)
	}
	line := ""
	for range 3 {
		line, _ = d.Hint()
	}
	if !strings.Contains(line, "C_x at C right") || !d.Find(tutor.StepForces, "").Done() {
		t.Errorf("shown: %q", line)
	}
	if n := len(d.Listed()); n != 4 {
		t.Errorf("%d forces are listed of 4", n)
	}
}

// A session over several bodies, stopped anywhere, goes on at the same line of
// the same body.
func TestResumeOverBodies(t *testing.T) {
	sc := stepLadder(t)
	d, m := sitAt(t, sc, 3)
	for n := 0; !d.Finished(); n++ {
		if n == 9 {
			if err := d.Turn("right leg"); err != nil {
				t.Fatal(err)
			}
		}
		if c := d.Current(); c.Step == tutor.StepMoment || c.Step == tutor.StepX {
			if _, err := d.Answer("0 + W/7"); err != nil {
				t.Fatal(err)
			}
		}
		show(t, d)
		again, err := tutor.Resume(d.Problem(), slices.Clone(m.events))
		if err != nil {
			t.Fatal(err)
		}
		a, b := d.Current(), again.Current()
		if (a == nil) != (b == nil) || a != nil && (a.Body != b.Body || a.Step != b.Step || a.Cell != b.Cell) || d.Body().Name != again.Body().Name {
			t.Fatalf("after %d lines: at %+v, resumed at %+v", n, a, b)
		}
		for i, task := range d.Tasks() {
			if o := again.Tasks()[i]; task.Status != o.Status || task.Typed != o.Typed || task.Tries != o.Tries {
				t.Fatalf("after %d lines: %+v, resumed as %+v", n, task, o)
			}
		}
	}
}

// The closing question is answered by its number or its words; what decided it
// is said.
func TestClosingQuestion(t *testing.T) {
	d, _ := sitAt(t, stepLadder(t), 3)
	for d.Current().Cell != "ask1" {
		show(t, d)
	}
	if got := d.Choices(d.Current()); len(got) != 2 || got[1] != "2 the other foot" {
		t.Errorf("choices %q", got)
	}
	say(t, d, "perhaps", grading.Unreadable)
	say(t, d, "the", grading.Unreadable)
	say(t, d, "2", grading.Wrong)
	r := say(t, d, "the foot of the painter's leg", grading.Right)
	if !strings.Contains(r.Note, " > ") {
		t.Errorf("note %q", r.Note)
	}
	if !d.Finished() {
		t.Error("not finished")
	}
}

func TestNoSuchBody(t *testing.T) {
	d, _ := sitAt(t, stepLadder(t), 3)
	if err := d.Turn("mast\x1b[2J"); err == nil || !strings.Contains(err.Error(), "bodies are left leg, right leg, whole ladder") || strings.Contains(err.Error(), "\x1b") {
		t.Errorf("%v", err)
	}
}

// The scenario's own hint is given where it has one.
func TestOwnHints(t *testing.T) {
	d, _ := sitAt(t, stepLadder(t), 3)
	general, _ := d.Hint()
	if err := d.Turn("whole ladder"); err != nil {
		t.Fatal(err)
	}
	own, _ := d.Hint()
	recall, _ := d.Hint()
	if own != "Which unknowns act on the whole ladder?" || general == own || !strings.HasPrefix(recall, "Inside the whole") {
		t.Errorf("%q, %q, %q", general, own, recall)
	}
}
