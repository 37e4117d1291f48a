package board

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"steelyard/tutor/screen"
)

// From a key to its frame, on a dark terminal of 120 by 40: among the items,
// the longest grid, a letter of the filter and the row below.
func BenchmarkKeyToFrame(b *testing.B) {
	rep := lab(b)
	set := &rep.Items[0]
	for len(set.Items) < 400 {
		set.Items = append(set.Items, set.Items...)
	}
	s := newStand(b, screen.LookOn(termenv.TrueColor, true, false), rep, 120, 40)
	s.press("8", "f")
	keys := []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune{'p'}}, {Type: tea.KeyBackspace}}
	for i := 0; b.Loop(); i++ {
		s.send(keys[i%2])
		if len(s.frame()) == 0 {
			b.Fatal("no frame")
		}
	}
}
