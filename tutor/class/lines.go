package class

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// rightLine is the line that a task asks for: what the third hint would show.
// The hint is not taken.
func (v *visit) rightLine(t *tutor.Task) string {
	taken := t.Hints
	t.Hints = 2
	e, _, _ := v.desk.Session.Hint()
	t.Hints = taken
	return e.Typed
}

// styled is a right line as this learner might type it: as it is in a book,
// with times signs, or with the letters and dots of a symbol palette.
func (v *visit) styled(t *tutor.Task, line string) string {
	p := v.desk.Problem()
	switch {
	case t.IsCell():
		n, err := p.Table.Parse(line)
		if err != nil {
			return line
		}
		switch v.style {
		case 1:
			line = notation.ReadBack(n, true)
		case 2:
			line = notation.ReadBack(n, false)
		}
	case t.Step == tutor.StepValue && v.style == 1:
		return t.Cell + " = " + line
	}
	return line
}

// outcome is how a line would be graded. Nothing is recorded.
func (v *visit) outcome(line string) grading.Verdict {
	_, r := v.desk.Session.Answer(line)
	return r.Verdict
}

// plainly reports whether a line is graded wrong and none of the planted slips
// is named.
func (v *visit) plainly(line string) bool {
	o := v.outcome(line)
	return o.Outcome == grading.Wrong && !slices.ContainsFunc(o.Slips, v.class.plants)
}

// wants is the line that a planted misconception makes of a cell, or "" where
// it does not apply. A slip applies where what its edit writes is named by its
// code and no other.
func (v *visit) wants(p *Planted, t *tutor.Task) string {
	if !t.IsCell() {
		return ""
	}
	if p.Slip == "" {
		choice := v.desk.Choice()
		if v.desk.Problem().ID != p.Problem || string(t.Step) != p.Step || t.Cell != p.Cell || choice.Clockwise ||
			p.Pivot != "" && choice.Pivot != p.Pivot {
			return ""
		}
		return p.Forms[v.rng.IntN(len(p.Forms))]
	}
	for _, line := range v.slipped(t, p.Slip) {
		if o := v.outcome(line); o.Outcome == grading.Wrong && slices.Equal(o.Slips, []string{p.Slip}) {
			return v.styled(t, line)
		}
	}
	return ""
}

// slipped are the lines that a slip writes for a cell.
func (v *visit) slipped(t *tutor.Task, code string) []string {
	s, ok := slipOf(code)
	if !ok {
		return nil
	}
	e, err := v.desk.Grader().Entry(statics.RowKind(t.Step), t.Cell)
	if err != nil {
		return nil
	}
	var out []string
	for _, w := range s.Edit(e) {
		out = append(out, statics.ProductText(w.Size, w.Coef(), true, v.desk.Problem().Values))
	}
	return out
}

// mistaken is a wrong line of no planted kind for a task, or "" if none is
// found in a few tries.
func (v *visit) mistaken(t *tutor.Task, right string) string {
	write := map[tutor.Step]func(*tutor.Task, string) string{
		tutor.StepForces: v.wrongForces, tutor.StepValue: v.wrongValue, tutor.StepDoubt: v.wrongDoubt,
		tutor.StepX: v.wrongCell, tutor.StepY: v.wrongCell, tutor.StepMoment: v.wrongCell,
	}[t.Step]
	if write == nil {
		return ""
	}
	for range 6 {
		if line := write(t, right); line != "" && v.plainly(line) {
			return line
		}
	}
	return ""
}

// wrongCell is a plain slip in an entry: mostly one of the catalogue, else the
// right entry times a number that nobody would foresee.
func (v *visit) wrongCell(t *tutor.Task, right string) string {
	if right == "0" && v.rng.Float64() < 0.7 {
		return "" // few go wrong where there is nothing
	}
	if v.rng.Float64() < 0.25 {
		line := fmt.Sprintf("%.3f (%s)", 0.2+2.6*v.rng.Float64(), right)
		if right == "0" || len(v.outcome(line).Slips) > 0 {
			return ""
		}
		return line
	}
	all := v.class.edits()
	lines := v.slipped(t, all[v.rng.IntN(len(all))].Code)
	if len(lines) == 0 {
		return ""
	}
	line := lines[v.rng.IntN(len(lines))]
	if len(v.outcome(line).Slips) == 0 {
		return ""
	}
	return line
}

// turned are the ways a force may point, and their opposites.
var turned = strings.NewReplacer(" up", " down", " down", " up", " left", " right", " right", " left")

// wrongForces lists a force the wrong way round, or calls the list done too
// soon.
func (v *visit) wrongForces(_ *tutor.Task, right string) string {
	lines := strings.Split(right, "; ")
	listed := len(v.desk.Lines())
	if listed > 0 && listed < len(lines) && v.rng.Float64() < 0.5 {
		return "done"
	}
	if listed < len(lines) {
		return turned.Replace(lines[listed])
	}
	return ""
}

// wrongValue is a value gone wrong on the way: a sum that was not done right.
func (v *visit) wrongValue(_ *tutor.Task, right string) string {
	number, unit, _ := strings.Cut(right, " ")
	var x float64
	if _, err := fmt.Sscan(number, &x); err != nil {
		return ""
	}
	x *= math.Exp(v.rng.NormFloat64())
	return strings.TrimSpace(problems.Figures(x, 4) + " " + unit)
}

// wrongDoubt doubts the values where they came from, or picks another of the
// answers offered.
func (v *visit) wrongDoubt(t *tutor.Task, _ string) string {
	if n := len(v.desk.Choices(t)); n > 0 {
		return fmt.Sprint(1 + v.rng.IntN(n))
	}
	return v.desk.Choice().Pivot
}

// wholeRow is a row's equation as the sum of its entries, one of them wrong if
// that is asked.
func (v *visit) wholeRow(row tutor.Step, wrong bool) string {
	var terms []string
	for _, l := range v.desk.Listed() {
		term, err := v.desk.Grader().Line(statics.RowKind(row), l.Symbol, true)
		if err == nil && term != "0" {
			terms = append(terms, term)
		}
	}
	if len(terms) == 0 {
		return ""
	}
	if wrong {
		i := v.rng.IntN(len(terms))
		terms[i] = flipped(terms[i])
	}
	line := ""
	for _, term := range terms {
		line = statics.JoinTerms(line, term, true)
	}
	return line + " = 0"
}

// flipped is a term with the other sign.
func flipped(term string) string {
	if rest, ok := strings.CutPrefix(term, "-"); ok {
		return rest
	}
	return "-" + term
}

// garbled is a line as fingers that slip type it: it cannot be read.
func (v *visit) garbled(line string) string {
	for _, g := range []string{
		strings.Replace(line, "alpha", "alhpa", 1), strings.Replace(line, " ", " ( ", 1), line + " *", line + " ]",
	} {
		if g != line && v.outcome(g).Outcome == grading.Unreadable {
			return g
		}
	}
	return ""
}
