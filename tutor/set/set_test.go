package set_test

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/set"
)

const lab = `title = "Lab 3: planks and arms"
order = "shuffled"
tolerance = 0.02
opens = 2026-11-26T09:00:00Z
closes = "2026-11-26T12:00:00+01:00"

[[problems]]
id = "plank-balance"
seed = 7

[[problems]]
id = "davit-arm"
seed = "each their own"

[[problems]]
id = "hull-ladder"
given = ["L = 5 m", "alpha=53 deg"]

[[problems]]
id = "davit-arm"
seed = 8
`

func read(t *testing.T, text string) *set.Set {
	t.Helper()
	s, err := set.Read("labs/lab3.toml", []byte(text), problems.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestRead(t *testing.T) {
	s := read(t, lab)
	if s.Title != "Lab 3: planks and arms" || s.Mode != tutor.Guided || !s.Shuffled || s.Hints != 3 || s.Tolerance != 0.02 || s.File != "lab3.toml" || len(s.Hash) != 16 || len(s.Items) != 4 {
		t.Errorf("read %+v", s)
	}
	if got := s.Closes.Sub(s.Opens); got != 2*time.Hour {
		t.Errorf("it is open for %v", got)
	}
	exam := read(t, "title = \"E\"\nmode = \"exam\"\nlimit = \"1h30m\"\n[[problems]]\nid = \"davit-arm\"\nseed = 0\n")
	if exam.Hints != 0 || exam.Limit != 90*time.Minute {
		t.Errorf("read %+v", exam)
	}
	if !set.Is([]byte(lab)) {
		t.Error("a set is not known for one")
	}
	scenario, err := os.ReadFile("../../problems/bank/davit-arm.toml")
	if err != nil || set.Is(scenario) {
		t.Error("a scenario is taken for a set")
	}
}

// Everything wrong is said, each at its place.
func TestReadFaults(t *testing.T) {
	good := "title = \"Lab\"\n"
	one := "[[problems]]\nid = \"davit-arm\"\nseed = 7\n"
	for _, c := range []struct{ text, want string }{
		{"", `set.toml: the set has no title`},
		{good, `the set has no problems; head each with [[problems]]`},
		{"title = 3\n" + one, `set.toml:1:9: title is to be a text of one line, not 3`},
		{"title = \"a\\u001b[2J\"\n" + one, `set.toml:1:9: title is to be a text of one line, not "a`},
		{good + "mode = \"exams\"\n" + one, `set.toml:2:8: mode is to be "guided", "practice", "exam", not "exams"`},
		{good + "hints = 4\n" + one, `set.toml:2:9: hints is to be a whole number from 0 to 3, not 4`},
		{good + "hints = 1\nmode = \"exam\"\n" + one, `set.toml:2:9: an exam gives no hints`},
		{good + "tolerance = nan\n" + one, `set.toml:2:13: tolerance is to be a number above 0`},
		{good + "limit = \"30s\"\n" + one, `set.toml:2:9: limit is to be a time like`},
		{good + "closes = 2026-11-26T09:00:00\n" + one, `set.toml:2:10: closes is to be a date and time with its zone`},
		{good + "opens = 2026-11-26T09:00:00Z\ncloses = 2026-11-26T09:00:00Z\n" + one, `set.toml:3:10: the set closes before it opens`},
		{good + "limits = \"45m\"\n" + one, `set.toml:2:10: no key "limits" is known here; keys are title, mode`},
		{good + "problems = \"davit-arm\"", `set.toml:2:12: problems is to be tables headed [[problems]], not "davit-arm"`},
		{good + "[[problems]]\nid = \"davit\"\nseed = 7", `set.toml:3:6: no problem "davit" is in the bank; near it are`},
		{good + "[[problems]]\nseed = 7", `set.toml:2:3: which problem?`},
		{good + "[[problems]]\nid = \"davit-arm\"", `set.toml:2:3: give a seed`},
		{good + "[[problems]]\nid = \"davit-arm\"\nseed = \"mine\"", `set.toml:4:8: seed is to be a whole number from 0, or "each their own", not "mine"`},
		{good + "[[problems]]\nid = \"davit-arm\"\ngiven = [\"L = 5 N\"]", `set.toml:4:1: given value "L = 5 N": L is a length`},
		{good + one + one, `set.toml:6:6: this is problem 1 again`},
		{good + "title = \"Lab\"\n" + one, `set.toml:2:`},
		{good + "[[problems", `set.toml:2:`},
	} {
		_, err := set.Read("set.toml", []byte(c.text), problems.Builtin())
		var faults problems.Faults
		if !errors.As(err, &faults) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q gives %v, want %s", c.text, err, c.want)
		}
	}
}

// A learner's seeds and order are always the same, and are their own.
func TestEachTheirOwn(t *testing.T) {
	s := read(t, lab)
	if got := fmt.Sprint(s.For("kestrel")); got != golden {
		t.Errorf("kestrel's problems are now %s; seeds that change are another lab", got)
	}
	seeds, orders := map[uint64]bool{}, map[string]bool{}
	for i := range 200 {
		items := s.For(fmt.Sprintf("learner %d", i))
		order := ""
		for _, it := range items {
			order += it.ID[:1]
			if it.Each {
				seeds[it.Seed] = true
			}
		}
		orders[order] = true
	}
	if len(seeds) < 195 || len(orders) < 10 {
		t.Errorf("200 learners have %d seeds and %d orders", len(seeds), len(orders))
	}
	edited := read(t, strings.Replace(lab, "tolerance = 0.02\n", "", 1))
	if fmt.Sprint(edited.For(" kestrel ")) != golden {
		t.Error("the seeds changed with another key")
	}
}

const golden = "[{hull-ladder 0 false [L = 5 m alpha=53 deg] 3} {plank-balance 7 false [] 1} {davit-arm 49831 true [] 2} {davit-arm 8 false [] 4}]"

func TestAdmit(t *testing.T) {
	s := read(t, lab)
	for _, c := range []struct{ now, want string }{
		{"2026-11-24T21:30:00Z", "Lab 3: planks and arms is not open yet: it opens on Thursday 26 November 2026 at 09:00 UTC, in 1 day and 11 hours, and closes on Thursday 26 November 2026 at 12:00 +0100. It is now Tuesday 24 November 2026 at 21:30 UTC. Please come back then"},
		{"2026-11-26T09:00:00Z", ""},
		{"2026-11-26T10:59:59Z", ""},
		{"2026-11-26T11:00:01Z", "Lab 3: planks and arms is closed: it closed on Thursday 26 November 2026 at 12:00 +0100, 1 second ago. What you did is kept; steelyard receipt lab3.toml gives the receipt for it"},
	} {
		now, err := time.Parse(time.RFC3339, c.now)
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		if err := s.Admit(now); err != nil {
			said = err.Error()
		}
		if said != c.want {
			t.Errorf("at %s: %s\nwant %s", c.now, said, c.want)
		}
	}
	// A set that closes in a thousand years takes no time away.
	far := read(t, strings.Replace(lab, "closes = \"2026-11-26T12:00:00+01:00\"", "closes = 2999-01-01T00:00:00Z", 1))
	if terms := far.Terms(far.Opens, time.Hour); terms.Limit != 0 {
		t.Errorf("a set that closes in 2999 is begun on %+v", terms)
	}
	// What closes the set ends its problems.
	if terms := s.Terms(s.Closes.Add(-20*time.Minute), 5*time.Minute); terms.Limit != 25*time.Minute || terms.Used != 5*time.Minute || terms.Set != s.ID() {
		t.Errorf("begun late on %+v", terms)
	}
}

// recorder keeps events as a journal would.
type recorder struct {
	session string
	n       *int
	events  *[]tutor.Event
}

func (r recorder) Record(e *tutor.Event) error {
	*r.n++
	e.V, e.ID, e.Session, e.Learner = tutor.Version, fmt.Sprintf("0193671a-0000-7000-8000-%012d", *r.n), r.session, "kestrel"
	e.At = time.Date(2026, 11, 26, 9, 0, *r.n, 0, time.UTC)
	*r.events = append(*r.events, *e)
	return nil
}

// A receipt counts what was done; its code is another as soon as a line of the
// log is.
func TestReceipt(t *testing.T) {
	s := read(t, "title = \"Mid-term\"\nmode = \"exam\"\nlimit = \"45m\"\n[[problems]]\nid = \"plank-balance\"\nseed = 7\n[[problems]]\nid = \"davit-arm\"\nseed = 7\n")
	bank := problems.Builtin()
	works, err := s.Find("kestrel", bank, grading.Discriminates, nil)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	var events []tutor.Event
	session, err := tutor.Start(works[0].Problem, s.Terms(time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC), 0))
	if err != nil {
		t.Fatal(err)
	}
	d, err := tutor.Sit(session, recorder{"0193671a-0000-7000-8000-00000000000a", &n, &events}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"O", "N at O up; W at O down; W_1 at C down; W_2 at D down", "done", "N = 830 N", "hand in", "hand in"} {
		if _, err := d.Answer(line); err != nil {
			t.Fatal(err)
		}
	}
	if works, err = s.Find("kestrel", bank, grading.Discriminates, events); err != nil {
		t.Fatal(err)
	}
	if !works[0].Done() || works[1].Begun() || set.AllDone(works) {
		t.Fatal("found otherwise")
	}
	text, err := s.Receipt("kestrel", works)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Learner: kestrel\n", "Set: Mid-term (lab3.toml, " + s.Hash + ")\n",
		"1. Two crates on a plank (plank-balance, seed 7): handed in. Marks: 7 of 19.\n",
		"2. A davit's arm and its stay (davit-arm, seed 7): not begun. Marks: 0 of 29.\n", "Marks in all: 7 of 48.\n", "Check code: "} {
		if !strings.Contains(text, want) {
			t.Errorf("the receipt is\n%s\nwant %q", text, want)
		}
	}
	code, err := set.Code(events)
	if err != nil || !strings.Contains(text, code) {
		t.Fatal(code, err)
	}
	back := slices.Clone(events)
	slices.Reverse(back)
	if same, _ := set.Code(back); same != code {
		t.Error("the code depends on the order in which a log is read")
	}
	for i := range events {
		changed := slices.Clone(events)
		changed[i].Typed += " "
		one, _ := set.Code(changed)
		fewer, _ := set.Code(slices.Delete(slices.Clone(events), i, i+1))
		if one == code || fewer == code {
			t.Errorf("with event %d changed or gone, the code is the same", i)
		}
	}
}

