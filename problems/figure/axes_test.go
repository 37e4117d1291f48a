package figure

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Axes are in the scene where the learner has turned them, and told.
func TestTilt(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	i, _ := p.Table.Index("alpha")
	alpha := p.Values[i]
	for _, c := range []struct {
		tilt  string
		angle float64
		words string // "" where none are drawn
	}{
		{"", 0, ""}, {"0", 0, ""}, {"360", 0, ""}, {"nonsense", 0, ""}, {"L", 0, ""},
		{"20", 20 * math.Pi / 180, "The x axis is turned 20° anticlockwise from the level, so that it leads up and right; the y axis, square to it, leads up and left."},
		{"alpha", alpha, "turned α anticlockwise"},
		{"180 - alpha", math.Pi - alpha, "turned 180 − α anticlockwise from the level, so that it leads up and left; the y axis, square to it, leads down and left."},
		{"-90", -math.Pi / 2, "so that it leads downward; the y axis, square to it, leads to the right."},
	} {
		v := View{Tilt: c.tilt}
		axes, words := only[Axes](Build(p, v)), strings.Join(Words(p, v), "\n")
		if c.words == "" {
			if len(axes) > 0 || strings.Contains(words, "axis") {
				t.Errorf("%q: drawn as %v, told as %q", c.tilt, axes, words)
			}
			continue
		}
		if len(axes) != 1 || apart(axes[0].Angle, c.angle) > 1e-9 || !strings.Contains(words, c.words) {
			t.Errorf("%q: drawn as %v, told as\n%s\nwant %v, %q", c.tilt, axes, words, c.angle, c.words)
		}
	}
}

// Every figure of the bank has room for the axes, whichever way they lie: both
// are named once, in text and in SVG, and no label is lost or covered by them.
func TestTiltEverywhere(t *testing.T) {
	for n, s := range figures(t) {
		p := drawProblem(t, s, 2)
		v := everything(s)
		v.Tilt = []string{"20", "-35", "115", "200"}[n%4]
		scene := Build(p, v)
		for i, size := range [][2]int{{34, 12}, {40, 15}, {58, 30}} {
			ascii := (n+i)%2 == 0
			d := scene.drawn(size[0], size[1], ascii)
			if err := checkFigure(d, size[0], size[1], ascii, v); err != nil {
				t.Errorf("%s, %v: %v\n%s", s.ID, size, err, d.picture())
			}
			named := 0
			for _, l := range d.labels {
				if l.role == Axis {
					named++
				}
			}
			if named != 2 {
				t.Errorf("%s, %v: %d axes are named\n%s", s.ID, size, named, d.picture())
			}
		}
		for _, size := range [][2]float64{{560, 360}, {350, 330}} {
			if err := checkLetters(scene, size[0], size[1]); err != nil {
				t.Errorf("%s, %v: %v", s.ID, size, err)
			}
			boxes := scene.onCanvas(size[0], size[1]).boxes
			for _, name := range []string{"x", "y"} {
				if !slices.ContainsFunc(boxes, func(b lettered) bool { return b.name == name }) {
					t.Errorf("%s, %v: no axis %s", s.ID, size, name)
				}
			}
		}
	}
}

// The axes are drawn to the angle that they have.
func TestTiltToScale(t *testing.T) {
	for _, angle := range []float64{0.3, 1.2, 2.8, -2} {
		for i, w := range (Axes{angle}).ways() {
			from, to := axisEnd(w.angle, 12, 5, 5)
			want := angle + float64(i)*math.Pi/2
			if got := math.Atan2(from.y-to.y, to.x-from.x); apart(got, want) > 1e-9 {
				t.Errorf("%s of axes at %v is drawn at %v", w.name, angle, got)
			}
		}
	}
}
