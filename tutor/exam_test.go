package tutor_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

var update = flag.Bool("update", false, "write what is said as the golden files")

// bell records events in memory by a clock of its own.
type bell struct {
	memory
	now  time.Time
	step time.Duration // passes with each event
}

func (b *bell) Record(e *tutor.Event) error {
	b.now = b.now.Add(b.step)
	e.At = b.now
	return b.memory.Record(e)
}

var morning = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// examine sits down to a problem on terms, each event a second after the last.
func examine(t *testing.T, id string, seed uint64, terms tutor.Terms) (*tutor.Desk, *bell) {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.Start(p, terms)
	if err != nil {
		t.Fatal(err)
	}
	b := &bell{now: morning, step: time.Second}
	d, err := tutor.Sit(s, b, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d, b
}

// sitting is a davit worked in an exam, with mistakes: V is not in the list and
// another force is, W is listed the wrong way, and one value is wrong by
// itself.
var sitting = []string{
	"A", "T at B toward C; W at G up", "m g at B down", "H at A right", "P at B left", "done",
	"-T cos(alpha)", "T cos(alpha)", "T L sin(alpha)",
	"0", "M g", "M g L/2",
	"0", "-m g", "-m g L",
	"H", "0", "0",
	"W", "0", "L",
	"3.12 kN", "2890 N", "137 N", "B", "1",
}

// write types lines, none of which is to be judged.
func write(t *testing.T, d *tutor.Desk, lines []string) {
	t.Helper()
	for _, line := range lines {
		r, err := d.Answer(line)
		if err != nil {
			t.Fatal(err)
		}
		if !r.IsTaken() || len(r.Slips) > 0 || r.Message != "" {
			t.Fatalf("%q is %s %v (%s), want it taken and nothing said", line, r.Outcome, r.Slips, r.Message)
		}
	}
}

func handIn(t *testing.T, d *tutor.Desk) {
	t.Helper()
	for range 2 {
		if _, err := d.Answer("hand in"); err != nil {
			t.Fatal(err)
		}
	}
	if !d.HandedIn() || !d.Finished() {
		t.Fatal("not handed in")
	}
}

// Until the paper is handed in nothing is said of right and wrong; what cannot
// be read is said at once.
func TestExamSaysNothing(t *testing.T) {
	d, b := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
	write(t, d, sitting[:8])
	if r, err := d.Answer("T L sin(alhpa)"); err != nil || r.Outcome != grading.Unreadable || !strings.Contains(r.Message, "did you mean alpha") {
		t.Errorf("a line that cannot be read is %s: %s", r.Outcome, r.Message)
	}
	if text, err := d.Hint(); err != nil || text != "An exam gives no hints." {
		t.Errorf("hinted %q", text)
	}
	write(t, d, sitting[8:])
	for _, e := range b.events {
		if e.Kind == tutor.Answered || e.Kind == tutor.Hinted || e.Slip != nil || e.Verdict == "wrong" || e.Verdict == "right" {
			t.Errorf("before the paper is handed in, the log holds %+v", e)
		}
	}
	if _, ok := d.Paper(); ok {
		t.Error("there is a paper before it is handed in")
	}
	if r, err := d.Answer("hand in"); err != nil || !d.HandedIn() {
		t.Errorf("at the last line, hand in does not: %s", r.Message)
	}
}

// A right and a wrong line of the same form are answered in the same words.
func TestExamLeaksNothing(t *testing.T) {
	for _, c := range []struct {
		before      []string
		right, like string
	}{
		{nil, "A", "B"},
		{[]string{"A"}, "W at G down", "W at G up"},
		{[]string{"A"}, "W at G down", "W at B down"},
		{[]string{"A"}, "H at A right", "Q at A right"},
		{[]string{"A", "T at B toward C; W at G down; m g at B down; H at A right; V at A up"}, "done", "done"},
		{[]string{"A", "T at B toward C", "done"}, "-T cos(alpha)", "T cos(alpha)"},
		{[]string{"A", "T at B toward C", "done"}, "H - T cos(alpha) = 0", "H + T cos(alpha) = 0"},
		{[]string{"A", "T at B toward C", "done"}, "T = 3.12 kN", "T = 4.12 kN"},
	} {
		said := func(line string) (tutor.Reply, string) {
			d, _ := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
			write(t, d, c.before)
			r, err := d.Answer(line)
			if err != nil {
				t.Fatal(err)
			}
			r.ReadsAs = ""
			return r, d.Title(d.Current())
		}
		want, at := said(c.right)
		got, atToo := said(c.like)
		if want.Outcome != tutor.NotJudged || got.Outcome != want.Outcome || got.Message != want.Message || got.Note != want.Note || got.Step != want.Step || got.Cell != want.Cell || at != atToo {
			t.Errorf("%q gets %+v, then %s; %q gets %+v, then %s", c.right, want, at, c.like, got, atToo)
		}
	}
}

// Any line may be changed before the paper is handed in; the last one counts.
func TestExamLinesMayBeChanged(t *testing.T) {
	d, _ := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
	write(t, d, sitting)
	again := func(step tutor.Step, cell string, lines ...string) {
		t.Helper()
		if ok, err := d.Go(step, cell); !ok || err != nil {
			t.Fatal(step, cell, ok, err)
		}
		write(t, d, lines)
	}
	again(tutor.StepForces, "", "W at G down", "drop P", "V at A up")
	again(tutor.StepY, "T", "T sin(alpha)")
	again(tutor.StepY, "W", "-M g")
	again(tutor.StepMoment, "W", "-M g L/2")
	again(tutor.StepX, "V", "0", "V", "0")
	again(tutor.StepDoubt, tutor.DoubtLimit, "3")
	handIn(t, d)
	paper, ok := d.Paper()
	if !ok {
		t.Fatal("no paper")
	}
	if m := paper.Total(); m.Got != m.Of || m.Of != 1+5+15+6+2 {
		t.Errorf("a paper put right gets %s:\n%s", m, paper.Text())
	}
}

// Values that follow from a wrong equation, or from a wrong value before them,
// earn their half, and the line to mend is named; one that follows from nothing
// earns nothing.
func TestExamFollowThrough(t *testing.T) {
	for _, c := range []struct {
		moment, t, h, v string
		stands          [3]tutor.Standing
		mends           [3]string
	}{
		{"T L sin(alpha) = M g L/4 + m g L", "2933 N", "2719 N", "206 N",
			[3]tutor.Standing{tutor.StandsFollows, tutor.StandsFollows, tutor.StandsFollows},
			[3]string{"moments about A", "moments about A", "moments about A"}},
		{"T L sin(alpha) = M g L/2 + m g L", "3216 N", "2982 N", "100 N", // slips of the calculator
			[3]tutor.Standing{tutor.StandsWrong, tutor.StandsFollows, tutor.StandsFollows},
			[3]string{"", "value of T", "value of T"}},
		{"T L sin(alpha) = M g L/2 + m g L", "3116 N", "2982 N", "137 N",
			[3]tutor.Standing{tutor.StandsRight, tutor.StandsWrong, tutor.StandsRight}, [3]string{}},
	} {
		d, _ := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
		write(t, d, []string{"A", "T at B toward C; W at G down; m g at B down; H at A right; V at A up", "done"})
		for _, row := range [][2]string{{"x", "H = T cos(alpha)"}, {"y", "V + T sin(alpha) = (M + m) g"}, {"moment", c.moment}} {
			if ok, err := d.Go(tutor.StepEquation, row[0]); !ok || err != nil {
				t.Fatal(row, err)
			}
			write(t, d, row[1:])
		}
		write(t, d, []string{"T = " + c.t, "H = " + c.h, "V = " + c.v})
		handIn(t, d)
		paper, _ := d.Paper()
		i := 0
		for _, l := range paper.Lines {
			if l.Step == tutor.StepValue {
				if l.Standing != c.stands[i] || !strings.HasPrefix(l.Mend, c.mends[i]) || c.mends[i] == "" && l.Mend != "" {
					t.Errorf("%s, %s: %s %s, mend %q; want %s, mend %q", c.moment, l.Typed, l.Title, l.Standing, l.Mend, c.stands[i], c.mends[i])
				}
				i++
			}
		}
	}
}

// The reviewed paper, line by line.
func TestExamPaperGolden(t *testing.T) {
	d, _ := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
	write(t, d, sitting)
	handIn(t, d)
	paper, ok := d.Paper()
	if !ok {
		t.Fatal("no paper")
	}
	golden(t, "paper-davit.txt", paper.Text()+"\n"+tutor.MarkRule()+"\n")
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is now\n%s", path, got)
	}
}

