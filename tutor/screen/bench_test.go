package screen

import (
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// recorded is the davit's arm as keys: every character by itself, with
// mistakes, moves, hints and a look at the other views.
func recorded(tb testing.TB) []tea.Msg {
	s := davit(tb, fullColour, 120, 40)
	s.say(davitSetup...)
	lines := append(slices.Clone(davitSetup), "T sin(alpha)", "-T cos(beta)", "T L cos(alpha)", "-T*L*cos(alpha)/2 + M g", "-M g L")
	lines = append(lines, davitRest(s.m.work.desk)...)
	var out []tea.Msg
	key := func(k tea.KeyType) { out = append(out, tea.KeyMsg{Type: k}) }
	for i, l := range lines {
		key(tea.KeyCtrlU)
		for _, r := range l {
			if r == ' ' {
				out = append(out, tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
				continue
			}
			out = append(out, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
		key(tea.KeyEnter)
		if i%7 == 6 {
			key(tea.KeyDown)
			key(tea.KeyUp)
			key(tea.KeyCtrlO)
			key(tea.KeyCtrlO)
		}
	}
	return out
}

// recordedLadder is the step-ladder as keys, with looks at the other bodies.
func recordedLadder(tb testing.TB) []tea.Msg {
	s := ladder(tb, fullColour, 120, 40)
	lines := append(append(slices.Clone(leftLeg), "C", "C_x at C left"), rightLeg[1:]...)
	s.say(lines...)
	var out []tea.Msg
	for i, l := range append(lines, ladderRest(s.m.work.desk)...) {
		for _, r := range l {
			out = append(out, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
		out = append(out, tea.KeyMsg{Type: tea.KeyEnter})
		if i%3 == 2 {
			for range 3 {
				out = append(out, tea.KeyMsg{Type: tea.KeyF9})
			}
		}
	}
	return out
}

// BenchmarkKeyToFrame is Update and View of every key of a recorded session at
// 120x40. Design figure: at most 5 ms at the 99th percentile.
func BenchmarkKeyToFrame(b *testing.B) {
	b.Run("davit-arm", func(b *testing.B) { keyToFrame(b, recorded(b), davit) })
	b.Run("step-ladder", func(b *testing.B) { keyToFrame(b, recordedLadder(b), ladder) })
}

func keyToFrame(b *testing.B, keys []tea.Msg, open func(testing.TB, surface, int, int) *stand) {
	var took []time.Duration
	var bytes int
	for b.Loop() {
		s := open(b, fullColour, 120, 40)
		for _, k := range keys {
			begin := time.Now()
			next, cmd := s.m.Update(k)
			bytes += len(next.View())
			took = append(took, time.Since(begin))
			s.m = next.(Model)
			if cmd != nil {
				s.send(cmd())
			}
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds()), "median-µs")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "p99-µs")
	b.ReportMetric(float64(took[len(took)-1].Microseconds()), "max-µs")
	b.ReportMetric(float64(bytes)/float64(len(took)), "bytes/frame")
}

// BenchmarkFirstFrame is from New to the first frame of a terminal of 120x40.
func BenchmarkFirstFrame(b *testing.B) {
	s := &stand{tb: b, rec: &memory{}}
	o := s.options()
	for b.Loop() {
		m := newModel(o, fullColour)
		m.Init()
		next, _ := m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
		if next.View() == "" {
			b.Fatal("no frame")
		}
	}
}
