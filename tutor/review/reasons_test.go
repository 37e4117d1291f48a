package review

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// wondering begins a session of a learner at the davit's arm that asks for
// reasons.
func wondering(t testing.TB, learner, mode string) (*tutor.Desk, *notes) {
	t.Helper()
	sc, err := problems.Builtin().Scenario("davit-arm")
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, 7)
	if err != nil {
		t.Fatal(err)
	}
	terms := tutor.TermsOf(mode)
	terms.Reasons = true
	s, err := tutor.Start(p, terms)
	if err != nil {
		t.Fatal(err)
	}
	n := &notes{learner: learner, session: uuid.Must(uuid.NewV7()).String(), now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	d, err := tutor.Sit(s, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d, n
}

// offered are the numbers under which reasons are offered for the question that
// is open, by code.
func offered(t testing.TB, n *notes) map[string]string {
	t.Helper()
	for _, e := range slices.Backward(n.events) {
		if e.Kind == tutor.Asked {
			out := map[string]string{}
			for i, code := range strings.Fields(e.Typed) {
				out[code] = fmt.Sprint(i + 1)
			}
			return out
		}
	}
	t.Fatal("nothing is asked")
	return nil
}

// answering is a class of six at one question: two right at once, one at the
// second choice, one never, one in hostile words, one who passes it over.
func answering(t testing.TB) []tutor.Event {
	t.Helper()
	var all []tutor.Event
	for _, l := range []struct {
		learner string
		codes   []string
	}{
		{"auk", []string{"drops"}}, {"brent", []string{"drops"}}, {"coot", []string{"nearest", "drops"}},
		{"dunlin", []string{"nearest", "all"}}, {"eider", []string{"\x1b[2J<b>both pass it</b>"}}, {"fulmar", []string{"pass"}},
	} {
		d, n := wondering(t, l.learner, tutor.Guided)
		say(t, d, "A")
		numbers := offered(t, n)
		for _, code := range l.codes {
			text := code
			if number, ok := numbers[code]; ok {
				text = number
			}
			say(t, d, text)
		}
		if _, open := d.Asking(); open {
			t.Fatalf("%s is still asked", l.learner)
		}
		all = append(all, n.events...)
	}
	return all
}

func reportOf(t testing.TB, events []tutor.Event) *Report {
	t.Helper()
	r := NewReader(problems.Builtin())
	if err := r.Read(context.Background(), "log", strings.NewReader(jsonl(t, events...))); err != nil {
		t.Fatal(err)
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

func TestReasonsOfAClass(t *testing.T) {
	rep := reportOf(t, answering(t))
	if len(rep.Altered) > 0 || len(rep.Damaged) > 0 || len(rep.Reasons) != 1 {
		t.Fatalf("altered %+v, damaged %+v, reasons %+v", rep.Altered, rep.Damaged, rep.Reasons)
	}
	r := rep.Reasons[0]
	want := ReasonReport{Code: "pivot-drops", Topic: "why this pivot", Asked: 6, Learners: 6, AtOnce: Wilson(2, 4), Passed: 1,
		False: []FalseReason{{"nearest", "it is nearest to the weight", Wilson(2, 4)}, {"all", "every unknown acts through it", Wilson(1, 4)}},
		Own:   []OwnReason{{Learner: "eider", Problem: "davit-arm", Pivot: "A", Typed: "\x1b[2J<b>both pass it</b>"}}}
	if got, expect := fmt.Sprintf("%+v", r), fmt.Sprintf("%+v", want); got != expect {
		t.Errorf("got\n%s\nwant\n%s", got, expect)
	}
	if rep.Answers != 6 || rep.Regraded != 6 {
		t.Errorf("%d lines, %d of them graded again; reasons are none", rep.Answers, rep.Regraded)
	}
	for _, look := range []Look{{}, {Width: 60}, {Plain: true}, {ASCII: true}} {
		var out bytes.Buffer
		if err := WriteText(&out, rep, look); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(out.String()), " ")
		for _, want := range []string{"Reasons that were asked for", "why this pivot: asked of 6 learners, 6 times; 2 of 4 right at once, 50 % (15-85); passed over 1 time",
			"2 x it is nearest to the weight, 50 % (15-85)", "own \"\\x1b[2J<b>both pass it</b>\" eider, davit-arm"} {
			if !strings.Contains(text, want) {
				t.Errorf("%+v: %q is not said:\n%s", look, want, out.String())
			}
		}
		for line := range strings.Lines(out.String()) {
			if line = strings.TrimSuffix(line, "\n"); notation.Printable(line) != line || len([]rune(line)) > max(look.Width, 80) {
				t.Errorf("%+v: the line %q", look, line)
			}
		}
	}
	if text, err := json.Marshal(rep); err != nil || !strings.Contains(string(text), `"reasons":[{"code":"pivot-drops"`) {
		t.Errorf("%v: %s", err, text)
	}
}

// A class that is asked for nothing is told nothing of reasons.
func TestNoReasons(t *testing.T) {
	d, n := sit(t, "otter", "davit-arm", 7)
	say(t, d, davit...)
	rep := reportOf(t, n.events)
	var out bytes.Buffer
	if err := WriteText(&out, rep, Look{}); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(rep)
	if err != nil || !strings.Contains(string(text), `"reasons":[]`) || strings.Contains(out.String(), "Reasons") {
		t.Errorf("%v: %s\n%s", err, text, out.String())
	}
}

// Verdicts on reasons are not believed either.
func TestAlteredReasons(t *testing.T) {
	for name, change := range map[string]func(*tutor.Event){
		"a false choice called right":     func(e *tutor.Event) { e.Verdict, e.Slip = "right", nil },
		"another reason":                  func(e *tutor.Event) { e.Slip = []string{"signs"} },
		"own words that have a verdict":   func(e *tutor.Event) { e.Typed = "because" },
		"a verdict that no reason can be": func(e *tutor.Event) { e.Verdict = "remark" },
	} {
		events := answering(t)
		i := slices.IndexFunc(events, func(e tutor.Event) bool { return e.Kind == tutor.Reasoned && e.Verdict == "wrong" })
		change(&events[i])
		rep := reportOf(t, events)
		if len(rep.Altered) != 1 || rep.Altered[0].Learner != "coot" || rep.Altered[0].Reason != Edited || rep.Altered[0].First.Step != "reason" {
			t.Errorf("%s: altered %+v", name, rep.Altered)
		}
		if r := rep.Reasons[0]; name != "own words that have a verdict" && (r.AtOnce != Wilson(2, 4) || r.False[0].Learners != Wilson(2, 4)) {
			t.Errorf("%s: believed: %+v", name, r)
		}
	}
}

// A question of another edition counts as the log has it.
func TestReasonsOfAnotherEdition(t *testing.T) {
	events := answering(t)
	for i := range events {
		events[i].Cell = strings.ReplaceAll(events[i].Cell, "pivot-drops", "pivot-new\x1b T")
	}
	rep := reportOf(t, events)
	if len(rep.Altered) > 0 || len(rep.Reasons) != 1 || rep.Reasons[0].Topic != "pivot-new\x1b" || rep.Reasons[0].AtOnce != Wilson(2, 4) {
		t.Errorf("altered %+v; %+v", rep.Altered, rep.Reasons)
	}
}

// Who leaves at a question has left at the line behind it, and a practice with
// reasons is nobody's altered log.
func TestLeftAtAReason(t *testing.T) {
	d, n := wondering(t, "gannet", tutor.Guided)
	say(t, d, "A")
	rep := reportOf(t, n.events)
	for _, c := range rep.Problems[0].Cells {
		if c.Step == "reason" || (c.Left > 0) != (c.Step == "pivot") {
			t.Errorf("left at %+v", c)
		}
	}
	if r := rep.Reasons[0]; r.Asked != 1 || r.Passed != 1 || r.AtOnce.N != 0 {
		t.Errorf("%+v", r)
	}

	d, n = wondering(t, "heron", tutor.Practice)
	say(t, d, davit...)
	say(t, d, "check", "2", "1", "1", "no more than that", "-T cos(alpha)", "check")
	rep = reportOf(t, n.events)
	if len(rep.Altered) > 0 || len(rep.Reasons) != 2 {
		t.Errorf("altered %+v; %+v", rep.Altered, rep.Reasons)
	}
}

// Honest logs, whatever was typed at a question or instead of an answer to it,
// and wherever the program was killed, are nobody's altered log.
func TestHonestReasons(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 15))
	var all []tutor.Event
	asks := 0
	for i := range 60 {
		mode := []string{tutor.Guided, tutor.Practice}[i%2]
		d, n := wondering(t, fmt.Sprintf("learner %d", i), mode)
		lines := append(slices.Clone(davit), "-T cos(alpha)", "T sin(alpha)", "0", "T = 3.12 kN", "check")
		for len(lines) > 0 {
			typed := []string{lines[0], lines[0], lines[0], "1", "3", "because H and V act there", "pass", "", "G", "T L cos(alpha)"}[rng.IntN(10)]
			if typed == lines[0] {
				lines = lines[1:]
			}
			var err error
			switch rng.IntN(14) {
			case 0:
				_, err = d.Undo()
			case 1:
				_, err = d.Go(tutor.StepMoment, "T")
			case 2:
				_, err = d.Hint()
			case 3:
				err = d.Choose(tutor.StepPositive, []string{"cw", "ccw"}[rng.IntN(2)])
			case 4: // killed, and gone on with
				s, bad := tutor.Resume(d.Problem(), n.events)
				if bad != nil {
					t.Fatal(bad)
				}
				was, _ := d.Asking()
				before := len(n.events)
				if d, err = tutor.Sit(s, n, slices.Clone(n.events)); err == nil {
					if now, _ := d.Asking(); now.Code != was.Code || len(n.events) != before {
						t.Fatalf("gone on with, it asks %q, not %q, and %d events are added", now.Code, was.Code, len(n.events)-before)
					}
				}
			}
			if err != nil {
				t.Fatal(err)
			}
			say(t, d, typed)
		}
		for _, e := range n.events {
			if e.Kind == tutor.Asked {
				asks++
			}
		}
		all = append(all, n.events...)
	}
	rep := reportOf(t, all)
	if len(rep.Altered) > 0 || asks < 60 || len(rep.Reasons) < 3 {
		t.Errorf("asked %d times, of %d questions; altered %+v", asks, len(rep.Reasons), rep.Altered)
	}
}
