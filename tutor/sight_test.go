package tutor_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/figure"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

func inBank(t *testing.T, id string) *problems.Scenario {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

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

// enter answers a line that must be read.
func enter(t *testing.T, d *tutor.Desk, line string) {
	t.Helper()
	if r, err := d.Answer(line); err != nil || r.Outcome == grading.Unreadable {
		t.Fatalf("%s: %q is answered with %+v, %v", d.Problem().ID, line, r, err)
	}
}

// drawnOf are the shapes of one kind in the figure as the desk has it.
func drawnOf[T figure.Shape](d *tutor.Desk) (out []T) {
	for _, shape := range figure.Build(d.Problem(), d.Sight()).Shapes {
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
			enter(t, d, d.Body().Points[0].Name)
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
				enter(t, d, fmt.Sprintf("%s at %s %s", f.Symbol, at, way))
				want[f.Symbol] = arrow{at, angle}
			}
			enter(t, d, fmt.Sprintf("Zz at %s at 37.5 deg", points[0])) // a way that no force of the bank has
			want["Zz"] = arrow{points[0], 37.5 * math.Pi / 180}
			turns := map[string]bool{}
			for _, c := range body.Couples {
				enter(t, d, c.Symbol+map[bool]string{true: " clockwise", false: " anticlockwise"}[c.Sense > 0])
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
				words := strings.Join(figure.Words(d.Problem(), d.Sight()), "\n")
				for _, never := range []string{"acts at", "pulls at", "pushes at", "taken the other way", "through the pivot", "arm from the pivot"} {
					if strings.Contains(words, never) {
						t.Errorf("%s, %s: before judging, the words tell %q:\n%s", mode, sc.ID, never, words)
					}
				}
			}
			check()
			enter(t, d, "done")
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
	d := sitFor(t, inBank(t, "hull-ladder-limit"), tutor.Exam)
	enter(t, d, "d = 1 m")
	if task := d.Find(tutor.StepValue, "d"); task.Status != tutor.Taken {
		t.Fatalf("the value is %+v; it should be taken", task)
	}
	if v := d.Sight(); v.Learned["d"] {
		t.Error("a value that is not judged is drawn as found")
	}
}

// What comes of checking shows in the figure: in practice a right list is drawn as
// the scenario has it, and the arm of an entry once that is right.
func TestJudgedFigure(t *testing.T) {
	d := sitFor(t, inBank(t, "davit-arm"), tutor.Practice)
	for _, line := range []string{"A", "T at B toward C", "W at G down", "W_c at B down; H at A right", "V at A up", "done"} {
		enter(t, d, line)
	}
	if v := d.Sight(); !v.Unjudged {
		t.Error("the list is not judged yet, and drawn as if it were")
	}
	arm := func() bool {
		e, _ := d.Session.Go(tutor.StepMoment, "T")
		d.Session.Apply(e)
		return slices.ContainsFunc(drawnOf[figure.Line](d), func(l figure.Line) bool { return l.Role == figure.Arm })
	}
	enter(t, d, "check")
	if v := d.Sight(); v.Unjudged {
		t.Errorf("the list was checked, and is drawn as if it were not: %+v", d.Find(tutor.StepForces, ""))
	}
	if arm() {
		t.Error("the arm of T is drawn while it is asked for")
	}
	enter(t, d, "T L sin(alpha)")
	enter(t, d, "check")
	if !arm() {
		t.Error("the moment of T is right, and its arm is not drawn")
	}
}
