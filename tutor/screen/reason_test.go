package screen

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/tutor"
)

// wondering is a stand whose problems ask for reasons.
func wondering(tb testing.TB, on surface, width, height int, mode string) *stand {
	return newStand(tb, on, width, height, func(o *Options) {
		start := func(id string, seed uint64, rec tutor.Recorder) *tutor.Desk {
			p, err := grading.Draw(scenario(tb, id), seed)
			if err != nil {
				tb.Fatal(err)
			}
			terms := tutor.TermsOf(mode)
			terms.Reasons = true
			s, err := tutor.Start(p, terms)
			if err != nil {
				tb.Fatal(err)
			}
			d, err := tutor.Sit(s, rec, nil)
			if err != nil {
				tb.Fatal(err)
			}
			return d
		}
		o.Start = func(id string, seed uint64) (*tutor.Desk, error) { return start(id, seed, &memory{}), nil }
	})
}

// reasonScenes are frames with a reason asked for.
var reasonScenes = []struct {
	name, mode string
	play       func(s *stand)
}{
	{"reason-pivot", tutor.Guided, func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say("A")
	}},
	{"reason-wrong", tutor.Guided, func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say("A", "1")
	}},
	{"reason-gained", tutor.Guided, func(s *stand) {
		s.send(beginMsg{"hull-ladder"})
		s.say("D")
		s.typed("so that two of them go")
	}},
	{"reason-forces", tutor.Guided, func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say("A", "pass")
		s.say(davitSetup[1:]...)
	}},
	{"reason-own", tutor.Guided, func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say("A", "H and V go through it")
	}},
	{"reason-practice", tutor.Practice, func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.say("-T cos(alpha)", "T cos(alpha)", "check")
	}},
}

// The question is an aside under the ledger, at every size, in ASCII too.
func TestReasonFrames(t *testing.T) {
	for _, sc := range reasonScenes {
		t.Run(sc.name, func(t *testing.T) {
			var b strings.Builder
			for _, on := range []surface{bareUnicode, bareASCII} {
				for _, size := range sizes {
					s := wondering(t, on, size[0], size[1], sc.mode)
					sc.play(s)
					s.sound(size[0], size[1], on.ascii)
					fmt.Fprintf(&b, "== %dx%d %s ==\n%s\n", size[0], size[1], map[bool]string{false: "Unicode", true: "ASCII"}[on.ascii], s.frame())
				}
			}
			golden(t, sc.name+".txt", b.String())
		})
	}
}

func (s *stand) asking() string {
	q, _ := s.m.work.desk.Asking()
	return q.Code
}

func (s *stand) lastEvent() tutor.Event {
	events := s.m.work.desk.Events()
	return events[len(events)-1]
}

// What keys do while a reason is asked for: the work is never held up, and
// nothing that was typed is lost.
func TestKeysAtAReason(t *testing.T) {
	begin := func() *stand {
		s := wondering(t, bareUnicode, 100, 30, tutor.Guided)
		s.send(beginMsg{"davit-arm"})
		s.say("A")
		if s.asking() != "pivot-drops" {
			t.Fatalf("asks %q", s.asking())
		}
		return s
	}
	s := begin()
	s.press("down", "up", "tab", "back", "hint", "left")
	if s.asking() == "" || s.lastEvent().Kind != tutor.Asked {
		t.Error("an arrow, Tab or the key for hints passes the question over")
	}
	s.sees("There is no hint on a reason. Esc goes on without one.")
	s.press("esc")
	if s.asking() != "" || s.lastEvent().Kind != tutor.Reasoned {
		t.Error("Esc does not pass it over")
	}
	s.sees("Passed over.", "List the forces on the arm")

	s = begin()
	s.say("T at B toward C")
	if s.asking() != "" || len(s.m.work.desk.Lines()) != 1 || s.m.work.entry.Value() != "" {
		t.Error("a right line of the work is not taken for one")
	}

	s = begin()
	s.press("axes")
	s.sees("Turn the axes")
	s.press("esc")
	if s.asking() == "" {
		t.Error("leaving the axes passes the question over")
	}
	s.typed("not sent yet")
	s.press("pivot")
	if s.asking() != "" || s.m.work.at.step != tutor.StepPivot || s.m.work.entry.Value() != "" {
		t.Errorf("another pivot: asks %q, at %v, with %q on the line", s.asking(), s.m.work.at, s.m.work.entry.Value())
	}

	s = begin()
	s.press("undo")
	if s.asking() != "" || s.m.work.entry.Value() != "A" {
		t.Errorf("the pivot is taken back: asks %q, with %q on the line", s.asking(), s.m.work.entry.Value())
	}

	s = begin()
	s.say("\u202eis it\a this?")
	s.sees("Kept for your instructor.", "A reason that holds: Two unknowns, H and V")
	s.sound(100, 30, false)
}

// Esc stands among the keys while it passes a reason over, and only then.
func TestPassIsShownWhereItWorks(t *testing.T) {
	s := wondering(t, bareUnicode, 100, 30, tutor.Guided)
	s.send(beginMsg{"davit-arm"})
	shown := func() bool {
		return slices.ContainsFunc(strings.Split(s.frame(), "\n"), func(line string) bool { return strings.Contains(line, "Esc go on without") })
	}
	if shown() {
		t.Error("Esc is offered with nothing to pass over")
	}
	s.say("A")
	if !shown() {
		t.Errorf("Esc is not among the keys:\n%s", s.frame())
	}
}

// A problem whose last line is right is recorded as done, and the last screen
// comes when the question is answered.
func TestReasonAtTheEnd(t *testing.T) {
	s := wondering(t, bareUnicode, 100, 30, tutor.Practice)
	s.send(beginMsg{"davit-arm"})
	s.say(davitSetup...)
	s.say(davitRest(s.m.work.desk)...)
	s.say("check")
	if s.asking() != "pivot-drops" || !s.m.work.desk.Finished() || s.m.stage != working {
		t.Fatalf("asks %q, finished %v, stage %v:\n%s", s.asking(), s.m.work.desk.Finished(), s.m.stage, s.frame())
	}
	s.sound(100, 30, false)
	s.press("down", "hint", "body", "view", "pgdn", "signs", "clear")
	s.sound(100, 30, false)
	s.press("esc")
	if s.asking() != "weight-at" {
		t.Fatalf("then asks %q", s.asking())
	}
	s.press("esc")
	if s.m.stage != finishing {
		t.Errorf("stage %v:\n%s", s.m.stage, s.frame())
	}
}
