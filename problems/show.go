package problems

import (
	"math"
	"strconv"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Shown is a problem with its solution, as other programs read it: metres,
// newtons, kilograms, degrees anticlockwise from +x. The size of a force is
// along its angle, so that anyone can check the sums.
type Shown struct {
	Problem  string         `json:"problem"`
	Seed     uint64         `json:"seed"`
	Title    string         `json:"title"`
	Givens   []ShownGiven   `json:"givens"`
	Unknowns []ShownUnknown `json:"unknowns"`
	Bodies   []ShownBody    `json:"bodies"`
	Solution []ShownValue   `json:"solution"`
	Rows     []ShownRow     `json:"rows"`
}

// ShownGiven is a symbol with its value.
type ShownGiven struct {
	Symbol  string  `json:"symbol"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Meaning string  `json:"meaning"`
}

// ShownUnknown is a symbol to find.
type ShownUnknown struct {
	Symbol  string `json:"symbol"`
	Unit    string `json:"unit"`
	Meaning string `json:"meaning"`
}

// ShownBody is one body with all that acts on it.
type ShownBody struct {
	Name    string        `json:"name"`
	Points  []ShownPoint  `json:"points"`
	Forces  []ShownForce  `json:"forces"`
	Couples []ShownCouple `json:"couples"`
}

// ShownPoint is where a point is, in metres.
type ShownPoint struct {
	Name string  `json:"name"`
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
}

// ShownForce is a force in newtons along an angle.
type ShownForce struct {
	Symbol    string  `json:"symbol"`
	At        string  `json:"at"`
	AngleDeg  float64 `json:"angle_deg"`
	Kind      string  `json:"kind"`
	Magnitude float64 `json:"magnitude"`
}

// ShownCouple is a couple in newton metres, anticlockwise positive.
type ShownCouple struct {
	Symbol string  `json:"symbol"`
	Moment float64 `json:"moment"`
}

// ShownValue is the value of an unknown.
type ShownValue struct {
	Symbol string  `json:"symbol"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
}

// ShownRow is one reference equation in symbols; pivot is empty for x and y.
type ShownRow struct {
	Body  string `json:"body"`
	Row   string `json:"row"`
	Pivot string `json:"pivot"`
	Text  string `json:"text"`
}

// standard are the units that values are shown in.
var standard = func() (out []notation.Unit) {
	for _, name := range []string{"", "m", "N", "kg", "deg", "N m", "N/m", "m/s^2", "s", "Pa"} {
		out = append(out, must(notation.ParseUnit(name)))
	}
	return out
}()

// standardUnit is the unit of u's kind that values are shown in.
func standardUnit(u notation.Unit) notation.Unit {
	for _, s := range standard {
		if notation.SameDim(s, u) {
			return s
		}
	}
	return u
}

// clean takes away the last digits, which rounding in the solution fills with
// dust: twelve significant ones are kept.
func clean(v float64) float64 {
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 11, 64), 64)
	return out
}

// Show is the problem with its solution: the rows along x and y, and the
// moment row about every point of each body.
func (p *Problem) Show() Shown {
	s := Shown{Problem: p.ID, Seed: p.Seed, Title: p.Title}
	for _, g := range p.Givens {
		u := standardUnit(g.Unit)
		s.Givens = append(s.Givens, ShownGiven{g.Symbol, clean(p.In(g.Index, u)), u.Name, g.Meaning})
	}
	for _, x := range p.Unknowns {
		u := standardUnit(x.Unit)
		s.Unknowns = append(s.Unknowns, ShownUnknown{x.Symbol, u.Name, x.Meaning})
		s.Solution = append(s.Solution, ShownValue{x.Symbol, clean(p.Values[x.Index] / u.Factor), u.Name})
	}
	for i := range p.Bodies {
		b := &p.Bodies[i]
		s.Bodies = append(s.Bodies, p.showBody(b))
		fr := statics.Frame{Pivot: b.Points[0]}
		for _, row := range []statics.RowKind{statics.RowX, statics.RowY} {
			s.Rows = append(s.Rows, ShownRow{b.Name, string(row), "", b.Row(row, fr).Text(false, p.Values)})
		}
		for _, pt := range b.Points {
			if !pt.Mark {
				fr.Pivot = pt
				s.Rows = append(s.Rows, ShownRow{b.Name, string(statics.RowMoment), pt.Name, b.Row(statics.RowMoment, fr).Text(false, p.Values)})
			}
		}
	}
	return s
}

func (p *Problem) showBody(b *statics.Body) ShownBody {
	out := ShownBody{Name: b.Name, Points: []ShownPoint{}, Forces: []ShownForce{}, Couples: []ShownCouple{}}
	for _, pt := range b.Points {
		if !pt.Mark {
			x, y := pt.XY(p.Values)
			out.Points = append(out.Points, ShownPoint{pt.Name, clean(x), clean(y)})
		}
	}
	for _, f := range b.Forces {
		deg := f.Dir.Radians(p.Values) * 180 / math.Pi
		out.Forces = append(out.Forces, ShownForce{f.Symbol, f.At, clean(deg), string(f.Kind), clean(f.Magnitude.Eval(p.Values))})
	}
	for _, c := range b.Couples {
		out.Couples = append(out.Couples, ShownCouple{c.Symbol, clean(c.Sense * c.Magnitude.Eval(p.Values))})
	}
	return out
}
