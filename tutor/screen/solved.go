package screen

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/problems"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// part is a stretch of the worked solution: the lines of one body, with the
// session as it is with that body in hand, or the lines that are of none.
type part struct {
	name    string // "" where the problem has but one body
	session *tutor.Session
	lines   []*tutor.Task
}

// solved is the worked solution in parts. The session at the desk stays as it
// is: a body is taken in hand in a copy of it, and nothing is recorded.
func solved(l *look, d *tutor.Desk) []part {
	if !several(d) {
		return []part{{"", d.Session, d.Tasks()}}
	}
	var parts []part
	for _, body := range d.Bodies() {
		s, err := tutor.Resume(d.Problem(), d.Events())
		if err != nil { // the desk's own events fold, or there would be no desk
			return []part{{"", d.Session, d.Tasks()}}
		}
		s.ASCII = d.ASCII
		if e, err := s.Turn(body); err == nil {
			s.Apply(e)
		}
		p := part{session: s, lines: s.Ledger()}
		p.name = sentence(body) + ": " + l.convention(s)
		if d.Progress(body).Stage == tutor.NotNeeded {
			p.name = sentence(body) + ": not needed, since the other bodies fix every unknown"
			p.lines = slices.DeleteFunc(p.lines, func(t *tutor.Task) bool { return t.Status == tutor.Covered })
		}
		parts = append(parts, p)
	}
	rest := slices.DeleteFunc(slices.Clone(d.Tasks()), func(t *tutor.Task) bool { return t.Body != "" })
	return append(parts, part{"Values, and doubting them", d.Session, rest})
}

// reference is the line a textbook has there; where any choice is right it says
// so.
func (p part) reference(t *tutor.Task) string {
	g, prob := p.session.Grader(), p.session.Problem()
	switch {
	case t.IsCell():
		line, _ := g.Line(statics.RowKind(t.Step), t.Cell, p.session.ASCII)
		return line
	case t.Step == tutor.StepEquation:
		return g.Row(statics.RowKind(t.Cell), p.session.ASCII)
	case t.Step == tutor.StepValue:
		u, ok := prob.Unknown(t.Cell)
		if !ok {
			return ""
		}
		return strings.TrimSpace(problems.Figures(prob.In(u.Index, u.Unit)*g.Frame().Sense(u.Symbol), 4) + " " + u.Unit.Name)
	case t.Step == tutor.StepPivot:
		return "any point"
	case t.Step == tutor.StepForces:
		return fmt.Sprintf("%d on the %s", len(g.Body().Forces)+len(g.Body().Couples), g.Body().Name)
	case t.Cell == tutor.DoubtCheck:
		return "any other point"
	case t.Cell == tutor.DoubtLimit:
		trend, err := prob.Trend()
		if err != nil {
			return ""
		}
		return string(trend)
	}
	return p.answer(t)
}

// answer is the answer to one of the scenario's own questions, and what decides
// it.
func (p part) answer(t *tutor.Task) string {
	prob := p.session.Problem()
	for i := range prob.Asks {
		if t.Cell != tutor.AskCell(i) {
			continue
		}
		at, err := prob.Answer(i)
		if err != nil {
			return ""
		}
		return prob.Asks[i].Answers[at].Text + ": " + prob.Because(i, at, p.session.ASCII)
	}
	return ""
}
