package review

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// terms are what sessions of each mode may be begun on.
var terms = []tutor.Terms{
	{Mode: tutor.Guided, Hints: tutor.MaxHints},
	{Mode: tutor.Guided, Hints: 1, Tolerance: 0.05, Set: "the tides"},
	{Mode: tutor.Guided, Hints: tutor.MaxHints, Help: tutor.HelpWorked},
	{Mode: tutor.Guided, Hints: tutor.MaxHints, Help: tutor.HelpHalf, Tolerance: 0.002},
	{Mode: tutor.Guided, Hints: tutor.MaxHints, Reasons: true},
	{Mode: tutor.Practice, Hints: tutor.MaxHints},
	{Mode: tutor.Practice, Hints: tutor.MaxHints, Reasons: true},
	{Mode: tutor.Practice, Hints: 2, Tolerance: 0.08, Set: "the tides", Limit: 20 * time.Minute},
	{Mode: tutor.Exam},
	{Mode: tutor.Exam, Hints: 1, Tolerance: 0.03, Set: "the tides", Limit: 12 * time.Minute, Used: 90 * time.Second},
}

// roam works a session at random, right lines among the wrong ones, until it is
// finished or has gone on for long enough.
func roam(t *testing.T, id string, seed uint64, on tutor.Terms, rng *rand.Rand) *notes {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.Start(p, on)
	if err != nil {
		t.Fatal(err)
	}
	n := &notes{learner: "otter", session: uuid.Must(uuid.NewV7()).String(), now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC), rng: rng}
	d, err := tutor.Sit(s, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	for range 90 {
		if d.Current() == nil {
			return n
		}
		roamOnce(t, d, n, rng)
	}
	if on.Mode == tutor.Practice {
		say(t, d, "check")
	}
	for on.Mode == tutor.Exam && !d.HandedIn() {
		say(t, d, "hand in")
	}
	return n
}

func roamOnce(t *testing.T, d *tutor.Desk, n *notes, rng *rand.Rand) {
	t.Helper()
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	switch k := rng.IntN(24); {
	case k == 0:
		must(d.Choose(tutor.StepPositive, []string{"cw", "ccw"}[rng.IntN(2)]))
	case k == 1:
		d.Choose(tutor.StepAxes, []string{"0", "20", "alpha", "90"}[rng.IntN(4)]) // not every problem has an alpha
	case k == 2:
		_, err := d.Undo()
		must(err)
	case k == 3:
		must(d.Turn(d.Bodies()[rng.IntN(len(d.Bodies()))]))
	case k == 4:
		_, err := d.Hint()
		must(err)
	case k < 7:
		tasks := d.Tasks()
		_, err := d.Go(tasks[rng.IntN(len(tasks))].Step, tasks[rng.IntN(len(tasks))].Cell)
		must(err)
	case k == 7:
		say(t, d, []string{"check", "drop W", "own", "HAND IN", "", strings.Repeat("T+", 2000), "T\x1b[2J", "done"}[rng.IntN(8)])
	case k == 8: // killed, and gone on with
		s, err := tutor.Resume(d.Problem(), n.events)
		must(err)
		again, err := tutor.Sit(s, n, slices.Clone(n.events))
		must(err)
		*d = *again
	case k < 16:
		if text := known(d); text != "" {
			say(t, d, text)
			break
		}
		fallthrough
	default:
		say(t, d, line(d, rng))
	}
}

// known is a right line for the task in hand, "" where there is none.
func known(d *tutor.Desk) string {
	t := d.Current()
	if t == nil {
		return ""
	}
	taken := t.Hints
	t.Hints = 2
	e, _, _ := d.Session.Hint()
	t.Hints = taken
	if t.Step == tutor.StepForces && len(d.Lines()) > 0 {
		return "done"
	}
	return e.Typed
}

var roamed = []string{"davit-arm", "hull-ladder", "two-bar-bracket", "trailer-braking", "hoist-own-plank"}

// Whatever the mode and the terms, and however a learner goes about it, what a
// log says is what grading gives.
func TestNoHonestLogIsFlagged(t *testing.T) {
	for i, on := range terms {
		t.Run(fmt.Sprint(i, on.Mode), func(t *testing.T) {
			t.Parallel()
			judged := 0
			for k, id := range roamed {
				for seed := range uint64(4) {
					n := roam(t, id, 20*uint64(k)+seed, on, rand.New(rand.NewPCG(seed, uint64(10*i+k))))
					rep := reviewed(t, jsonl(t, n.events...))
					judged += rep.Regraded
					if len(rep.Altered) > 0 {
						t.Fatalf("%s, seed %d: of %d lines, altered: %+v", id, seed, rep.Regraded, rep.Altered)
					}
				}
			}
			if judged < 60 {
				t.Errorf("only %d lines were judged", judged)
			}
		})
	}
}

