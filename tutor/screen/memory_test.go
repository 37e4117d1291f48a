package screen

import (
	"runtime"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// heap is what is in use once all that can be freed is.
func heap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// Working on and on takes no more memory: problem after problem is worked on
// one screen, with mistakes, hints and looks at the other views, and what is
// in use afterwards is what was in use after the first ones, within the noise.
// (What the desks record is dropped, as the journal's is, which is on disk.)
// BenchmarkResident, beside the command line, does the same to the whole
// program, for as many keys as an hour has.
func TestMemoryDoesNotGrow(t *testing.T) {
	before := heap() // what other tests have left
	s := davit(t, fullColour, 120, 40)
	keys := append(recorded(t), tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'a'}}) // another like it
	least, played := 3000, 0
	if testing.Short() {
		least = 1000
	}
	var first uint64
	for played < 3*least {
		for _, k := range keys {
			s.send(k)
			_ = s.frame()
			played++
		}
		s.rec.events = nil
		if s.m.stage != working {
			t.Fatalf("another problem is not begun:\n%s", s.frame())
		}
		if first == 0 && played >= least {
			first = heap() - min(before, heap())
		}
	}
	last := heap() - min(before, heap())
	t.Logf("%d keys; in use after %d: %.2f MB; at the end: %.2f MB", played, least, float64(first)/1e6, float64(last)/1e6)
	if last > first+first/10+1<<20 || last > 40<<20 {
		t.Errorf("%d bytes in use have become %d", first, last)
	}
}
