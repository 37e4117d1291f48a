package grading

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/statics"
)

// slips finds slips of the scenario's own whose line is right, in every draw or
// in one, and those that are said otherwise already.
func (l *look) slips() {
	for i := range l.s.Slips {
		o, path := &l.s.Slips[i], indexed("slips", i)
		if _, known := slip.Of(o.Code); known {
			l.find(path+".code", Fault, "slip", "the code %s is that of a slip that every scenario knows; give this one its own", o.Code)
		}
		for _, v := range shelfOf(l.s).states {
			if x := o.Value(v); math.IsNaN(x) || math.IsInf(x, 0) {
				l.find(path+".line", Fault, "slip", "the line has no value everywhere, as where something is divided by zero; mend it")
				break
			}
		}
		for k, p := range l.usable {
			if k < fewLooked {
				if !l.graded(o, path, p) {
					break
				}
			} else if l.rightIn(o, p) {
				l.rightWith(path, p)
				break
			}
		}
	}
}

// graded looks at how the line of a slip is graded in a draw, and reports
// whether another draw may tell more.
func (l *look) graded(o *problems.OwnSlip, path string, p *problems.Problem) bool {
	v, err := gradeOwn(o, p)
	switch {
	case err != nil:
		l.find(path+".line", Fault, "slip", "the line cannot be graded: %v; mend it", err)
	case v.Outcome == Unreadable:
		l.find(path+".line", Fault, "slip", "the line cannot be read as an answer: column %d: %s", max(v.At, 1), v.Message)
	case v.Outcome == Right:
		l.find(path+".line", Fault, "slip", "the line is right: it comes to %s whatever the numbers are; mend it, or take the slip out", rightOf(o))
	case v.Earned() || l.rightIn(o, p):
		l.rightWith(path, p)
	case len(v.Slips) > 0 && v.Slips[0] != o.Code:
		l.find(path+".line", Note, "slip", "the line is %s already, which is what a learner is told; this slip is never named", l.slipName(v.Slips[0]))
	case slices.Contains(v.Slips, o.Code):
		return true
	default:
		l.find(path+".line", Note, "slip", "the line is not named where it stands; see that it is told with level axes and anticlockwise moments")
	}
	return false
}

func (l *look) rightWith(path string, p *problems.Problem) {
	l.find(path+".line", Fault, "slip", "the line is right with %s; mend it, or keep such draws out with require", asGiven(p.Varying()))
}

func gradeOwn(o *problems.OwnSlip, p *problems.Problem) (Verdict, error) {
	g, err := New(p, Choice{Body: o.Body.Name, Pivot: o.Pivot.Name})
	if err != nil {
		return Verdict{}, err
	}
	if o.Cell == "" {
		return g.Equation(o.Row, o.Line)
	}
	return g.Cell(o.Row, o.Cell, o.Line)
}

// rightIn reports whether the givens of a draw make the line right, whatever the
// unknowns are.
func (l *look) rightIn(o *problems.OwnSlip, p *problems.Problem) bool {
	sh, fr := shelfOf(l.s), statics.Frame{Pivot: o.Pivot}
	rng := rand.New(rand.NewPCG(0x511b, 0x57a7e5))
	var states [][]float64
	for range 3 {
		v := slices.Clone(p.Values)
		p.Free(rng, v)
		states = append(states, v)
	}
	if o.Cell == "" {
		sheet := sh.sheet(o.Body, o.Row, fr)
		on, _ := sh.onRow(sheet.sum, states)
		return len(on) > 0 && !slices.ContainsFunc(on, func(v []float64) bool { return abs(o.Value(v)) > exact*abs(o.Value(p.Values))+exact*sheet.sum.Size(v) })
	}
	for i := range len(o.Body.Forces) + len(o.Body.Couples) {
		e := entryOf(l.s, o.Body, i, o.Row, fr)
		if e.Symbol() != o.Cell {
			continue
		}
		term := e.Term()
		return !slices.ContainsFunc(states, func(v []float64) bool { return !near(o.Value(v), term.Eval(v), abs(term.Eval(v)), exact) })
	}
	return false
}

func rightOf(o *problems.OwnSlip) string {
	if o.Cell == "" {
		return "what the row says"
	}
	return fmt.Sprintf("the entry of %s", o.Cell)
}

// slipName is a slip as a reader of the file knows it.
func (l *look) slipName(code string) string {
	if s, ok := slip.Of(code); ok {
		return fmt.Sprintf("\"%s\"", s.Name)
	}
	return fmt.Sprintf("the slip %s of this file", code)
}
