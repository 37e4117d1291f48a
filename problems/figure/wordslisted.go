package figure

import (
	"fmt"

	"steelyard/problems/notation"
)

// asWritten tells the list of an unjudged view, line by line as it was typed: no
// meaning, no kind, nothing that the learner has not said.
func (t *teller) asWritten() {
	for _, w := range t.read {
		name := notation.Printable(symbol(w.symbol))
		if w.couple == 0 {
			way := notation.Printable(w.way)
			if plain, ok := straight[wayOf(w)]; ok {
				way = plain
			}
			t.say(fmt.Sprintf("%s is listed at %s, %s", name, t.point(w.at), way))
			continue
		}
		turn := "anticlockwise"
		if w.couple < 0 {
			turn = "clockwise"
		}
		at := ""
		if t.builder.named(w.at) {
			at = " at " + t.point(w.at)
		}
		t.say(fmt.Sprintf("%s is listed%s, turning %s", name, at, turn))
	}
}

func wayOf(w written) string { return way(heading(w.angle)) }
