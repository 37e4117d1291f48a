package tutor

import "steelyard/problems/figure"

// Sight is the figure as the learner's choices make it. Where lines are judged
// later it shows what the learner wrote and nothing that a verdict would tell:
// neither how a force ought to be listed, nor an arm, nor a value.
func (s *Session) Sight() figure.View {
	later := s.judgesLater()
	v := figure.View{
		Clockwise: s.page.choice.Clockwise,
		Tilt:      s.page.choice.Tilt,
		Unjudged:  later && !settled(s.Find(StepForces, "")),
		Learned:   map[string]bool{},
	}
	if s.PivotChosen() {
		v.Pivot = s.page.choice.Pivot
	}
	if len(s.pages) > 1 {
		v.Body = s.page.body.Name
	}
	for i, l := range s.page.list {
		f := figure.Listed{Symbol: l.Symbol, At: l.At, Reversed: l.Reversed}
		if v.Unjudged && i < len(s.page.lines) { // what comes after was put there unasked
			if said, ok := s.page.grader.Said(s.page.lines[i]); ok {
				f.Said = figure.Said(said)
			}
		}
		v.Forces = append(v.Forces, f)
	}
	for _, t := range s.Tasks() {
		if t.Step == StepValue && settled(t) {
			v.Learned[t.Cell] = true
		}
	}
	if t := s.Current(); t != nil && t.Step == StepMoment {
		v.Selected = t.Cell
		v.NoArm = later && !settled(t)
	}
	return v
}

// settled reports whether the learner has been told that a line is right, or been
// shown it.
func settled(t *Task) bool {
	return t != nil && (t.Status == Earned || t.Status == Shown)
}
