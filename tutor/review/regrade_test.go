package review

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// However a learner goes about it, the walk knows the choices that the session
// graded by.
func TestWalkFollowsSessions(t *testing.T) {
	ids := []string{"davit-arm", "hull-ladder", "two-bar-bracket", "trailer-braking", "quay-plank", "boom-inclined"}
	for i, id := range ids {
		t.Run(id, func(t *testing.T) {
			for seed := range uint64(6) {
				d, n := sit(t, "otter", id, 100*uint64(i)+seed)
				wander(t, d, rand.New(rand.NewPCG(seed, uint64(i))))
				if rep := reviewed(t, jsonl(t, n.events...)); len(rep.Altered) > 0 || rep.Regraded == 0 {
					t.Fatalf("seed %d: of %d lines, altered: %+v", seed, rep.Regraded, rep.Altered)
				}
			}
		})
	}
}

// wander does what a learner may do, at random: right lines as hints tell
// them, wrong ones, senses the other way, tilted axes, undoing, turning to
// other bodies.
func wander(t *testing.T, d *tutor.Desk, rng *rand.Rand) {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for range 150 {
		switch k := rng.IntN(20); {
		case k == 0:
			must(d.Choose(tutor.StepPositive, []string{"cw", "ccw"}[rng.IntN(2)]))
		case k == 1:
			d.Choose(tutor.StepAxes, []string{"0", "20", "alpha", "90"}[rng.IntN(4)]) // not every problem has an alpha
		case k == 2:
			_, err := d.Undo()
			must(err)
		case k == 3:
			must(d.Turn(d.Bodies()[rng.IntN(len(d.Bodies()))]))
		case k < 7:
			_, err := d.Hint()
			must(err)
		case k < 9:
			tasks := d.Tasks()
			task := tasks[rng.IntN(len(tasks))]
			_, err := d.Go(task.Step, task.Cell)
			must(err)
		default:
			say(t, d, line(d, rng))
		}
	}
}

// line is something to type for the task in hand.
func line(d *tutor.Desk, rng *rand.Rand) string {
	task, b := d.Current(), d.Body()
	if task == nil {
		return "0"
	}
	switch task.Step {
	case tutor.StepPivot:
		return b.Points[rng.IntN(len(b.Points))].Name
	case tutor.StepForces:
		if rng.IntN(6) == 0 {
			return "done"
		}
		f := b.Forces[rng.IntN(len(b.Forces))]
		return f.Symbol + " at " + f.At + " " + []string{"up", "down", "left", "right", "cw", "at 30 deg", "away"}[rng.IntN(7)]
	case tutor.StepEquation, tutor.StepX, tutor.StepY, tutor.StepMoment:
		f := b.Forces[rng.IntN(len(b.Forces))].Symbol
		return []string{"0", f, "-" + f, "2 " + f, f + " = 0", "0.5 " + f, "1e9", "))", ""}[rng.IntN(9)]
	}
	return []string{"100 N", "-3.5 kN", "1", "2", "A", "B", "T = 5 N"}[rng.IntN(7)]
}

// worked is a session with right and wrong lines.
func worked(t testing.TB, learner string) *notes {
	t.Helper()
	d, n := sit(t, learner, "davit-arm", 7)
	say(t, d, davit...)
	say(t, d, "T sin(alpha)", "-T cos(alpha)", "T sin(alpha)", "T L cos(alpha)", "T L sin(alpha)", "0", "-M g", "-M g L", "-M g L/2")
	return n
}

func TestEditedLogIsFlagged(t *testing.T) {
	n := worked(t, "tern")
	i := slices.IndexFunc(n.events, func(e tutor.Event) bool { return e.Typed == "T L cos(alpha)" })
	n.events[i].Verdict, n.events[i].Slip = "right", nil
	rep := reviewed(t, jsonl(t, n.events...)+jsonl(t, worked(t, "knot").events...))
	if len(rep.Altered) != 1 {
		t.Fatalf("altered: %+v", rep.Altered)
	}
	a := rep.Altered[0]
	if a.Learner != "tern" || a.Reason != Edited || a.Lines != 1 || a.First.Typed != "T L cos(alpha)" || a.First.Logged != "right" || a.First.Graded != "wrong" || !slices.Equal(a.First.Slips, []string{"sine-cosine"}) {
		t.Errorf("altered: %+v", a)
	}
	if s := rep.Slips[0]; s.Code != "sine-cosine" || s.Learners.Count != 2 || s.Attempts != 4 {
		t.Errorf("what was graded again does not count: %+v", s)
	}
}

func TestOtherEditionIsNotCalledEdited(t *testing.T) {
	n := worked(t, "tern")
	for i := range n.events {
		n.events[i].ScenarioHash = "0123456789abcdef"
	}
	i := slices.IndexFunc(n.events, func(e tutor.Event) bool { return e.Verdict == "wrong" })
	n.events[i].Verdict, n.events[i].Slip = "right", nil
	rep := reviewed(t, jsonl(t, n.events...))
	if len(rep.Altered) != 1 || rep.Altered[0].Reason != Edition {
		t.Errorf("altered: %+v", rep.Altered)
	}
}

