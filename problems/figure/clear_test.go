package figure

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// states are the views of a body that the figure is looked at in: with nothing
// listed, with everything, with a force in hand, with turned axes, and with a
// list that is not judged.
func states(p *problems.Problem, body *statics.Body, apart bool) []View {
	all := allOf(body, apart)
	bare, inHand, turned, unjudged := all, all, all, all
	bare.Forces, bare.Pivot = nil, ""
	inHand.Selected = firstWithArm(p, all)
	turned.Tilt, turned.Clockwise = "25", true
	unjudged.Unjudged, unjudged.Forces = true, nil
	for i, f := range body.Forces {
		unjudged.Forces = append(unjudged.Forces, Listed{Symbol: f.Symbol, Said: saidAt(body.Points[i%len(body.Points)].Name, 50*i)})
	}
	return []View{bare, all, inHand, turned, unjudged}
}

// screenSizes are those of figures in terminals from 80x24 to 140x45, in columns
// and rows.
var screenSizes = [][2]int{{34, 14}, {40, 11}, {41, 15}, {58, 30}, {72, 36}}

// Labels lie on no line and on no other label, and none stands right beside
// another, with which it would read as one word: none of all the labels of the
// bank and of several seeds, states and sizes. Every length is told in the
// figure, or in the legend below it, and every angle has its symbol.
func TestLabelsLieClear(t *testing.T) {
	all := 0
	for _, s := range figures(t) {
		for seed := range uint64(3) {
			p := drawProblem(t, s, seed)
			for i := range s.Bodies {
				for n, v := range states(p, &s.Bodies[i], len(s.Bodies) > 1) {
					scene := Build(p, v)
					for k, size := range screenSizes {
						d := scene.drawn(size[0], size[1], (n+k+int(seed))%2 == 0)
						all += len(d.labels)
						for _, fault := range slices.Concat(onLines(scene, d), unnamed(scene, d)) {
							t.Errorf("%s, seed %d, body %d, state %d, %v: %s\n%s", s.ID, seed, i, n, size, fault, d.picture())
						}
					}
				}
			}
		}
	}
	t.Logf("%d labels", all)
	if all < 80000 {
		t.Errorf("only %d labels were looked at", all)
	}
}

// onLines says which labels of a drawing lie on something. The things of the
// scene are drawn once more without any lettering, in the same frame; what
// lettering itself has drawn, a dimension's line, is noted as it is written.
func onLines(scene Scene, d *drawing) (faults []string) {
	lines := &drawing{grid: newGrid(d.width, d.height, d.ascii), layout: d.layout, frame: d.frame}
	for _, shape := range scene.Shapes {
		lines.ink(shape)
	}
	for i, l := range d.labels {
		last := l.col + len([]rune(l.text)) - 1
		for col := l.col; col <= last; col++ {
			if q := lines.at(col, l.row); q.ink > bare || l.over > bare {
				faults = append(faults, fmt.Sprintf("%q lies on a line (%v)", l.text, q.role))
				break
			}
		}
		for _, o := range d.labels[:i] {
			if o.row == l.row && o.col <= last+1 && l.col <= o.col+len([]rune(o.text)) {
				faults = append(faults, fmt.Sprintf("%q touches %q", l.text, o.text))
			}
		}
	}
	return faults
}

// unnamed says which lengths and angles are nowhere told.
func unnamed(scene Scene, d *drawing) (faults []string) {
	told := func(c Caption) bool {
		return slices.ContainsFunc(d.labels, func(l label) bool {
			_, entry, _ := strings.Cut(l.text, ": ")
			for _, form := range []string{c.Full(d.ascii), c.Short(d.ascii)} {
				if form = narrow(form, d.ascii); l.text == form || entry == form {
					return true
				}
			}
			return false
		})
	}
	for _, shape := range scene.Shapes {
		switch s := shape.(type) {
		case Length:
			if !told(s.Caption) {
				faults = append(faults, "no length "+s.Caption.Symbol)
			}
		case Corner:
			if !told(s.Caption) {
				faults = append(faults, "no angle "+s.Caption.Symbol)
			}
		}
	}
	return faults
}

// A label that is far from what it names has a line to it: here the only way out
// is a gap too narrow for the label itself.
func TestLeader(t *testing.T) {
	d := &drawing{grid: newGrid(30, 9, false)}
	for row := 1; row < 9; row++ {
		for col := range 30 {
			if col != 10 {
				d.put(col, row, '#', Body, thin)
			}
		}
	}
	d.must([]string{"far"}, around(10, 7), Point, 10, 7)
	if len(d.labels) != 1 || d.labels[0].over != bare || d.labels[0].row != 0 {
		t.Fatalf("the label is %+v\n%s", d.labels, d.picture())
	}
	if got := strings.Count(d.picture().String(), "·"); got != 3 {
		t.Errorf("the leader has %d dots:\n%s", got, d.picture())
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
