package board

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"steelyard/tutor/screen"
)

// The board brings no colour of its own: every sequence in a frame begins a
// role of the shared palette, whose contrast is held to 4.5 to 1 where it is
// made. And no colour says anything alone: without them a frame reads the same.
func TestColoursAreSharedAndSayNothingAlone(t *testing.T) {
	rep := lab(t)
	for _, p := range []struct {
		name string
		look *screen.Look
	}{
		{"light, 24 bits", screen.LookOn(termenv.TrueColor, false, false)}, {"dark, 24 bits", screen.LookOn(termenv.TrueColor, true, false)},
		{"light, 256 colours", screen.LookOn(termenv.ANSI256, false, false)}, {"dark, 256 colours", screen.LookOn(termenv.ANSI256, true, false)},
		{"light, 16 colours", screen.LookOn(termenv.ANSI, false, false)}, {"dark, 16 colours", screen.LookOn(termenv.ANSI, true, false)},
		{"no colour", screen.LookOn(termenv.Ascii, true, false)},
	} {
		for _, sc := range scenes {
			for _, size := range [][2]int{{80, 24}, {140, 45}} {
				bare := newStand(t, screen.BareLook(false), rep, size[0], size[1])
				bare.press(sc.keys...)
				s := newStand(t, p.look, rep, size[0], size[1])
				s.press(sc.keys...)
				painted := s.frame()
				for _, seq := range styling.FindAllString(painted, -1) {
					if seq != "\x1b[0m" && !slices.Contains(p.look.Sequences(), seq) {
						t.Errorf("%s, %s: %q is of no role", sc.name, p.name, seq)
					}
				}
				if got, want := unpadded(ansi.Strip(painted)), unpadded(bare.frame()); got != want {
					t.Errorf("%s, %s: without colours the frame is\n%s\nnot\n%s", sc.name, p.name, got, want)
				}
			}
		}
	}
}

// unpadded takes away the blanks at the ends of lines, which a role with a
// ground of its own keeps.
func unpadded(frame string) string {
	lines := strings.Split(frame, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return strings.Join(lines, "\n")
}
