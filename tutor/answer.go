package tutor

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Reply is what the tutor says to a line.
type Reply struct {
	grading.Verdict
	Step Step   // what the line was taken for
	Cell string // likewise
	Note string // more to show, below the message
}

// Answer grades a typed line for the current task and makes its event. It
// changes nothing: record the event, then apply it.
//
// A learner who knows the way may type a whole equation where an entry is
// asked, or "T = 1.56 kN" anywhere: it is taken for what it is.
func (s *Session) Answer(text string) (Event, Reply) {
	if e, r, ok := s.reasonAnswer(text); ok {
		return e, r
	}
	switch {
	case s.over || s.Current() == nil:
	case s.judging:
		return s.judgement(text)
	case s.judgesLater():
		return s.took(text)
	case s.terms.Help == HelpWorked:
		return s.watched(text)
	}
	t := s.take(text)
	if t == nil || s.over {
		return s.event(Unread, nil), Reply{Verdict: grading.Verdict{Outcome: grading.Unreadable, Message: "Every line is done."}}
	}
	r := s.grade(t, text)
	return s.graded(t, text, r), r
}

// grade is the verdict on a line for a task of the body in hand; in a mode that
// judges later, of a list of forces only whether it can be read.
func (s *Session) grade(t *Task, text string) Reply {
	r := Reply{Step: t.Step, Cell: t.Cell}
	var err error
	switch {
	case strings.TrimSpace(text) == "":
		r.Verdict = grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: "Nothing was typed. Ask for a hint, or go to another line."}
	case t.Step == StepPivot:
		r.Verdict, _ = s.page.grader.Pivot(text)
	case t.Step == StepForces && !s.Judges():
		r.Verdict = s.listing(text)
	case t.Step == StepForces:
		r.Verdict, r.Note = s.forces(text)
	case t.IsCell() && s.judgesLater() && s.isForeign(t):
		r.Verdict, err = s.foreign(t, text)
	case t.IsCell():
		r.Verdict, err = s.page.grader.Cell(statics.RowKind(t.Step), t.Cell, text)
	case t.Step == StepEquation:
		r.Verdict, err = s.page.grader.Equation(statics.RowKind(t.Cell), text)
	case t.Step == StepValue:
		r.Verdict, err = s.page.grader.Value(t.Cell, text, nil)
	case t.Cell == DoubtCheck:
		r.Verdict, r.Note = s.doubt(text)
	case t.Cell != DoubtLimit:
		r.Verdict, r.Note = s.ask(t, text)
	default:
		r.Verdict = s.limit(text)
	}
	if err != nil {
		r.Verdict = grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: err.Error()}
	}
	return r
}

// graded is the event of a line that was given a verdict.
func (s *Session) graded(t *Task, text string, r Reply) Event {
	e := s.event(Answered, t)
	e.Typed, e.Verdict, e.Slip = clip(text), string(r.Outcome), r.Slips
	if r.Outcome == grading.Unreadable {
		e.Kind = Unread
	} else {
		e.Try = t.Tries + 1
	}
	return e
}

// clip keeps of a line what can be recorded.
func clip(text string) string {
	if len(text) > 4*notation.MaxBytes {
		return strings.ToValidUTF8(text[:4*notation.MaxBytes], "")
	}
	return text
}

const emptyList = "The list is still empty. A force is a symbol, a point and a way: \"W at G down\"."

// take decides which task a line is for.
func (s *Session) take(text string) *Task {
	t := s.Current()
	if !strings.Contains(text, "=") || t != nil && t.Step == StepValue {
		return t
	}
	if q, err := s.problem.Table.ParseValue(text); err == nil && q.Symbol != "" && len(notation.Symbols(q.Expr)) == 0 {
		if v := s.Find(StepValue, q.Symbol); v != nil && !v.Done() {
			return v
		}
	}
	if t == nil || !t.IsCell() && t.Step != StepForces && t.Step != StepPivot {
		return t
	}
	if eq := s.equationFor(t, text); eq != nil {
		return eq
	}
	return t
}

