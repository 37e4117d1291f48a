package screen

import (
	"strings"
	"testing"
)

// Before a paper comes back nothing of it is shown, and no other is begun by a
// key of its last screen.
func TestSealedPaper(t *testing.T) {
	s := newStand(t, bareUnicode, 140, 45, nil)
	s.under(sitting)
	s.m.work.desk.Sealed = func() bool { return true }
	s.say(davitBadly...)
	s.press("ready")
	for _, word := range []string{"reference", "right", "marks", "T · sin α", "grows without bound", "3116"} {
		if strings.Contains(s.frame(), word) {
			t.Errorf("the paper is sealed, and the screen says %q:\n%s", word, s.frame())
		}
	}
	s.sees("The paper comes back, marked, when all of the exam is handed in")
	seeds := len(s.seeds)
	s.typed("a")
	if len(s.seeds) != seeds {
		t.Error("another was begun")
	}
}

// A paper that has come back is all there, to be scrolled: each line with its
// marks, and how it is marked.
func TestPaperScrolls(t *testing.T) {
	for _, size := range sizes {
		s := newStand(t, bareUnicode, size[0], size[1], nil)
		s.under(sitting)
		s.say(davitBadly...)
		s.press("ready")
		s.sees("marks: 20 of 29")
		var all strings.Builder
		for range 200 {
			all.WriteString(s.frame())
			s.press("down")
		}
		paper, _ := s.m.work.desk.Paper()
		seen := strings.Join(strings.Fields(all.String()), " ")
		for _, l := range paper.Lines {
			if !strings.Contains(seen, strings.Fields(l.Title)[0]) || !strings.Contains(seen, l.Marks.String()+":") {
				t.Errorf("%v: %s (%s) is never seen", size, l.Title, l.Marks)
			}
		}
		for _, words := range []string{"Mend: force W.", "½ ", "How it is marked", "Caution: Coursework"} {
			if !strings.Contains(seen, words) {
				t.Errorf("%v: %q is never seen", size, words)
			}
		}
	}
}
