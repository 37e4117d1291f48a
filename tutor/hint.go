package tutor

import (
	"fmt"
	"math"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// hints are the first two depths for a step, where no slip is at hand. {force}
// and the rest are filled as in the catalogue of slips.
var hints = map[Step][2]string{
	StepPivot: {
		"Which point do the most unknown forces pass through?",
		"A force through the pivot has no moment about it, so it drops out of the moment row.",
	},
	StepForces: {
		"Go round the body in your mind: what touches it, and what pulls on it from afar?",
		"Cut the body free. Each support cut, each cable cut, each thing standing on it, leaves a force; so does its own weight.",
	},
	StepX: {
		"How much of {force} lies along x, and does that part point with the axis or against it?",
		"The part along an axis is the force times the cosine of the angle between them; 0 if they are square to each other.",
	},
	StepY: {
		"How much of {force} lies along y, and does that part point with the axis or against it?",
		"The part along an axis is the force times the cosine of the angle between them; 0 if they are square to each other.",
	},
	StepMoment: {
		"How far from {pivot} does the line of {force} pass, and which way does {force} turn the body?",
		"Moment = force times the perpendicular distance from the pivot to its line of action, or x F_y - y F_x. {convention}",
	},
	StepEquation: {
		"Which entries stand in this column of the ledger?",
		"At rest, each column of the ledger adds to zero.",
	},
	StepValue: {
		"Which of your equations has this as its only unknown?",
		"Start with the row that has one unknown; put what it gives into the next.",
	},
	StepDoubt: {
		"Where have you not yet looked?",
		"A right answer balances the body about every point, and behaves sensibly at its limits.",
	},
}

// Hint makes the event of asking for the next deeper hint on the current
// task, and its text: a question, then the principle, then the line itself. A
// line that is shown is not earned. ok is false when there is nothing to hint
// at: every line is done, or this one is.
func (s *Session) Hint() (e Event, text string, ok bool) {
	t := s.Current()
	if t == nil || t.Done() || isClosing(t.Step) {
		return Event{}, "", false
	}
	depth := min(t.Hints+1, 3)
	e = s.event(Hinted, t)
	e.HintDepth = depth
	if depth == 3 {
		line, err := s.line(t)
		if err != nil {
			return Event{}, "", false
		}
		e.Typed = line
		return e, "The line: " + s.pretty(t, line), true
	}
	return e, s.hintText(t, depth), true
}

func (s *Session) hintText(t *Task, depth int) string {
	if depth == 1 {
		for _, code := range t.Last.Slips {
			if own, ok := s.problem.OwnSlip(code); ok {
				return own.Hint
			}
		}
	}
	if own, ok := s.problem.HintFor(t.Body, string(t.Step), t.Cell); ok {
		return []string{own.Ask, own.Recall}[depth-1]
	}
	entry := slip.Entry{Problem: s.problem.Scenario, Body: s.page.grader.Body(), Frame: s.page.grader.Frame(), Given: notation.Display(t.Cell, s.ASCII)}
	if t.IsCell() {
		if e, err := s.page.grader.Entry(statics.RowKind(t.Step), t.Cell); err == nil {
			entry = e
		}
		for _, code := range t.Last.Slips {
			if sl, ok := slip.Of(code); ok && sl.Edit != nil {
				return sl.Fill([]string{sl.Ask, sl.Recall}[depth-1], entry)
			}
		}
	}
	h := hints[t.Step]
	return (&slip.Slip{}).Fill(h[depth-1], entry)
}

// line is the right line for a task, as it could be typed.
func (s *Session) line(t *Task) (string, error) {
	switch {
	case t.Step == StepPivot:
		best, most := "", -1
		for _, a := range s.page.body.Advise() {
			if len(a.Vanish) > most {
				best, most = a.Point, len(a.Vanish)
			}
		}
		return best, nil
	case t.Step == StepForces:
		return s.referenceForces(), nil
	case t.IsCell():
		return s.page.grader.Line(statics.RowKind(t.Step), t.Cell, true)
	case t.Step == StepEquation:
		return s.page.grader.Row(statics.RowKind(t.Cell), true), nil
	case t.Step == StepValue:
		u, _ := s.problem.Unknown(t.Cell)
		v := s.problem.In(u.Index, u.Unit) * s.page.grader.Frame().Sense(u.Symbol)
		return strings.TrimSpace(problems.Figures(v, 4) + " " + u.Unit.Name), nil
	case t.Cell == DoubtCheck:
		for _, p := range s.page.body.Points {
			if p.Name != s.page.choice.Pivot && !p.Mark {
				return p.Name, nil
			}
		}
		return "", fmt.Errorf("no other point")
	}
	if i, ok := s.asked(t.Cell); ok {
		want, err := s.problem.Answer(i)
		if err != nil {
			want = 0
		}
		return s.problem.Asks[i].Answers[want].Text, nil
	}
	trend, err := s.problem.Trend()
	return string(trend), err
}

// pretty is a line of the reference as the screen shows it.
func (s *Session) pretty(t *Task, line string) string {
	if s.ASCII {
		return line
	}
	switch {
	case t.IsCell():
		if u, err := s.page.grader.Line(statics.RowKind(t.Step), t.Cell, false); err == nil {
			return u
		}
	case t.Step == StepEquation:
		return s.page.grader.Row(statics.RowKind(t.Cell), false)
	}
	return line
}

// referenceForces is the whole list of forces, as it could be typed.
func (s *Session) referenceForces() string {
	b := s.page.body
	var out []string
	for _, f := range b.Forces {
		if s.page.choice.Settled[f.Symbol] && s.page.choice.Reversed[f.Symbol] {
			f.Dir = f.Dir.Reversed() // as the learner took it on the other body
		}
		out = append(out, fmt.Sprintf("%s at %s %s", f.Symbol, f.At, s.way(f)))
	}
	for _, c := range b.Couples {
		sense := "anticlockwise"
		if c.Sense < 0 {
			sense = "clockwise"
		}
		out = append(out, c.Symbol+" "+sense)
	}
	return strings.Join(out, "; ")
}

// way says which way a force points: a word where it is level or upright, else
// the point that it acts toward or away from, else its angle.
func (s *Session) way(f statics.Force) string {
	words := map[[2]int]string{{1, 0}: "right", {-1, 0}: "left", {0, 1}: "up", {0, -1}: "down"}
	x, y := f.Dir.Components()
	cx, cy := x.Eval(s.problem.Values), y.Eval(s.problem.Values)
	round := func(v float64) int {
		switch {
		case v > 0.9999:
			return 1
		case v < -0.9999:
			return -1
		}
		return 0
	}
	if w, ok := words[[2]int{round(cx), round(cy)}]; ok {
		return w
	}
	for _, aim := range []struct {
		word string
		way  float64
	}{{"toward ", 1}, {"away from ", -1}} {
		if p, ok := s.onLine(f.At, aim.way*cx, aim.way*cy); ok {
			return aim.word + p
		}
	}
	deg := f.Dir.Radians(s.problem.Values) * 180 / math.Pi
	return "at " + problems.Figures(deg, 4) + " deg"
}

// onLine is the nearest point, of the body or marked about it, that a unit
// vector at a point aims at; false if there is none.
func (s *Session) onLine(at string, dx, dy float64) (name string, ok bool) {
	from, ok := s.page.body.Point(at)
	if !ok {
		return "", false
	}
	x, y := from.XY(s.problem.Values)
	nearest := math.Inf(1)
	for _, p := range s.page.body.Points {
		px, py := p.XY(s.problem.Values)
		along, aside := (px-x)*dx+(py-y)*dy, (py-y)*dx-(px-x)*dy
		if along > 1e-9 && math.Abs(aside) < 1e-9*along && along < nearest {
			name, nearest = p.Name, along
		}
	}
	return name, !math.IsInf(nearest, 1)
}
