package tutor_test

import (
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/tutor"
	"steelyard/tutor/journal"
)

func check(t *testing.T, d *tutor.Desk, want string) tutor.Reply {
	t.Helper()
	r, err := d.Answer("check")
	if err != nil {
		t.Fatal(err)
	}
	if r.Message != want {
		t.Fatalf("checked: %s\n%s\nwant %s", r.Message, r.Note, want)
	}
	return r
}

// In practice lines are taken until the learner asks for checking; then each
// has its verdict and counts as an attempt, and the wrong ones are open again.
func TestPracticeChecksWhenAsked(t *testing.T) {
	d, b := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Practice))
	if r, _ := d.Answer("check"); r.Outcome != grading.Unreadable {
		t.Errorf("with nothing written, check says %s", r.Message)
	}
	write(t, d, []string{"A", "T at B toward C; W at G up", "m g at B down", "H at A right", "P at B left", "done", "-T cos(alpha)"})
	r := check(t, d, "7 lines checked: 4 right, 3 not.")
	for _, want := range []string{"a weight pulls down", `"P" does not act on this body`, "A force on the body is not in your list"} {
		if !strings.Contains(r.Note, want) {
			t.Errorf("the check says\n%s\nwant %q", r.Note, want)
		}
	}
	if c := d.Current(); c.Step != tutor.StepForces || c.Tries != 3 || len(d.Lines()) != 3 {
		t.Fatalf("after it, at %s with %d tries, listed %q", c.Step, c.Tries, d.Lines())
	}
	write(t, d, []string{"W at G down", "V at A up", "done"})
	if x := d.Find(tutor.StepX, "T"); x.Status != tutor.Taken {
		t.Errorf("an entry written before the list was put right is gone: %v", x.Status)
	}
	check(t, d, "6 lines checked, all right.")

	// What is right stays so; what is wrong is open again, and counts.
	write(t, d, []string{"T cos(alpha)", "T L sin(alpha)"})
	r = check(t, d, "2 lines checked: 1 right, 1 not.")
	if r.Outcome != grading.Wrong || !strings.Contains(r.Note, "y part of T, T · cos α. Sine and cosine") {
		t.Errorf("the check says %s", r.Note)
	}
	if y, m := d.Find(tutor.StepY, "T"), d.Find(tutor.StepMoment, "T"); y.Status != tutor.Open || y.Tries != 1 || !m.FirstTime() || d.Current() != y {
		t.Errorf("after it y of T is %+v, its moment %+v, and it is %v that is asked", y, m, d.Title(d.Current()))
	}
	if last := b.events[len(b.events)-1]; last.Kind != tutor.Moved {
		t.Errorf("the last event is %+v", last)
	}
	if text, err := d.Hint(); err != nil || text == "" {
		t.Errorf("hinted %q, %v", text, err)
	}
	write(t, d, []string{"T sin(alpha)", "0", "-m g", "-m g L", "H", "0", "0", "0", "-M g", "-M g L/2", "0", "V", "0", "3.12 kN", "2890 N", "137 N", "B", "3"})
	if d.Finished() {
		t.Fatal("finished before the last lines were checked")
	}
	check(t, d, "18 lines checked, all right.")
	if !d.Finished() || b.events[len(b.events)-1].Kind != tutor.Finished {
		t.Error("with every line right, it is not finished")
	}
	if m, err := journal.MarkSession(d.Problem(), b.events); err != nil || m.Changed != 0 || m.Lines != 22 || m.First != 20 {
		t.Errorf("marked from its log: %+v, %v", m, err)
	}
}

// A program killed while lines are being checked goes on checking.
func TestPracticeKilledInACheck(t *testing.T) {
	d, b := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Practice))
	write(t, d, []string{"A", "T at B toward C; W at G up", "H at A right", "done", "-T cos(alpha)", "T", "0"})
	asked := len(b.events)
	if _, err := d.Answer("check"); err != nil {
		t.Fatal(err)
	}
	for cut := asked + 1; cut < len(b.events); cut++ {
		kept := slices.Clone(b.events[:cut])
		s, err := tutor.Resume(d.Problem(), kept)
		if err != nil {
			t.Fatal(err)
		}
		m := &memory{events: slices.Clone(kept)}
		back, err := tutor.Sit(s, m, kept)
		if err != nil {
			t.Fatal(err)
		}
		if len(m.events) != len(b.events) || state(t, back.Session) != state(t, d.Session) {
			t.Errorf("cut after %d of %d events, gone on to\n%s\nwant\n%s", cut, len(b.events), state(t, back.Session), state(t, d.Session))
		}
	}
}

// Hints go as deep as the terms allow; the terms are in the record.
func TestTermsAreKept(t *testing.T) {
	terms := tutor.TermsOf(tutor.Guided)
	terms.Hints, terms.Tolerance, terms.Set = 1, 0.05, "lab3 0011"
	d, b := examine(t, "davit-arm", 7, terms)
	for i := range 3 {
		text, err := d.Hint()
		if err != nil || (i > 0) != (text == "There is no deeper hint in this set.") {
			t.Errorf("hint %d: %q, %v", i+1, text, err)
		}
	}
	back, err := tutor.Resume(d.Problem(), b.events)
	if err != nil || back.Terms() != terms || back.Choice().Tolerance != 0.05 {
		t.Errorf("resumed on %+v, %v", back.Terms(), err)
	}
	if r := say(t, d, "A", grading.Right); r.Outcome == "" {
		t.Error("no verdict")
	}
	if ok, _ := d.Go(tutor.StepValue, "T"); !ok {
		t.Fatal("no value of T")
	}
	say(t, d, "3.2 kN", grading.Right) // 2.7 % off
	for _, bad := range []tutor.Terms{{Mode: "exams"}, {Mode: tutor.Exam, Hints: 4}, {Mode: tutor.Exam, Tolerance: 0.2}, {Mode: tutor.Exam, Limit: -1}} {
		if _, err := tutor.Start(d.Problem(), bad); err == nil {
			t.Errorf("%+v are taken", bad)
		}
	}
}

// What a broken or forged began event holds does no harm.
func TestForgedTerms(t *testing.T) {
	d, b := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
	for _, typed := range []string{"hints=9", "limit=-1h", "limit=1e99h", "tolerance=NaN", "tolerance=5", "used=x", "=", "help", strings.Repeat("hints=1 ", 4000)} {
		e := b.events[0]
		e.Typed = typed
		s, err := tutor.Resume(d.Problem(), []tutor.Event{e})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Terms(); got.Hints > 1 || got.Limit != 0 || got.Tolerance != 0 || got.Used != 0 {
			t.Errorf("%.20q gives %+v", typed, got)
		}
	}
}

// The log of an exam is marked and graded again without a verdict changing.
func TestExamLogIsGradedAlike(t *testing.T) {
	d, b := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
	write(t, d, sitting)
	handIn(t, d)
	m, err := journal.MarkSession(d.Problem(), b.events)
	if err != nil || m.Changed != 0 {
		t.Errorf("marked from its log: %+v, %v", m, err)
	}
}
