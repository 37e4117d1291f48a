package screen

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"steelyard/problems"
)

// many is a bank of eighty problems in twenty families, in the order of a bank.
func many() *problems.Bank {
	families := []string{"bars, spanners and couples", "beams on two supports", "centres of mass", "drums and kerbs", "fixed ends", "frames of two bodies",
		"gates against water", "hinged arms with cables", "jibs and booms", "ladders", "levers and balances", "masts and stays", "moorings", "props and struts", "ramps",
		"slings", "springs", "step-ladders and trestles", "tipping", "vehicle axle loads"}
	b := &problems.Bank{}
	for i := range 4 * len(families) {
		s := *few().Scenarios[i%len(few().Scenarios)]
		s.ID, s.Family, s.Level = fmt.Sprintf("problem-%d", i), families[i/4], 1+i%4
		s.Title = fmt.Sprintf("%s, number %d", s.Title, i)
		b.Scenarios = append(b.Scenarios, &s)
	}
	return b
}

// In a long list the chosen problem stands under the name of its family, with
// what comes before and after it, at every size; keys go from family to family.
func TestChooseAmongMany(t *testing.T) {
	for _, size := range sizes {
		s := newStand(t, bareUnicode, size[0], size[1], func(o *Options) { o.Cards, o.Done = many().Cards(), map[string]int{"problem-40": 1, "problem-42": 4} })
		s.sees("81 to choose from")
		for i := range 80 {
			s.press("down")
			s.sound(size[0], size[1], false)
			family := sentence(many().Scenarios[i].Family)
			frame := ansi.Strip(s.frame())
			head, rest, ok := strings.Cut(frame, "\n "+family)
			if !ok || !strings.Contains(rest, "▸ "+many().Scenarios[i].Title) || strings.Contains(head, "▸ "+many().Scenarios[i].Title) {
				t.Fatalf("at %v, problem %d does not stand under %s:\n%s", size, i, family, frame)
			}
		}
		s.press("back")
		s.sees("▸ " + many().Scenarios[76].Title)
		s.press("back")
		s.sees("▸ " + many().Scenarios[72].Title)
		s.press("tab", "tab", "tab")
		s.sees("▸ " + many().Scenarios[76].Title)
		s.typed("levers")
		s.sees("4 of 81 found", "2 of 4 done")
		s.press("down")
		s.typed(" 42")
		s.sees("1 of 81 found", many().Scenarios[42].Title)
		s.press("esc")
		s.typed("nothing of this name")
		s.sees("Nothing found")
		s.press("tab", "back", "enter", "down")
		s.press("esc")
		s.sees("81 to choose from")
	}
}

// How often a problem was done comes anew with the list.
func TestDoneComesAnew(t *testing.T) {
	times := 0
	s := newStand(t, bareUnicode, 120, 40, func(o *Options) {
		o.Done = nil
		o.Reload = func() ([]Unfinished, map[string]int, error) {
			times++
			return nil, map[string]int{"quay-plank": times}, nil
		}
	})
	s.typed("along the plank")
	s.sees("Out along the plank level 2")
	s.send(listMsg{})
	s.typed("along the plank")
	s.sees("done, level 2", "1 of 1 done")
	s.send(listMsg{})
	s.typed("done 2")
	s.sees("Out along the plank done 2 times, level 2", "1 of 8 found")
}
