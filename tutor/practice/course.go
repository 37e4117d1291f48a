package practice

import (
	"steelyard/problems"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// Course is the bank as practice sees it: the lines of each situation, and the
// skills that each line exercises. It is not changed once made.
type Course struct {
	Situations []*Situation // in the bank's order
	byID       map[string]int
}

// Situation is one scenario of the bank.
type Situation struct {
	ID, Title, Family string
	Level             int
	Lines             []Line // those that a learner who fills the ledger is asked for, about each body's first point
	Skills            Set    // that its lines exercise

	needs map[at]need
}

// Line is one line asked for, and the skills it exercises.
type Line struct {
	Body, Step, Cell string
	Pivot            string // about which moments are taken
	need
}

// need is what a line exercises.
type need struct {
	Needs Set
	Zero  bool // it is an entry that is zero, and to see that is all there is to it
}

// at is where a line stands. Pivot is what its entry depends on: for a moment
// the pivot, for a part along an axis that the axes are upright; "" where that
// is not known or does not matter.
type at struct{ body, step, cell, pivot string }

const upright = "axes upright"

// NewCourse digests a bank.
func NewCourse(b *problems.Bank) *Course {
	c := &Course{byID: map[string]int{}}
	for _, s := range b.Scenarios {
		c.byID[s.ID] = len(c.Situations)
		c.Situations = append(c.Situations, newSituation(s))
	}
	return c
}

// Situation finds one by id.
func (c *Course) Situation(id string) (*Situation, bool) {
	i, ok := c.byID[id]
	if !ok {
		return nil, false
	}
	return c.Situations[i], true
}

// The skills of the lines that are the same everywhere. Which ledger row a
// line is of, and which kind of force, adds to them.
var (
	ofPivot      = SetOf("pivot")
	ofForces     = SetOf("forces")
	ofComponents = SetOf("components")
	ofArm        = SetOf("arm")
	ofSign       = SetOf("sign")
	ofCouple     = SetOf("couple")
	ofEquation   = SetOf("equation")
	ofValue      = SetOf("equation", "value") // a sum of the column, then solved
	ofJoint      = SetOf("joint")
	ofTipping    = SetOf("tipping")
	ofAsks       = SetOf("tipping", "friction") // what a situation's own questions are about, where it has them
)

// ofKind is what a force of a kind asks for beside its geometry.
var ofKind = map[statics.ForceKind]Set{
	statics.Friction: SetOf("friction"),
	statics.Spread:   SetOf("load"),
	statics.Inertia:  SetOf("inertia"),
}

func newSituation(s *problems.Scenario) *Situation {
	o := &Situation{ID: s.ID, Title: s.Title, Family: s.Family, Level: s.Level, needs: map[at]need{}}
	var has Set
	for _, name := range s.Skills {
		has |= SetOf(name)
	}
	for i := range s.Bodies {
		o.ledger(&s.Bodies[i], has, shared(s))
	}
	add := func(step tutor.Step, cell string, needs Set) {
		o.needs[at{"", string(step), cell, ""}] = need{Needs: needs}
		o.Lines = append(o.Lines, Line{Step: string(step), Cell: cell, need: need{Needs: needs}})
	}
	for _, u := range s.Unknowns {
		add(tutor.StepValue, u.Symbol, ofValue)
	}
	if asked := has & ofAsks; asked != 0 {
		for i := range s.Asks {
			add(tutor.StepDoubt, tutor.AskCell(i), asked)
		}
	}
	for _, l := range o.Lines {
		o.Skills |= l.Needs
	}
	return o
}

// shared is the forces that act on more than one of the bodies, by symbol: those
// of a joint, and a rope that holds one body and lifts another.
func shared(s *problems.Scenario) map[string]bool {
	on, out := map[string]int{}, map[string]bool{}
	for _, b := range s.Bodies {
		for _, f := range b.Forces {
			if b.Whole() {
				continue
			}
			on[f.Symbol]++
			out[f.Symbol] = out[f.Symbol] || f.Joint != "" || on[f.Symbol] > 1
		}
	}
	return out
}

// ledger adds the lines of one body. An assembly of others is known, but not
// counted on: of three bodies two fix every unknown.
func (o *Situation) ledger(b *statics.Body, has Set, shared map[string]bool) {
	add := func(step tutor.Step, cell string, n need) {
		o.needs[at{b.Name, string(step), cell, ""}] = n
		if !b.Whole() && step != tutor.StepEquation {
			o.Lines = append(o.Lines, Line{b.Name, string(step), cell, b.Points[0].Name, n})
		}
	}
	list := ofForces | has&ofTipping // a support that has let go is left out of the list
	for _, f := range b.Forces {
		if shared[f.Symbol] {
			list |= ofJoint
		}
	}
	add(tutor.StepPivot, "", need{Needs: ofPivot})
	add(tutor.StepForces, "", need{Needs: list})
	rows := map[statics.RowKind]Set{}
	for i, f := range b.Forces {
		special := ofKind[f.Kind]
		if shared[f.Symbol] {
			special |= ofJoint
		}
		for _, row := range statics.Rows {
			var first need
			for n, p := range b.Points {
				here := entry(row, special, b.Cell(i, row, statics.Frame{Pivot: p}).Coef.IsZero())
				if n == 0 {
					first = here
				}
				if row != statics.RowMoment {
					o.needs[at{b.Name, string(row), f.Symbol, upright}] = here
					break
				}
				o.needs[at{b.Name, string(row), f.Symbol, p.Name}] = here
			}
			o.needs[at{b.Name, string(row), f.Symbol, ""}] = entry(row, special, false)
			rows[row] |= first.Needs
			if !b.Whole() {
				o.Lines = append(o.Lines, Line{b.Name, string(row), f.Symbol, b.Points[0].Name, first})
			}
		}
	}
	for _, c := range b.Couples {
		add(tutor.StepX, c.Symbol, need{ofCouple, true})
		add(tutor.StepY, c.Symbol, need{ofCouple, true})
		add(tutor.StepMoment, c.Symbol, need{Needs: ofCouple | ofSign})
		rows[statics.RowMoment] |= ofCouple | ofSign
	}
	for _, row := range statics.Rows {
		add(tutor.StepEquation, string(row), need{Needs: rows[row] | ofEquation})
	}
}

// entry is what one force's entry in a row exercises.
func entry(row statics.RowKind, special Set, zero bool) need {
	geometry := ofComponents
	if row == statics.RowMoment {
		geometry = ofArm
	}
	if zero {
		return need{geometry, true}
	}
	return need{Needs: geometry | ofSign | special}
}

// Needs is the skills that a line exercises, none for a line that is not known,
// and whether it is an entry that is zero. Moments depend on the pivot. With
// tilted axes an entry is taken not to be zero.
func (o *Situation) Needs(body, step, cell, pivot string, tilted bool) (needs Set, zero bool) {
	switch step {
	case string(tutor.StepMoment):
	case string(tutor.StepX), string(tutor.StepY):
		pivot = upright
		if tilted {
			pivot = ""
		}
	case string(tutor.StepValue), string(tutor.StepDoubt):
		body, pivot = "", ""
	default:
		pivot = ""
	}
	n, ok := o.needs[at{body, step, cell, pivot}]
	if !ok {
		n = o.needs[at{body, step, cell, ""}]
	}
	return n.Needs, n.Zero
}

// Minutes is how long the situation takes at a pace in seconds a line.
func (o *Situation) Minutes(pace float64) float64 {
	return float64(len(o.Lines)) * pace / 60
}
