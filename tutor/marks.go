package tutor

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"steelyard/grading"
)

// How an exam is marked. Each line of the paper has a weight; a verdict earns a
// share of it.

// weight is what a line of a step is worth.
type weight struct {
	step Step
	of   float64
	each bool   // for each force of the body
	tell string // for the learner
}

// weights are the steps that carry marks. The steps x, y and moment are worth
// the same whether a row is written entry by entry or as a whole equation.
var weights = []weight{
	{StepPivot, 1, false, "the pivot of a body: 1"},
	{StepForces, 1, true, "the list of forces: 1 for each force of the body; a line too many takes 1 off again, as far as there is any"},
	{StepX, 1, true, "an entry of the ledger: 1"},
	{StepY, 1, true, ""},
	{StepMoment, 1, true, ""},
	{StepEquation, 1, true, "a whole equation: as much as the entries it stands for"},
	{StepValue, 2, false, "a value: 2"},
	{StepDoubt, 1, false, "a question of doubt: 1"},
}

func weightOf(step Step) float64 {
	for _, w := range weights {
		if w.step == step {
			return w.of
		}
	}
	return 0
}

// Standing is what a line of a paper came to.
type Standing string

// The standings.
const (
	StandsRight   Standing = "right"
	StandsRemark  Standing = "right, with a remark"
	StandsFollows Standing = "follows from your own lines"
	StandsSlip    Standing = "one known slip"
	StandsWrong   Standing = "not right"
	StandsExtra   Standing = "not asked for"
	StandsEmpty   Standing = "not written"
)

// share is the part of a line's weight that a standing earns.
type share struct {
	standing Standing
	part     float64
	tell     string
}

var shares = []share{
	{StandsRight, 1, "A line that is right: all of it."},
	{StandsRemark, 1, "Right, with a remark: all of it."},
	{StandsFollows, 0.5, "Wrong, but following from your own lines: half. An entry follows if its only slip is the one made where that force was listed; a value, if your own equations, or one of them with the values you wrote before it, give it."},
	{StandsSlip, 0.5, "A whole equation that is wrong by one known slip: half."},
	{StandsWrong, 0, "Wrong otherwise, or not written: nothing."},
	{StandsExtra, 0, ""},
	{StandsEmpty, 0, ""},
}

func partOf(s Standing) float64 {
	for _, row := range shares {
		if row.standing == s {
			return row.part
		}
	}
	return 0
}

// standingOf is what a verdict comes to by itself.
func standingOf(v grading.Verdict) Standing {
	switch v.Outcome {
	case grading.Right:
		return StandsRight
	case grading.Remarked:
		return StandsRemark
	}
	return StandsWrong
}

// MarkRule says how an exam is marked, a line of text for each thing said.
func MarkRule() string {
	var out []string
	for _, w := range weights {
		if w.tell != "" {
			out = append(out, "Marks for "+w.tell+".")
		}
	}
	for _, s := range shares {
		if s.tell != "" {
			out = append(out, s.tell)
		}
	}
	return strings.Join(append(out,
		"A row in which no force has a part carries no marks. A body that the others make needless carries none either."), "\n")
}

// Mark is marks as they are written: to the hundredth.
func Mark(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

// Marks is so many marks of so many.
type Marks struct{ Got, Of float64 }

func (m Marks) String() string { return fmt.Sprintf("%s of %s", Mark(m.Got), Mark(m.Of)) }

// Add is the sum of marks.
func (m Marks) Add(o Marks) Marks { return Marks{m.Got + o.Got, m.Of + o.Of} }
