package board

import (
	"reflect"
	"slices"
	"testing"

	"github.com/muesli/termenv"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// What would retitle the window, recolour or clear the screen, move the cursor,
// ask the terminal something, turn the direction of writing, or ring.
var acting = []string{"\x1b]0;owned\a", "\x1b[31;42m", "\x1b[2J\x1b[H", "\x1b[6n", "\x1bc", "\x1bP+q544e\x1b\\", "\x9b2J", "\u009b31m",
	"\u202eright to left", "\u2066\u2069", "\a\b\v\f\x7f\x00", "\r\n\t", "\u2028\u2029", "\xff\xfe"}

// taint puts a text into every string of a value, whatever field it is in.
func taint(v reflect.Value, bad string) int {
	n := 0
	switch v.Kind() {
	case reflect.String:
		v.SetString(bad + v.String() + bad)
		return 1
	case reflect.Pointer:
		if !v.IsNil() {
			n += taint(v.Elem(), bad)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n += taint(v.Index(i), bad)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				n += taint(v.Field(i), bad)
			}
		}
	}
	return n
}

// Whatever is in any field of the logs, no part and nothing that is opened
// from one lets it act on the terminal.
func TestNothingActsOnTheTerminal(t *testing.T) {
	looks := []*screen.Look{screen.BareLook(false), screen.BareLook(true), screen.LookOn(termenv.TrueColor, true, false)}
	for _, bad := range acting {
		rep := lab(t)
		if n := taint(reflect.ValueOf(rep).Elem(), bad); n < 400 {
			t.Fatalf("only %d texts of the report are tainted", n)
		}
		for _, l := range looks {
			s := newStand(t, l, rep, 100, 30)
			s.m.data.lines = func(learner string) []review.TypedLine {
				all := typedBy(learner)
				taint(reflect.ValueOf(&all).Elem(), bad)
				return all
			}
			s.roam(func(where string) {
				t.Helper()
				s.sound()
				for _, seq := range styling.FindAllString(s.frame(), -1) {
					if seq != "\x1b[0m" && !slices.Contains(l.Sequences(), seq) {
						t.Errorf("%q is none of the screen's own", seq)
					}
				}
				if t.Failed() {
					t.Fatalf("%q in %s", bad, where)
				}
			})
			s.press("w")
			s.typed(bad + "x")
			s.press("enter", "enter")
			s.sound()
			s.press("esc", "3", "f")
			s.typed(bad)
			s.sound()
		}
	}
}

// roam goes through every part, opens its first rows, and what these open.
func (s *stand) roam(look func(where string)) {
	for _, k := range "1234567890" {
		s.press(string(k))
		look("part " + string(k))
		for row := range 3 {
			s.press("enter")
			look("opened from part " + string(k))
			s.press("down", "enter")
			look("opened from what was opened from part " + string(k))
			s.press("end")
			look("the end of it")
			s.press(string(k), "home")
			for range row + 1 {
				s.press("down")
			}
		}
		s.press("f1")
		look("help")
		s.press("esc", "end", "enter")
		look("the last of part " + string(k))
	}
}
