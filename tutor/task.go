package tutor

import (
	"fmt"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Step is what kind of line a task asks for.
type Step string

// The steps, in the order a problem is worked. StepX, StepY and StepMoment are
// the ledger's cells.
const (
	StepPivot    Step = "pivot"
	StepForces   Step = "forces"
	StepX        Step = "x"
	StepY        Step = "y"
	StepMoment   Step = "moment"
	StepEquation Step = "equation"
	StepValue    Step = "value"
	StepDoubt    Step = "doubt"

	// Choices that may be made at any time.
	StepPositive Step = "positive" // "ccw" or "cw"
	StepAxes     Step = "axes"     // tilt of the x axis in degrees
)

// The two questions of the doubt step.
const (
	DoubtCheck = "check" // moments about another point
	DoubtLimit = "limit" // the question of limits
)

// OfBody reports whether the step is a line of one body's ledger.
func (s Step) OfBody() bool {
	return s != StepValue && s != StepDoubt && s != StepClock && s != StepHelp && !isClosing(s)
}

// AskCell is the cell of the scenario's own question i, from 0.
func AskCell(i int) string { return fmt.Sprintf("ask%d", i+1) }

// asked is which of the scenario's own questions a doubt's cell is, from 0.
func (s *Session) asked(cell string) (int, bool) {
	for i := range s.problem.Asks {
		if AskCell(i) == cell {
			return i, true
		}
	}
	return 0, false
}

// Status is how far a task has come.
type Status int

// The states of a task.
const (
	Open    Status = iota
	Earned         // right, by the learner's own line
	Covered        // not asked: a whole equation stands for the cells, or the cells for the equation
	Shown          // the line was shown by a hint, so it is not earned
	Taken          // written, and not judged yet
)

// Task is one line that the problem asks for.
type Task struct {
	Body string // whose ledger it is a line of; empty for values and doubts
	Step Step
	Cell string // force, row, symbol or doubt question; empty for pivot and forces

	Status Status
	Typed  string // the line that earned it, that was shown, or that was taken
	Reads  string // what was understood of it
	Tries  int    // attempts made, wrong and right
	Hints  int    // depth of the deepest hint taken, 0 to 3
	Last   grading.Verdict

	turn int    // of the lines that were taken, which this is
	on   string // the body in hand when it was
}

// key tells tasks apart.
type key struct {
	Body string
	Step Step
	Cell string
}

func (t *Task) key() key { return key{t.Body, t.Step, t.Cell} }

// IsCell reports whether the task is an entry of the ledger.
func (t *Task) IsCell() bool {
	return t.Step == StepX || t.Step == StepY || t.Step == StepMoment
}

// FirstTime reports whether the task was earned at the first attempt, without
// a hint.
func (t *Task) FirstTime() bool { return t.Status == Earned && t.Tries == 1 && t.Hints == 0 }

// Done reports whether nothing more is asked of the task for now: a line that
// was taken may still turn out wrong.
func (t *Task) Done() bool { return t.Status != Open }

var cellSteps = []Step{StepX, StepY, StepMoment}

// Prompt asks for the task's line.
func (s *Session) Prompt(t *Task) string {
	name := notation.Display(t.Cell, s.ASCII)
	switch t.Step {
	case StepPivot:
		if len(s.pages) > 1 {
			return fmt.Sprintf("Choose a pivot for the %s: the point to take moments about.", s.page.body.Name)
		}
		return "Choose a pivot: the point to take moments about."
	case StepForces:
		return fmt.Sprintf("List the forces on the %s, one a line, like \"W at G down\"; then: done.", s.page.body.Name)
	case StepX:
		return fmt.Sprintf("Part of %s along x:", name)
	case StepY:
		return fmt.Sprintf("Part of %s along y:", name)
	case StepMoment:
		return fmt.Sprintf("Moment of %s about %s, %s positive:", name, s.place(s.page.choice.Pivot), s.positiveWord())
	case StepEquation:
		name := grading.RowName(statics.RowKind(t.Cell), s.page.grader.Frame())
		if len(s.pages) > 1 {
			name += " on the " + s.page.body.Name
		}
		return fmt.Sprintf("The whole equation for %s:", name)
	case StepValue:
		u, _ := s.problem.Unknown(t.Cell)
		if u.Unit.Name == "" {
			return fmt.Sprintf("Value of %s (%s):", name, u.Meaning)
		}
		return fmt.Sprintf("Value of %s (%s), with its unit:", name, u.Meaning)
	case StepDoubt:
		if i, ok := s.asked(t.Cell); ok {
			return s.problem.Asks[i].Question
		}
		if t.Cell == DoubtCheck {
			return "Doubt it. Name another point: your values go into the moments about it, and the sum must vanish."
		}
		return s.problem.Limit.Question
	case StepChecking, StepHandIn:
		return closing[s.mode].asks
	}
	return ""
}

// Choices are the answers offered, for a task that has them.
func (s *Session) Choices(t *Task) []string {
	var out []string
	for i, c := range s.options(t) {
		out = append(out, fmt.Sprintf("%d %s", i+1, c))
	}
	return out
}

// options are the answers to a question that has a choice of them.
func (s *Session) options(t *Task) []string {
	var out []string
	if i, ok := s.asked(t.Cell); ok && t.Step == StepDoubt {
		for _, a := range s.problem.Asks[i].Answers {
			out = append(out, a.Text)
		}
		return out
	}
	if t.Step == StepDoubt && t.Cell == DoubtLimit {
		for _, c := range problems.Trends {
			out = append(out, string(c))
		}
	}
	return out
}

// Title names the task in a few words.
func (s *Session) Title(t *Task) string {
	name := notation.Display(t.Cell, s.ASCII)
	switch t.Step {
	case StepPivot, StepForces:
		return string(t.Step)
	case StepX, StepY:
		return fmt.Sprintf("%s part of %s", t.Step, name)
	case StepMoment:
		return "moment of " + name
	case StepEquation:
		return fmt.Sprintf("%s equation", t.Cell)
	case StepValue:
		return "value of " + name
	case StepChecking, StepHandIn:
		return closing[s.mode].title
	}
	if i, ok := s.asked(t.Cell); ok {
		if len(s.problem.Asks) == 1 {
			return "doubt: a question"
		}
		return fmt.Sprintf("doubt: question %d", i+1)
	}
	return map[string]string{DoubtCheck: "doubt: another point", DoubtLimit: "doubt: a limit"}[t.Cell]
}

// place is a point's name with what it is.
func (s *Session) place(name string) string {
	b := s.page.body
	if p, ok := b.Point(name); ok && p.Meaning != "" {
		return fmt.Sprintf("%s (%s)", name, p.Meaning)
	}
	return name
}

func (s *Session) positiveWord() string {
	if s.page.choice.Clockwise {
		return "clockwise"
	}
	return "anticlockwise"
}
