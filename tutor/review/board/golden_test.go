package board

import (
	"fmt"
	"strings"
	"testing"

	"steelyard/tutor/screen"
)

// scenes are the frames kept under testdata, each at two sizes, in Unicode and
// in ASCII.
var scenes = []struct {
	name string
	keys []string
}{
	{"reteach", nil},
	{"slips", []string{"2", "s", "s", "t"}},
	{"slip", []string{"2", "enter"}},
	{"problems", []string{"3"}},
	{"lines", []string{"3", "down", "enter", "down", "down"}},
	{"line", []string{"3", "down", "down", "enter", "end", "enter"}},
	{"unpredicted", []string{"4"}},
	{"group", []string{"4", "enter"}},
	{"skills", []string{"5"}},
	{"skill", []string{"5", "enter"}},
	{"learners", []string{"6", "f", "a", "n"}},
	{"learner", []string{"6", "enter", "down", "down"}},
	{"typed", []string{"6", "enter", "down", "down", "enter"}},
	{"alike", []string{"7"}},
	{"pair", []string{"7", "enter"}},
	{"items", []string{"8"}},
	{"reasons", []string{"9"}},
	{"reason", []string{"9", "enter"}},
	{"logs", []string{"0", "down"}},
	{"altered", []string{"0", "down", "enter"}},
	{"write", []string{"w"}},
	{"help", []string{"f1"}},
}

// Every part, at two sizes, in Unicode and in ASCII.
func TestGoldenFrames(t *testing.T) {
	rep := lab(t)
	for _, sc := range scenes {
		t.Run(sc.name, func(t *testing.T) {
			var b strings.Builder
			for _, size := range [][2]int{{80, 24}, {140, 45}} {
				for _, ascii := range []bool{false, true} {
					if ascii && size[0] == 140 {
						continue
					}
					s := newStand(t, screen.BareLook(ascii), rep, size[0], size[1])
					s.press(sc.keys...)
					s.sound()
					fmt.Fprintf(&b, "== %dx%d %s ==\n%s\n", size[0], size[1], map[bool]string{false: "Unicode", true: "ASCII"}[ascii], s.frame())
				}
			}
			golden(t, sc.name+".txt", b.String())
		})
	}
}

// Every part is drawn soundly in windows of any size, and comes back as it was.
func TestAnySize(t *testing.T) {
	rep := lab(t)
	for _, sc := range scenes {
		s := newStand(t, screen.BareLook(false), rep, 80, 24)
		s.press(sc.keys...)
		before := s.frame()
		for _, size := range [][2]int{{140, 45}, {60, 18}, {44, 12}, {30, 9}, {20, 6}, {7, 3}, {1, 1}, {300, 90}, {80, 24}} {
			s.resize(size[0], size[1])
			s.sound()
		}
		if s.frame() != before {
			t.Errorf("%s does not come back as it was:\n%s", sc.name, s.frame())
		}
	}
}
