package figure

import (
	"fmt"

	"steelyard/problems/notation"
)

// asWritten tells the list of an unjudged view, line by line as it was typed: no
// meaning, no kind, nothing that the learner has not said.
func (t *teller) asWritten() {
	for _, w := range t.read {
		name := notation.Printable(symbol(w.Symbol))
		if w.Said.Turn == 0 {
			way := notation.Printable(w.Said.Way)
			if plain, ok := straight[wayOf(w)]; ok {
				way = plain
			}
			t.say(fmt.Sprintf("%s is listed at %s, %s", name, t.point(w.Said.At), way))
			continue
		}
		turn := "anticlockwise"
		if w.Said.Turn < 0 {
			turn = "clockwise"
		}
		at := ""
		if t.builder.named(w.Said.At) {
			at = " at " + t.point(w.Said.At)
		}
		t.say(fmt.Sprintf("%s is listed%s, turning %s", name, at, turn))
	}
}

func wayOf(w Listed) string { return way(heading(w.Said.Angle)) }