// Lines drawn at random, right and wrong, unreadable, moves and takings back:
// an exam resumed from its record always stands where the living one does, has
// no verdict, and its paper has no more marks than there are.
func TestExamRandom(t *testing.T) {
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 11))
		ids := []string{"davit-arm", "hull-ladder", "trailer-braking", "step-ladder-tie", "quay-plank"}
		mode := []string{tutor.Exam, tutor.Practice}[seed%2]
		d, b := examine(t, ids[int(seed)%len(ids)], seed, tutor.TermsOf(mode))
		p := d.Problem()
		points := p.Bodies[0].Points
		lines := []string{"0", "done", "?", "check", "hand", "drop W", "W at G down", "ma at G left", "1", "2", "W", "W = 0", points[0].Name, points[len(points)-1].Name}
		for _, f := range p.Bodies[0].Forces {
			lines = append(lines, f.Symbol, "-"+f.Symbol, f.Symbol+" at "+f.At+" up", f.Symbol+" at "+f.At+" left", f.Symbol+" = 12 N")
		}
		for range 60 {
			switch tasks := d.Tasks(); rng.IntN(6) {
			case 0:
				task := tasks[rng.IntN(len(tasks))]
				if _, err := d.Go(task.Step, task.Cell); err != nil {
					t.Fatal(err)
				}
			case 1:
				if _, err := d.Undo(); err != nil {
					t.Fatal(err)
				}
			default:
				if _, err := d.Answer(lines[rng.IntN(len(lines))]); err != nil {
					t.Fatal(err)
				}
			}
			if d.Current() == nil && !d.Finished() {
				t.Fatalf("%s, seed %d: nothing is asked, and it is not finished", p.ID, seed)
			}
		}
		back, err := tutor.Resume(p, b.events)
		if err != nil || state(t, back) != state(t, d.Session) {
			t.Errorf("%s, seed %d: resumed to\n%s\nwant\n%s", p.ID, seed, state(t, back), state(t, d.Session))
		}
		if mode != tutor.Exam {
			continue
		}
		handIn(t, d)
		paper, _ := d.Paper()
		m := paper.Total()
		if m.Got < 0 || m.Got > m.Of || m.Of == 0 {
			t.Errorf("%s, seed %d: the paper has %s", p.ID, seed, m)
		}
	}
}

