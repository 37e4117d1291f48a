package review

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"

	"steelyard/problems/notation"
)

// scanner reads one line of a log: a JSON object whose values are strings,
// numbers, or an array of strings. Nothing nests deeper, so a line of a million
// brackets costs no more than its second byte.
//
// Strings alias the line where they can.
type scanner struct {
	line []byte
	at   int
}

func (s *scanner) fail(format string, args ...any) error {
	return fmt.Errorf("column %d: %s", s.at+1, fmt.Sprintf(format, args...))
}

// space skips white space and gives the next byte, 0 at the end.
func (s *scanner) space() byte {
	for s.at < len(s.line) {
		switch c := s.line[s.at]; c {
		case ' ', '\t', '\r', '\n':
			s.at++
		default:
			return c
		}
	}
	return 0
}

// take expects the byte c.
func (s *scanner) take(c byte) error {
	if got := s.space(); got != c {
		return s.expected("a %q", string(c))
	}
	s.at++
	return nil
}

func (s *scanner) expected(what string, args ...any) error {
	if s.space() == 0 && s.at >= len(s.line) {
		return errors.New("the JSON object has no end; was the log cut short?")
	}
	_, size := utf8.DecodeRune(s.line[s.at:])
	return s.fail("%s is expected, not \"%s\"", fmt.Sprintf(what, args...), notation.PrintableMax(string(s.line[s.at:s.at+size]), 10))
}

// null takes a null, if one stands here.
func (s *scanner) null() bool {
	if s.space() == 'n' && bytes.HasPrefix(s.line[s.at:], []byte("null")) {
		s.at += len("null")
		return true
	}
	return false
}

// text reads a string.
func (s *scanner) text() ([]byte, error) {
	if err := s.take('"'); err != nil {
		return nil, err
	}
	start := s.at
	for plain := true; s.at < len(s.line); s.at++ {
		switch c := s.line[s.at]; {
		case c == '"':
			out := s.line[start:s.at]
			s.at++
			if plain || utf8.Valid(out) {
				return out, nil
			}
			return replaceInvalid(nil, out), nil
		case c == '\\':
			return s.escaped(start)
		case c < ' ':
			return nil, s.fail("a control character stands bare in a string")
		case c >= utf8.RuneSelf:
			plain = false
		}
	}
	return nil, errors.New("a string has no end; was the log cut short?")
}

// escaped reads the rest of a string that has an escape in it.
func (s *scanner) escaped(start int) ([]byte, error) {
	out := replaceInvalid(nil, s.line[start:s.at])
	for s.at < len(s.line) {
		c := s.line[s.at]
		switch {
		case c == '"':
			s.at++
			return out, nil
		case c < ' ':
			return nil, s.fail("a control character stands bare in a string")
		case c >= utf8.RuneSelf:
			r, size := utf8.DecodeRune(s.line[s.at:])
			out = utf8.AppendRune(out, r)
			s.at += size
		case c != '\\':
			out = append(out, c)
			s.at++
		default:
			r, err := s.escape()
			if err != nil {
				return nil, err
			}
			out = utf8.AppendRune(out, r)
		}
	}
	return nil, errors.New("a string has no end; was the log cut short?")
}

// escapes are the letters that stand for one character after a backslash.
var escapes = map[byte]rune{'"': '"', '\\': '\\', '/': '/', 'b': '\b', 'f': '\f', 'n': '\n', 'r': '\r', 't': '\t'}

// escape reads a backslash and what it escapes.
func (s *scanner) escape() (rune, error) {
	if s.at+1 < len(s.line) {
		if r, ok := escapes[s.line[s.at+1]]; ok {
			s.at += 2
			return r, nil
		}
	}
	r, ok := s.unit()
	if !ok {
		return 0, s.fail("a backslash escapes nothing that JSON knows")
	}
	s.at += 6
	if !utf16.IsSurrogate(r) {
		return r, nil
	}
	if low, ok := s.unit(); ok {
		if whole := utf16.DecodeRune(r, low); whole != utf8.RuneError {
			s.at += 6
			return whole, nil
		}
	}
	return utf8.RuneError, nil
}

// unit looks at the \uXXXX that stands here.
func (s *scanner) unit() (rune, bool) {
	if s.at+6 > len(s.line) || s.line[s.at] != '\\' || s.line[s.at+1] != 'u' {
		return 0, false
	}
	var r rune
	for _, c := range s.line[s.at+2 : s.at+6] {
		h, ok := hex(c)
		if !ok {
			return 0, false
		}
		r = r<<4 | rune(h)
	}
	return r, true
}

func hex(c byte) (byte, bool) {
	switch {
	case '0' <= c && c <= '9':
		return c - '0', true
	case 'a' <= c && c <= 'f':
		return c - 'a' + 10, true
	case 'A' <= c && c <= 'F':
		return c - 'A' + 10, true
	}
	return 0, false
}

// replaceInvalid appends text with each byte that is not UTF-8 as U+FFFD.
func replaceInvalid(dst, text []byte) []byte {
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		dst = utf8.AppendRune(dst, r)
		text = text[size:]
	}
	return dst
}

// number reads the text of a number, by the grammar of RFC 8259, section 6.
func (s *scanner) number() ([]byte, error) {
	c := s.space()
	if c != '-' && (c < '0' || c > '9') {
		return nil, s.expected("a number")
	}
	start := s.at
	if c == '-' {
		s.at++
	}
	whole := s.digits()
	ok := whole == 1 || whole > 1 && s.line[s.at-whole] != '0'
	if ok && s.at < len(s.line) && s.line[s.at] == '.' {
		s.at++
		ok = s.digits() > 0
	}
	if ok && s.at < len(s.line) && (s.line[s.at] == 'e' || s.line[s.at] == 'E') {
		s.at++
		if s.at < len(s.line) && (s.line[s.at] == '+' || s.line[s.at] == '-') {
			s.at++
		}
		ok = s.digits() > 0
	}
	if !ok {
		return nil, s.fail("this is no number as JSON writes it")
	}
	return s.line[start:s.at], nil
}

func (s *scanner) digits() int {
	start := s.at
	for s.at < len(s.line) && '0' <= s.line[s.at] && s.line[s.at] <= '9' {
		s.at++
	}
	return s.at - start
}

// whole reads a number without a fraction, of at most the bits given.
func (s *scanner) whole(bits int) (uint64, error) {
	text, err := s.number()
	if err != nil {
		return 0, err
	}
	n, err := strconv.ParseUint(string(text), 10, bits)
	if err != nil {
		return 0, s.fail("%s is no whole number from 0 up, or is too large", notation.PrintableMax(string(text), 24))
	}
	return n, nil
}

// list reads an array of strings.
func (s *scanner) list() ([][]byte, error) {
	if err := s.take('['); err != nil {
		return nil, err
	}
	var out [][]byte
	if s.space() == ']' {
		s.at++
		return nil, nil
	}
	for {
		text, err := s.text()
		if err != nil {
			return nil, err
		}
		out = append(out, text)
		if s.space() == ']' {
			s.at++
			return out, nil
		}
		if err := s.take(','); err != nil {
			return nil, err
		}
	}
}
