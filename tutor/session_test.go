package tutor_test

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// memory records events in memory, or fails when told to.
type memory struct {
	events []tutor.Event
	fail   error
}

func (m *memory) Record(e *tutor.Event) error {
	if m.fail != nil {
		return m.fail
	}
	m.events = append(m.events, *e)
	return nil
}

func sit(t *testing.T, id string, seed uint64) (*tutor.Desk, *memory) {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	return sitAt(t, sc, seed)
}

func sitAt(t *testing.T, sc *problems.Scenario, seed uint64) (*tutor.Desk, *memory) {
	t.Helper()
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.New(p, tutor.Guided)
	if err != nil {
		t.Fatal(err)
	}
	m := &memory{}
	d, err := tutor.Sit(s, m, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d, m
}

func say(t *testing.T, d *tutor.Desk, text string, want grading.Outcome, slips ...string) tutor.Reply {
	t.Helper()
	at := d.Title(d.Current())
	r, err := d.Answer(text)
	if err != nil {
		t.Fatal(err)
	}
	if r.Outcome != want || !slices.Equal(r.Slips, slips) {
		t.Fatalf("%s: %q is %s %v (%s), want %s %v", at, text, r.Outcome, r.Slips, r.Message, want, slips)
	}
	return r
}

// davit works davit-arm up to the ledger.
func davit(t *testing.T) (*tutor.Desk, *memory) {
	d, m := sit(t, "davit-arm", 7)
	say(t, d, "A", grading.Right)
	say(t, d, "T at B toward C", grading.Right)
	say(t, d, "W at G up", grading.Wrong, "sense-reversed")
	say(t, d, "W at G down", grading.Right)
	say(t, d, "m g at B down; H at A right", grading.Right)
	say(t, d, "done", grading.Wrong, "force-missing")
	say(t, d, "V at A up", grading.Right)
	say(t, d, "done", grading.Right)
	return d, m
}

func TestDavitFromPivotToDoubt(t *testing.T) {
	d, m := davit(t)
	for _, line := range []struct {
		typed string
		want  grading.Outcome
		slip  []string
	}{
		{"-T cos(alpha)", grading.Right, nil},
		{"T cos(alpha)", grading.Wrong, []string{"sine-cosine"}},
		{"T sin(alpha)", grading.Right, nil},
		{"-T L sin(alpha)", grading.Wrong, []string{"sense-reversed"}},
		{"T L cos(alpha)", grading.Wrong, []string{"sine-cosine"}},
		{"T L sin(beta)", grading.Unreadable, nil},
		{"T L sin(alpha)", grading.Right, nil},
		{"0", grading.Right, nil}, {"-M g", grading.Right, nil}, {"-mgL/2", grading.Wrong, nil},
	} {
		r, err := d.Answer(line.typed)
		if err != nil {
			t.Fatal(err)
		}
		if r.Outcome != line.want || line.slip != nil && !slices.Equal(r.Slips, line.slip) {
			t.Fatalf("%q is %s %v, want %s %v", line.typed, r.Outcome, r.Slips, line.want, line.slip)
		}
	}
	if c := d.Current(); c.Step != tutor.StepMoment || c.Cell != "W" || c.Tries != 1 {
		t.Fatalf("at %v %v after %d tries, want the moment of W after 1", c.Step, c.Cell, c.Tries)
	}
	say(t, d, "-M g L/2", grading.Right)
	for _, typed := range []string{"0", "-m g", "-m g L", "H", "0", "0", "0", "V", "0"} {
		say(t, d, typed, grading.Right)
	}
	if sum, ok := d.Sum(statics.RowMoment); !ok || sum != "T · L · sin α − M · g · L / 2 − m · g · L = 0" {
		t.Errorf("the moment column sums to %q, %v", sum, ok)
	}
	p := d.Problem()
	for _, u := range p.Unknowns {
		if c := d.Current(); c.Step != tutor.StepValue || c.Cell != u.Symbol {
			t.Fatalf("asked for %s %s, want the value of %s", c.Step, c.Cell, u.Symbol)
		}
		say(t, d, problems.Figures(p.Values[u.Index]/1000, 3)+" kN", grading.Right)
	}
	say(t, d, "A", grading.Wrong)
	say(t, d, "B", grading.Right)
	say(t, d, "1", grading.Wrong)
	say(t, d, "3", grading.Right)
	if !d.Finished() || d.Current() != nil {
		t.Fatal("every line is right, but the session is not finished")
	}
	if last := m.events[len(m.events)-1]; last.Kind != tutor.Finished {
		t.Errorf("the last event is %s, want finished", last.Kind)
	}
	sum := d.Summary(d.Events())
	if sum.Open != 0 || sum.Shown != 0 || sum.Slips["sine-cosine"] != 2 || sum.FirstTime+sum.Later != sum.Lines {
		t.Errorf("the summary is %+v", sum)
	}
}

// After every event, the session resumed from the record stands where the
// living one does.
func TestResumeAnywhere(t *testing.T) {
	d, m := davit(t)
	same := func() {
		t.Helper()
		back, err := tutor.Resume(d.Problem(), m.events)
		if err != nil {
			t.Fatal(err)
		}
		if want, got := state(t, d.Session), state(t, back); want != got {
			t.Fatalf("after %d events resumed to\n%s\nwant\n%s", len(m.events), got, want)
		}
	}
	same()
	for _, typed := range []string{"-T cos(alpha)", "T L", "?", "T sin(alpha)", "T L sin(alpha) - M g L/2 - m g L = 0", "0"} {
		if _, err := d.Answer(typed); err != nil {
			t.Fatal(err)
		}
		same()
	}
	if err := d.Choose(tutor.StepPositive, "clockwise"); err != nil {
		t.Fatal(err)
	}
	same()
	for range 3 {
		if _, err := d.Hint(); err != nil {
			t.Fatal(err)
		}
		same()
	}
	for range 12 {
		if _, err := d.Undo(); err != nil {
			t.Fatal(err)
		}
		same()
	}
}

func state(t *testing.T, s *tutor.Session) string {
	t.Helper()
	at := ""
	if c := s.Current(); c != nil {
		at = s.Title(c)
	}
	out, err := json.Marshal(map[string]any{"tasks": s.Tasks(), "at": at, "choice": s.Choice(), "lines": s.Lines(), "listed": s.Listed()})
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func TestNothingHappensUnrecorded(t *testing.T) {
	d, m := davit(t)
	before := state(t, d.Session)
	m.fail = errors.New("disk full")
	if _, err := d.Answer("-T cos(alpha)"); !errors.Is(err, m.fail) {
		t.Errorf("the answer's error is %v", err)
	}
	if _, err := d.Hint(); !errors.Is(err, m.fail) {
		t.Errorf("the hint's error is %v", err)
	}
	if got := state(t, d.Session); got != before {
		t.Errorf("an unrecorded line changed the session to\n%s\nfrom\n%s", got, before)
	}
}

func TestWholeEquationInAnEntry(t *testing.T) {
	d, _ := davit(t)
	if _, err := d.Go(tutor.StepMoment, "T"); err != nil {
		t.Fatal(err)
	}
	say(t, d, "T L sin(alpha) = M g L/2 + m g L", grading.Right)
	for _, f := range d.Listed() {
		if task := d.Find(tutor.StepMoment, f.Symbol); task.Status != tutor.Covered {
			t.Errorf("the moment of %s is %v, want covered by the equation", f.Symbol, task.Status)
		}
	}
	p := d.Problem()
	i, _ := p.Table.Index("T")
	say(t, d, "T = "+problems.Figures(p.Values[i], 4)+" N", grading.Right)
	if d.Find(tutor.StepValue, "T").Status != tutor.Earned {
		t.Error("a value typed straight off was not taken as one")
	}
}

func TestHintsGoDeeper(t *testing.T) {
	d, m := davit(t)
	say(t, d, "T cos(alpha)", grading.Wrong, "sense-reversed")
	var texts []string
	for range 3 {
		text, err := d.Hint()
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, text)
	}
	if texts[0] == texts[1] || texts[2] != "The line: −T cos α" {
		t.Errorf("hints are %q", texts)
	}
	if task := d.Find(tutor.StepX, "T"); task.Status != tutor.Shown || task.FirstTime() {
		t.Errorf("a line that was shown is %v", task.Status)
	}
	if e := m.events[len(m.events)-1]; e.Kind != tutor.Hinted || e.HintDepth != 3 {
		t.Errorf("the third hint is recorded as %+v", e)
	}
}

// While the list is being written, undo takes the force listed last off it.
func TestUndoInTheList(t *testing.T) {
	d, m := sit(t, "davit-arm", 7)
	say(t, d, "A", grading.Right)
	say(t, d, "T at B toward C; W at G down", grading.Right)
	for want := 1; want >= 0; want-- {
		if ok, err := d.Undo(); !ok || err != nil {
			t.Fatal(ok, err)
		}
		if len(d.Listed()) != want || len(d.Lines()) != want || d.Current().Step != tutor.StepForces {
			t.Fatalf("listed %v at %v, want %d left", d.Lines(), d.Current().Step, want)
		}
		back, err := tutor.Resume(d.Problem(), m.events)
		if err != nil || state(t, back) != state(t, d.Session) {
			t.Fatalf("resumed otherwise, %v", err)
		}
	}
	if ok, _ := d.Undo(); !ok || d.PivotChosen() {
		t.Error("with the list empty, undo takes back the pivot")
	}
}

// A line that is earned stays so: there is nothing to hint at on it.
func TestNoHintOnAnEarnedLine(t *testing.T) {
	d, m := davit(t)
	say(t, d, "-T cos(alpha)", grading.Right)
	if _, err := d.Go(tutor.StepX, "T"); err != nil {
		t.Fatal(err)
	}
	before := len(m.events)
	for range 3 {
		if text, err := d.Hint(); err != nil || text != "" {
			t.Errorf("hinted %q, %v", text, err)
		}
	}
	if d.Find(tutor.StepX, "T").Status != tutor.Earned || len(m.events) != before {
		t.Error("a hint was taken on an earned line")
	}
}

// A session in which every line is shown ends, for every problem of the bank:
// what hints show can always be typed, and is right.
func TestEveryProblemCanBeShown(t *testing.T) {
	for _, sc := range problems.Builtin().Scenarios {
		shown, _ := sit(t, sc.ID, 3)
		typed, _ := sit(t, sc.ID, 3)
		for range 400 {
			c := shown.Current()
			if c == nil {
				break
			}
			step, cell := c.Step, c.Cell
			for range 3 {
				if _, err := shown.Hint(); err != nil {
					t.Fatal(err)
				}
			}
			line := c.Typed
			if line == "" {
				t.Fatalf("%s: %s %s shows no line", sc.ID, step, cell)
			}
			r, err := typed.Answer(line)
			if err != nil || !r.Earned() {
				t.Fatalf("%s: %s %s: the line shown, %q, is %s: %s", sc.ID, step, cell, line, r.Outcome, r.Message)
			}
			if step == tutor.StepForces {
				say(t, typed, "done", grading.Right)
			}
		}
		if !shown.Finished() || !typed.Finished() {
			t.Errorf("%s: not finished", sc.ID)
		}
	}
}

func TestChangingThePivotReopensMoments(t *testing.T) {
	d, _ := davit(t)
	say(t, d, "-T cos(alpha)", grading.Right)
	say(t, d, "T sin(alpha)", grading.Right)
	say(t, d, "T L sin(alpha)", grading.Right)
	if _, err := d.Go(tutor.StepPivot, ""); err != nil {
		t.Fatal(err)
	}
	say(t, d, "B", grading.Right)
	if d.Find(tutor.StepMoment, "T").Done() || !d.Find(tutor.StepX, "T").Done() {
		t.Error("a new pivot must open the moments again, and leave the parts along x as they are")
	}
}

// A force that is on no body is named, not stumbled over.
func TestForceOfNoBody(t *testing.T) {
	d, _ := sit(t, "trailer-braking", 3)
	say(t, d, "R", grading.Right)
	say(t, d, "ma at G left", grading.Wrong, "not-on-body")
	say(t, d, "R_x at F up", grading.Wrong, "not-on-body")
	say(t, d, "spin clockwise", grading.Wrong, "not-on-body")
}

// Who writes a whole equation is asked for the next one; a value typed straight
// off leaves the learner where they were.
func TestStraightOff(t *testing.T) {
	d, _ := davit(t)
	say(t, d, "-T cos(alpha) + H = 0", grading.Right)
	if c := d.Current(); c.Step != tutor.StepEquation || c.Cell != "y" {
		t.Errorf("after the x equation, asked for %s %s", c.Step, c.Cell)
	}
	other, _ := davit(t) // at the x part of T
	if r := say(t, other, "T L sin(alpha) = (M/2 + m) g L", grading.Right); r.Step != tutor.StepEquation || r.Cell != "moment" {
		t.Errorf("the moment equation was taken for %s %s", r.Step, r.Cell)
	}
	if c := other.Current(); c.Step != tutor.StepX || c.Cell != "T" {
		t.Errorf("after it, asked for %s %s", c.Step, c.Cell)
	}
	if r := say(t, other, "V + T cos(alpha) = (M + m) g", grading.Wrong); r.Step != tutor.StepEquation || r.Cell != "x" {
		t.Errorf("a wrong equation at the x part of T was taken for %s %s", r.Step, r.Cell)
	}
	if _, err := other.Go(tutor.StepEquation, "x"); err != nil {
		t.Fatal(err)
	}
	say(t, other, "V + T sin(alpha) = (M + m) g", grading.Wrong, "another-row")
	i, _ := d.Problem().Table.Index("T")
	say(t, d, "T = "+problems.Figures(d.Problem().Values[i], 4)+" N", grading.Right)
	if c := d.Current(); c.Step != tutor.StepEquation || c.Cell != "y" {
		t.Errorf("after a value straight off, asked for %s %s", c.Step, c.Cell)
	}
}

// With every equation written whole, the entries of a row in which nothing has
// a part are not asked for.
func TestBlankRowGoesWithTheOthers(t *testing.T) {
	d, _ := sit(t, "plank-balance", 7)
	for _, line := range []string{"O", "N at O up; W at O down; W_1 at C down; W_2 at D down", "done", "N = W + W_1 + W_2", "W_1 r_1 = W_2 r_2"} {
		say(t, d, line, grading.Right)
	}
	if c := d.Current(); c.Step != tutor.StepValue || c.Cell != "N" {
		t.Errorf("asked for %s %s, want the value of N", c.Step, c.Cell)
	}
	if _, err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if d.Find(tutor.StepX, "N").Done() {
		t.Error("with an equation taken back, its entries stay covered")
	}
}
