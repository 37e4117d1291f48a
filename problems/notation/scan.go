package notation

import (
	"math"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// kind is the type of a token.
type kind uint8

const (
	endToken      kind = iota // the end of the text
	numberToken               // 3.2e3, ½
	symbolToken               // one of the table's
	functionToken             // a row of functions; √ too
	operatorToken             // + - * / ^
	raisedToken               // a run of superscripts
	openToken                 // ( [ {
	closeToken                // ) ] }
	equalsToken               // =
	degreeToken               // ° or deg after a value
	radianToken               // rad after a value
)

// token is a word of the notation: its type, its place and what it means.
type token struct {
	kind       kind
	op         byte // operator or bracket
	index      int  // of the symbol or function; the value of a raised token
	at         int  // column
	start, end int  // bytes of the text
	number     *Number
}

// scanner cuts a text into tokens.
type scanner struct {
	table  *Table
	text   string
	pos    int     // byte
	col    int     // column of pos
	value  bool    // a final value is read: digits may be grouped, and ≈ is =
	pieces []token // of the word being cut
	tokens []token
}

// scanners keeps the room for tokens from one line to the next: a line is read
// at every key, and its tokens are most of what reading it would allocate.
var scanners = sync.Pool{New: func() any { return new(scanner) }}

func newScanner(table *Table, text string, value bool) *scanner {
	s := scanners.Get().(*scanner)
	*s = scanner{table: table, text: text, value: value, pieces: s.pieces[:0], tokens: s.tokens[:0]}
	return s
}

// release gives the scanner back. Its tokens must not be used any more.
func (s *scanner) release() {
	clear(s.tokens)
	*s = scanner{pieces: s.pieces[:0], tokens: s.tokens[:0]}
	scanners.Put(s)
}

// scan cuts the text into tokens, the last of them an endToken. If it fails,
// the tokens before the failure are kept.
func (s *scanner) scan(maxBytes int) *Error {
	s.col = 1
	if len(s.text) > maxBytes {
		cut := maxBytes
		for cut > 0 && !utf8.RuneStart(s.text[cut]) {
			cut--
		}
		return &Error{utf8.RuneCountInString(s.text[:cut]) + 1,
			"the line is longer than " + strconv.Itoa(maxBytes) + " bytes", "shorten it"}
	}
	for s.pos < len(s.text) {
		if err := s.next(); err != nil {
			return err
		}
	}
	s.tokens = append(s.tokens, token{kind: endToken, at: s.col, start: s.pos, end: s.pos})
	return nil
}

// next reads one token, one word, or one blank.
func (s *scanner) next() *Error {
	c := s.text[s.pos]
	switch {
	case c == ' ':
		s.pos++
		s.col++
		return nil
	case letter(c):
		return s.word()
	case digit(c):
		return s.numberAt()
	case c == '.':
		if s.pos+1 < len(s.text) && digit(s.text[s.pos+1]) {
			return s.numberAt()
		}
		return &Error{s.col, `a "." belongs to a number`, "write 0.5 or .5; to multiply, write *"}
	case strings.IndexByte("([{", c) >= 0:
		return s.emit(openToken, c, 1)
	case strings.IndexByte(")]}", c) >= 0:
		return s.emit(closeToken, c, 1)
	case c == '=':
		return s.emit(equalsToken, c, 1)
	case c == '*' && strings.HasPrefix(s.text[s.pos:], "**"):
		s.emit(operatorToken, '^', 2)
		s.col++ // two characters
		return nil
	}
	r, size := utf8.DecodeRuneInString(s.text[s.pos:])
	if op, ok := operators[r]; ok {
		return s.emit(operatorToken, op, size)
	}
	if wordRune(r) {
		return s.word()
	}
	return s.rare(r, size)
}

// rare reads what seldom occurs, and refuses what cannot be read.
func (s *scanner) rare(r rune, size int) *Error {
	if _, ok := superscripts[r]; ok {
		return s.raised()
	}
	if _, ok := fractions[r]; ok {
		return s.numberAt()
	}
	switch {
	case blank(r):
		s.pos += size
		s.col++
		return nil
	case r == '√':
		s.emit(functionToken, 0, size)
		s.tokens[len(s.tokens)-1].index = squareRoot
		return nil
	case r == '°' || r == 'º': // the second is the ordinal mark many keyboards have instead
		return s.emit(degreeToken, 0, size)
	case r == '≈' && s.value:
		return s.emit(equalsToken, '=', size)
	}
	return s.refuse(r, size)
}

// refuse says why a character cannot be read.
func (s *scanner) refuse(r rune, size int) *Error {
	q := quote(s.text[s.pos : s.pos+size])
	if r == utf8.RuneError && size == 1 {
		return &Error{s.col, q + " is a stray byte, not text", "delete it and type the line again"}
	}
	if !visible(r) {
		return &Error{s.col, "there is an invisible character here, " + q, "delete it"}
	}
	if like, ok := latinFor(r); ok {
		return &Error{s.col, q + " is a " + like.script + " letter that only looks like " + string(like.latin),
			"type " + string(like.latin) + " on a Latin keyboard"}
	}
	if unicode.IsDigit(r) {
		return &Error{s.col, q + " is not one of the digits 0 to 9", "type numbers with 0 to 9"}
	}
	if advice, ok := strangers[r]; ok {
		return &Error{s.col, q + " cannot be read", advice}
	}
	if unicode.IsLetter(r) {
		return &Error{s.col, "no symbol " + q + " here", s.table.list()}
	}
	return &Error{s.col, q + " cannot be read", "write + - * / ^ and brackets"}
}

// strangers are characters of neighbouring notations: what to write instead.
var strangers = map[rune]string{
	',': "write decimals with a point; a function takes one value",
	';': "give one line at a time",
	':': "write / to divide",
	'|': "write abs(...) for the size of a value",
	'%': "write it as a decimal, 0.35 for 35 %",
	'<': "write = between the two sides", '>': "write = between the two sides",
	'≤': "write = between the two sides", '≥': "write = between the two sides",
	'≈': "write = between the two sides", '≠': "write = between the two sides",
	'\\': "write names without it: alpha, sqrt(...)",
	'$':  "write the line without it",
	'!':  "remove it", '?': "remove it", '"': "remove it",
	'\'': "tell symbols apart with a subscript, as in W_1",
	'′':  "tell symbols apart with a subscript, as in W_1",
	'~':  "remove it", '&': "remove it", '#': "remove it", '@': "remove it",
	'∞': "write the line for finite values",
}

func (s *scanner) emit(k kind, op byte, size int) *Error {
	s.tokens = append(s.tokens, token{kind: k, op: op, at: s.col, start: s.pos, end: s.pos + size})
	s.pos += size
	s.col++
	return nil
}

// last is the kind of the token before this place.
func (s *scanner) last() kind {
	if len(s.tokens) == 0 {
		return endToken
	}
	return s.tokens[len(s.tokens)-1].kind
}

// maxRaised bounds a superscript: more digits than this is a slip of the hand,
// and the value has to fit an int.
const maxRaised = 4

// raised reads a run of superscripts as one whole number.
func (s *scanner) raised() *Error {
	start, at := s.pos, s.col
	var digits []byte
	for s.pos < len(s.text) {
		r, size := utf8.DecodeRuneInString(s.text[s.pos:])
		c, ok := superscripts[r]
		if !ok {
			break
		}
		digits = append(digits, c)
		s.pos += size
		s.col++
	}
	q := quote(s.text[start:s.pos])
	n, err := strconv.Atoi(string(digits))
	if err != nil {
		return &Error{at, "the superscript " + q + " is not a whole number", "write the power with ^ and brackets"}
	}
	if len(digits) > maxRaised {
		return &Error{at, "the power " + q + " is too large", "check the superscript"}
	}
	s.tokens = append(s.tokens, token{kind: raisedToken, index: n, at: at, start: start, end: s.pos})
	return nil
}

// numberAt reads a number: digits, a point, an exponent; or digits and a
// typographic fraction, which together are a mixed number.
func (s *scanner) numberAt() *Error {
	text, start, at := s.text, s.pos, s.col
	pos := s.digits(start)
	decimals, exponent := 0, 0
	whole := pos > start
	if pos < len(text) && text[pos] == '.' {
		whole = false
		begin := pos + 1
		for pos++; pos < len(text) && digit(text[pos]); pos++ {
		}
		decimals = pos - begin
	}
	if e := exponentEnd(text, pos); e > pos {
		whole = false
		exponent, _ = strconv.Atoi(text[pos+1 : e]) // out of range is found below
		pos = e
	}
	s.pos, s.col = pos, at+utf8.RuneCountInString(text[start:pos])
	if err := s.numberEnd(start); err != nil {
		return err
	}
	n := &Number{column: column(at)}
	if r, size := utf8.DecodeRuneInString(text[pos:]); size > 1 && (whole || pos == start) {
		if f, ok := fractions[r]; ok {
			return s.fraction(n, start, pos+size, f)
		}
	}
	n.Text = ungroup(text[start:pos])
	value, err := strconv.ParseFloat(n.Text, 64)
	if err != nil || value == 0 && strings.ContainsAny(mantissa(n.Text), "123456789") {
		return &Error{at, "the number " + quote(n.Text) + " is out of range", "check its exponent"}
	}
	n.Value = value
	n.Exact = decimals == 0 && exponent >= 0
	if !n.Exact {
		n.Rounding = 0.5 * math.Pow(10, float64(exponent-decimals))
	}
	s.tokens = append(s.tokens, token{kind: numberToken, at: at, start: start, end: pos, number: n})
	return nil
}

// numberEnd refuses what may not touch a number: a decimal comma, a second point.
func (s *scanner) numberEnd(start int) *Error {
	rest := s.text[s.pos:]
	if len(rest) < 2 || !digit(rest[1]) {
		return nil
	}
	before := s.text[start:s.pos]
	switch {
	case rest[0] == ',':
		n := 1
		for n < len(rest) && digit(rest[n]) {
			n++
		}
		advice := "write " + PrintableMax(before+"."+rest[1:n], quotedMax) + " with a point"
		if strings.ContainsAny(before, ".eE") {
			advice = "give one value, with a point for its decimals"
		} else if n == 4 {
			advice += ", or " + PrintableMax(before+rest[1:n], quotedMax) + " without the comma"
		}
		return &Error{s.col, "a comma cannot be part of a number", advice}
	case rest[0] == '.':
		return &Error{s.col, "a number has only one point", "write it again, as in 3.2"}
	}
	return nil
}

// fraction finishes a number that ends in a typographic fraction.
func (s *scanner) fraction(n *Number, start, end int, f [2]int) *Error {
	whole := s.text[start:s.pos]
	count := 0
	if whole != "" {
		var err error
		if count, err = strconv.Atoi(ungroup(whole)); err != nil || count > 1e6 {
			return &Error{s.col, "the mixed number " + quote(s.text[start:end]) + " is out of range", "write it as a decimal"}
		}
	}
	n.fraction = [2]int{count*f[1] + f[0], f[1]}
	n.Value = float64(n.fraction[0]) / float64(n.fraction[1])
	n.Text = ungroup(s.text[start:end])
	n.Exact = true
	s.col++
	s.pos = end
	s.tokens = append(s.tokens, token{kind: numberToken, at: n.Column(), start: start, end: end, number: n})
	return nil
}

// digits returns where a run of digits that begins at pos ends. In a value, a
// space before every further three digits is part of the run: 1 560.
func (s *scanner) digits(pos int) int {
	start := pos
	for pos < len(s.text) && digit(s.text[pos]) {
		pos++
	}
	if !s.value || pos == start || pos-start > 3 {
		return pos
	}
	for {
		r, size := utf8.DecodeRuneInString(s.text[pos:])
		next := pos + size
		for next < len(s.text) && digit(s.text[next]) {
			next++
		}
		if !blank(r) || next-pos-size != 3 {
			return pos
		}
		pos = next
	}
}

// ungroup drops the spaces of 1 560.
func ungroup(s string) string {
	return strings.Map(func(r rune) rune {
		if blank(r) {
			return -1
		}
		return r
	}, s)
}

// exponentEnd returns where the exponent that begins at pos ends, and pos if
// none does: the e of 2e may be a symbol.
func exponentEnd(text string, pos int) int {
	if pos >= len(text) || text[pos] != 'e' && text[pos] != 'E' {
		return pos
	}
	i := pos + 1
	if i < len(text) && (text[i] == '+' || text[i] == '-') {
		i++
	}
	end := i
	for end < len(text) && digit(text[end]) {
		end++
	}
	if end == i {
		return pos
	}
	return end
}

// mantissa is a number's text without its exponent.
func mantissa(s string) string {
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		return s[:i]
	}
	return s
}
