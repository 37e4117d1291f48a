package tutor

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
)

// tape records events in memory.
type tape struct{ events []Event }

func (r *tape) Record(e *Event) error {
	e.ID = fmt.Sprint(len(r.events))
	r.events = append(r.events, *e)
	return nil
}

// asking is a desk whose terms ask for reasons.
func asking(t *testing.T, id string, seed uint64, mode string) (*Desk, *tape) {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	terms := TermsOf(mode)
	terms.Reasons = true
	s, err := Start(p, terms)
	if err != nil {
		t.Fatal(err)
	}
	r := &tape{}
	d, err := Sit(s, r, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d, r
}

func tell(t *testing.T, d *Desk, text string, want grading.Outcome) Reply {
	t.Helper()
	r, err := d.Answer(text)
	if err != nil {
		t.Fatal(err)
	}
	if r.Outcome != want {
		t.Fatalf("%q is %s (%s), want %s", text, r.Outcome, r.Message, want)
	}
	return r
}

// numbers are those of the true reason and of a false one, as offered now.
func (s *Session) numbers() (truth, other string) {
	o := s.reasons.open
	i := slices.Index(o.order, o.of.claims[0].code)
	return fmt.Sprint(i + 1), fmt.Sprint((i+1)%len(o.order) + 1)
}

func TestReasonAnsweredByChoice(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Guided)
	if _, ok := d.Asking(); ok {
		t.Fatal("asked before anything is earned")
	}
	tell(t, d, "A", grading.Right)
	q, ok := d.Asking()
	if !ok || q.Code != "pivot-drops" || len(q.Choices) != 4 {
		t.Fatalf("asks %+v, %v", q, ok)
	}
	asked := log.events[len(log.events)-1]
	if asked.Kind != Asked || asked.Step != string(StepReason) || asked.Cell != "pivot-drops" || asked.Pivot != "A" || asked.Body != "arm" ||
		len(strings.Fields(asked.Typed)) != 4 || asked.Verdict != "" {
		t.Errorf("recorded %+v", asked)
	}
	truth, other := d.numbers()
	tell(t, d, "", grading.Unreadable)
	tell(t, d, "7", grading.Unreadable)
	r := tell(t, d, other, grading.Wrong)
	if r.Message == "" || !strings.HasPrefix(r.Note, "Once more") {
		t.Errorf("a wrong choice is told %q, %q", r.Message, r.Note)
	}
	wrong := log.events[len(log.events)-1]
	if wrong.Kind != Reasoned || wrong.Verdict != "wrong" || len(wrong.Slip) != 1 || wrong.Try != 1 {
		t.Errorf("recorded %+v", wrong)
	}
	tell(t, d, truth, grading.Right)
	if right := log.events[len(log.events)-1]; right.Verdict != "right" || right.Slip != nil || right.Try != 2 {
		t.Errorf("recorded %+v", right)
	}
	if _, ok := d.Asking(); ok || d.Current().Step != StepForces || d.Current().Tries != 0 {
		t.Errorf("goes on at %+v, still asking %v", d.Current(), ok)
	}
	if sum := d.Summary(d.Events()); sum.Attempts != 1 || len(sum.Slips) != 0 {
		t.Errorf("the reason is counted: %+v", sum)
	}
}

func TestSecondWrongChoiceIsToldTheReason(t *testing.T) {
	d, _ := asking(t, "davit-arm", 7, Guided)
	tell(t, d, "A", grading.Right)
	_, other := d.numbers()
	tell(t, d, other, grading.Wrong)
	r := tell(t, d, other, grading.Wrong)
	if _, ok := d.Asking(); ok || !strings.HasPrefix(r.Note, "A reason that holds: Two unknowns, H and V, act through A (hinge)") {
		t.Errorf("told %q, still asking %v", r.Note, ok)
	}
}

func TestReasonInOnesOwnWords(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Guided)
	tell(t, d, "A", grading.Right)
	r := tell(t, d, "H and V both go through it\x1b[2J", NotJudged)
	if r.Message != "Kept for your instructor." || !strings.HasPrefix(r.Note, "A reason that holds: ") || r.ReadsAs != "" {
		t.Errorf("said %+v", r)
	}
	e := log.events[len(log.events)-1]
	if e.Kind != Reasoned || e.Verdict != "" || e.Typed != "H and V both go through it\x1b[2J" || e.Try != 0 {
		t.Errorf("recorded %+v", e)
	}
	if _, ok := d.Asking(); ok {
		t.Error("still asked")
	}
}

