package screen

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/figure"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// sitFor begins a problem in a mode.
func sitFor(t *testing.T, sc *problems.Scenario, mode string) *tutor.Desk {
	t.Helper()
	p, err := grading.Draw(sc, 7)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.New(p, mode)
	if err != nil {
		t.Fatal(err)
	}
	d, err := tutor.Sit(s, &memory{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// say answers a line that must be read.
func say(t *testing.T, d *tutor.Desk, line string) {
	t.Helper()
	if r, err := d.Answer(line); err != nil || r.Outcome == grading.Unreadable {
		t.Fatalf("%s: %q is answered with %+v, %v", d.Problem().ID, line, r, err)
	}
}

// drawnOf are the shapes of one kind in the figure as the desk has it.
func drawnOf[T figure.Shape](d *tutor.Desk) (out []T) {
	for _, shape := range figure.Build(d.Problem(), sight(d)).Shapes {
		if s, ok := shape.(T); ok {
			out = append(out, s)
		}
	}
	return out
}

// unlike is a right angle's way that none of the body's forces at a point has.
func unlike(b *statics.Body, at string, values []float64) (way string, angle float64) {
	for i, w := range []string{"right", "up", "left", "down"} {
		a := float64(i) * math.Pi / 2
		if !slices.ContainsFunc(b.Forces, func(f statics.Force) bool { return f.At == at && math.Cos(f.Dir.Radians(values)-a) > 0.99 }) {
			return w, a
		}
	}
	return "right", 0
}

// In an exam, and in practice before checking, the figure has the list that was
// written: each force of the scenario is listed wrongly, or not at all, with one
// that the body has not, and only what was written is drawn, where and as it was
// written. The words say the same, and no arm is drawn for any entry.
func TestUnjudgedFigure(t *testing.T) {
	for _, mode := range []string{tutor.Exam, tutor.Practice} {
		for _, sc := range problems.Builtin().Scenarios {
			d := sitFor(t, sc, mode)
			say(t, d, d.Body().Points[0].Name)
			body := d.Body()
			var points []string
			for _, pt := range body.Points {
				if !pt.Mark {
					points = append(points, pt.Name)
				}
			}
			type arrow struct {
				at    string
				angle float64
			}
			want := map[string]arrow{}
			for i, f := range body.Forces {
				if i%3 == 2 { // left out
					continue
				}
				at := points[(slices.Index(points, f.At)+1)%len(points)]
				way, angle := unlike(body, at, d.Problem().Values)
				say(t, d, fmt.Sprintf("%s at %s %s", f.Symbol, at, way))
				want[f.Symbol] = arrow{at, angle}
			}
			say(t, d, fmt.Sprintf("Zz at %s at 37.5 deg", points[0])) // a way that no force of the bank has
			want["Zz"] = arrow{points[0], 37.5 * math.Pi / 180}
			turns := map[string]bool{}
			for _, c := range body.Couples {
				say(t, d, c.Symbol+map[bool]string{true: " clockwise", false: " anticlockwise"}[c.Sense > 0])
				turns[c.Symbol] = c.Sense > 0
			}
			check := func() {
				t.Helper()
				for _, turn := range drawnOf[figure.Turn](d) {
					if clockwise, ok := turns[turn.Symbol]; !ok || turn.Clockwise != clockwise {
						t.Errorf("%s, %s: the couple %s is drawn clockwise %v; it was written so: %v, %v", mode, sc.ID, turn.Symbol, turn.Clockwise, clockwise, ok)
					}
				}
				marks := map[string]figure.Vec{}
				for _, m := range drawnOf[figure.Mark](d) {
					marks[m.Name] = m.At
				}
				seen := map[string]bool{}
				for _, a := range drawnOf[figure.Arrow](d) {
					w, ok := want[a.Symbol]
					seen[a.Symbol] = true
					if !ok || a.At != marks[w.at] || math.Cos(a.Angle-w.angle) < 1-1e-9 {
						t.Errorf("%s, %s: %s is drawn at %v along %v; it was written at %s (%v) along %v, %v", mode, sc.ID, a.Symbol, a.At, a.Angle, w.at, marks[w.at], w.angle, ok)
					}
				}
				if len(seen) != len(want) {
					t.Errorf("%s, %s: %v are drawn, of %v", mode, sc.ID, seen, want)
				}
				words := strings.Join(figure.Words(d.Problem(), sight(d)), "\n")
				for _, never := range []string{"acts at", "pulls at", "pushes at", "taken the other way", "through the pivot", "arm from the pivot"} {
					if strings.Contains(words, never) {
						t.Errorf("%s, %s: before judging, the words tell %q:\n%s", mode, sc.ID, never, words)
					}
				}
			}
			check()
			say(t, d, "done")
			check()
			for _, l := range d.Listed() {
				if e, ok := d.Session.Go(tutor.StepMoment, l.Symbol); ok {
					d.Session.Apply(e)
					for _, line := range drawnOf[figure.Line](d) {
						if line.Role == figure.Arm {
							t.Errorf("%s, %s: the arm of %s is drawn before it is judged", mode, sc.ID, l.Symbol)
						}
					}
				}
			}
		}
	}
}

// A value that is written and not judged stays a question in the figure.
func TestUnjudgedValue(t *testing.T) {
	d := sitFor(t, scenario(t, "hull-ladder-limit"), tutor.Exam)
	say(t, d, "d = 1 m")
	if task := d.Find(tutor.StepValue, "d"); task.Status != tutor.Taken {
		t.Fatalf("the value is %+v; it should be taken", task)
	}
	if v := sight(d); v.Learned["d"] {
		t.Error("a value that is not judged is drawn as found")
	}
}

// What comes of checking shows in the figure: in practice a right list is drawn as
// the scenario has it, and the arm of an entry once that is right.
func TestJudgedFigure(t *testing.T) {
	d := sitFor(t, scenario(t, "davit-arm"), tutor.Practice)
	for _, line := range davitSetup {
		say(t, d, line)
	}
	if v := sight(d); !v.Unjudged {
		t.Error("the list is not judged yet, and drawn as if it were")
	}
	arm := func() bool {
		e, _ := d.Session.Go(tutor.StepMoment, "T")
		d.Session.Apply(e)
		return slices.ContainsFunc(drawnOf[figure.Line](d), func(l figure.Line) bool { return l.Role == figure.Arm })
	}
	say(t, d, "check")
	if v := sight(d); v.Unjudged {
		t.Errorf("the list was checked, and is drawn as if it were not: %+v", d.Find(tutor.StepForces, ""))
	}
	if arm() {
		t.Error("the arm of T is drawn while it is asked for")
	}
	say(t, d, "T L sin(alpha)")
	say(t, d, "check")
	if !arm() {
		t.Error("the moment of T is right, and its arm is not drawn")
	}
}

// Whatever line of a list is read by who judges it is drawn before it is judged;
// and a line that is right is drawn the way that its force acts, or the other if
// that was assumed.
func TestReadLinesAreDrawn(t *testing.T) {
	files, err := filepath.Glob("../../testdata/answers/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	read, rights := 0, 0
	for _, path := range files {
		sc := scenario(t, strings.TrimSuffix(filepath.Base(path), ".txt"))
		p, err := grading.Draw(sc, 7)
		if err != nil {
			t.Fatal(err)
		}
		for _, body := range sc.Bodies {
			g, err := grading.New(p, grading.Choice{Body: body.Name, Pivot: body.Points[0].Name})
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range listsOf(t, path) {
				v, l := g.ForceLine(line)
				if v.Outcome == grading.Unreadable {
					continue
				}
				read++
				scene := figure.Build(p, figure.View{Body: body.Name, Unjudged: true, Forces: []figure.Listed{{Symbol: "Zz", Line: line}}})
				var arrows []figure.Arrow
				turns := 0
				for _, shape := range scene.Shapes {
					switch s := shape.(type) {
					case figure.Arrow:
						arrows = append(arrows, s)
					case figure.Turn:
						if s.Symbol == "Zz" {
							turns++
						}
					}
				}
				if len(arrows)+turns != 1 {
					t.Errorf("%s, %s: %q is read, and drawn as %v and %d couples", sc.ID, body.Name, line, arrows, turns)
					continue
				}
				i, ok := body.Force(l.Symbol)
				if !ok || !v.Earned() {
					continue
				}
				rights++
				angle := body.Forces[i].Dir.Radians(p.Values)
				if l.Reversed {
					angle += math.Pi
				}
				if math.Cos(arrows[0].Angle-angle) < math.Sqrt2/2-1e-9 { // two words say a quadrant
					t.Errorf("%s, %s: %q is right, and drawn along %v, not %v", sc.ID, body.Name, line, arrows[0].Angle, angle)
				}
			}
		}
	}
	t.Logf("%d lines are read, %d of them right", read, rights)
	if read < 300 || rights < 100 {
		t.Errorf("only %d lines are read, %d of them right", read, rights)
	}
}

// listsOf are the lines of the lists of forces in a file of answers.
func listsOf(t *testing.T, path string) (out []string) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lists := false
	for s := bufio.NewScanner(f); s.Scan(); {
		if step, ok := strings.CutPrefix(s.Text(), "step "); ok {
			lists = step == "forces"
		}
		_, answer, ok := strings.Cut(s.Text(), " : ")
		if lists && ok && s.Text()[0] == ' ' && !strings.HasPrefix(answer, `"`) {
			out = append(out, tutor.ListLines(answer)...)
		}
	}
	return out
}
