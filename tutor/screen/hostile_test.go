package screen

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/problems"
	"steelyard/tutor"
)

// What would retitle the window, recolour or clear the screen, move the cursor,
// ask the terminal something, turn the direction of writing, or ring.
var acting = []string{"\x1b]0;owned\a", "\x1b]2;owned\x1b\\", "\x1b[31;42m", "\x1b[2J\x1b[H", "\x1b[6n", "\x1b[?1049l", "\x1bc", "\x1bP+q544e\x1b\\", "\x9b2J", "\u009b31m",
	"\u202eright to left", "\u2066\u2069", "\a\b\v\f\x7f\x00", "\r\n\t", "\u2028\u2029", "\x0e\x0f", "\xff\xfe"}

// tainted is a scenario whose every text holds what acts on a terminal.
func tainted(from *problems.Scenario, bad string) *problems.Scenario {
	s := *from
	s.Title, s.Family = "A davit"+bad+"arm", "hinged"+bad+"arms"
	s.Statement = "A statement" + bad + " of what is " + strings.Repeat(bad+" ", 3)
	s.Caution = "Care" + bad
	s.Skills = []string{"arm" + bad}
	return &s
}

// Whatever comes from outside, no page lets a control character through but
// its own: not in the learner's name, in a scenario's texts, in what was left
// unfinished, in a notice, in an error, or in an answer typed or pasted.
func TestNothingActsOnTheTerminal(t *testing.T) {
	for _, on := range []surface{bareUnicode, bareASCII, fullColour} {
		for _, bad := range acting {
			for _, size := range [][2]int{{100, 30}, {80, 24}, {60, 20}} {
				s := newStand(t, on, size[0], size[1], func(o *Options) {
					o.Learner = "kestrel" + bad
					o.Notice = "The journal " + bad + " was damaged."
					o.Unfinished = []Unfinished{{Session: bad, Problem: "hull-ladder" + bad, Title: "A painter" + bad, When: "yesterday" + bad}}
					bad := tainted(scenario(t, "davit-arm"), bad)
					o.Cards = []*problems.Card{&bad.Card}
					o.Start = func(string, uint64) (*tutor.Desk, error) { return sitAt(t, bad, 7, &memory{}), nil }
				})
				look := func(page string) {
					t.Helper()
					s.sound(size[0], size[1], on.ascii)
					for _, seq := range styling.FindAllString(s.frame(), -1) {
						if seq != "\x1b[0m" && !slices.Contains(s.m.look.on[:], seq) {
							t.Errorf("%q is none of the screen's own", seq)
						}
					}
					if t.Failed() {
						t.Fatalf("%q on the page %s", bad, page)
					}
				}
				look("notice")
				s.press("esc")
				look("choose")
				s.press("down")
				look("choose, the next")
				s.press("enter", "up")
				s.press("enter") // a session that is none
				look("not opened")
				s.send(beginMsg{"davit-arm"})
				look("begin")
				for _, line := range davitSetup {
					s.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(bad + line + bad)})
					look("typing")
					s.press("enter")
					look("answered")
					s.press("clear")
					s.say(line)
				}
				s.say("T" + bad + " cos")
				look("unread")
				s.press("hint", "axes")
				s.typed("20" + bad)
				s.press("enter")
				look("axes")
				s.press("esc", "view")
				look("view")
				s.press("view")
				look("view, the next")
				s.press("help")
				look("help")
				s.press("pgdn")
				look("help, the next page")
				s.press("esc")
				s.say(davitRest(s.m.work.desk)...)
				look("done")
			}
		}
	}
}

// Nor does what a journal holds of an exam or a practice, on whichever front it
// was typed: in the ledger, in what is said of it, and on the paper.
func TestNothingTakenActsOnTheTerminal(t *testing.T) {
	for _, on := range []surface{bareUnicode, bareASCII} {
		for _, bad := range acting {
			for name, terms := range later {
				s := newStand(t, on, 100, 30, nil)
				s.under(terms)
				for _, line := range []string{"A", bad + "P at B left" + bad, "Q" + bad + " at B left", "M" + bad + "q clockwise", "T at B toward C" + bad, "H at A right", "done",
					bad, "T" + bad, "T cos(alpha)", "H = " + bad, "3.12 kN" + bad} {
					if _, err := s.m.work.desk.Answer(line); err != nil {
						t.Fatal(err)
					}
					s.m.work.settle()
					s.sound(100, 30, on.ascii)
				}
				s.press("ready", "ready")
				for range 20 {
					s.sound(100, 30, on.ascii)
					s.press("pgdn")
				}
				if t.Failed() {
					t.Fatalf("%q in %s", bad, name)
				}
			}
		}
	}
}
