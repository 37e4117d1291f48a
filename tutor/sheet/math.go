package sheet

import (
	"html/template"
	"strings"
	"unicode"

	"steelyard/problems/notation"
)

// upright are the words of a line that are no symbols.
var upright = map[string]string{
	"sin": "sin", "cos": "cos", "tan": "tan", "arcsin": "arcsin", "arccos": "arccos", "arctan": "arctan",
	"asin": "arcsin", "acos": "arccos", "atan": "arctan", "abs": "abs", "rad": "rad", "deg": "°",
}

// lowered and raised are the shifted digits, as plain ones.
var (
	lowered = shifted("₀₁₂₃₄₅₆₇₈₉")
	raised  = shifted("⁰¹²³⁴⁵⁶⁷⁸⁹")
)

func shifted(digits string) map[rune]rune {
	out := map[rune]rune{}
	for i, r := range []rune(digits) {
		out[r] = '0' + rune(i)
	}
	return out
}

// tight is the space between the factors of a product, where no line breaks.
const tight = "\u202f"

// Math typesets a line of the notation, in ASCII or as a textbook has it:
// symbols slanted with their subscripts lowered, Greek by letter, a proper
// minus, a bar over what is under a root. A line breaks only beside plus,
// minus, equals and the times sign. Everything is escaped.
func Math(line string) template.HTML {
	s := setter{text: []rune(notation.Printable(line))}
	s.run(len(s.text))
	return template.HTML(s.out.String())
}

// setter writes HTML from the runes of a line.
type setter struct {
	out  strings.Builder
	text []rune
	at   int
}

// run sets the line up to end.
func (s *setter) run(end int) {
	for s.at < end {
		switch r := s.text[s.at]; {
		case r == '√':
			s.at++
			s.root(end)
		case letter(r):
			s.word(end)
		case r == '^':
			s.at++
			s.power(end)
		case raised[r] != 0:
			s.out.WriteString("<sup>" + s.digits(raised, end) + "</sup>")
		case r == ' ':
			s.space(end)
		default:
			s.sign(r)
		}
	}
}

// sign writes one character that is no letter.
func (s *setter) sign(r rune) {
	switch r {
	case '-':
		r = '−'
	case '*':
		r = '·'
	}
	s.out.WriteString(template.HTMLEscapeString(string(r)))
	s.at++
}

func letter(r rune) bool {
	return r < 0x80 && unicode.IsLetter(r) || unicode.Is(unicode.Greek, r)
}

func digit(r rune) bool { return r >= '0' && r <= '9' }

// while reads on as long as the runes are of a kind.
func (s *setter) while(end int, is func(rune) bool) string {
	begin := s.at
	for s.at < end && is(s.text[s.at]) {
		s.at++
	}
	return string(s.text[begin:s.at])
}

// digits reads a run of shifted digits.
func (s *setter) digits(of map[rune]rune, end int) string {
	run := s.while(end, func(r rune) bool { return of[r] != 0 })
	return strings.Map(func(r rune) rune { return of[r] }, run)
}

// word sets a symbol, or the name of a function.
func (s *setter) word(end int) {
	name := s.while(end, letter)
	sub := ""
	if s.at+1 < end && s.text[s.at] == '_' && (letter(s.text[s.at+1]) || digit(s.text[s.at+1])) {
		s.at++
		sub = s.while(end, func(r rune) bool { return letter(r) || digit(r) })
	} else {
		sub = s.digits(lowered, end)
	}
	switch shown, ok := upright[name]; {
	case sub == "" && name == "sqrt":
		s.root(end)
		return
	case sub == "" && ok:
		s.out.WriteString(shown)
		s.unbracket(end)
		return
	}
	s.out.WriteString("<var>" + template.HTMLEscapeString(notation.Display(name, false)) + "</var>")
	if sub != "" {
		s.out.WriteString("<sub>" + template.HTMLEscapeString(sub) + "</sub>")
	}
}

// unbracket sets a function's argument without its bracket, where that is one
// word and nothing after it could be taken for more of it: 1/(2 sin α).
func (s *setter) unbracket(end int) {
	close := s.closing(end)
	if close <= s.at+1 || close+1 < end && !strings.ContainsRune(")", s.text[close+1]) &&
		!(s.text[close+1] == ' ' && close+2 < end && strings.ContainsRune("+−-=", s.text[close+2])) {
		return
	}
	for i, r := range s.text[s.at+1 : close] {
		if !letter(r) && (i == 0 || r != '_' && !digit(r) && lowered[r] == 0) {
			return
		}
	}
	s.at++
	s.out.WriteString(tight)
	s.run(close)
	s.at = close + 1
}

// root sets what a root is of, a bracket or the next word or number, under a
// bar.
func (s *setter) root(end int) {
	s.out.WriteString(`<span class="root">√<span class="bar">`)
	if close := s.closing(end); close > s.at {
		s.at++
		s.run(close)
		s.at = close + 1
	} else if s.at < end && letter(s.text[s.at]) {
		s.word(end)
	} else {
		s.out.WriteString(s.while(end, func(r rune) bool { return digit(r) || r == '.' }))
	}
	s.out.WriteString("</span></span>")
}

// power sets an exponent after ^: a bracket, a number or a symbol.
func (s *setter) power(end int) {
	s.out.WriteString("<sup>")
	if close := s.closing(end); close > s.at {
		s.at++
		s.run(close)
		s.at = close + 1
	} else if s.at < end && letter(s.text[s.at]) {
		s.word(end)
	} else {
		s.out.WriteString(s.while(end, func(r rune) bool { return digit(r) || r == '.' }))
	}
	s.out.WriteString("</sup>")
}

// closing is where the bracket that opens here closes; -1 if none opens here.
func (s *setter) closing(end int) int {
	depth := 0
	for i := s.at; i < end; i++ {
		switch s.text[i] {
		case '(':
			depth++
		case ')':
			depth--
		}
		if depth == 0 {
			if i == s.at {
				return -1
			}
			return i
		}
	}
	return -1
}

// breaking are the signs beside which a line may break.
const breaking = "+-−=×<>≤≥,;"

// space sets the space between two parts of a line.
func (s *setter) space(end int) {
	before, after := rune(' '), rune(' ')
	if s.at > 0 {
		before = s.text[s.at-1]
	}
	if s.at+1 < end {
		after = s.text[s.at+1]
	}
	if s.at++; string(s.text[s.at:min(s.at+3, end)]) == "deg" {
		return // 22 deg is 22°
	}
	if strings.ContainsRune(breaking, before) || strings.ContainsRune(breaking, after) {
		s.out.WriteByte(' ')
		return
	}
	s.out.WriteString(tight)
}
