package screen

import (
	"strconv"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// statement tells a problem, at length or in short.
type statement struct {
	look    *look
	problem *problems.Problem
}

func (s statement) symbol(name string) string {
	return s.look.text(notation.Display(name, s.look.ascii))
}

// raised writes the powers in a unit.
var raised = strings.NewReplacer("^2", "²", "^3", "³")

func (s statement) given(g problems.Given) string {
	value := strconv.FormatFloat(s.problem.In(g.Index, g.Unit), 'g', 8, 64)
	unit := g.Unit.Name
	if !s.look.ascii {
		unit = raised.Replace(unit)
		if unit == "deg" {
			return s.symbol(g.Symbol) + " = " + value + "°"
		}
	}
	return s.symbol(g.Symbol) + " = " + s.look.text(strings.TrimSpace(value+" "+unit))
}

// Short is the statement, then the givens and the unknowns without what they
// mean.
func (s statement) Short(width int) []string {
	lines := wrap(s.look.text(s.problem.Statement), width)
	return append(lines, s.Symbols(width)...)
}

// Brief is Short in at most height lines: the statement is what gives way, and
// says so.
func (s statement) Brief(width, height int) []string {
	symbols := s.Symbols(width)
	told := wrap(s.look.text(s.problem.Statement), width)
	room := height - len(symbols)
	if room < 1 {
		return symbols[:min(len(symbols), max(height, 0))]
	}
	if len(told) > room {
		told = told[:room:room]
		told[room-1] = s.look.cut(told[room-1], width-2) + " " + s.look.marks.more
		told[room-1] = s.look.cut(told[room-1], width)
	}
	return append(told, symbols...)
}

// Symbols are the givens and the unknowns in a line or two.
func (s statement) Symbols(width int) []string {
	var given, defined, find []string
	for _, g := range s.problem.Givens {
		given = append(given, s.given(g))
	}
	for _, d := range s.problem.Defined {
		defined = append(defined, s.symbol(d.Symbol)+" = "+s.look.text(notation.ReadBack(d.Is, s.look.ascii)))
	}
	for _, u := range s.problem.Unknowns {
		find = append(find, s.symbol(u.Symbol))
	}
	lines := s.items("Given  ", given, width)
	lines = append(lines, s.items("With   ", defined, width)...)
	return append(lines, s.items("Find   ", find, width)...)
}

// items sets a name before things that are kept whole when lines break.
func (s statement) items(name string, things []string, width int) []string {
	var out []string
	line, used := "", 0
	for _, thing := range things {
		w := len([]rune(thing))
		if used > 0 && used+3+w > width-len(name) {
			out, line, used = append(out, line), "", 0
		}
		if used > 0 {
			line, used = line+"   ", used+3
		}
		line, used = line+thing, used+w
	}
	if used > 0 {
		out = append(out, line)
	}
	for i, l := range out {
		lead := s.look.paint(heading, name)
		if i > 0 {
			lead = strings.Repeat(" ", len(name))
		}
		out[i] = s.look.cut(lead+l, width)
	}
	return out
}

// Long is the statement with every symbol explained, and the caution.
func (s statement) Long(width int) []string {
	l := s.look
	lines := append(wrap(l.text(s.problem.Statement), width), "")
	row := func(left, meaning string) {
		if meaning == "" {
			lines = append(lines, "  "+left)
			return
		}
		parts := wrap(l.text(meaning), max(width-24, 10))
		for i, p := range parts {
			if i > 0 {
				left = ""
			}
			lines = append(lines, "  "+l.pad(left, 20)+"  "+l.paint(quiet, p))
		}
	}
	lines = append(lines, l.paint(heading, "Given"))
	for _, g := range s.problem.Givens {
		row(s.given(g), g.Meaning)
	}
	if len(s.problem.Defined) > 0 {
		lines = append(lines, l.paint(heading, "With"))
		for _, d := range s.problem.Defined {
			row(s.symbol(d.Symbol)+" = "+l.text(notation.ReadBack(d.Is, l.ascii)), d.Meaning)
		}
	}
	lines = append(lines, l.paint(heading, "Find"))
	for _, u := range s.problem.Unknowns {
		left := s.symbol(u.Symbol)
		if u.Unit.Name != "" {
			left += " in " + l.text(u.Unit.Name)
		}
		row(left, u.Meaning)
	}
	if s.problem.Caution != "" {
		lines = append(append(lines, ""), l.painted(shown, "Caution: "+l.text(s.problem.Caution), width)...)
	}
	return lines
}
