package screen

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor"
)

// click clicks on the first place where a text stands on the screen, after
// another if one is given.
func (s *stand) click(text string, after ...string) {
	s.tb.Helper()
	for row, line := range strings.Split(ansi.Strip(s.frame()), "\n") {
		from := 0
		for _, a := range after {
			at := strings.Index(line[from:], a)
			if at < 0 {
				from = -1
				break
			}
			from += at + len(a)
		}
		if from < 0 {
			continue
		}
		if at := strings.Index(line[from:], text); at >= 0 {
			s.send(tea.MouseMsg{X: ansi.StringWidth(line[:from+at]), Y: row, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
			return
		}
	}
	s.tb.Fatalf("there is no %q to click on:\n%s", text, ansi.Strip(s.frame()))
}

// At every size every entry, equation and value that shows can be clicked, and
// the click goes there.
func TestClickEveryTask(t *testing.T) {
	for _, on := range []surface{bareUnicode, bareASCII, fullColour} {
		for _, size := range sizes {
			s := davit(t, on, size[0], size[1])
			s.say(davitSetup...)
			d := s.m.work.desk
			reached := map[*tutor.Task]bool{}
			lines, touched := s.m.look.touchable(s.m.View), slices.Clone(s.m.look.touched)
			for row := range size[1] {
				for col := range size[0] {
					s.m.look.touched = touched
					to, ok := s.m.look.under(lines, col, row).(placeMsg)
					if !ok {
						continue
					}
					task := d.Find(to.step, to.cell)
					if task == nil {
						t.Fatalf("%v: at %d, %d there is %v, which is no task", size, col, row, to)
					}
					if reached[task] {
						continue
					}
					reached[task] = true
					s.send(tea.MouseMsg{X: col, Y: row, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
					if d.Current() != task {
						t.Errorf("%v: a click on %v goes to %v", size, to, d.Current())
					}
					d.Go(tutor.StepX, "T")
					s.m.work.settle()
				}
			}
			if least := 12; len(reached) < least {
				t.Errorf("%v: only %d lines can be clicked", size, len(reached))
			}
			if marked().MatchString(s.frame()) {
				t.Error("a mark is in the frame that is shown")
			}
		}
	}
}

func TestClicksElsewhere(t *testing.T) {
	s := newStand(t, bareUnicode, 100, 30, nil)
	s.click("A drum at a kerb")
	if s.m.stage != choosing || s.m.choose.offers[s.m.choose.at].title != "A drum at a kerb" {
		t.Fatalf("a click on a problem does not choose it:\n%s", s.frame())
	}
	s.click("level 3", "▸ A drum at a kerb")
	s.sees("Choose a pivot")
	s.click("F1 help")
	s.sees("What may be typed")
	s.send(tea.MouseMsg{Action: tea.MouseActionPress, Button: tea.MouseButtonWheelDown})
	if s.m.page.scroll != 1 {
		t.Errorf("the wheel scrolls help to %d, not 1", s.m.page.scroll)
	}
	s.click("Enter or F1")
	s.click("L list")
	s.sees("Go on with")

	s = ladder(t, bareUnicode, 80, 24)
	s.click("whole ladder: not begun")
	s.sees("▸ whole ladder: not begun")
	s.click("T hint", "Ctrl +")
	s.sees("Hint 1 of 3")
	for range 3 { // where there is nothing, nothing happens
		s.send(tea.MouseMsg{X: 500, Y: 500, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
		s.send(tea.MouseMsg{X: 0, Y: 0, Action: tea.MouseActionRelease})
	}
	s.sees("Hint 1 of 3")
}

// The mouse can be given back to the terminal, wherever the learner is.
func TestMouseOff(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	_, cmd := s.m.Update(tea.KeyMsg{Type: keyNames["mouse"]})
	if cmd == nil || cmd() != tea.DisableMouse() {
		t.Error("the mouse is not given back")
	}
	s.press("mouse")
	s.sees("Clicks are left to the terminal")
	_, cmd = s.m.Update(tea.KeyMsg{Type: keyNames["mouse"]})
	if cmd == nil || cmd() != tea.EnableMouseCellMotion() {
		t.Error("the mouse is not taken again")
	}
}
