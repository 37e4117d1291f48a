package sheet

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// keyView is the worked key of one problem.
type keyView struct {
	Bodies  []bodyKey
	Values  []valueView
	Checks  []equationView // moments about another point, a body each
	Limit   *limitView
	Asks    []askView
	Slips   []slipView
	Answers []answerView // in short, for the table of variants
}

// bodyKey is one body, isolated and worked.
type bodyKey struct {
	Name      string // "" if there is only one
	Figure    template.HTML
	Forces    []forceView
	Pivot     string
	PivotFor  template.HTML // the reason
	Elsewhere []template.HTML
	Ledger    []ledgerRow
	Equations []equationView
}

// forceView is one force or couple of the free body.
type forceView struct {
	Symbol  template.HTML
	Meaning string
	At      string
	Sense   template.HTML
	Size    template.HTML
}

// ledgerRow is the entries of one force.
type ledgerRow struct {
	Symbol template.HTML
	At     string
	Cells  []cellView
}

// cellView is one entry: in symbols, in numbers, and what it comes to.
type cellView struct {
	Zero    bool
	Line    template.HTML
	Numbers template.HTML // "" where it says no more than Value
	Value   string
	Unit    string

	line, numbers string // as they may be read again
	value         float64
}

// equationView is one row: in symbols, with the givens' numbers, and with the
// value of every entry.
type equationView struct {
	Name    string
	Line    template.HTML
	Numbers template.HTML
	Values  template.HTML
}

// keyer works out the key of one problem.
type keyer struct {
	p    *problems.Problem
	nums *sampled
	rows []statics.Row // of every body, about its pivot
}

func keyOf(p *problems.Problem) (*keyView, error) {
	k := &keyer{p: p, nums: sample(p)}
	out := &keyView{}
	for i := range p.Bodies {
		b := &p.Bodies[i]
		out.Bodies = append(out.Bodies, k.body(b))
	}
	out.Values = k.values()
	out.Checks = k.checks()
	var err error
	if out.Limit, err = k.limit(); err != nil {
		return nil, err
	}
	if out.Asks, err = k.asks(); err != nil {
		return nil, err
	}
	out.Slips = k.slips()
	out.Answers = k.answers(out)
	return out, nil
}

func (k *keyer) body(b *statics.Body) bodyKey {
	pivot := bestPivot(b)
	out := bodyKey{Figure: freeBody(k.p, b, pivot.Name), Pivot: placeName(b, pivot.Name)}
	if len(k.p.Bodies) > 1 {
		out.Name = notation.Printable(b.Name)
	}
	for _, f := range b.Forces {
		out.Forces = append(out.Forces, forceView{
			Symbol: Math(f.Symbol), Meaning: notation.Printable(meaning(f)), At: placeName(b, f.At),
			Sense: k.sense(b, f), Size: k.size(f.Symbol, f.Magnitude, f.Unknown, "N"),
		})
	}
	for _, c := range b.Couples {
		sense := "anticlockwise"
		if c.Sense < 0 {
			sense = "clockwise"
		}
		out.Forces = append(out.Forces, forceView{
			Symbol: Math(c.Symbol), Meaning: notation.Printable(c.Meaning), At: "the body as a whole",
			Sense: template.HTML(sense), Size: k.size(c.Symbol, c.Magnitude, c.Unknown, "N m"),
		})
	}
	out.PivotFor, out.Elsewhere = pivotReasons(b, pivot)
	rows := b.Ledger(statics.Frame{Pivot: pivot})
	k.rows = append(k.rows, rows...)
	out.Ledger = k.ledger(b, rows)
	for _, r := range rows {
		out.Equations = append(out.Equations, k.equation(b, r))
	}
	return out
}

// meaning says what a force is, and on which other body it acts too.
func meaning(f statics.Force) string {
	if f.Joint == "" {
		return f.Meaning
	}
	return f.Meaning + "; equal and opposite on the " + f.Joint
}

// size is how large a force is, as far as the problem says: "M g = 274.7 N".
func (k *keyer) size(symbol string, magnitude statics.Sum, unknown bool, unit string) template.HTML {
	if unknown {
		return "unknown"
	}
	value := withUnit(number(magnitude.Eval(k.p.Values), 0), unit)
	if line := magnitude.Text(false); line != notation.Display(symbol, false) {
		return Math(line) + template.HTML(" = "+value)
	}
	return template.HTML(value)
}

// ledger is the table of entries, a row a force or couple.
func (k *keyer) ledger(b *statics.Body, rows []statics.Row) []ledgerRow {
	var out []ledgerRow
	for i, c := range rows[0].Cells {
		r := ledgerRow{Symbol: Math(c.Symbol)}
		if i < len(b.Forces) {
			r.At = b.Forces[i].At
		}
		for _, row := range rows {
			r.Cells = append(r.Cells, k.cell(row.Cells[i], row.Kind))
		}
		out = append(out, r)
	}
	return out
}

var rowUnits = map[statics.RowKind]string{statics.RowX: "N", statics.RowY: "N", statics.RowMoment: "N m"}

