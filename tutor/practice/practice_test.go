package practice

import (
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/tutor"
)

// Every slip of the catalogue tells of a skill, and no slip that there is not.
func TestEverySlipTellsOfASkill(t *testing.T) {
	for _, s := range slip.Catalogue {
		if blamed([]string{s.Code}, false) == 0 || blamed([]string{s.Code}, true) == 0 {
			t.Errorf("slip %s tells of no skill; give it a row in blame", s.Code)
		}
	}
	for code := range blame {
		if _, ok := slip.Of(code); !ok {
			t.Errorf("blame has a row for %s, which is no slip of the catalogue", code)
		}
	}
}

// Every skill is said plainly, has parameters within the bounds stated, and
// builds on others without going in a circle.
func TestTablesAreWhole(t *testing.T) {
	if len(before) != count || len(Plainly) != count {
		t.Errorf("%d skills have prerequisites and %d a plain name, want %d", len(before), len(Plainly), count)
	}
	reached := Set(0)
	for range count {
		for k, needs := range prerequisites {
			if needs&^reached == 0 {
				reached |= 1 << k
			}
		}
	}
	if reached != everything {
		t.Errorf("only %v can be reached by their prerequisites", reached.Names())
	}
	for k, m := range params {
		if !(m.Start > 0 && m.Start < Ready && m.Learn > 0 && m.Learn < 1 && m.Guess > 0 && m.Guess <= 0.30 && m.Slip > 0 && m.Slip <= 0.10) {
			t.Errorf("%s has %+v", Skill(k).Name(), m)
		}
	}
}

// What the lines of a situation exercise is what its scenario says, and each
// skill can be practised.
func TestLinesExerciseWhatScenariosSay(t *testing.T) {
	c := testCourse()
	var all Set
	for i, s := range problems.Builtin().Scenarios {
		o := c.Situations[i]
		all |= o.Skills
		says := SetOf(s.Skills...)
		// The scenario names what it is about; a line may touch on more.
		if missing := says &^ o.Skills; missing != 0 {
			t.Errorf("%s says that it exercises %v, and none of its lines does", s.ID, missing.Names())
		}
	}
	if all != everything {
		t.Errorf("the bank exercises %v alone", all.Names())
	}
}

// The course's lines are those that a session asks for.
func TestLinesAreThoseOfTheSession(t *testing.T) {
	c := testCourse()
	for _, id := range []string{"davit-arm", "trailer-braking", "slip-beam-couple", "locker-pulled", "lamp-two-wires"} {
		s, err := problems.Builtin().Scenario(id)
		if err != nil {
			t.Fatal(err)
		}
		p, err := s.Draw(1, nil)
		if err != nil {
			t.Fatal(err)
		}
		session, err := tutor.New(p, tutor.Guided)
		if err != nil {
			t.Fatal(err)
		}
		o, _ := c.Situation(id)
		asked := map[at]bool{}
		play(t, session, func(e tutor.Event) {
			here := at{e.Body, e.Step, e.Cell, ""}
			if e.Step == "value" || e.Step == "doubt" {
				here.body = ""
			}
			if needs, _ := o.Needs(e.Body, e.Step, e.Cell, e.Pivot, false); needs != 0 {
				asked[here] = true
			}
		})
		for _, l := range o.Lines {
			if !asked[at{l.Body, l.Step, l.Cell, ""}] {
				t.Errorf("%s: the session did not ask for %s %s", id, l.Step, l.Cell)
			}
		}
		if len(asked) != len(o.Lines) {
			t.Errorf("%s: the session asked for %d lines, the course has %d", id, len(asked), len(o.Lines))
		}
	}
}

// play answers every line of a session rightly and gives each event.
func play(t *testing.T, s *tutor.Session, each func(tutor.Event)) {
	t.Helper()
	for n := 0; !s.Finished(); n++ {
		if n > 200 {
			t.Fatalf("%s does not end", s.Problem().ID)
		}
		task := s.Current()
		line := rightLine(s, task)
		if task.Step == tutor.StepForces {
			e, _ := s.Answer(line)
			s.Apply(e)
			each(e)
			line = "done"
		}
		e, r := s.Answer(line)
		if !r.Earned() {
			t.Fatalf("%s: %q at %s %s is %s: %s", s.Problem().ID, line, task.Step, task.Cell, r.Outcome, r.Message)
		}
		s.Apply(e)
		each(e)
	}
}

// rightLine is what the third hint would show. The hint is not taken.
func rightLine(s *tutor.Session, task *tutor.Task) string {
	taken := task.Hints
	task.Hints = 2
	e, _, _ := s.Hint()
	task.Hints = taken
	return e.Typed
}