// Marks do not depend on how a row is written: an empty paper of each problem
// is worth as much as a right one.
func TestExamWorthIsTheSame(t *testing.T) {
	for _, id := range []string{"davit-arm", "plank-balance", "trailer-braking", "hull-ladder-limit", "step-ladder-tie", "hoist-own-plank"} {
		empty, _ := examine(t, id, 3, tutor.TermsOf(tutor.Exam))
		handIn(t, empty)
		blank, _ := empty.Paper()

		shown, _ := sit(t, id, 3) // shows what is right, to be typed in the exam
		full, _ := examine(t, id, 3, tutor.TermsOf(tutor.Exam))
		for shown.Current() != nil {
			c := shown.Current()
			step, cell := c.Step, c.Cell
			for range 3 {
				if _, err := shown.Hint(); err != nil {
					t.Fatal(err)
				}
			}
			if now := full.Current(); now.Step != step || now.Cell != cell {
				if _, err := full.Go(step, cell); err != nil {
					t.Fatal(err)
				}
			}
			write(t, full, []string{c.Typed})
			if step == tutor.StepForces {
				write(t, full, []string{"done"})
			}
		}
		handIn(t, full)
		best, _ := full.Paper()
		if m, e := best.Total(), blank.Total(); m.Got != m.Of || e.Got != 0 || e.Of != m.Of {
			t.Errorf("%s: an empty paper has %s, a right one %s\n%s", id, e, m, best.Text())
		}
	}
}

// A line by a name of one's own does not take the place of the force's own line.
func TestExamKeepsBothNames(t *testing.T) {
	d, _ := examine(t, "davit-arm", 7, tutor.TermsOf(tutor.Exam))
	write(t, d, []string{"A", "T at B toward C", "Q at B toward C", "Z at G up"})
	if got := fmt.Sprint(d.Lines()); got != "[T at B toward C Q at B toward C Z at G up]" {
		t.Errorf("listed: %s", got)
	}
	var names []string
	for _, l := range d.Listed() {
		names = append(names, l.Symbol)
	}
	if got := strings.Join(names, " "); got != "T Q Z" {
		t.Errorf("the ledger's rows are %s, not T Q Z", got)
	}
}
