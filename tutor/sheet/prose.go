package sheet

import (
	"html/template"
	"strings"
	"unicode"

	"steelyard/problems/notation"
)

// Prose is a text of the scenario with the symbols of its table typeset: "at
// an angle alpha to the arm". A, a and I are words of English too; they are
// taken for symbols only where no such word could stand.
func Prose(text string, table *notation.Table) template.HTML {
	runes := []rune(notation.Printable(strings.Join(strings.Fields(text), " ")))
	s := setter{text: runes}
	for s.at < len(runes) {
		r := runes[s.at]
		if !letter(r) && !digit(r) {
			s.plain(r)
			continue
		}
		begin := s.at
		if digit(r) { // the digits of 2R; not those of K1
			s.out.WriteString(s.while(len(runes), digit))
			continue
		}
		s.while(len(runes), func(r rune) bool {
			return letter(r) || digit(r) || r == '_' || unicode.IsLetter(r) || r == '’' || r == '\''
		})
		word := string(runes[begin:s.at])
		switch {
		case word == "sqrt" && s.closing(len(runes)) > 0:
			s.root(len(runes))
		case symbolWord(word, table) && s.standsFor(begin):
			s.out.WriteString(string(Math(word)))
		default:
			s.out.WriteString(template.HTMLEscapeString(word))
		}
	}
	return template.HTML(s.out.String())
}

func symbolWord(word string, table *notation.Table) bool {
	_, ok := table.Index(word)
	return ok
}

// plain sets a character between the words; a hyphen between spaces that
// stands between parts of a formula is a minus.
func (s *setter) plain(r rune) {
	if r == '^' && s.at > 0 && ends(s.text[:s.at]) && s.at+1 < len(s.text) && digit(s.text[s.at+1]) {
		s.at++
		s.power(len(s.text))
		return
	}
	if r == '-' && s.at > 1 && s.at+2 < len(s.text) && s.text[s.at-1] == ' ' && s.text[s.at+1] == ' ' &&
		ends(s.text[:s.at-1]) && begins(s.text[s.at+2:]) {
		r = '−'
	}
	s.out.WriteString(template.HTMLEscapeString(string(r)))
	s.at++
}

// ends reports whether a formula may end here: with a number, a bracket or a
// word of one letter.
func ends(before []rune) bool {
	n := len(before)
	if digit(before[n-1]) || before[n-1] == ')' {
		return true
	}
	return letter(before[n-1]) && (n == 1 || !letter(before[n-2]))
}

// begins reports whether a formula may go on here.
func begins(rest []rune) bool {
	if digit(rest[0]) || rest[0] == '(' {
		return true
	}
	return letter(rest[0]) && (len(rest) == 1 || !letter(rest[1]))
}

// standsFor reports whether the word read from begin is surely a symbol.
func (s *setter) standsFor(begin int) bool {
	switch string(s.text[begin:s.at]) {
	case "a", "A", "I":
	default:
		return true
	}
	if s.at == len(s.text) {
		return true
	}
	next := s.text[s.at]
	if next == ' ' && s.at+1 < len(s.text) {
		next = s.text[s.at+1]
		return strings.ContainsRune("=+*/^", next)
	}
	return !letter(next)
}
