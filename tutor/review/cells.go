package review

import (
	"cmp"
	"slices"

	"steelyard/problems"
	"steelyard/tutor"
)

// steps are the lines of a problem in the order it is worked.
var steps = []tutor.Step{tutor.StepPivot, tutor.StepForces, tutor.StepX, tutor.StepY, tutor.StepMoment, tutor.StepEquation, tutor.StepValue, tutor.StepDoubt}

// problemSum is what the sessions at a scenario come to.
type problemSum struct {
	learners, sessions, finished map[uint32]bool // sessions by index
	minutes                      []float64       // of finished sessions
	cells                        map[uint32]*cellSum
}

type cellSum struct {
	CellReport
	met, first int
	minutes    []float64
	slips      map[string]int
}

// problems reports on each scenario and its lines.
func (c *class) problems() []ProblemReport {
	all := c.problemSums()
	var out []ProblemReport
	for problem, sum := range all {
		out = append(out, c.problemReport(problem, sum))
	}
	slices.SortFunc(out, func(a, b ProblemReport) int { return cmp.Compare(a.Problem, b.Problem) })
	return out
}

func (c *class) problemSums() map[uint32]*problemSum {
	all := map[uint32]*problemSum{}
	of := func(session uint32) *problemSum {
		problem := c.st.places.list[c.st.sessions[session].instance].problem
		sum := all[problem]
		if sum == nil {
			sum = &problemSum{learners: map[uint32]bool{}, sessions: map[uint32]bool{}, finished: map[uint32]bool{}, cells: map[uint32]*cellSum{}}
			all[problem] = sum
		}
		return sum
	}
	for i := range c.ends {
		e, session := &c.ends[i], uint32(i)
		sum := of(session)
		sum.sessions[session] = true
		sum.learners[c.st.sessions[i].learner] = true
		if e.finished {
			sum.finished[session] = true
			sum.minutes = append(sum.minutes, float64(e.seconds)/60)
		} else if isLine(tutor.Step(c.st.str(c.st.tasks.list[e.left].step))) {
			c.cell(sum, e.left).Left++
		}
	}
	for i := range c.mets {
		m := &c.mets[i]
		c.addMet(c.cell(of(m.session), m.task), m)
	}
	return all
}

func (c *class) cell(sum *problemSum, at uint32) *cellSum {
	k := sum.cells[at]
	if k == nil {
		t := c.st.tasks.list[at]
		k = &cellSum{slips: map[string]int{}}
		k.Body, k.Step, k.Cell = c.st.str(t.body), c.st.str(t.step), c.st.str(t.cell)
		sum.cells[at] = k
	}
	return k
}

func (c *class) addMet(k *cellSum, m *met) {
	k.Attempts += int(m.attempts)
	k.Wrong += int(m.wrong)
	k.Unread += int(m.unread)
	k.Hints += int(m.hints)
	if m.shown {
		k.Shown++
	}
	k.minutes = append(k.minutes, float64(m.seconds)/60)
	if m.attempts > 0 || m.shown {
		k.met++
		if m.first {
			k.first++
		}
	}
	for _, code := range c.st.codes(m.slips) {
		k.slips[code]++
	}
}

func (c *class) problemReport(problem uint32, sum *problemSum) ProblemReport {
	p := ProblemReport{Problem: c.st.str(problem), Learners: len(sum.learners), Sessions: len(sum.sessions),
		Finished: Wilson(len(sum.finished), len(sum.sessions)), MedianMinutes: median(sum.minutes), Cells: []CellReport{}}
	s := c.scenario(problem)
	if s != nil {
		p.Title = s.Title
	}
	met, first := 0, 0
	for _, k := range sum.cells {
		met, first = met+k.met, first+k.first
		p.Attempts += k.Attempts
		p.Hints += k.Hints
		k.RightFirst = Wilson(k.first, k.met)
		k.MedianMinutes = median(k.minutes)
		k.Slips = counts(k.slips, 5)
		p.Cells = append(p.Cells, k.CellReport)
	}
	p.RightFirst = Wilson(first, met)
	slices.SortFunc(p.Cells, func(a, b CellReport) int { return compareCells(s, a, b) })
	return p
}

// compareCells puts lines in the order they are worked: body by body, then the
// pivot, the forces, each force's entries, the equations, values and doubts.
func compareCells(s *problems.Scenario, a, b CellReport) int {
	place := func(c CellReport) [4]int {
		body, force := 99, 99
		step := slices.Index(steps, tutor.Step(c.Step))
		group := step
		if isCell(c.Step) {
			group = slices.Index(steps, tutor.StepX)
		}
		if s == nil {
			return [4]int{body, group, force, step}
		}
		for i := range s.Bodies {
			if s.Bodies[i].Name != c.Body {
				continue
			}
			body = i
			if f, ok := s.Bodies[i].Force(c.Cell); ok {
				force = f
			}
		}
		for i, u := range s.Unknowns {
			if c.Step == string(tutor.StepValue) && u.Symbol == c.Cell {
				force = i
			}
		}
		return [4]int{body, group, force, step}
	}
	x, y := place(a), place(b)
	return cmp.Or(slices.Compare(x[:], y[:]), cmp.Compare(a.Body, b.Body), cmp.Compare(a.Cell, b.Cell))
}

func isCell(step string) bool {
	return slices.Contains([]tutor.Step{tutor.StepX, tutor.StepY, tutor.StepMoment}, tutor.Step(step))
}
