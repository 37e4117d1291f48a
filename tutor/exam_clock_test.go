package tutor_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/tutor"
)

// A program killed at any moment, ten of them, and gone on with: the same
// paper and the same clock, with nothing lost.
func TestExamKilledAndResumed(t *testing.T) {
	terms := tutor.TermsOf(tutor.Exam)
	terms.Limit = 45 * time.Minute
	whole, log := examine(t, "davit-arm", 7, terms)
	lines := append(slices.Clone(sitting), "hand in")
	write(t, whole, sitting)
	handInAt := len(log.events)
	if _, err := whole.Answer("hand in"); err != nil {
		t.Fatal(err)
	}
	want, _ := whole.Paper()

	rng := rand.New(rand.NewPCG(7, 2026))
	cuts := []int{handInAt + 1, handInAt + 7, len(log.events) - 1} // among the verdicts, too
	for len(cuts) < 10 {
		cuts = append(cuts, 1+rng.IntN(len(log.events)-1))
	}
	for _, cut := range cuts {
		kept := slices.Clone(log.events[:cut])
		back, err := tutor.Resume(whole.Problem(), kept)
		if err != nil {
			t.Fatal(err)
		}
		b := &bell{memory{events: kept, fail: nil}, kept[cut-1].At, time.Second}
		d, err := tutor.Sit(back, b, kept)
		if err != nil {
			t.Fatal(err)
		}
		if now := log.events[min(cut, len(log.events)-1)].At; cut <= handInAt {
			end, ok := d.Deadline()
			if !ok || !end.Equal(morning.Add(time.Second+terms.Limit)) {
				t.Errorf("cut after %d events, time is up at %v", cut, end)
			}
			if left, _ := d.Remaining(now); left != terms.Limit-now.Sub(log.events[0].At) {
				t.Errorf("cut after %d events, %v is left", cut, left)
			}
		}
		for _, line := range lines[min(cut-1, len(lines)):] {
			if _, err := d.Answer(line); err != nil {
				t.Fatal(err)
			}
		}
		got, ok := d.Paper()
		if !ok || got.Text() != want.Text() {
			t.Errorf("cut after %d events, the paper is\n%v\nwant\n%s", cut, got, want.Text())
		}
		if len(b.events) != len(log.events) {
			t.Errorf("cut after %d events, there are %d in the end, want %d", cut, len(b.events), len(log.events))
		}
		if state(t, d.Session) != state(t, whole.Session) {
			t.Errorf("cut after %d events, the session stands otherwise", cut)
		}
	}
}

// When time is up the paper is handed in as it was: by the line that comes too
// late, which is in the log and not on the paper, or by a front's clock.
func TestExamTimeIsUp(t *testing.T) {
	terms := tutor.TermsOf(tutor.Exam)
	terms.Limit = 10 * time.Minute
	late, b := examine(t, "davit-arm", 7, terms)
	write(t, late, sitting[:7])
	b.now = morning.Add(11 * time.Minute)
	r, err := late.Answer("T sin(alpha)")
	if err != nil || r.IsTaken() || !strings.Contains(r.Message, "Time is up") || !late.HandedIn() || !late.Finished() {
		t.Fatalf("too late is %s: %s", r.Outcome, r.Message)
	}
	if y := late.Find(tutor.StepY, "T"); y.Typed != "" {
		t.Errorf("a line that came too late is on the paper: %q", y.Typed)
	}
	if !slices.ContainsFunc(b.events, func(e tutor.Event) bool { return e.Typed == "T sin(alpha)" }) {
		t.Error("a line that came too late is not in the log")
	}

	called, b := examine(t, "davit-arm", 7, terms)
	write(t, called, sitting[:7])
	if up, err := called.Tick(morning.Add(9 * time.Minute)); up || err != nil {
		t.Error("handed in before time was up")
	}
	b.now = morning.Add(11 * time.Minute)
	if up, err := called.Tick(b.now); !up || err != nil || !called.Finished() {
		t.Error("not handed in when time was up")
	}
	one, _ := late.Paper()
	other, _ := called.Paper()
	if one.Text() != other.Text() {
		t.Errorf("the paper handed in by a line is\n%s\nby the clock\n%s", one.Text(), other.Text())
	}
}

// A clock that is set back gives no time, and is noted in the log, once.
func TestExamClockSetBack(t *testing.T) {
	terms := tutor.TermsOf(tutor.Exam)
	terms.Limit = 10 * time.Minute
	d, b := examine(t, "davit-arm", 7, terms)
	write(t, d, sitting[:3])
	b.now = morning.Add(8 * time.Minute)
	write(t, d, sitting[3:4])
	used := d.Used(b.now)
	b.now = b.now.Add(-time.Hour)
	write(t, d, sitting[4:6])
	if now := d.Used(b.now); now < used {
		t.Errorf("%v was used, and after the clock was set back %v", used, now)
	}
	notes := 0
	for _, e := range b.events {
		if e.Step == string(tutor.StepClock) {
			notes++
			if e.Typed != "set back by 59m59s" {
				t.Errorf("noted %q", e.Typed)
			}
		}
	}
	if notes != 1 {
		t.Errorf("noted %d times, want once", notes)
	}
	if left, _ := d.Remaining(b.now); left > 2*time.Minute {
		t.Errorf("%v is left, so the clock gave time", left)
	}
}

// A clock set back once a paper is handed in is of no account, however often
// what follows is recorded.
func TestClockSetBackWhenAllIsOver(t *testing.T) {
	terms := tutor.TermsOf(tutor.Exam)
	terms.Limit = 45 * time.Minute
	d, b := examine(t, "davit-arm", 7, terms)
	write(t, d, sitting)
	handIn(t, d)
	b.now = b.now.Add(-time.Hour)
	before := len(b.events)
	if err := d.Leave(); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Answer("T = 1 N"); err != nil {
		t.Fatal(err)
	}
	if more := len(b.events) - before; more > 3 {
		t.Errorf("%d events follow", more)
	}
	back, err := tutor.Resume(d.Problem(), b.events)
	if err != nil {
		t.Fatal(err)
	}
	if e, _, due := back.Due(); due {
		t.Errorf("after the end there is due: %+v", e)
	}
}
