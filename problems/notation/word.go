package notation

import (
	"strings"
	"unicode/utf8"
)

// angleWords are the angle units that may be written out after a value.
var angleWords = map[string]kind{
	"deg": degreeToken, "degree": degreeToken, "degrees": degreeToken,
	"rad": radianToken, "radian": radianToken, "radians": radianToken,
}

// piece is a part of a word that means something, ending at a byte of the text.
type piece struct {
	kind  kind
	index int // of the symbol or function; -1 for pi
	end   int
}

// word cuts a run of letters, digits and subscripts into symbols and
// functions, the longest first: TLsin is T, L, sin. If that leads nowhere, the
// longest that leads somewhere: with T, T_a and alpha, Talpha is T, alpha.
func (s *scanner) word() *Error {
	start, at := s.pos, s.col
	end := wordEnd(s.text, start)
	if done, err := s.angleWord(s.text[start:end]); done || err != nil {
		return err
	}
	var ok []bool
	s.pieces = s.pieces[:0]
	pos, col := start, at
	for pos < end {
		p := s.longest(pos, ok)
		if p.end == pos {
			if ok != nil {
				return s.unknown(start, pos, end, at)
			}
			if ok = s.splittable(start, end); ok == nil {
				return s.unknown(start, pos, end, at)
			}
			s.pieces = s.pieces[:0]
			pos, col = start, at
			continue
		}
		s.pieces = append(s.pieces, token{kind: p.kind, index: p.index, at: col, start: pos, end: p.end})
		if s.text[pos] < 0x80 && s.text[p.end-1] < 0x80 {
			col += p.end - pos
		} else {
			col += utf8.RuneCountInString(s.text[pos:p.end])
		}
		pos = p.end
		if p.kind == functionToken && pos < end && digit(s.text[pos]) {
			break // sin35: the rest is a number
		}
	}
	for _, t := range s.pieces {
		if err := s.keep(t); err != nil {
			return err
		}
	}
	s.pos, s.col = pos, col
	return nil
}

func wordEnd(text string, pos int) int {
	for pos < len(text) {
		if c := text[pos]; c < 0x80 {
			if !letter(c) && !digit(c) && c != '_' {
				break
			}
			pos++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[pos:])
		if !wordRune(r) {
			break
		}
		pos += size
	}
	return pos
}

// angleWord takes a word that is an angle unit, when it comes after a value.
// Written without a space before it, where its letters are all symbols, it
// could be their product, and is refused.
func (s *scanner) angleWord(word string) (bool, *Error) {
	k, ok := angleWords[word]
	if !ok || s.last() != numberToken && s.last() != closeToken {
		return false, nil
	}
	if s.tokens[len(s.tokens)-1].end == s.pos && s.splittable(s.pos, s.pos+len(word)) != nil {
		return false, &Error{s.col, quote(word) + " could be an angle unit or a product of symbols",
			"put a space before a unit, and between symbols"}
	}
	s.tokens = append(s.tokens, token{kind: k, at: s.col, start: s.pos, end: s.pos + len(word)})
	s.pos += len(word)
	s.col += len(word)
	return true, nil
}

// longest finds the longest piece at pos, among those that end where more can
// be read (ok nil: anywhere). Its end is pos if there is none.
func (s *scanner) longest(pos int, ok []bool) piece {
	index, end := s.table.longestSymbol(s.text, pos, ok)
	best := piece{symbolToken, index, end}
	rest := s.text[pos:]
	if c := rest[0]; c < 0x80 {
		for _, f := range functionsBy[c] {
			e := pos + len(f.text)
			if e > best.end && strings.HasPrefix(rest, f.text) && (ok == nil || ok[e] || e < len(s.text) && digit(s.text[e])) {
				best = piece{functionToken, f.row, e}
			}
		}
	}
	if e := matchName(s.text, pos, "pi"); e > best.end && !subscriptFollows(s.text, e) && (ok == nil || ok[e]) {
		best = piece{numberToken, -1, e}
	}
	return best
}

// splittable says, for every byte of the text, whether the word that ends at
// end can be read from there; nil if it cannot be read from start.
func (s *scanner) splittable(start, end int) []bool {
	ok := make([]bool, end+1)
	ok[end] = true
	for pos := end - 1; pos >= start; pos-- {
		if utf8.RuneStart(s.text[pos]) {
			ok[pos] = s.longest(pos, ok).end > pos
		}
	}
	if !ok[start] {
		return nil
	}
	return ok
}

// keep appends a piece to the tokens, unless it could be read two ways.
func (s *scanner) keep(t token) *Error {
	word := s.text[t.start:t.end]
	switch t.kind {
	case numberToken:
		t.number = newPi(t.at)
	case functionToken:
		if _, isSymbol := s.table.index["a"]; isSymbol && word[0] == 'a' && len(word) == len("asin") {
			return &Error{t.at, quote(word) + " could be a times " + word[1:] + ", or arc" + word[1:],
				"write a " + word[1:] + " with a space, or arc" + word[1:]}
		}
		if functions[t.index].takes && t.end < len(s.text) && s.text[t.end] == 'h' {
			return &Error{t.at, quote(word+"h") + " is not read",
				"write " + word + "(h) if the " + word + " of h is meant; there are no hyperbolic functions here"}
		}
	}
	s.tokens = append(s.tokens, t)
	return nil
}

// unknown says what cannot be read in the word from start to end, of which
// the part before pos can. The names tried, in this order, are the whole word,
// all that is left of it, and its part up to where reading could go on: the
// first that is nearly a name is reported, and otherwise the last.
func (s *scanner) unknown(start, pos, end, at int) *Error {
	stop := pos
	for stop < end {
		_, size := utf8.DecodeRuneInString(s.text[stop:])
		if stop += size; stop < end && s.longest(stop, nil).end > stop {
			break
		}
	}
	column := func(p int) int { return at + utf8.RuneCountInString(s.text[start:p]) }
	word := s.text[start:end]
	if s.last() == numberToken || s.last() == closeToken {
		if _, err := ParseUnit(word); err == nil {
			return &Error{at, quote(word) + " is a unit",
				"leave units out of a line; numbers here are in metres, newtons, kilograms and seconds"}
		}
	}
	if _, err := ParseUnit(word); err == nil && s.value {
		return &Error{at, quote(word) + " is a unit with no number before it", "write the number, then its unit"}
	}
	if p := s.text[pos:stop]; (p == "x" || p == "X") && len(s.tokens) > 0 && s.last() != operatorToken {
		return &Error{column(pos), "no symbol " + quote(p) + " here", "write * to multiply"}
	}
	call := strings.HasPrefix(strings.TrimLeft(s.text[end:], " "), "(")
	for _, begin := range []int{start, pos} {
		if name := s.text[begin:end]; call {
			if advice := nearFunction(name); advice != "" {
				return &Error{column(begin), "no function " + quote(name) + " here", advice}
			}
		}
	}
	for _, part := range [][2]int{{start, end}, {pos, end}, {pos, stop}} {
		name := s.text[part[0]:part[1]]
		if advice := s.table.near(name); advice != "" {
			return &Error{column(part[0]), "no symbol " + quote(name) + " here", advice}
		}
	}
	name := s.text[pos:stop]
	if call && utf8.RuneCountInString(s.text[pos:end]) > 1 {
		return &Error{column(pos), "no function " + quote(s.text[pos:end]) + " here", functionList}
	}
	return &Error{column(pos), "no symbol " + quote(name) + " here", s.table.list()}
}