// A list of forces counts once, when it is called done; so do the words that
// call it done in a session.
func TestListCountsOnce(t *testing.T) {
	c := testCourse()
	for _, closer := range []string{"done", "that is all", "that's all", "all"} {
		s, _ := problems.Builtin().Scenario("plank-balance")
		p, err := s.Draw(1, nil)
		if err != nil {
			t.Fatal(err)
		}
		session, err := tutor.New(p, tutor.Guided)
		if err != nil {
			t.Fatal(err)
		}
		m := NewModel(c, time.UTC)
		var shown []bool
		say := func(line string) {
			e, _ := session.Answer(line)
			session.Apply(e)
			if seen, ok := m.Update(&e); ok && seen.Needs.Has(skillOf("forces")) {
				shown = append(shown, seen.Right)
			}
		}
		say("O")
		for _, line := range strings.Split(rightLine(session, session.Current()), "; ") {
			say(line)
		}
		if len(shown) != 0 {
			t.Fatalf("a list that is not closed showed %v", shown)
		}
		say(strings.ToUpper(closer) + ".")
		if !slices.Equal(shown, []bool{true}) || !session.Find(tutor.StepForces, "").Done() {
			t.Errorf("%q closed the list: %v, and showed %v", closer, session.Find(tutor.StepForces, "").Done(), shown)
		}
	}
}

// What each kind of event shows of a line.
func TestWhatEventsShow(t *testing.T) {
	line := func(kind tutor.Kind, step, cell, verdict string, slips ...string) tutor.Event {
		return tutor.Event{Session: "s", Problem: "davit-arm", Body: "arm", Pivot: "A", Kind: kind, Step: step, Cell: cell, Verdict: verdict, Slip: slips, HintDepth: 1}
	}
	for _, test := range []struct {
		name   string
		events []tutor.Event
		want   []Seen
	}{
		{"right", []tutor.Event{line(tutor.Answered, "moment", "T", "right")}, []Seen{{Needs: SetOf("arm", "sign"), Right: true}}},
		{"only the first attempt", []tutor.Event{line(tutor.Answered, "moment", "T", "wrong"), line(tutor.Answered, "moment", "T", "right")},
			[]Seen{{Needs: SetOf("arm", "sign")}}},
		{"a hint first", []tutor.Event{line(tutor.Hinted, "moment", "T", ""), line(tutor.Answered, "moment", "T", "right")},
			[]Seen{{Needs: SetOf("arm", "sign")}}},
		{"a hint after", []tutor.Event{line(tutor.Answered, "moment", "T", "right"), line(tutor.Hinted, "moment", "T", "")},
			[]Seen{{Needs: SetOf("arm", "sign"), Right: true}}},
		{"a line of a worked example", []tutor.Event{{Session: "s", Problem: "davit-arm", Body: "arm", Pivot: "A", Kind: tutor.Hinted, Step: "moment", Cell: "T", HintDepth: 3},
			line(tutor.Answered, "moment", "T", "right")}, nil},
		{"a slip named", []tutor.Event{line(tutor.Answered, "moment", "T", "wrong", "sine-cosine")}, []Seen{{Needs: SetOf("arm", "sign"), Blamed: SetOf("arm")}}},
		{"the same along x", []tutor.Event{line(tutor.Answered, "x", "T", "wrong", "sine-cosine")}, []Seen{{Needs: SetOf("components", "sign"), Blamed: SetOf("components")}}},
		{"a slip of another skill", []tutor.Event{line(tutor.Answered, "moment", "W", "wrong", "mass-for-weight")}, []Seen{{Needs: SetOf("arm", "sign"), Blamed: SetOf("forces")}}},
		{"an entry that is zero", []tutor.Event{line(tutor.Answered, "moment", "H", "right")}, []Seen{{Needs: SetOf("arm"), Zero: true, Right: true}}},
		{"a pivot that is allowed", []tutor.Event{line(tutor.Answered, "pivot", "", "remark")}, []Seen{{Needs: SetOf("pivot")}}},
		{"not an attempt", []tutor.Event{line(tutor.Unread, "moment", "T", "unreadable")}, nil},
		{"no verdict yet", []tutor.Event{line(tutor.Answered, "moment", "T", "")}, nil},
		{"a line that is not there", []tutor.Event{line(tutor.Answered, "moment", "Q", "right")}, nil},
		{"a problem that is not there", []tutor.Event{{Session: "z", Problem: "nowhere", Kind: tutor.Answered, Step: "pivot", Verdict: "right"}}, nil},
	} {
		m := NewModel(testCourse(), time.UTC)
		var got []Seen
		for _, e := range test.events {
			if s, ok := m.Update(&e); ok {
				got = append(got, s)
			}
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: %+v, want %+v", test.name, got, test.want)
		}
	}
}
