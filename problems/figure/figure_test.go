package figure

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

var update = flag.Bool("update", false, "rewrite the golden files; read them before they are committed")

func drawProblem(t testing.TB, s *problems.Scenario, seed uint64) *problems.Problem {
	t.Helper()
	p, err := s.Draw(seed, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func scenario(t testing.TB, id string) *problems.Scenario {
	t.Helper()
	for _, s := range figures(t) {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no scenario %s in the bank or in testdata/scenarios", id)
	return nil
}

// figures are the scenarios of the bank, and those of testdata/scenarios, which
// show what the bank has little of.
func figures(t testing.TB) []*problems.Scenario {
	t.Helper()
	all, err := problems.Open("testdata/scenarios")
	if err != nil {
		t.Fatal(err)
	}
	if mine := all.Faults[len(problems.Builtin().Faults):]; len(mine) > 0 { // those of the bank are its own test's
		t.Fatal(mine)
	}
	return all.Scenarios
}

// everything is a view with every force and couple of the first body, about
// its first point.
func everything(s *problems.Scenario) View { return allOf(&s.Bodies[0], len(s.Bodies) > 1) }

// allOf is a view with every force and couple of a body; apart says whether it
// is set apart from others.
func allOf(b *statics.Body, apart bool) View {
	v := View{Pivot: b.Points[0].Name}
	if apart {
		v.Body = b.Name
	}
	for _, f := range b.Forces {
		v.Forces = append(v.Forces, Listed{Symbol: f.Symbol, At: f.At})
	}
	for _, c := range b.Couples {
		v.Forces = append(v.Forces, Listed{Symbol: c.Symbol})
	}
	return v
}

// kept are the scenarios whose figures are kept as files, to be read by eye.
// All others are held to what TestEveryFigure checks.
var kept = []string{
	"davit-arm", "drum-kerb", "hull-ladder", "hull-ladder-limit", "plank-balance", "quay-plank", "trailer-braking", "winch-bar",
	"fixed-boom", "slipway-box", "loaded-beam", "dock-gate", "sluice-flap", "step-ladder",
}

// TestGolden keeps figures as files. The force in hand is the first with an
// arm.
func TestGolden(t *testing.T) {
	for _, id := range kept {
		s := scenario(t, id)
		p := drawProblem(t, s, 7)
		v := everything(s)
		v.Selected = firstWithArm(p, v)
		scene := Build(p, v)
		for kind, got := range map[string]string{
			"unicode": scene.Text(60, 20, false).String(),
			"ascii":   scene.Text(60, 20, true).String(),
			"words":   strings.Join(Words(p, v), "\n"),
		} {
			path := filepath.Join("testdata", s.ID+"."+kind+".txt")
			if *update {
				if err := os.WriteFile(path, []byte(got+"\n"), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatalf("%v; make it with -update, and read it", err)
			}
			if got+"\n" != string(want) {
				t.Errorf("%s differs from its file; if it is better so, go test -update\n--- got\n%s\n--- want\n%s", path, got, want)
			}
		}
	}
}

func firstWithArm(p *problems.Problem, v View) string {
	for _, l := range v.Forces {
		v.Selected = l.Symbol
		for _, shape := range Build(p, v).Shapes {
			if line, ok := shape.(Line); ok && line.Role == Arm {
				return l.Symbol
			}
		}
	}
	return ""
}

// anyView is a learner's state at random: any pivot, some forces in any order
// and sense, some of them at a wrong point.
func anyView(rng *rand.Rand, s *problems.Scenario) View {
	body := &s.Bodies[rng.IntN(len(s.Bodies))]
	v := allOf(body, len(s.Bodies) > 1 && rng.IntN(3) > 0)
	points := body.Points
	rng.Shuffle(len(v.Forces), func(i, j int) { v.Forces[i], v.Forces[j] = v.Forces[j], v.Forces[i] })
	v.Forces = v.Forces[:rng.IntN(len(v.Forces)+1)]
	for i := range v.Forces {
		v.Forces[i].Reversed = rng.IntN(3) == 0
		if rng.IntN(5) == 0 {
			v.Forces[i].At = points[rng.IntN(len(points))].Name
		}
	}
	if v.Pivot = ""; rng.IntN(4) > 0 {
		v.Pivot = points[rng.IntN(len(points))].Name
	}
	v.Clockwise = rng.IntN(2) == 0
	if len(v.Forces) > 0 && rng.IntN(2) == 0 {
		v.Selected = v.Forces[rng.IntN(len(v.Forces))].Symbol
	}
	return v
}

var sizes = [][2]int{{0, 0}, {1, 1}, {10, 3}, {3, 20}, {24, 8}, {36, 10}, {46, 16}, {60, 20}, {120, 12}, {72, 40}}

// TestEveryFigure draws every scenario in many states and sizes, and checks
// what must hold in all of them.
func TestEveryFigure(t *testing.T) {
	for _, s := range figures(t) {
		for seed := range uint64(6) {
			p := drawProblem(t, s, seed)
			v := anyView(rand.New(rand.NewPCG(seed, 5)), s)
			scene := Build(p, v)
			for i, size := range sizes {
				ascii := (int(seed)+i)%2 == 0
				d := scene.drawn(size[0], size[1], ascii)
				if err := checkFigure(d, size[0], size[1], ascii, v); err != nil {
					t.Fatalf("%s, seed %d, %dx%d, view %+v: %v\n%s", s.ID, seed, size[0], size[1], v, err, d.picture())
				}
			}
		}
	}
}

func checkFigure(d *drawing, width, height int, ascii bool, v View) error {
	pic := d.picture()
	if len(pic.Rows) != height {
		return fmt.Errorf("%d rows", len(pic.Rows))
	}
	for y, row := range pic.Rows {
		if len(row) != width {
			return fmt.Errorf("row %d has %d cells", y, len(row))
		}
		for x, c := range row {
			switch {
			case c.Role >= Roles:
				return fmt.Errorf("cell %d,%d has role %d", x, y, c.Role)
			case ascii && (c.Rune < ' ' || c.Rune >= 0x7f):
				return fmt.Errorf("cell %d,%d holds %q", x, y, c.Rune)
			case columns.RuneWidth(c.Rune) != 1:
				return fmt.Errorf("cell %d,%d holds %q, %d wide", x, y, c.Rune, columns.RuneWidth(c.Rune))
			}
		}
	}
	written := map[string]bool{}
	taken := map[[2]int]string{}
	for _, l := range d.labels {
		written[l.text] = true
		for i, r := range []rune(l.text) {
			at := [2]int{l.col + i, l.row}
			if other, twice := taken[at]; twice {
				return fmt.Errorf("label %q lies over %q", l.text, other)
			}
			taken[at] = l.text
			if got := pic.Rows[at[1]][at[0]]; got.Rune != r || got.Role != l.role {
				return fmt.Errorf("label %q is covered by %q", l.text, got.Rune)
			}
		}
	}
	if width < 46 || height < 16 {
		return nil
	}
	for _, l := range v.Forces {
		name := notation.Display(l.Symbol, ascii)
		if !written[name] && !written[name+" "+d.turning(true)] && !written[name+" "+d.turning(false)] {
			return fmt.Errorf("force %s has no name", name)
		}
	}
	return nil
}

// TestNothingCutOff looks whether all that has a place in metres is within the
// box, where there is room for it.
func TestNothingCutOff(t *testing.T) {
	for _, s := range figures(t) {
		for seed := range uint64(6) {
			scene := Build(drawProblem(t, s, seed), everything(s))
			for _, size := range [][2]int{{36, 10}, {46, 16}, {60, 20}} {
				d := scene.drawn(size[0], size[1], false)
				inside := func(what string, v Vec) {
					if p := d.spot(v); p.x < -0.1 || p.y < -0.1 || p.x > float64(2*size[0])+0.1 || p.y > float64(4*size[1])+0.1 {
						t.Errorf("%s, seed %d, %v: %s at %v is at dot %v", s.ID, seed, size, what, v, p)
					}
				}
				for _, shape := range scene.Shapes {
					switch g := shape.(type) {
					case Line:
						inside(g.Role.String(), g.From)
						inside(g.Role.String(), g.To)
					case Outline:
						for _, p := range g.Points {
							inside("outline", p)
						}
					case Disc:
						inside("disc", g.Centre.plus(Vec{g.Radius, g.Radius}))
						inside("disc", g.Centre.minus(Vec{g.Radius, g.Radius}))
					case Mark:
						inside(g.Name, g.At)
						if g.Off {
							continue
						}
						if c, r := d.cell(g.At); d.at(c, r) == nil || d.at(c, r).ink != sign {
							t.Errorf("%s, seed %d, %v: point %s is not marked", s.ID, seed, size, g.Name)
						}
					}
				}
			}
		}
	}
}

// TestFigureKeepsItsPlace lists the forces one by one: the scale may not jump.
func TestFigureKeepsItsPlace(t *testing.T) {
	for _, s := range figures(t) {
		p := drawProblem(t, s, 3)
		v := everything(s)
		all := v.Forces
		v.Forces = nil
		want := Build(p, v).drawn(60, 20, false).frame
		for n := range len(all) + 1 {
			v.Forces = all[:n]
			if got := Build(p, v).drawn(60, 20, false).frame; got != want {
				t.Errorf("%s: with %d forces the frame is %v, with none %v", s.ID, n, got, want)
			}
		}
		v.Unjudged, v.Forces = true, nil
		want = Build(p, v).drawn(60, 20, false).frame
		for n := range 6 {
			v.Forces = append(v.Forces, Listed{Symbol: "T_B", Said: saidAt(s.Bodies[0].Points[0].Name, 65*n)})
			if got := Build(p, v).drawn(60, 20, false).frame; got != want {
				t.Errorf("%s: with %d forces that are not judged the frame is %v, with none %v", s.ID, n+1, got, want)
			}
		}
	}
}

// TestExtremes draws problems entered with values no draw would give.
func TestExtremes(t *testing.T) {
	for _, c := range []struct {
		id    string
		given []string
	}{
		{"davit-arm", []string{"L=1e6", "alpha=89.9"}},
		{"davit-arm", []string{"L=0.001", "alpha=0.01"}},
		{"hull-ladder", []string{"L=1000", "d=700", "alpha=89"}},
		{"winch-bar", []string{"L=0.00001", "theta=1"}},
		{"trailer-braking", []string{"w=4000", "c=1000", "h=0.001"}},
	} {
		p, err := scenario(t, c.id).Enter(1, c.given, nil)
		if err != nil {
			t.Fatal(err)
		}
		v := everything(p.Scenario)
		v.Selected = v.Forces[0].Symbol
		for _, size := range sizes {
			for _, ascii := range []bool{true, false} {
				d := Build(p, v).drawn(size[0], size[1], ascii)
				if err := checkFigure(d, size[0], size[1], ascii, v); err != nil {
					t.Errorf("%v, %v: %v\n%s", c, size, err, d.picture())
				}
			}
		}
	}
}

// TestStrangers draws views that name what is not there.
func TestStrangers(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	bare := Build(p, View{}).Text(60, 20, false).String()
	odd := View{Pivot: "nowhere", Selected: "Z", Forces: []Listed{{Symbol: "Z"}, {}}}
	if got := Build(p, odd).Text(60, 20, false).String(); got != bare {
		t.Errorf("forces that are not there are drawn:\n%s", got)
	}
	lost := View{Forces: []Listed{{Symbol: "W", At: "nowhere"}}}
	if got := Build(p, lost).Text(60, 20, false).String(); !strings.Contains(got, "▼") {
		t.Errorf("a force at a place that is not there should be drawn at its own:\n%s", got)
	}
	for _, size := range [][2]int{{-3, 5}, {5, -3}, {0, 10}} {
		if got := Build(p, odd).Text(size[0], size[1], true).String(); strings.TrimSpace(got) != "" {
			t.Errorf("%v cells hold %q", size, got)
		}
	}
}

func TestNarrow(t *testing.T) {
	for _, c := range []struct {
		text  string
		ascii bool
		want  string
	}{
		{"L = 3.2 m", true, "L = 3.2 m"},
		{"α = 35°", false, "α = 35°"},
		{"α", true, "?"},
		{"長 m", false, "? m"},
		{"a\u0301", false, "a?"}, // a combining accent has no column of its own
	} {
		if got := narrow(c.text, c.ascii); got != c.want {
			t.Errorf("narrow(%q, %v) = %q, want %q", c.text, c.ascii, got, c.want)
		}
	}
}

// TestBoxes checks the table of box drawing characters: all 80 ways to stroke
// a cell, each by its own character.
func TestBoxes(t *testing.T) {
	seen := map[rune]bool{}
	for n := range uint8(3) {
		for e := range uint8(3) {
			for s := range uint8(3) {
				for w := range uint8(3) {
					bits := n<<north | e<<east | s<<south | w<<west
					if r := boxes[bits]; bits != 0 && (r < 0x2500 || r > 0x257f || seen[r]) {
						t.Errorf("strokes %d%d%d%d are drawn as %q", n, e, s, w, r)
					} else {
						seen[r] = true
					}
				}
			}
		}
	}
}
