package screen

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor"
)

// scenes are the frames kept under testdata, each at four sizes, in Unicode
// and in ASCII.
var scenes = []struct {
	name string
	play func(s *stand)
}{
	{"choose", func(s *stand) {}},
	{"search", func(s *stand) { s.typed("hinge") }},
	{"choose-many", func(s *stand) {
		s.m.o.Cards, s.m.o.Done = many().Cards(), map[string]int{"problem-24": 1, "problem-27": 2, "problem-40": 1}
		s.send(listMsg{})
		s.press("tab", "tab", "tab", "tab", "tab", "tab", "tab", "down", "down", "down")
	}},
	{"begin", func(s *stand) { s.send(beginMsg{"davit-arm"}) }},
	{"forces", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say("A", "T at B toward C", "W at G up")
	}},
	{"entry", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.say("-T cos(alpha)", "T sin(alpha)", "T L cos(alpha)")
		s.press("hint", "clear")
		s.typed("T L sin(alpha)")
	}},
	{"axes", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.say("-T cos(alpha)", "T sin(alpha)")
		s.press("axes")
		s.say("180 - alpha", "T")
		s.press("axes")
		s.typed("20")
	}},
	{"pasted", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.typed("-T cos(al")
		s.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(strings.Repeat("pha) ", 2000))})
	}},
	{"unread", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.say("-T cos(beta)")
	}},
	{"values", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.say(davitRest(s.m.work.desk)[:14]...)
		s.press("hint", "hint", "hint")
		s.typed("3.1 kN")
	}},
	{"limit", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		rest := davitRest(s.m.work.desk)
		s.say(rest[:len(rest)-1]...)
		s.say("1")
	}},
	{"statement", func(s *stand) {
		s.send(beginMsg{"trailer-braking"})
		for s.m.work.view != viewStatement {
			s.press("view")
		}
	}},
	{"finish", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.say(davitSetup...)
		s.say("T sin(alpha)")
		s.say(davitRest(s.m.work.desk)...)
	}},
	{"bodies", func(s *stand) {
		s.send(beginMsg{"step-ladder"})
		s.say(leftLeg[:2]...)
		s.say("N_B at A up")
	}},
	{"bodies-second", func(s *stand) {
		s.send(beginMsg{"step-ladder"})
		s.say(leftLeg...)
		s.say("C", "C_x at C left", "C_x at C right")
	}},
	{"bodies-ledger", func(s *stand) {
		s.send(beginMsg{"step-ladder"})
		s.say(leftLeg...)
		s.say(rightLeg[:4]...)
		s.say("N_B")
	}},
	{"bodies-question", func(s *stand) {
		s.send(beginMsg{"step-ladder"})
		s.say(leftLeg...)
		s.say(rightLeg...)
		s.say(ladderRest(s.m.work.desk)...)
		s.say("2")
	}},
	{"bodies-finish", func(s *stand) {
		s.send(beginMsg{"step-ladder"})
		s.say(leftLeg...)
		s.say(rightLeg...)
		s.say(ladderRest(s.m.work.desk)...)
		s.say("1")
	}},
	{"worked", func(s *stand) {
		s.under(tutor.Terms{Mode: tutor.Guided, Hints: 3, Help: tutor.HelpWorked})
		s.press("enter", "enter", "enter")
	}},
	{"half-worked", func(s *stand) {
		s.under(tutor.Terms{Mode: tutor.Guided, Hints: 1, Help: tutor.HelpHalf})
		s.say("T sin(alpha)", "-M g L")
	}},
	{"practice", func(s *stand) {
		s.under(tutor.TermsOf(tutor.Practice))
		s.say(davitSetup...)
		s.say("-T cos(alpha)", "T cos(alpha)", "T L sin(alpha)")
	}},
	{"practice-checked", func(s *stand) {
		s.under(tutor.TermsOf(tutor.Practice))
		s.say(davitSetup...)
		s.say("-T cos(alpha)", "T cos(alpha)", "T L sin(alpha)", "0", "-M", "-M g L/2")
		s.press("ready")
	}},
	{"exam", func(s *stand) {
		s.under(sitting)
		s.say(davitBadly[:8]...)
		s.clock = s.clock.Add(7*time.Minute + 30*time.Second)
		s.press("up")
	}},
	{"exam-hand-in", func(s *stand) {
		s.under(sitting)
		s.say(davitBadly[:11]...)
		s.press("ready")
	}},
	{"exam-sealed", func(s *stand) {
		s.under(sitting)
		s.m.work.desk.Sealed = func() bool { return true }
		s.say(davitBadly...)
		s.press("ready")
	}},
	{"exam-paper", func(s *stand) {
		s.under(sitting)
		s.say(davitBadly...)
		s.press("ready")
		s.press("pgdn")
	}},
	{"set", func(s *stand) {
		s.inSet()
		s.send(listMsg{})
		s.press("down", "down", "enter")
	}},
	{"help", func(s *stand) {
		s.send(beginMsg{"davit-arm"})
		s.press("help")
	}},
	{"tour", func(s *stand) {
		s.send(tourMsg{})
		s.press("enter")
	}},
	{"notice", func(s *stand) {
		s.m.notice = "The journal was damaged. It is kept as /home/me/journal.set-aside-2026, and a new one is begun."
	}},
}

var sizes = [][2]int{{140, 45}, {100, 30}, {80, 24}, {60, 20}}

// Every screen, at four sizes, in Unicode and in ASCII, and at one size with
// the role that each character is painted in. What the roles look like in each
// palette is kept in palettes.txt.
func TestGoldenFrames(t *testing.T) {
	for _, sc := range scenes {
		t.Run(sc.name, func(t *testing.T) {
			var b strings.Builder
			for _, on := range []surface{bareUnicode, bareASCII} {
				for _, size := range sizes {
					s := newStand(t, on, size[0], size[1], nil)
					sc.play(s)
					s.sound(size[0], size[1], on.ascii)
					fmt.Fprintf(&b, "== %dx%d %s ==\n%s\n", size[0], size[1], map[bool]string{false: "Unicode", true: "ASCII"}[on.ascii], s.frame())
				}
			}
			s := newStand(t, bareUnicode, 80, 24, nil)
			tagged(s.m.look)
			sc.play(s)
			fmt.Fprintf(&b, "== 80x24 roles ==\n%s\n", roleMap(s.frame()))
			golden(t, sc.name+".txt", b.String())
		})
	}
}

// golden compares what was got with a file of testdata, or writes it there.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: the frames have changed; look at them (go test -update, git diff):\n%s", path, difference(string(want), got))
	}
}

// difference is the first line that differs.
func difference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	size := ""
	for i := range min(len(a), len(b)) {
		if strings.HasPrefix(a[i], "== ") {
			size = a[i]
		}
		if a[i] != b[i] {
			return fmt.Sprintf("%s line %d\nwant %q\ngot  %q", size, i+1, a[i], b[i])
		}
	}
	return "one is longer than the other"
}