func (k *keyer) cell(c statics.Cell, kind statics.RowKind) cellView {
	if c.Coef.IsZero() {
		return cellView{Zero: true}
	}
	v := cellView{line: c.Text(false, k.p.Values), Unit: unitText(rowUnits[kind])}
	v.value = c.Coef.Eval(k.p.Values) * c.Magnitude.Eval(k.p.Values)
	v.Line, v.Value = Math(v.line), number(v.value, c.Coef.Size(k.p.Values)*c.Magnitude.Size(k.p.Values))
	if numbers, ok := k.nums.put(v.line, nil); ok && numbers != v.Value {
		v.numbers, v.Numbers = numbers, Math(numbers)
	}
	return v
}

// equation is a row in its three forms.
func (k *keyer) equation(b *statics.Body, r statics.Row) equationView {
	v := equationView{Name: rowTitle(b, r)}
	symbols, numbers, values := "", "", ""
	whole := true
	sum, largest := 0.0, 0.0
	for _, c := range r.Cells {
		if c.Coef.IsZero() {
			continue
		}
		line := c.Text(false, k.p.Values)
		symbols = statics.JoinTerms(symbols, line, false)
		n, ok := k.nums.put(line, k.unknown)
		whole = whole && ok
		numbers = statics.JoinTerms(numbers, n, false)
		x := c.Coef.Eval(k.p.Values) * c.Magnitude.Eval(k.p.Values)
		size := c.Coef.Size(k.p.Values) * c.Magnitude.Size(k.p.Values)
		values = statics.JoinTerms(values, number(x, size), false)
		sum, largest = sum+x, max(largest, size)
	}
	if symbols == "" {
		v.Line = "0 = 0: nothing acts this way"
		return v
	}
	v.Line = Math(symbols + " = 0")
	if whole && numbers != symbols {
		v.Numbers = Math(numbers + " = 0")
	}
	v.Values = Math(values + " = " + number(sum, largest))
	return v
}

// checks are the moments of every body about a point that is not its pivot.
func (k *keyer) checks() []equationView {
	var out []equationView
	for i := range k.p.Bodies {
		b := &k.p.Bodies[i]
		other, ok := otherPoint(b, bestPivot(b))
		if !ok {
			continue
		}
		e := k.equation(b, b.Row(statics.RowMoment, statics.Frame{Pivot: other}))
		if len(k.p.Bodies) > 1 {
			e.Name = notation.Printable(b.Name) + ": moments about " + placeName(b, other.Name)
		}
		out = append(out, e)
	}
	return out
}

// unknown reports whether a symbol is to be found, or follows from one that is.
func (k *keyer) unknown(index int) bool {
	for _, u := range k.p.Unknowns {
		if u.Index == index {
			return true
		}
	}
	return false
}

var rowTitles = map[statics.RowKind]string{statics.RowX: "Along x", statics.RowY: "Along y"}

func rowTitle(b *statics.Body, r statics.Row) string {
	if r.Kind == statics.RowMoment {
		return "Moments about " + placeName(b, r.Pivot)
	}
	return rowTitles[r.Kind]
}

// placeName names a point with what it is: "B (tip)".
func placeName(b *statics.Body, name string) string {
	if p, ok := b.Point(name); ok && p.Meaning != "" {
		name = fmt.Sprintf("%s (%s)", name, p.Meaning)
	}
	return notation.Printable(name)
}

// sense says which way a force points: in a word where it is level or upright,
// toward a point where it is told so, else by its angle to the level.
func (k *keyer) sense(b *statics.Body, f statics.Force) template.HTML {
	a := f.Dir.Radians(k.p.Values)
	x, y := math.Cos(a), math.Sin(a)
	const level = 1e-9
	var words []string
	switch {
	case y > level:
		words = append(words, "up")
	case y < -level:
		words = append(words, "down")
	}
	switch {
	case x > level:
		words = append(words, "to the right")
	case x < -level:
		words = append(words, "to the left")
	}
	text := template.HTML(strings.Join(words, " and "))
	if len(words) < 2 {
		return text
	}
	if f.Dir.Toward != "" {
		text += template.HTML(", " + k.toward(b, f) + " " + template.HTMLEscapeString(f.Dir.Toward))
	}
	off := math.Atan2(math.Abs(y), math.Abs(x)) * 180 / math.Pi
	return text + template.HTML(", "+withUnit(trimmed(off, figures), "deg")+" to the level")
}

// toward says whether a force that is told by a point points to it or from it.
func (k *keyer) toward(b *statics.Body, f statics.Force) string {
	at, _ := b.Point(f.At)
	aim, ok := b.Point(f.Dir.Toward)
	dx, dy := statics.Between(at, aim).XY()
	x, y := f.Dir.Components()
	if ok && dx.Eval(k.p.Values)*x.Eval(k.p.Values)+dy.Eval(k.p.Values)*y.Eval(k.p.Values) < 0 {
		return "away from"
	}
	return "toward"
}