// Nothing of the work is held up.
func TestReasonPassedOver(t *testing.T) {
	for name, pass := range map[string]func(*testing.T, *Desk){
		"pass":              func(t *testing.T, d *Desk) { tell(t, d, " Pass ", NotJudged) },
		"a line of work":    func(t *testing.T, d *Desk) { tell(t, d, "T at B toward C", grading.Right) },
		"another line":      func(t *testing.T, d *Desk) { d.Go(StepValue, "T") },
		"the pivot undone":  func(t *testing.T, d *Desk) { d.Undo() },
		"the axes turned":   func(t *testing.T, d *Desk) { d.Choose(StepAxes, "alpha") },
		"three hints taken": func(t *testing.T, d *Desk) { d.Undo(); d.Hint(); d.Hint(); d.Hint() },
	} {
		d, _ := asking(t, "davit-arm", 7, Guided)
		tell(t, d, "A", grading.Right)
		pass(t, d)
		if q, ok := d.Asking(); ok {
			t.Errorf("%s: %s is still asked", name, q.Code)
		}
	}
	d, _ := asking(t, "davit-arm", 7, Guided)
	tell(t, d, "A", grading.Right)
	if err := d.Choose(StepPositive, "cw"); err != nil {
		t.Fatal(err)
	}
	if err := d.Leave(); err != nil {
		t.Fatal(err)
	}
	if _, ok := d.Asking(); !ok {
		t.Error("the sign of moments, or leaving, passes the question over")
	}
}

// The pivot is asked about once, each list of forces once, in all three times.
func TestReasonsAreFew(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Guided)
	tell(t, d, "A", grading.Right)
	tell(t, d, "pass", NotJudged)
	if ok, err := d.Undo(); !ok || err != nil {
		t.Fatal(err)
	}
	tell(t, d, "G", grading.Remarked)
	for _, line := range []string{"T at B toward C", "W at G down", "m g at B down", "H at A right", "V at A up", "done"} {
		if _, ok := d.Asking(); ok {
			t.Fatal("asked about the pivot again")
		}
		tell(t, d, line, grading.Right)
	}
	if q, ok := d.Asking(); !ok || q.Code != "weight-at" {
		t.Fatalf("after the list asks %+v, %v", q, ok)
	}
	tell(t, d, "pass", NotJudged)
	for !d.Finished() {
		if text, err := d.Hint(); text == "" || err != nil {
			t.Fatal(err)
		}
	}
	asked := 0
	for _, e := range log.events {
		if e.Kind == Asked {
			asked++
		}
	}
	if asked != 2 {
		t.Errorf("asked %d times, want twice", asked)
	}
}

// A line that was shown is not asked about, and terms that do not ask do not.
func TestReasonsAreOfEarnedLines(t *testing.T) {
	d, _ := asking(t, "davit-arm", 7, Guided)
	for range 6 {
		if _, err := d.Hint(); err != nil {
			t.Fatal(err)
		}
	}
	if _, ok := d.Asking(); ok || d.Current().Step == StepForces {
		t.Errorf("asks about lines that were shown, or is at %s", d.Current().Step)
	}
	s, err := New(d.Problem(), Guided)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := Sit(s, &tape{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	tell(t, plain, "A", grading.Right)
	if _, ok := plain.Asking(); ok || plain.Events()[0].Typed != "" {
		t.Error("asked though the terms do not say so")
	}
}

func TestReasonTerms(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Guided)
	if log.events[0].Typed != "reasons=true" || !termsIn(log.events[0]).Reasons {
		t.Errorf("the began event holds %q", log.events[0].Typed)
	}
	bad := TermsOf(Exam)
	bad.Reasons = true
	if _, err := Start(d.Problem(), bad); err == nil || !strings.Contains(err.Error(), "not in an exam") {
		t.Errorf("an exam that asks for reasons begins: %v", err)
	}
	if termsIn(Event{Mode: Exam, Typed: "reasons=true"}).Reasons {
		t.Error("a forged exam asks for reasons")
	}
	var at []int
	for n := range 10 {
		if AsksReasons(n) {
			at = append(at, n+1)
		}
	}
	if !slices.Equal(at, []int{3, 6, 9}) {
		t.Errorf("the problems that ask are %v", at)
	}
}

// A program that is killed anywhere goes on with the same question; also where
// the line was recorded and the question not yet.
func TestReasonKilledAndResumed(t *testing.T) {
	d, log := asking(t, "drum-on-slope", 7, Guided)
	tell(t, d, "A", grading.Right)
	_, other := d.numbers()
	tell(t, d, other, grading.Wrong)
	tell(t, d, "no idea", NotJudged)
	for _, line := range strings.Split(d.referenceForces(), "; ") {
		tell(t, d, line, grading.Right)
	}
	tell(t, d, "done", grading.Right)
	if _, ok := d.Asking(); !ok {
		t.Fatal("nothing is asked about the list")
	}
	tell(t, d, "pass", NotJudged)
	all := log.events
	var questions int
	for n := 1; n <= len(all); n++ {
		whole, err := Resume(d.Problem(), all[:n])
		if err != nil {
			t.Fatal(err)
		}
		rec := &tape{events: slices.Clone(all[:n])}
		again, err := Sit(whole, rec, slices.Clone(all[:n]))
		if err != nil {
			t.Fatal(err)
		}
		// What is due is recorded at once; it is what was recorded then.
		if extra := rec.events[n:]; len(extra) > 0 && (len(extra) > 1 || n == len(all) || !reflect.DeepEqual(extra[0], all[n])) {
			t.Fatalf("after %d events, %+v is added; then it was %+v", n, extra, all[n])
		}
		want, err := Resume(d.Problem(), rec.events)
		if err != nil {
			t.Fatal(err)
		}
		q, ok := again.Asking()
		w, wanted := want.Asking()
		if ok != wanted || !reflect.DeepEqual(q, w) {
			t.Fatalf("after %d events asks %+v, want %+v", n, q, w)
		}
		if ok {
			questions++
		}
		// The rest of the work gives the same end.
		for _, e := range all[len(rec.events):] {
			again.Session.Apply(e)
		}
		if _, still := again.Asking(); still || again.Current().key() != d.Current().key() {
			t.Fatalf("after %d events the end is at %v, want %v", n, again.Current().key(), d.Current().key())
		}
	}
	if questions < 3 {
		t.Errorf("killed %d times at a question; meant oftener", questions)
	}
}

// In practice reasons come after checking, also where that ends the problem;
// an exam never asks.
func TestReasonsInPractice(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Practice)
	for _, line := range []string{"A", "T at B toward C", "W at G down", "m g at B down", "H at A right", "V at A up", "done"} {
		tell(t, d, line, NotJudged)
		if _, ok := d.Asking(); ok {
			t.Fatal("asked before checking")
		}
	}
	r, err := d.Answer("check")
	if err != nil || r.Step != StepChecking {
		t.Fatalf("%+v, %v", r, err)
	}
	if q, ok := d.Asking(); !ok || q.Code != "pivot-drops" {
		t.Fatalf("after checking asks %+v, %v", q, ok)
	}
	truth, _ := d.numbers()
	tell(t, d, truth, grading.Right)
	if q, ok := d.Asking(); !ok || q.Code != "weight-at" {
		t.Fatalf("then asks %+v, %v", q, ok)
	}
	tell(t, d, "-T cos(alpha)", NotJudged) // in practice a line is not told by being right
	if e := log.events[len(log.events)-1]; e.Kind != Reasoned {
		t.Errorf("recorded %+v", e)
	}
}

