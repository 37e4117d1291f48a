package slip

import (
	"fmt"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Fill writes a template for an entry.
func (s *Slip) Fill(template string, e Entry) string {
	pairs := []string{
		"{force}", e.name(),
		"{what}", e.what(),
		"{at}", e.place(e.at()),
		"{pivot}", e.place(e.Frame.Pivot.Name),
		"{place}", e.place(e.Place),
		"{given}", e.Given,
		"{row}", e.axis(),
		"{size}", notationText(e.fullSize()),
		"{arm}", e.rightArm(),
		"{convention}", e.convention(),
		"{anchor}", e.anchor(),
	}
	if e.Row == statics.RowMoment {
		pairs = append(pairs, "{acts}", "turns the body about "+e.place(e.Frame.Pivot.Name), "{act}", "turn the body")
	} else {
		pairs = append(pairs, "{acts}", "points along "+e.axis(), "{act}", "point")
	}
	return strings.NewReplacer(pairs...).Replace(template)
}

func (e Entry) name() string {
	if e.Body == nil || e.Symbol() == "" {
		return e.Given
	}
	return notation.Display(e.Symbol(), false)
}

func (e Entry) what() string {
	if e.Couple != nil {
		return e.Couple.Meaning
	}
	return e.Force.Meaning
}

func (e Entry) at() string {
	if e.Couple != nil {
		return ""
	}
	return e.Force.At
}

// place names a point with what it is: "B (tip)".
func (e Entry) place(name string) string {
	if e.Body == nil || name == "" {
		return "another point"
	}
	if p, ok := e.Body.Point(name); ok && p.Meaning != "" {
		return fmt.Sprintf("%s (%s)", name, p.Meaning)
	}
	return name
}

func (e Entry) axis() string {
	switch e.Row {
	case statics.RowX:
		return "the x axis"
	case statics.RowY:
		return "the y axis"
	}
	return "moments about " + e.Frame.Pivot.Name
}

func (e Entry) fullSize() statics.Sum {
	if e.Couple != nil {
		return e.Couple.Magnitude
	}
	return e.Force.Magnitude
}

func notationText(s statics.Sum) string { return s.Text(false) }

// rightArm is the right coefficient, without its sign where it has one.
func (e Entry) rightArm() string {
	if e.Couple != nil {
		return "none: it is a couple"
	}
	if e.Body == nil {
		return ""
	}
	i, ok := e.Body.Force(e.Force.Symbol)
	if !ok {
		return ""
	}
	c := e.Body.Cell(i, e.Row, e.Frame).Coef
	if len(c) > 0 && c[0].Coef < 0 {
		c = c.Scale(-1)
	}
	return c.Text(false)
}

func (e Entry) convention() string {
	if e.Row != statics.RowMoment {
		return "Right and up are positive."
	}
	if e.Frame.Clockwise {
		return "Clockwise is positive here."
	}
	return "Anticlockwise is positive here."
}

// anchor is where to put a finger while looking at a sense.
func (e Entry) anchor() string {
	if e.Row == statics.RowMoment {
		return "the pivot " + e.place(e.Frame.Pivot.Name)
	}
	return e.place(e.at())
}

// Unknown is what to say of a wrong entry that no slip explains.
func Unknown(e Entry) string {
	name := e.name()
	switch {
	case e.Couple != nil && e.Row == statics.RowMoment:
		return fmt.Sprintf("Not yet. %s is a couple: its moment is itself, with the sign of its turning.", name)
	case e.Row == statics.RowMoment:
		return fmt.Sprintf("Not yet. Take %s at %s: how far from %s does its line pass, and which way does it turn?", name, e.place(e.at()), e.place(e.Frame.Pivot.Name))
	}
	return fmt.Sprintf("Not yet. Take %s at %s: how much of it lies along %s, and which way?", name, e.place(e.at()), e.axis())
}