// equationFor is the open equation that a whole equation, typed where another
// line was asked, is for: the one it is right for, else that of the entry's own
// row, else any.
func (s *Session) equationFor(t *Task, text string) *Task {
	var open []*Task
	for _, row := range []Step{t.Step, StepMoment, StepX, StepY} {
		if eq := s.Find(StepEquation, string(row)); eq != nil && !eq.Done() {
			open = append(open, eq)
		}
	}
	for _, eq := range open {
		if v, err := s.page.grader.Equation(statics.RowKind(eq.Cell), text); err == nil && v.Earned() {
			return eq
		}
	}
	if len(open) == 0 {
		return nil
	}
	return open[0]
}

// forces grades lines added to the list, or the list as a whole when it is
// called done.
func (s *Session) forces(text string) (grading.Verdict, string) {
	if ListDone(text) {
		if len(s.page.lines) == 0 {
			return grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: emptyList}, ""
		}
		v, _ := s.page.grader.Forces(strings.Join(s.page.lines, "; "))
		if from, to, ok := s.page.body.TwoForce(); ok && v.Earned() {
			return v, fmt.Sprintf("Forces act on the %s at %s and %s only: a two-force member. The two are equal, opposite, and along %s%s.", s.page.body.Name, from, to, from, to)
		}
		return v, ""
	}
	var reads []string
	have := slices.Clone(s.page.list)
	for _, line := range ListLines(text) {
		v, l := s.page.grader.ForceLine(line)
		if !v.Earned() {
			return v, ""
		}
		if slices.ContainsFunc(have, func(o grading.Listed) bool { return o.Symbol == l.Symbol }) {
			return grading.Verdict{Outcome: grading.Unreadable, At: 1, ReadsAs: v.ReadsAs,
				Message: fmt.Sprintf("%s is in your list already. If that is all of them, say: done.", notation.Display(l.Symbol, s.ASCII))}, ""
		}
		have = append(have, l)
		reads = append(reads, v.ReadsAs)
	}
	return grading.Verdict{Outcome: grading.Right, ReadsAs: strings.Join(reads, "; ")}, "Another force, or: done."
}

// ListDone reports whether a line calls the list of forces whole.
func ListDone(text string) bool {
	switch strings.ToLower(strings.TrimSpace(strings.Trim(text, "; \n."))) {
	case "done", "that is all", "that's all", "all":
		return true
	}
	return false
}

