package figure

import (
	"math/rand/v2"
	"strings"
	"testing"

	"unicode/utf8"

	"steelyard/problems/notation"
)

func TestWordsAreSentences(t *testing.T) {
	for _, s := range figures(t) {
		for seed := range uint64(20) {
			p := drawProblem(t, s, seed)
			v := anyView(rand.New(rand.NewPCG(seed, 6)), s)
			lines := Words(p, v)
			text := strings.Join(lines, " ")
			for _, l := range lines {
				first, _ := utf8.DecodeRuneInString(l)
				if !strings.HasSuffix(l, ".") || strings.Contains(l, "  ") || strings.Contains(l, "..") || strings.Contains(l, " ,") || first == ' ' {
					t.Errorf("%s: %q is no sentence", s.ID, l)
				}
			}
			for _, l := range v.Forces {
				if !strings.Contains(text, notation.Display(l.Symbol, false)+" ") {
					t.Errorf("%s: %s is not told of in %q", s.ID, l.Symbol, text)
				}
			}
			for _, d := range s.Figure {
				if _, ok := told[d.Draw]; !ok {
					t.Errorf("%s: a %s is drawn and not told", s.ID, d.Draw)
				}
				if d.Label != "" && !strings.Contains(text, notation.Display(d.Label, false)) {
					t.Errorf("%s: %s is not told of", s.ID, d.Label)
				}
			}
		}
	}
}