func TestMissingLinesAreNoticed(t *testing.T) {
	for _, c := range []struct {
		name string
		drop func(tutor.Event) bool
	}{
		{"the beginning", func(e tutor.Event) bool { return e.Kind == tutor.Began }},
		{"a wrong attempt", func(e tutor.Event) bool {
			return e.Typed == "-T cos(alpha)" || e.Typed == "T sin(alpha)" && e.Step == "x"
		}},
	} {
		n := worked(t, "tern")
		left := slices.DeleteFunc(slices.Clone(n.events), c.drop)
		if len(left) == len(n.events) {
			t.Fatalf("%s: nothing to drop", c.name)
		}
		if c.name == "a wrong attempt" { // the right line that came after says it is the second try
			left = slices.DeleteFunc(left, func(e tutor.Event) bool { return e.Step == "moment" && e.Try == 1 })
		}
		rep := reviewed(t, jsonl(t, left...))
		if len(rep.Altered) != 1 || rep.Altered[0].Reason != Gap {
			t.Errorf("%s is missing; altered: %+v", c.name, rep.Altered)
		}
	}
}

func TestUnknownScenarioCountsAsLogged(t *testing.T) {
	n := worked(t, "tern")
	for i := range n.events {
		n.events[i].Problem = "a-barge"
	}
	rep := reviewed(t, jsonl(t, n.events...))
	if len(rep.NotInBank) != 1 || rep.NotInBank[0].Events != len(n.events) || !strings.Contains(rep.NotInBank[0].Reason, "a-barge") || rep.Regraded != 0 {
		t.Errorf("%+v, %d regraded", rep.NotInBank, rep.Regraded)
	}
	if len(rep.Slips) == 0 || rep.Slips[0].Code != "sine-cosine" {
		t.Errorf("slips: %+v", rep.Slips)
	}
}

func TestGroupsByMeaning(t *testing.T) {
	log := ""
	for learner, lines := range map[string][]string{
		"tern":  {"-M*g*L/3", "-g L M/3"},
		"knot":  {"-(1/3) L M g"},
		"otter": {"-g·M·L/3"},
		"eider": {"-M g L/5"},
	} {
		d, n := sit(t, learner, "davit-arm", 7)
		say(t, d, davit...)
		if _, err := d.Go(tutor.StepMoment, "W"); err != nil {
			t.Fatal(err)
		}
		say(t, d, lines...)
		log += jsonl(t, n.events...)
	}
	d, n := sit(t, "heron", "davit-arm", 9) // with the numbers of another problem
	say(t, d, davit...)
	d.Go(tutor.StepMoment, "W")
	value := problems.Figures(-valueOf(d, "M")*valueOf(d, "g")*valueOf(d, "L")/3, 6)
	say(t, d, value)
	rep := reviewed(t, log+jsonl(t, n.events...))
	if len(rep.Unpredicted) != 2 {
		t.Fatalf("%d groups: %+v", len(rep.Unpredicted), rep.Unpredicted)
	}
	g := rep.Unpredicted[0]
	if g.Learners != 4 || g.Answers != 5 || g.Ways != 5 || g.First.N != 5 || g.Pivot != "A" || g.Cell != "W" {
		t.Errorf("the group is %+v", g)
	}
	for _, want := range []string{"\n[[slips]]\n", `step = "moment"`, `cell = "W"`, `pivot = "A"`, `L / 3"`} {
		if !strings.Contains(g.Offer, want) {
			t.Errorf("the offer lacks %s:\n%s", want, g.Offer)
		}
	}
	if rep.Unpredicted[1].Learners != 1 {
		t.Errorf("the other group is %+v", rep.Unpredicted[1])
	}
}

func valueOf(d *tutor.Desk, symbol string) float64 {
	i, _ := d.Problem().Table.Index(symbol)
	return d.Problem().Values[i]
}

// Papers that were judged later are judged the same again.
func TestPapersAreJudgedAgain(t *testing.T) {
	lines := []string{"A", "T at B toward C; W at G up", "m g at B down", "H at A right", "P at B left", "done", "-T cos(alpha)", "T cos(alpha)", "T L sin(alpha)", "0", "M g", "M g L/2", "0", "-m g", "-m g L", "H", "0", "0", "W", "0", "L", "3.12 kN", "2890 N", "B", "1"}
	for _, mode := range []string{tutor.Practice, tutor.Exam} {
		sc, _ := problems.Builtin().Scenario("davit-arm")
		p, err := grading.Draw(sc, 7)
		if err != nil {
			t.Fatal(err)
		}
		s, err := tutor.Start(p, tutor.TermsOf(mode))
		if err != nil {
			t.Fatal(err)
		}
		_, n := sit(t, "tern", "davit-arm", 7)
		n.events = nil
		d, err := tutor.Sit(s, n, nil)
		if err != nil {
			t.Fatal(err)
		}
		say(t, d, lines...)
		say(t, d, map[string][]string{tutor.Practice: {"check"}, tutor.Exam: {"hand in", "hand in"}}[mode]...)
		rep := reviewed(t, jsonl(t, n.events...))
		if len(rep.Altered) > 0 || rep.Regraded < 7 || len(rep.Slips) == 0 {
			t.Errorf("%s: %d regraded, altered %+v, slips %+v", mode, rep.Regraded, rep.Altered, rep.Slips)
		}
		i := slices.IndexFunc(n.events, func(e tutor.Event) bool { return e.Kind == tutor.Answered && e.Typed == "W at G up" })
		n.events[i].Verdict, n.events[i].Slip = "right", nil
		if rep := reviewed(t, jsonl(t, n.events...)); len(rep.Altered) != 1 || rep.Altered[0].Reason != Edited || rep.Altered[0].First.Typed != "W at G up" {
			t.Errorf("%s, edited: altered %+v", mode, rep.Altered)
		}
	}
}
