package screen

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// The tour takes under two minutes: at 200 words a minute, which is slow silent
// reading (adults read 238 a minute; Brysbaert, Journal of Memory and Language
// 109, 2019; from memory), with five seconds a page for turning it and looking
// about.
func TestTourTakesUnderTwoMinutes(t *testing.T) {
	tr := newTour(newLook(bareUnicode), 80, 24)
	words, pages := 0, 0
	for seen := ""; ; pages++ {
		text := strings.Join(tr.View(), "\n")
		if text == seen {
			break
		}
		seen = text
		words += len(strings.Fields(text))
		tr, _ = tr.Update(tea.KeyMsg{Type: tea.KeyEnter})
	}
	seconds := float64(words)/200*60 + 5*float64(pages)
	t.Logf("%d pages, %d words, keys included: %.0f s", pages, words, seconds)
	if pages < 3 || words < 100 {
		t.Errorf("%d pages of %d words are no tour", pages, words)
	}
	if seconds >= 120 {
		t.Errorf("the tour takes %.0f s", seconds)
	}
}
