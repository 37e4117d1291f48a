package problems

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/problems/notation"
)

// Ask is a question about the solved problem, answered by choice: does it
// hold, which comes first, which way does it turn. The solution decides.
type Ask struct {
	Question string
	Answers  []AskAnswer
}

// AskAnswer is one answer offered, and when it is the right one.
type AskAnswer struct {
	Text string
	When string // the inequality, as the scenario has it
	when requirement
}

// askMargin is how far the sides of an answer's inequality must be apart,
// relative to the larger: nearer, and rounding would decide.
const askMargin = 0.03

// Answer is which answer of question i the solution makes the right one, from
// 0. The error is that it makes none, more than one, or that it is too near to
// call.
func (p *Problem) Answer(i int) (int, error) {
	right := -1
	for k, a := range p.Asks[i].Answers {
		l, r := notation.Value(a.when.left, p.Values), notation.Value(a.when.right, p.Values)
		if !(math.Abs(l-r) >= askMargin*max(math.Abs(l), math.Abs(r))) || l == r {
			return -1, &PhysicsError{"", fmt.Sprintf("%s is too near to call here", a.When)}
		}
		if !a.when.holds(p.Values) {
			continue
		}
		if right >= 0 {
			return -1, &AskError{p.Asks[i].Question, fmt.Sprintf("both \"%s\" and \"%s\" hold", p.Asks[i].Answers[right].When, a.When)}
		}
		right = k
	}
	if right < 0 {
		return -1, &AskError{p.Asks[i].Question, "none of its answers holds"}
	}
	return right, nil
}

// Because says what decided question i for its answer k, with both sides worked
// out, in SI units: "f < mu N: 210 < 312".
func (p *Problem) Because(i, k int, ascii bool) string {
	q := p.Asks[i].Answers[k].when
	sign := ">"
	if q.less {
		sign = "<"
	}
	side := func(n notation.Node) string { return Figures(notation.Value(n, p.Values), 4) }
	return fmt.Sprintf("%s %s %s: %s %s %s.", notation.ReadBack(q.left, ascii), sign, notation.ReadBack(q.right, ascii), side(q.left), sign, side(q.right))
}

// AskError reports a question that a draw gives no one answer.
type AskError struct{ Question, Message string }

func (e *AskError) Error() string {
	return fmt.Sprintf("\"%s\": %s; exactly one must, in every draw", notation.PrintableMax(e.Question, 60), e.Message)
}

func (r *reader) ask(path string, f fileAsk) {
	r.sentence(path, "question", f.Question)
	if len(f.Answers) < 2 {
		r.fault(path, 0, "a question has two answers or more to choose from; add [[asks.answers]]")
	}
	ask := Ask{Question: f.Question}
	for i, a := range f.Answers {
		at := fmt.Sprintf("%s.answers.%d", path, i)
		r.sentence(at, "text", a.Text)
		if q, ok := r.inequality(at+".when", a.When); ok {
			ask.Answers = append(ask.Answers, AskAnswer{a.Text, q.text, q})
		}
	}
	r.s.Asks = append(r.s.Asks, ask)
}

// sentence checks a text that may not be missing.
func (r *reader) sentence(path, key, text string) {
	if strings.TrimSpace(text) == "" {
		r.fault(path, 0, "%s is missing; write %s = \"...\"", key, key)
	}
	if n := len(strings.Fields(text)); n > 60 {
		r.fault(path+"."+key, 0, "%s is %d words; keep it to 60", key, n)
	}
	r.printable(path+"."+key, text)
}

// hinted are the steps that a hint may be for.
var hinted = []string{"pivot", "forces", "x", "y", "moment", "equation", "value", "doubt"}

func (r *reader) hint(path string, f fileHint) {
	if !slices.Contains(hinted, f.Step) {
		r.fault(path+".step", 0, "%s is no step; steps are %s", quote(f.Step), strings.Join(hinted, ", "))
	}
	if _, ok := r.s.Body(f.Body); f.Body != "" && !ok {
		r.fault(path+".body", 0, "no body %s", quote(f.Body))
	}
	if _, symbol := r.table.Index(f.Cell); f.Cell != "" && !symbol && !slices.Contains([]string{"x", "y", "moment"}, f.Cell) {
		r.fault(path+".cell", 0, "%s is no symbol here, and no row (x, y, moment)", quote(f.Cell))
	}
	r.sentence(path, "ask", f.Ask)
	r.sentence(path, "recall", f.Recall)
	r.s.Hints = append(r.s.Hints, Hint(f))
}

// HintFor is the scenario's own hint for a line, the one for its cell before
// one for the step at large.
func (s *Scenario) HintFor(body, step, cell string) (Hint, bool) {
	for _, want := range []string{cell, ""} {
		for _, h := range s.Hints {
			if h.Step == step && h.Cell == want && (h.Body == "" || h.Body == body) {
				return h, true
			}
		}
	}
	return Hint{}, false
}