// ListLines are the lines of a list of forces, however they are parted.
func ListLines(text string) []string {
	var out []string
	for _, l := range strings.FieldsFunc(text, func(c rune) bool { return c == ';' || c == '\n' }) {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// doubt puts the solution into the moments about another point.
func (s *Session) doubt(text string) (grading.Verdict, string) {
	v, p := s.page.grader.Pivot(text)
	if !v.Earned() {
		return v, ""
	}
	if p.Name == s.page.choice.Pivot {
		return grading.Verdict{Outcome: grading.Wrong, ReadsAs: v.ReadsAs,
			Message: "The values came from the moments about " + s.place(p.Name) + ", so they agree there by themselves. Doubt them at another point."}, ""
	}
	fr := s.page.grader.Frame()
	fr.Pivot, fr.Reversed = p, nil
	row := s.page.body.Row(statics.RowMoment, fr)
	line, sum, largest := "", 0.0, 0.0
	for _, c := range row.Cells {
		x := c.Coef.Eval(s.problem.Values) * c.Magnitude.Eval(s.problem.Values)
		sum, largest = sum+x, max(largest, math.Abs(x))
		if c.Coef.IsZero() {
			continue
		}
		term := problems.Figures(math.Abs(x), 4)
		if x < 0 {
			term = minusSign(s.ASCII) + term
		}
		line = statics.JoinTerms(line, term, s.ASCII)
	}
	if math.Abs(sum) < 1e-9*largest {
		sum = 0
	}
	note := fmt.Sprintf("Moments about %s: %s = %s N m", s.place(p.Name), line, problems.Figures(sum, 3))
	return grading.Verdict{Outcome: grading.Right, ReadsAs: v.ReadsAs, Message: "They vanish there too: the values balance the body about every point."}, note
}

func minusSign(ascii bool) string {
	if ascii {
		return "-"
	}
	return "−"
}

// pick is which of the answers offered is meant, by its number or its words; -1
// if none, or more than one.
func pick(text string, options []string) int {
	answer := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if n, err := strconv.Atoi(answer); err == nil && n >= 1 && n <= len(options) {
		return n - 1
	}
	at := -1
	for i, o := range options {
		o = strings.ToLower(o)
		if o == answer {
			return i
		}
		if len(answer) >= 4 && strings.HasPrefix(o, answer) {
			if at >= 0 {
				return -1
			}
			at = i
		}
	}
	return at
}

// noPick is said of an answer that is none of those offered.
func noPick(options []string) grading.Verdict {
	var n []string
	for i := range options {
		n = append(n, strconv.Itoa(i+1))
	}
	last := len(n) - 1
	return grading.Verdict{Outcome: grading.Unreadable, At: 1, Message: "Answer " + strings.Join(n[:last], ", ") + " or " + n[last] + "."}
}

// ask grades one of the scenario's own questions. What decided it is shown
// with a right answer.
func (s *Session) ask(t *Task, text string) (grading.Verdict, string) {
	options := s.options(t)
	at := pick(text, options)
	if at < 0 {
		return noPick(options), ""
	}
	i, _ := s.asked(t.Cell)
	reads := notation.Printable(options[at])
	want, err := s.problem.Answer(i)
	switch {
	case err != nil:
		return grading.Verdict{Outcome: grading.Remarked, ReadsAs: reads, Message: "These numbers do not decide it, so any answer is let pass."}, ""
	case at == want:
		return grading.Verdict{Outcome: grading.Right, ReadsAs: reads}, s.problem.Because(i, want, s.ASCII)
	}
	return grading.Verdict{Outcome: grading.Wrong, ReadsAs: reads, Message: "Compare what you found: which two values decide this, and which of them is the larger?"}, ""
}

// limit grades the question of limits: a number, or the words.
func (s *Session) limit(text string) grading.Verdict {
	var options []string
	for _, c := range problems.Trends {
		options = append(options, string(c))
	}
	at := pick(text, options)
	if at < 0 {
		return noPick(options)
	}
	chosen := problems.Trends[at]
	want, err := s.problem.Trend()
	switch {
	case err != nil:
		return grading.Verdict{Outcome: grading.Remarked, ReadsAs: string(chosen), Message: "Near that limit these numbers have no equilibrium, so any answer is let pass."}
	case chosen == want:
		return grading.Verdict{Outcome: grading.Right, ReadsAs: string(chosen)}
	}
	return grading.Verdict{Outcome: grading.Wrong, ReadsAs: string(chosen), Message: "Look at your own equation for it: which arm or component changes there, and does it stand above or below the line?"}
}

// Choose is the event of choosing a sign convention (StepPositive: "ccw", "cw")
// or the tilt of the axes (StepAxes: degrees), with what to say. An error says
// what may be chosen.
func (s *Session) Choose(step Step, value string) (Event, error) {
	value = strings.TrimSpace(value)
	switch step {
	case StepPositive:
		value = strings.ToLower(value)
		words := map[string]string{"cw": "cw", "clockwise": "cw", "ccw": "ccw", "anticlockwise": "ccw", "counterclockwise": "ccw"}
		v, ok := words[value]
		if !ok {
			return Event{}, fmt.Errorf("positive is clockwise or anticlockwise")
		}
		value = v
	case StepAxes:
		if _, err := s.problem.Axis(value); err != nil {
			return Event{}, err
		}
	}
	e := s.event(Answered, &Task{Step: step})
	e.Typed, e.Verdict = value, string(grading.Right)
	return e, nil
}

// Finish is the event of having done every task.
func (s *Session) Finish() Event { return s.event(Finished, nil) }