// A problem of an exam that was never handed in is, once its time is up, and
// the events stay as they are.
func TestHandInWhenTimeIsUp(t *testing.T) {
	s := read(t, "title = \"Mid-term\"\nmode = \"exam\"\nlimit = \"45m\"\n[[problems]]\nid = \"davit-arm\"\nseed = 7\n")
	works, _ := s.Find("kestrel", problems.Builtin(), grading.Discriminates, nil)
	n := 0
	var events []tutor.Event
	session, _ := tutor.Start(works[0].Problem, s.Terms(time.Now(), 0))
	d, err := tutor.Sit(session, recorder{"0193671a-0000-7000-8000-00000000000a", &n, &events}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Answer("A"); err != nil {
		t.Fatal(err)
	}
	works, _ = s.Find("kestrel", problems.Builtin(), grading.Discriminates, events)
	w := works[0]
	if err := w.HandIn(events[0].At.Add(44 * time.Minute)); err != nil || w.Done() {
		t.Error("handed in before time is up", err)
	}
	if err := w.HandIn(events[0].At.Add(46 * time.Minute)); err != nil || !w.Done() || len(w.Events) != len(events) {
		t.Error("not handed in when time is up", err)
	}
	if paper, ok := w.Session.Paper(); !ok || paper.Total().Got != 1 {
		t.Error("its paper is lost")
	}
}
