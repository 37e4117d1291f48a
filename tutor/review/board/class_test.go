package board

import (
	"compress/gzip"
	"context"
	"os"
	"slices"
	"testing"

	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// The log of an invented class, read as review reads it: every part and what
// opens from it is drawn soundly, and what is said of one learner adds up to
// what the report says of them.
func TestClass(t *testing.T) {
	packed, err := os.Open("../../../testdata/class/class.jsonl.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	log, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	r := review.NewReader(problems.Builtin())
	if err := r.Read(context.Background(), "class.jsonl", log); err != nil {
		t.Fatal(err)
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range [][2]int{{80, 24}, {140, 45}, {50, 14}} {
		for _, ascii := range []bool{false, true} {
			s := newStand(t, screen.BareLook(ascii), rep, size[0], size[1])
			s.m.data.lines, s.m.data.sessions = r.LinesOf, r.SessionsOf
			s.roam(func(string) { s.sound() })
		}
	}
	// Axes and reasons are typed too, and are no lines of a problem.
	counted := []tutor.Step{tutor.StepPivot, tutor.StepForces, tutor.StepX, tutor.StepY, tutor.StepMoment, tutor.StepEquation, tutor.StepValue, tutor.StepDoubt}
	answers := 0
	for _, l := range rep.Students {
		for _, line := range r.LinesOf(l.Learner) {
			if line.Hint == 0 && slices.Contains(counted, tutor.Step(line.Step)) {
				answers++
			}
		}
		sessions, finished, first, lines := 0, 0, 0, 0
		for _, s := range r.SessionsOf(l.Learner) {
			sessions++
			first, lines = first+s.RightFirst.Count, lines+s.RightFirst.N
			if s.Finished {
				finished++
			}
		}
		if sessions != l.Sessions || finished != l.Finished || first != l.RightFirst.Count || lines != l.RightFirst.N {
			t.Errorf("%s: %d sessions, %d finished, %d of %d right first; the report has %d, %d, %d of %d", l.Learner, sessions, finished, first, lines, l.Sessions, l.Finished, l.RightFirst.Count, l.RightFirst.N)
		}
	}
	if answers != rep.Answers {
		t.Errorf("the learners typed %d lines, the report has %d", answers, rep.Answers)
	}
}