// Work that is finished is recorded as finished, whatever is still asked.
func TestReasonsDoNotHoldTheEndUp(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Practice)
	for _, line := range strings.Split("A;T at B toward C;W at G down;m g at B down;H at A right;V at A up;done", ";") {
		tell(t, d, line, NotJudged)
	}
	for t0 := d.Current(); t0 != nil && !isClosing(t0.Step); t0 = d.Current() {
		line, err := d.line(t0)
		if err != nil {
			t.Fatal(err)
		}
		tell(t, d, line, NotJudged)
	}
	if _, err := d.Answer("check"); err != nil {
		t.Fatal(err)
	}
	finished := func() int {
		n := 0
		for _, e := range log.events {
			if e.Kind == Finished {
				n++
			}
		}
		return n
	}
	if _, ok := d.Asking(); !ok || !d.Finished() || finished() != 1 {
		t.Fatalf("finished %v, recorded %d times", d.Finished(), finished())
	}
	for range 3 {
		if _, ok := d.Asking(); ok {
			tell(t, d, "pass", NotJudged)
		}
	}
	if _, ok := d.Asking(); ok || finished() != 1 {
		t.Errorf("still asked, %v; recorded as finished %d times", ok, finished())
	}
	if _, r := d.Session.Answer("1"); r.Outcome != grading.Unreadable {
		t.Errorf("an answer to nothing is %s", r.Outcome)
	}
}

// A question of another edition opens nothing, and is not asked again.
func TestQuestionOfAnotherEdition(t *testing.T) {
	d, log := asking(t, "davit-arm", 7, Guided)
	tell(t, d, "A", grading.Right)
	for _, change := range []func(*Event){
		func(e *Event) { e.Cell = "pivot-drops T" },
		func(e *Event) { e.Cell = "why-not" },
		func(e *Event) { e.Typed = "drops unheard-of" },
		func(e *Event) { e.Typed = "signs turns" },
		func(e *Event) { e.Typed = "" },
		func(e *Event) { e.Typed = strings.Repeat("drops ", 30) },
		func(e *Event) { e.Body = "mast" },
	} {
		events := slices.Clone(log.events)
		change(&events[len(events)-1])
		s, err := Resume(d.Problem(), events)
		if err != nil {
			t.Fatal(err)
		}
		if q, ok := s.Asking(); ok {
			t.Errorf("%+v opens %+v", events[len(events)-1], q)
		}
	}
}
