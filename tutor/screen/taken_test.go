package screen

import (
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/tutor"
)

// A line that is taken without a verdict is said to be, and no outcome that is
// not in the table breaks the screen.
func TestTakenLine(t *testing.T) {
	l := davit(t, fullColour, 100, 30).m.look
	s := l.replied("moment of T", tutor.Reply{Verdict: grading.Verdict{Outcome: tutor.NotJudged, ReadsAs: "T · L"}})
	if s.role != quiet || !strings.Contains(s.head, "taken, and not judged yet") {
		t.Errorf("%+v", s)
	}
	if s := l.replied("moment of T", tutor.Reply{Verdict: grading.Verdict{Outcome: "new"}}); s.head != "" {
		t.Errorf("%+v", s)
	}
}
