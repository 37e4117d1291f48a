package tutor

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"steelyard/grading"
)

// The modes: when a line is judged.
const (
	Guided   = "guided"   // as it is entered
	Practice = "practice" // when the learner asks for checking
	Exam     = "exam"     // when the paper is handed in; until then any line may be changed
)

// Modes lists them, in the order a course uses them.
var Modes = []string{Guided, Practice, Exam}

// MaxHints is the deepest hint: the line itself.
const MaxHints = 3

// MaxLimit is the longest time limit.
const MaxLimit = 30 * 24 * time.Hour

// Terms are what a session is begun on. They are part of the began event, so
// that a session resumed goes on by the same ones.
type Terms struct {
	Mode      string
	Set       string        // the set that the problem was taken from; "" for none
	Hints     int           // depth of the deepest hint allowed, 0 to [MaxHints]
	Tolerance float64       // of numbers and values, relative; 0 for [grading.Tolerance]
	Limit     time.Duration // time allowed; 0 for no limit
	Used      time.Duration // of that, time used before the session began: on other problems of the set
	Help      string        // how much is worked for the learner: "", [HelpWorked], [HelpHalf]
	Reasons   bool          // now and then a reason is asked for; not in an exam
}

// TermsOf are the terms of a session begun without any: all hints but in an
// exam, and no limit.
func TermsOf(mode string) Terms {
	t := Terms{Mode: mode, Hints: MaxHints}
	if mode == Exam {
		t.Hints = 0
	}
	return t
}

// check says which of the terms cannot be kept.
func (t Terms) check() error {
	known := false
	for _, m := range Modes {
		known = known || m == t.Mode
	}
	switch {
	case !known:
		return fmt.Errorf("mode is %s, not \"%s\"", strings.Join(Modes, ", "), t.Mode)
	case t.Hints < 0 || t.Hints > MaxHints:
		return fmt.Errorf("hints allowed are 0 to %d deep, not %d", MaxHints, t.Hints)
	case !(t.Tolerance >= 0 && t.Tolerance <= grading.MaxTolerance):
		return fmt.Errorf("tolerance is relative, above 0 and at most %v, not %v; leave it out for %v", grading.MaxTolerance, t.Tolerance, grading.Tolerance)
	case t.Limit < 0 || t.Limit > MaxLimit:
		return fmt.Errorf("a time limit is at most %v, not %v", MaxLimit, t.Limit)
	case t.Help != "" && (t.Help != HelpWorked && t.Help != HelpHalf || t.Mode != Guided):
		return fmt.Errorf("help is %s or %s, in the mode %s", HelpWorked, HelpHalf, Guided)
	case t.Reasons && t.Mode == Exam:
		return fmt.Errorf("reasons are asked for in the modes %s and %s, not in an exam", Guided, Practice)
	case t.Used < 0:
		return fmt.Errorf("time used is not below 0")
	}
	return nil
}

// text writes the terms as a began event holds them: what differs from those
// of the mode alone, "" if nothing does.
func (t Terms) text() string {
	plain := TermsOf(t.Mode)
	var out []string
	if t.Hints != plain.Hints {
		out = append(out, fmt.Sprintf("hints=%d", t.Hints))
	}
	if t.Tolerance != 0 {
		out = append(out, "tolerance="+strconv.FormatFloat(t.Tolerance, 'g', -1, 64))
	}
	for _, d := range []struct {
		name string
		of   time.Duration
	}{{"limit", t.Limit}, {"used", t.Used}} {
		if d.of != 0 {
			out = append(out, d.name+"="+d.of.String())
		}
	}
	if t.Help != "" {
		out = append(out, "help="+t.Help)
	}
	if t.Reasons {
		out = append(out, "reasons=true")
	}
	return strings.Join(out, " ")
}

// termsIn are the terms that a began event holds. What cannot be read or kept
// in it is left out.
func termsIn(e Event) Terms {
	t := TermsOf(e.Mode)
	if t.check() != nil {
		t = TermsOf(Guided) // the record of another edition
	}
	t.Set = e.Set
	for _, part := range strings.Fields(e.Typed) {
		name, value, _ := strings.Cut(part, "=")
		next := t
		var err error
		switch name {
		case "hints":
			next.Hints, err = strconv.Atoi(value)
		case "tolerance":
			next.Tolerance, err = strconv.ParseFloat(value, 64)
		case "limit":
			next.Limit, err = time.ParseDuration(value)
		case "used":
			next.Used, err = time.ParseDuration(value)
		case "help":
			next.Help = value
		case "reasons":
			next.Reasons, err = strconv.ParseBool(value)
		}
		if err == nil && next.check() == nil {
			t = next
		}
	}
	return t
}

// keep takes terms up. They are known to be such that a grader can be made.
func (s *Session) keep(t Terms) {
	s.terms, s.mode = t, t.Mode
	s.clock = clock{used: t.Used}
	for _, pg := range s.pages {
		pg.choice.Tolerance = t.Tolerance
	}
	s.rebuild()
	s.tasks = nil
	s.plan()
}

// Terms are what the session was begun on.
func (s *Session) Terms() Terms { return s.terms }

// Mode is when lines are judged.
func (s *Session) Mode() string { return s.mode }

// Judges reports whether a line is judged as it is entered.
func (s *Session) Judges() bool { return !s.judgesLater() || s.judging }

func (s *Session) judgesLater() bool { return s.mode == Practice || s.mode == Exam }

// clock is the time used, as the events tell it.
type clock struct {
	last time.Time     // of the last event
	used time.Duration // of the limit
	back time.Duration // how far the clock was set back and not yet noted
}

// noticed is how far back a clock must go to be noted: less is a clock being
// kept right.
const noticed = 2 * time.Second

// tick takes in the time of an event. Time used never falls: where the clock
// was set back, only the seconds that the recorder counted by itself pass.
func (c *clock) tick(e Event) {
	if e.At.IsZero() {
		return
	}
	if !c.last.IsZero() {
		gap := e.At.Sub(c.last)
		if gap <= -noticed {
			c.back -= gap
		}
		if counted := e.Seconds * float64(time.Second); counted < float64(math.MaxInt64/2) {
			gap = max(gap, time.Duration(counted))
		}
		c.used += max(gap, 0)
	}
	c.last = e.At
}

// Used is the time used at a moment: up to the last event as the events tell,
// and from then on by the clock of whoever asks.
func (s *Session) Used(now time.Time) time.Duration {
	if s.over || s.clock.last.IsZero() {
		return s.clock.used
	}
	return s.clock.used + max(now.Sub(s.clock.last), 0)
}

// Remaining is the time left of the limit at a moment, never below 0; false if
// there is no limit.
func (s *Session) Remaining(now time.Time) (time.Duration, bool) {
	if s.terms.Limit == 0 {
		return 0, false
	}
	return max(s.terms.Limit-s.Used(now), 0), true
}

// Deadline is the moment at which time is up: the beginning and the limit,
// later by as much as the clock was set back.
func (s *Session) Deadline() (time.Time, bool) {
	if s.terms.Limit == 0 || s.clock.last.IsZero() {
		return time.Time{}, false
	}
	return s.clock.last.Add(s.terms.Limit - s.clock.used), true
}

// late reports whether the last event came after time was up.
func (s *Session) late() bool { return s.terms.Limit > 0 && s.clock.used > s.terms.Limit }
