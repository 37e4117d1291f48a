package screen

import (
	"strings"
	"testing"
	"time"

	"steelyard/tutor"
)

// second lets a second pass.
func (s *stand) second() {
	s.clock = s.clock.Add(time.Second)
	s.send(tickMsg{})
}

// Only what has a time that runs looks at the clock, and for one second at a
// time, whatever else is done.
func TestClockIsLookedAt(t *testing.T) {
	free := davit(t, bareUnicode, 100, 30)
	free.say(davitSetup...)
	if free.ticks != 0 {
		t.Errorf("%d seconds are waited for where the time is not limited", free.ticks)
	}
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(sitting)
	s.say(davitBadly[:6]...)
	if s.ticks != 1 {
		t.Errorf("%d seconds are waited for at once, want 1", s.ticks)
	}
	s.second()
	s.second()
	if s.ticks != 3 {
		t.Errorf("%d seconds were waited for, want 3", s.ticks)
	}
	s.press("ready", "ready")
	s.second()
	if s.ticks != 3 {
		t.Error("the paper is handed in, and seconds are waited for")
	}
}

// What is shown of the time changes once a minute, and in the last minute once
// a second; nothing else on the screen does.
func TestClockIsQuiet(t *testing.T) {
	s := newStand(t, bareUnicode, 80, 24, nil)
	s.under(sitting)
	s.say(davitBadly[:6]...)
	frames := map[string]int{}
	for range 180 {
		s.second()
		frames[s.frame()]++
	}
	if len(frames) != 3 { // 44, 43 and 42 minutes and some
		t.Errorf("in three minutes there were %d frames, want 3", len(frames))
	}
	before := strings.Split(s.frame(), "\n")
	s.clock = s.clock.Add(time.Minute)
	s.second()
	for i, line := range strings.Split(s.frame(), "\n") {
		if i > 0 && line != before[i] {
			t.Errorf("a minute later line %d is %q, and was %q", i+1, line, before[i])
		}
	}
	for left, want := range map[time.Duration]string{
		31 * 24 * time.Hour: "31 days left", 3*time.Hour + 7*time.Minute: "3 h 07 min left", 89*time.Minute + 59*time.Second: "89 min left",
		time.Minute: "1 min left", 59*time.Second + time.Millisecond: "59 s left", 0: "0 s left", -time.Hour: "0 s left",
	} {
		if got := timeLeft(left); got != want {
			t.Errorf("%v is %q, want %q", left, got, want)
		}
	}
}

// At the end of the time the paper is handed in as it was, whatever lies over
// the screen; what stood on the line is not on it.
func TestTimeIsUp(t *testing.T) {
	for _, over := range []string{"", "help"} {
		s := newStand(t, bareUnicode, 100, 30, nil)
		s.under(sitting)
		s.say(davitBadly[:6]...)
		s.typed("T sin(alpha)")
		if over != "" {
			s.press(over)
		}
		s.clock = s.clock.Add(sitting.Limit - time.Second)
		s.send(tickMsg{})
		if s.m.work.desk.HandedIn() {
			t.Fatal("handed in before the time was up")
		}
		s.second()
		s.sees("Time is up. The paper is handed in.", "marks: ")
		if y := s.m.work.desk.Find(tutor.StepY, "T"); s.m.stage != finishing || y.Typed != "" {
			t.Errorf("%q was on the line and is on the paper", y.Typed)
		}
	}
}

// If that cannot be recorded it is said, and tried again.
func TestTimeIsUpUnrecorded(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.under(sitting)
	s.say("A")
	s.rec.fail = errDisk
	s.clock = s.clock.Add(sitting.Limit)
	s.second()
	s.sees("Not saved: that time is up could not be recorded", "disk full")
	s.rec.fail = nil
	s.second()
	s.sees("Time is up. The paper is handed in.")
}

// An exam that was left is gone on with at the same line, by the same clock; if
// its time has run out it is handed in.
func TestExamGoneOnWith(t *testing.T) {
	for after, want := range map[time.Duration]string{10 * time.Minute: "34 min left", time.Hour: "Time is up. The paper is handed in."} {
		s := newStand(t, bareUnicode, 80, 24, nil)
		s.under(sitting)
		s.say(davitBadly[:7]...)
		s.clock = s.clock.Add(30 * time.Second)
		kept := append([]tutor.Event{}, s.rec.events...)

		back := newStand(t, bareUnicode, 80, 24, nil)
		back.clock = s.clock.Add(after)
		session, err := tutor.Resume(s.m.work.desk.Problem(), kept)
		if err != nil {
			t.Fatal(err)
		}
		back.rec.now = func() time.Time { return back.clock }
		d, err := tutor.Sit(session, back.rec, kept)
		if err != nil {
			t.Fatal(err)
		}
		back.m.open(d)
		back.sees(want)
		if after < sitting.Limit {
			back.sees("Moment of T about A", "Exam.", "Time is up at 09:45:00 on 25 November.")
		}
	}
}

// The list of a set tells the time that is left anew.
func TestSetListTellsTime(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.inSet()
	left := "44 minutes"
	s.m.o.Progress = func() Progress { return Progress{Said: []string{"Mid-term.", "Time left: " + left + "."}, Timed: true} }
	s.send(listMsg{})
	s.sees("Time left: 44 minutes.")
	left = "43 minutes"
	s.second()
	s.sees("Time left: 43 minutes.")
	if s.ticks != 2 {
		t.Errorf("%d seconds were waited for, want 2", s.ticks)
	}

	free := newStand(t, bareUnicode, 100, 30, nil)
	free.inSet()
	free.m.o.Progress = func() Progress { return Progress{Said: []string{"Lab 2."}} }
	free.send(listMsg{})
	free.press("down")
	if free.ticks != 0 {
		t.Error("a second is waited for in a set without a limit")
	}
}

// What is not an exam ends with its time as well: the lines that are there are
// told beside the worked ones, and the others as left open.
func TestTimeIsUpInALab(t *testing.T) {
	for _, mode := range []string{tutor.Guided, tutor.Practice} {
		terms := tutor.TermsOf(mode)
		terms.Limit = 20 * time.Minute
		s := newStand(t, bareUnicode, 140, 45, nil)
		s.under(terms)
		s.say(davitSetup...)
		s.say("-T cos(alpha)")
		s.sees("20 min left")
		s.clock = s.clock.Add(terms.Limit)
		s.second()
		s.sees("Time is up.", "handed in", "22 left open", "x part of T first time", "left open")
	}
}

// In a window too small for the screen the time is told, too.
func TestTimeInASmallWindow(t *testing.T) {
	s := newStand(t, bareUnicode, 40, 8, nil)
	s.under(sitting)
	s.sees("45 min left", "Choose a pivot")
}
