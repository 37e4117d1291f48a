package grading

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// shelfWith is the shelf of the readers' tests with slips of its own: a table of
// code, step, cell, pivot and line.
func shelfWith(t *testing.T, rows ...[5]string) *look {
	t.Helper()
	data, err := os.ReadFile("../problems/testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, r := range rows {
		text += fmt.Sprintf("\n[[slips]]\ncode = %q\nstep = %q\ncell = %q\npivot = %q\nline = %q\nmessage = \"Called %s.\"\nhint = \"Why?\"\n", r[0], r[1], r[2], r[3], r[4], r[0])
	}
	text = strings.ReplaceAll(text, "pivot = \"\"\n", "")
	s, err := problems.Read("base.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return &look{s: s, src: problems.NewSource([]byte(text))}
}

var ownSlips = [][5]string{
	{"fifth-for-half", "moment", "W", "A", "-W L/5"},
	{"root-of-sine", "moment", "T", "A", "T L sqrt(sin(alpha))"},
	{"pulls-with-tangent", "x", "T", "", "-T tan(alpha)"},
	{"stay-forgotten", "equation", "y", "", "V = 0.75 W"},
	{"turned-out", "equation", "moment", "A", "T L = W L/7"},
	{"rounded-early", "y", "T", "", "T sin(alpha)/7"}, // which is a slip of the catalogue
}

// A slip of the scenario's own is named where the line comes to the same,
// however it is written and whichever way signs are counted, and nowhere else.
func TestOwnSlips(t *testing.T) {
	s := shelfWith(t, ownSlips...).s
	p, err := Draw(s, 6)
	if err != nil {
		t.Fatal(err)
	}
	at := func(symbol string) string {
		i, _ := s.Table.Index(symbol)
		return problems.Figures(p.Values[i], 6)
	}
	level := Choice{Pivot: "A"}
	clockwise := Choice{Pivot: "A", Clockwise: true}
	for _, c := range []struct {
		choice          Choice
		row, cell, line string
		want            string
	}{
		{level, "moment", "W", "-W L/5", "fifth-for-half"},
		{level, "moment", "W", "-(1/5) q L^2", "fifth-for-half"},
		{level, "moment", "W", "(W L/4 - 0.45 W L)", "fifth-for-half"},
		{level, "moment", "W", "-W " + at("L") + "/5", "fifth-for-half"},
		{clockwise, "moment", "W", "W L/5", "fifth-for-half"},
		{clockwise, "moment", "W", "-W L/5", ""},
		{level, "moment", "W", "W L/5", ""},
		{level, "moment", "W", "-W L/5.1", ""},
		{level, "moment", "W", "-W L/5 + 0.001 W L", ""},
		{Choice{Pivot: "B"}, "moment", "W", "-W L/5", ""},
		{Choice{Pivot: "A + 0.001 @ 0"}, "moment", "W", "-W L/5", ""},
		{Choice{Pivot: "A + 0 @ 0"}, "moment", "W", "-W L/5", "fifth-for-half"},
		{level, "moment", "T", "L T sqrt(sin(alpha))", "root-of-sine"},
		{Choice{Pivot: "A", Reversed: map[string]bool{"T": true}}, "moment", "T", "-L T sqrt(sin(alpha))", "root-of-sine"},
		{Choice{Pivot: "A", Reversed: map[string]bool{"T": true}}, "moment", "T", "L T sqrt(sin(alpha))", ""},
		{Choice{Pivot: "A", Reversed: map[string]bool{"V": true}}, "moment", "T", "L T sqrt(sin(alpha))", "root-of-sine"},
		{level, "x", "T", "-T tan(alpha)", "pulls-with-tangent"},
		{clockwise, "x", "T", "-T sin(alpha)/cos(alpha)", "pulls-with-tangent"},
		{Choice{Pivot: "A", Tilt: "20"}, "x", "T", "-T tan(alpha)", ""},
		{Choice{Pivot: "A", Tilt: "180"}, "x", "T", "-T tan(alpha)", ""},
		{level, "equation", "y", "V - 0.75 W = 0", "stay-forgotten"},
		{level, "equation", "y", "4 V/q = 3 L", "stay-forgotten"},
		{Choice{Reversed: map[string]bool{"V": true}}, "equation", "y", "-V = 0.75 W", "stay-forgotten"},
		{Choice{Reversed: map[string]bool{"V": true}}, "equation", "y", "V = 0.75 W", ""},
		{level, "equation", "y", "V = 0.76 W", ""},
		{level, "equation", "x", "V = 0.75 W", ""},
		{level, "equation", "moment", "T = W/7", "turned-out"},
		{clockwise, "equation", "moment", "W - 7 T = 0", "turned-out"},
		{Choice{Pivot: "B"}, "equation", "moment", "T = W/7", ""},
		{level, "equation", "moment", "T L sin(alpha) = W L/5", "fifth-for-half"},
		{level, "moment", "W", "-W L", "wrong-point"},
		{level, "y", "T", "T sin(alpha)/7", ""},
	} {
		g, err := New(p, c.choice)
		if err != nil {
			t.Fatal(err)
		}
		var v Verdict
		if c.row == "equation" {
			v, err = g.Equation(statics.RowKind(c.cell), c.line)
		} else {
			v, err = g.Cell(statics.RowKind(c.row), c.cell, c.line)
		}
		own := slices.DeleteFunc(slices.Clone(v.Slips), func(code string) bool { _, ok := s.OwnSlip(code); return !ok && code != c.want })
		if err != nil || v.Outcome != Wrong || strings.Join(own, " ") != c.want {
			t.Errorf("%+v, %s of %s: %q is %v %v (%v), want %q", c.choice, c.row, c.cell, c.line, v.Outcome, v.Slips, err, c.want)
		}
		if _, ok := s.OwnSlip(c.want); ok && v.Message != "Called "+c.want+"." {
			t.Errorf("%q: said is %q", c.line, v.Message)
		}
	}
}

// Right lines stay right, and are read as before, whatever slips a scenario has.
func TestOwnSlipsLeaveTheRest(t *testing.T) {
	for seed := range uint64(3) {
		with, err := Draw(shelfWith(t, ownSlips...).s, seed)
		if err != nil {
			t.Fatal(err)
		}
		for _, pivot := range []string{"A", "B"} {
			g, err := New(with, Choice{Pivot: pivot, Clockwise: seed == 1})
			if err != nil {
				t.Fatal(err)
			}
			checkCells(t, g)
			for _, row := range statics.Rows {
				if line := g.Row(row, true); !g.Blank(row) {
					if v, err := g.Equation(row, line); err != nil || v.Outcome != Right {
						t.Errorf("%s: %v %v %v", line, v.Outcome, v.Slips, err)
					}
				}
			}
		}
	}
}

// Draws tell a slip of the scenario's own from the right line by its numbers.
func TestDrawsTellOwnSlips(t *testing.T) {
	plain := shelfWith(t).s
	s := shelfWith(t, [5]string{"stay-at-d", "moment", "W", "A", "-W (0.8 d + 0.1 L)"}).s // 1 m + L/10 for L/2: alike at L = 2.5 m
	i, _ := s.Table.Index("L")
	alike := func(p *problems.Problem) bool {
		wrong, right := 1+0.1*p.Values[i], p.Values[i]/2
		return abs(wrong-right) < Margin*max(wrong, right)
	}
	met := 0
	for seed := range uint64(60) {
		p, err := Draw(s, seed)
		if err != nil {
			t.Fatal(err)
		}
		if alike(p) {
			t.Errorf("seed %d: L is %v", seed, p.Values[i])
		}
		if q, err := Draw(plain, seed); err != nil {
			t.Fatal(err)
		} else if alike(q) {
			met++
		}
	}
	if met == 0 {
		t.Error("none of the draws without the slip is alike either")
	}
	near, err := s.Enter(1, []string{"L=2.5"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	other, err := s.Enter(1, []string{"L=4.3", "alpha=35"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if Discriminates(near) || !Discriminates(other) {
		t.Errorf("at L = 2.5 m the numbers tell: %v; at 4.3 m: %v", Discriminates(near), Discriminates(other))
	}
}

// So it does with a whole equation; one that holds at every solution is told by
// its line alone.
func TestDrawsTellOwnEquations(t *testing.T) {
	s := shelfWith(t, [5]string{"level-part", "equation", "y", "", "V = 1.25 T cos(alpha)"}, [5]string{"both-rows", "equation", "y", "", "V - W + T sin(alpha) = H - T cos(alpha)"}).s
	if own := shelfOf(s).equations; len(own) != 1 || own[0].code != "level-part" {
		t.Errorf("to be told: %v", own)
	}
	told, alike := 0, 0
	for p, err := range s.Trials(400) {
		if err != nil {
			continue
		}
		value := func(symbol string) float64 { i, _ := s.Table.Index(symbol); return p.Values[i] }
		v, cos := value("V"), 1.25*value("H") // H = T cos(alpha)
		switch near := abs(v-cos) < Margin*(v+cos)/2; {
		case near && Discriminates(p):
			t.Errorf("%s: the numbers do not tell", p.Varying())
		case near:
			alike++
		case Discriminates(p):
			told++
		}
	}
	if told == 0 || alike == 0 {
		t.Errorf("%d told, %d alike", told, alike)
	}
}

// A slip that is right, in every draw or in one, is refused; one that is called
// something else already is a note.
func TestWeakOwnSlips(t *testing.T) {
	for _, c := range []struct {
		row     [5]string
		gravity Gravity
		words   []string
	}{
		{[5]string{"a", "moment", "W", "A", "-W L/5"}, "", nil},
		{[5]string{"a", "equation", "y", "", "V = 0.75 W"}, "", nil},
		{[5]string{"a", "moment", "W", "A", "-q L^2/2"}, Fault, []string{"the line is right", "the entry of W"}},
		{[5]string{"a", "equation", "y", "", "2 V = 2 W - 2 T sin(alpha)"}, Fault, []string{"the line is right", "what the row says"}},
		{[5]string{"a", "moment", "W", "A", "-W d"}, Fault, []string{"right with --given", "L=2.5", "keep such draws out"}},
		{[5]string{"a", "moment", "W", "A", "-1.25 W"}, Fault, []string{"right with --given", "L=2.5"}},
		{[5]string{"a", "equation", "moment", "A", "T L sin(alpha) = W d"}, Fault, []string{"right with --given", "L=2.5"}},
		{[5]string{"a", "moment", "W", "A", "-W L"}, Note, []string{"force placed at the wrong point", "never named"}},
		{[5]string{"a", "moment", "H", "A", "H L"}, Note, []string{"never named"}},
		{[5]string{"a", "equation", "y", "", "V = W"}, Note, []string{"force left out"}},
		{[5]string{"sine-cosine", "x", "T", "", "-T tan(alpha)"}, Fault, []string{"sine-cosine", "give this one its own"}},
		{[5]string{"a", "moment", "W", "A", "W/(L - L)"}, Fault, []string{"has no value"}},
	} {
		l := shelfWith(t, c.row)
		l.try()
		l.slips()
		if c.gravity == "" {
			if len(l.found) > 0 {
				t.Errorf("%v: %v", c.row, l.found)
			}
			continue
		}
		if !has(l.found, c.gravity, "slip", c.words...) || l.found[0].Line < 100 {
			t.Errorf("%v: %v, want %s of %q", c.row, l.found, c.gravity, c.words)
		}
	}
	l := shelfWith(t, [5]string{"one", "moment", "W", "A", "-W L/5"}, [5]string{"two", "moment", "W", "A", "-q L^2/5"})
	l.try()
	l.slips()
	if !has(l.found, Note, "slip", "the slip one of this file", "never named") || len(l.found) != 1 {
		t.Error(l.found)
	}
}
