package problems

import (
	"errors"
	"fmt"
	"math"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Axis is the angle, anticlockwise from level, of an x axis laid as the text
// says: "20", "alpha", "180 - alpha"; "" is level.
func (p *Problem) Axis(text string) (statics.Angle, error) {
	if text == "" {
		return statics.Angle{}, nil
	}
	n, err := p.Table.Parse(text)
	if err != nil {
		var at *notation.Error
		if errors.As(err, &at) {
			return statics.Angle{}, fmt.Errorf("the tilt of the x axis, \"%s\": %s", notation.PrintableMax(text, 40), at.Reason)
		}
		return statics.Angle{}, err
	}
	a, ok := statics.AngleFromNode(n)
	for _, t := range a.Terms {
		ok = ok && p.Table.IsAngle(t.Index)
	}
	if !ok || math.IsNaN(a.Degrees) || math.Abs(a.Degrees) > 360 {
		return statics.Angle{}, fmt.Errorf("the tilt of the x axis is an angle, like 20, alpha or 180 - alpha, not \"%s\"", notation.PrintableMax(text, 40))
	}
	return a, nil
}

// OwnAngle tells a number of degrees by one of the problem's own angles, if it
// is one, its negative, or either of these and quarter turns: whoever lays the
// axes along a slope of 20 degrees may well mean alpha.
func (p *Problem) OwnAngle(a statics.Angle) (statics.Angle, bool) {
	quarters := func(deg float64) (turns float64, ok bool) {
		turns = math.Round(deg / 90)
		return turns * 90, math.Abs(deg-turns*90) < 1e-9
	}
	if _, square := quarters(a.Degrees); square || len(a.Terms) > 0 {
		return a, false
	}
	for _, g := range p.Givens {
		if !p.Table.IsAngle(g.Index) {
			continue
		}
		for _, sign := range []float64{1, -1} {
			if rest, ok := quarters(a.Degrees - sign*p.Values[g.Index]*180/math.Pi); ok {
				return statics.Angle{Degrees: rest, Terms: []statics.AngleTerm{{Coef: sign, Index: g.Index, Name: g.Symbol}}}, true
			}
		}
	}
	return a, false
}
