package problems

import (
	"slices"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// OwnSlip is a mistake that a scenario knows beside those that every scenario
// has: one line, wrong, with what to say of it.
//
// The line is told with anticlockwise moments positive, level axes, and every
// force in the scenario's own sense.
type OwnSlip struct {
	Code    string
	Body    *statics.Body
	Row     statics.RowKind
	Cell    string        // the force or couple whose entry it is; "" for a whole equation
	Pivot   statics.Point // of a moment
	Line    string        // as the file has it
	Left    notation.Node // the entry, or the equation's left side
	Right   notation.Node // the equation's right side; nil of an entry
	Message string        // names the mistake and what to look at next
	Hint    string        // a question
}

// Uses reports whether the symbol of a table index occurs in the line.
func (o *OwnSlip) Uses(index int) bool {
	return slices.Contains(notation.Symbols(o.Left), index) || o.Right != nil && slices.Contains(notation.Symbols(o.Right), index)
}

// Value is what the line comes to at a state of the symbols; of an equation, its
// left side less its right.
func (o *OwnSlip) Value(values []float64) float64 {
	v := notation.Value(o.Left, values)
	if o.Right != nil {
		v -= notation.Value(o.Right, values)
	}
	return v
}

// OwnSlip finds a slip of the scenario's own by its code: the first, where the
// same mistake is known in several lines.
func (s *Scenario) OwnSlip(code string) (*OwnSlip, bool) {
	for i := range s.Slips {
		if s.Slips[i].Code == code {
			return &s.Slips[i], true
		}
	}
	return nil, false
}

// slipSteps are the steps that a line of a slip may be for.
var slipSteps = []string{"x", "y", "moment", "equation"}

// slip reads a slip of the scenario's own.
func (r *reader) slip(path string, f fileSlip) {
	before := len(r.faults)
	o := OwnSlip{Code: f.Code, Line: f.Line, Message: f.Message, Hint: f.Hint}
	if !idPattern().MatchString(f.Code) {
		r.fault(path+".code", 0, "a code is small letters, digits and single hyphens, like \"third-for-half\"")
	}
	r.sentence(path, "message", f.Message)
	r.sentence(path, "hint", f.Hint)
	body, ok := r.s.Body(f.Body)
	if !ok {
		r.fault(path+".body", 0, "no body %s", quote(f.Body))
		return
	}
	if len(body.Points) == 0 {
		return // which is a fault of its own
	}
	o.Body = body
	switch {
	case !slices.Contains(slipSteps, f.Step):
		r.fault(path+".step", 0, "%s is no step that a slip is a line of; steps are %s", quote(f.Step), strings.Join(slipSteps, ", "))
		return
	case f.Step == "equation":
		o.Row = statics.RowKind(f.Cell)
		if !slices.Contains(statics.Rows, o.Row) {
			r.fault(path+".cell", 0, "%s is no row; the cell of an equation is x, y or moment", quote(f.Cell))
		}
	default:
		o.Row, o.Cell = statics.RowKind(f.Step), f.Cell
		if !r.acts(body, f.Cell) {
			r.fault(path+".cell", 0, "no force %s on the %s; name the force or couple whose entry the line is", quote(f.Cell), body.Name)
		}
	}
	r.slipPivot(path, f, &o)
	if f.Step == "equation" {
		o.Left, o.Right = r.equation(path+".line", f.Line)
	} else {
		o.Left = r.expr(path+".line", f.Line)
	}
	if slices.ContainsFunc(r.s.Slips, func(p OwnSlip) bool {
		return p.Code == o.Code && p.Body == o.Body && p.Row == o.Row && p.Cell == o.Cell && p.Pivot.Name == o.Pivot.Name
	}) {
		r.fault(path+".code", 0, "the code %s is taken by another slip of the same line; give each its own", quote(f.Code))
	}
	if len(r.faults) == before {
		r.s.Slips = append(r.s.Slips, o)
	}
}

func (r *reader) acts(b *statics.Body, symbol string) bool {
	_, ok := b.Force(symbol)
	return ok || slices.ContainsFunc(b.Couples, func(c statics.Couple) bool { return c.Symbol == symbol })
}

// slipPivot reads the point that the moments of a slip's line are about.
func (r *reader) slipPivot(path string, f fileSlip, o *OwnSlip) {
	switch {
	case o.Row != statics.RowMoment && f.Pivot != "":
		r.fault(path+".pivot", 0, "a pivot is for moments alone; take it out")
	case o.Row != statics.RowMoment:
	case f.Pivot == "":
		r.fault(path, 0, "no pivot; say about which point the line takes moments: pivot = %s", quote(o.Body.Points[0].Name))
	default:
		p, err := r.s.Place(o.Body, f.Pivot)
		if err != nil {
			r.fault(path+".pivot", 0, "%s", notation.Printable(err.Error()))
			return
		}
		o.Pivot = p
	}
}

// equation reads a whole equation.
func (r *reader) equation(path, text string) (left, right notation.Node) {
	left, right, err := r.table.ParseEquation(text)
	if err != nil {
		r.unread(path, err, 0)
		return nil, nil
	}
	return left, right
}
