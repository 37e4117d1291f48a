package sheet

import (
	"math"
	"strconv"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// figures is how many significant figures a computed value is shown with.
const figures = 4

// dust is how small a value is, relative to what it was computed from, before
// it is rounding and nothing else.
const dust = 1e-9

// number writes a computed value, with a proper minus; what is dust beside
// scale is 0.
func number(v, scale float64) string {
	if math.Abs(v) <= dust*math.Abs(scale) {
		return "0"
	}
	return strings.Replace(problems.Figures(v, figures), "-", "−", 1)
}

// trimmed writes a value to so many figures, without the zeros that end it.
func trimmed(v float64, figures int) string {
	text := problems.Figures(v, figures)
	if strings.Contains(text, ".") && !strings.Contains(text, "e") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return strings.Replace(text, "-", "−", 1)
}

// fixed is the space between a number and its unit, where no line breaks.
const fixed = "\u00a0"

// withUnit puts a unit after a number: "1556 N", "22°".
func withUnit(number, unit string) string {
	switch unit {
	case "":
		return number
	case "deg":
		return number + "°"
	}
	return number + fixed + unitText(unit)
}

// unitText is a unit's name in print: "m/s²", "N m".
func unitText(name string) string {
	return strings.NewReplacer("^2", "²", "^3", "³", "deg", "°", " ", tight).Replace(name)
}

// given writes a given's value with the digits it has, up to six.
func given(v float64) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if len(strings.Trim(text, "-0.")) > 7 {
		text = problems.Figures(v, 6)
	}
	return strings.Replace(text, "-", "−", 1)
}

// sampled is a problem's symbols as the numbers that are put in for them: SI,
// angles in degrees, givens as given, computed values rounded.
type sampled struct {
	p     *problems.Problem
	given map[int]bool
}

func sample(p *problems.Problem) *sampled {
	s := &sampled{p: p, given: map[int]bool{}}
	for _, g := range p.Givens {
		s.given[g.Index] = true
	}
	return s
}

// text is the number for a symbol.
func (s *sampled) text(index int) string {
	v := s.p.Values[index]
	if s.p.Table.IsAngle(index) {
		v *= 180 / math.Pi
		v = math.Round(v*1e10) / 1e10 // 22.000000000000004
	}
	if s.given[index] {
		if r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64); err == nil {
			v = r // 35 cm in metres, without what the factor leaves
		}
		return given(v)
	}
	return number(v, 0)
}

// put writes a line with numbers in place of its symbols: "28 × 9.81 × 3 / 2".
// The symbols that stay says so of are kept. It is false if the line cannot be
// read, being longer than the notation takes.
func (s *sampled) put(line string, stays func(index int) bool) (string, bool) {
	n, err := s.p.Table.Parse(line)
	if err != nil {
		return "", false
	}
	return strings.ReplaceAll(notation.ReadBack(s.replace(n, stays), false), "·", "×"), true
}

func (s *sampled) replace(n notation.Node, stays func(int) bool) notation.Node {
	switch n := n.(type) {
	case *notation.Symbol:
		if stays != nil && stays(n.Index) {
			return n
		}
		return s.literal(n.Index)
	case *notation.Unary:
		return &notation.Unary{Operand: s.replace(n.Operand, stays)}
	case *notation.Binary:
		return &notation.Binary{Op: n.Op, Left: s.replace(n.Left, stays), Right: s.replace(n.Right, stays)}
	case *notation.Call:
		return &notation.Call{Func: n.Func, Arg: s.replace(n.Arg, stays)}
	case *notation.Angle:
		return &notation.Angle{Operand: s.replace(n.Operand, stays), Degrees: n.Degrees, Implied: n.Implied}
	}
	return n
}

// literal is the number for a symbol as a node.
func (s *sampled) literal(index int) notation.Node {
	text := strings.Replace(s.text(index), "−", "-", 1)
	v, _ := strconv.ParseFloat(text, 64)
	var n notation.Node = &notation.Number{Value: math.Abs(v), Text: strings.TrimPrefix(text, "-")}
	if s.p.Table.IsAngle(index) {
		n = &notation.Angle{Operand: n, Degrees: true}
	}
	if v < 0 {
		n = &notation.Unary{Operand: n}
	}
	return n
}
