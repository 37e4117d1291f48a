package figure

import "testing"

// Labels lie clear of lines: at the sizes of the screen, of all labels in all
// states fewer than one in two hundred lies on any line, and hardly one on an
// arrow or a body. A dimension's caption stands in a gap of its own line.
func TestLabelsLieClear(t *testing.T) {
	all, on := 0, [inks]int{}
	for _, s := range figures(t) {
		p := drawProblem(t, s, 1)
		for i := range s.Bodies {
			v := allOf(&s.Bodies[i], len(s.Bodies) > 1)
			for _, v.Selected = range []string{"", firstWithArm(p, v)} {
				scene := Build(p, v)
				for _, size := range [][2]int{{40, 15}, {58, 30}} {
					for _, ascii := range []bool{false, true} {
						for _, l := range scene.drawn(size[0], size[1], ascii).labels {
							if l.role == Dimension {
								continue
							}
							all++
							on[l.over]++
						}
					}
				}
			}
		}
	}
	t.Logf("%d labels; on lines, from faint to signs: %v", all, on[faint:])
	if lines := all - on[bare]; all < 5000 || lines*200 > all || on[stout]+on[shaft]+on[sign] > 4 {
		t.Errorf("of %d labels %d lie on lines: %v", all, lines, on)
	}
}

// Two forces along one line are drawn apart: of the hinge's upright force on a
// lock gate and the gate's weight above it, one arrives at its point.
func TestArrowsInOneLine(t *testing.T) {
	s := scenario(t, "lock-gate-sill")
	scene := Build(drawProblem(t, s, 7), everything(s))
	sides := map[string]bool{}
	for _, shape := range scene.Shapes {
		if a, ok := shape.(Arrow); ok {
			sides[a.Symbol] = a.Arrives
		}
	}
	if sides["A_y"] == sides["W"] {
		t.Errorf("A_y and W lie over each other: arriving arrows are %v", sides)
	}
}