// alterations are what someone may change in a log to look better, or worse.
// Each gives false where there is nothing of the kind to change.
var alterations = []struct {
	name  string
	alter func([]tutor.Event, *rand.Rand) bool
}{
	{"a verdict", func(events []tutor.Event, rng *rand.Rand) bool {
		e := oneOf(events, rng, func(e *tutor.Event) bool { return e.Kind == tutor.Answered && isLine(tutor.Step(e.Step)) })
		if e == nil {
			return false
		}
		if e.Verdict == "wrong" {
			e.Verdict, e.Slip = "right", nil
		} else {
			e.Verdict, e.Slip = "wrong", nil
		}
		return true
	}},
	{"a slip", func(events []tutor.Event, rng *rand.Rand) bool {
		e := oneOf(events, rng, func(e *tutor.Event) bool { return e.Kind == tutor.Answered && e.Verdict == "wrong" })
		if e == nil {
			return false
		}
		e.Slip = append(slices.Clone(e.Slip), "rounded-early", "left-out", "sense-reversed")
		return true
	}},
	{"a right line", func(events []tutor.Event, rng *rand.Rand) bool {
		e := oneOf(events, rng, func(e *tutor.Event) bool {
			return e.Kind == tutor.Answered && e.Verdict == "right" && isLine(tutor.Step(e.Step)) && e.Step != "pivot" && e.Step != "doubt"
		})
		if e == nil {
			return false
		}
		e.Typed += " + 1"
		return true
	}},
	{"a line that was kept", func(events []tutor.Event, rng *rand.Rand) bool {
		judged := map[string]bool{}
		for _, e := range slices.Backward(events) {
			if e.Kind == tutor.Answered && isLine(tutor.Step(e.Step)) {
				judged[e.Body+e.Step+e.Cell+e.Typed] = true
			}
		}
		e := oneOf(events, rng, func(e *tutor.Event) bool {
			return e.Kind == tutor.Moved && e.Typed != "" && isLine(tutor.Step(e.Step)) && judged[e.Body+e.Step+e.Cell+e.Typed] &&
				!slices.ContainsFunc(events, func(o tutor.Event) bool { // the only one of its line
					return o.ID != e.ID && o.Kind == tutor.Moved && o.Typed != "" && o.Body+o.Step+o.Cell == e.Body+e.Step+e.Cell
				})
		})
		if e == nil {
			return false
		}
		e.Typed = "0 " + e.Typed
		return true
	}},
	{"a pivot", func(events []tutor.Event, rng *rand.Rand) bool {
		e := oneOf(events, rng, func(e *tutor.Event) bool { return e.Kind == tutor.Answered && e.Step == "moment" })
		if e == nil {
			return false
		}
		e.Pivot += " + 1"
		return true
	}},
	{"an attempt", func(events []tutor.Event, rng *rand.Rand) bool {
		e := oneOf(events, rng, func(e *tutor.Event) bool { return e.Kind == tutor.Answered && e.Try > 1 })
		if e == nil {
			return false
		}
		e.Try--
		return true
	}},
	{"a verdict left out", func(events []tutor.Event, rng *rand.Rand) bool {
		e := oneOf(events, rng, func(e *tutor.Event) bool {
			return e.Kind == tutor.Answered && isLine(tutor.Step(e.Step)) && e.Mode == tutor.Exam
		})
		if e == nil || e.ID == events[len(events)-1].ID {
			return false
		}
		e.Kind, e.Typed, e.Verdict, e.Slip, e.Try = tutor.Left, "", "", nil, 0
		return true
	}},
}

func oneOf(events []tutor.Event, rng *rand.Rand, is func(*tutor.Event) bool) *tutor.Event {
	var fit []int
	for i := range events {
		if is(&events[i]) {
			fit = append(fit, i)
		}
	}
	if len(fit) == 0 {
		return nil
	}
	return &events[fit[rng.IntN(len(fit))]]
}

// Whatever one changes in an honest log, its session is named.
func TestEveryAlteredLogIsFlagged(t *testing.T) {
	for i, on := range terms {
		if on.Help == tutor.HelpWorked {
			continue // hardly a line of it is the learner's
		}
		t.Run(fmt.Sprint(i, on.Mode), func(t *testing.T) {
			t.Parallel()
			made := map[string]int{}
			for k, id := range roamed {
				for seed := range uint64(2) {
					rng := rand.New(rand.NewPCG(seed, uint64(100*i+k)))
					n := roam(t, id, 20*uint64(k)+seed, on, rng)
					for _, a := range alterations {
						events := slices.Clone(n.events)
						if !a.alter(events, rng) {
							continue
						}
						made[a.name]++
						if rep := reviewed(t, jsonl(t, events...)); len(rep.Altered) != 1 {
							t.Errorf("%s, seed %d, %s: altered %+v\n%s", id, seed, a.name, rep.Altered, difference(t, n.events, events))
						}
					}
				}
			}
			if made["a verdict"] == 0 || (made["a line that was kept"] == 0) == (on.Mode != tutor.Guided) {
				t.Errorf("alterations made: %v", made)
			}
			t.Log(made)
		})
	}
}

func difference(t *testing.T, a, b []tutor.Event) string {
	for i := range a {
		if x, y := jsonl(t, a[i]), jsonl(t, b[i]); x != y {
			return x + y
		}
	}
	return "none"
}
