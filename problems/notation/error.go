package notation

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Error says why a text could not be read: where, for what reason, and what
// to write instead. Every part of it that quotes the text has been through
// [Printable], so an Error may be shown on a terminal as it is.
type Error struct {
	At         int    // 1-based column in characters; one past the last if something is missing at the end
	Reason     string // what is wrong, without a full stop
	Suggestion string // what to do about it; empty if nothing useful can be said
}

// Error gives place, reason and remedy as one sentence.
func (e *Error) Error() string {
	if e.Suggestion == "" {
		return fmt.Sprintf("column %d: %s", e.At, e.Reason)
	}
	return fmt.Sprintf("column %d: %s; %s", e.At, e.Reason, e.Suggestion)
}

// quotedMax caps what an Error quotes: enough to recognise, too little to
// push the reason off the line.
const quotedMax = 24

func quote(s string) string { return `"` + PrintableMax(s, quotedMax) + `"` }

// Printable returns s with every character that could act on a terminal, or
// hide in a line, replaced by a visible escape: controls as \x1b, bidirectional
// and zero-width characters, combining marks and unassigned code points as
// \u202e, bytes that are not UTF-8 as \xff. Printable text comes back
// unchanged, so applying it twice does no more than applying it once.
func Printable(s string) string {
	for _, r := range s {
		if r == utf8.RuneError || !visible(r) {
			return PrintableMax(s, len(s)*len(`\xff`))
		}
	}
	return s
}

// PrintableMax is [Printable] limited to max characters, the last three of
// which are "..." if anything was left out.
func PrintableMax(s string, max int) string {
	var b strings.Builder
	length := 0 // characters written
	cut := 0    // bytes of b that still leave room for the dots
	for len(s) > 0 {
		r, size := utf8.DecodeRuneInString(s)
		piece := s[:size]
		switch {
		case r == utf8.RuneError && size == 1:
			piece = fmt.Sprintf(`\x%02x`, s[0])
		case visible(r):
		case r < 0x80:
			piece = fmt.Sprintf(`\x%02x`, r)
		case r <= 0xffff:
			piece = fmt.Sprintf(`\u%04x`, r)
		default:
			piece = fmt.Sprintf(`\U%08x`, r)
		}
		length += utf8.RuneCountInString(piece)
		if length > max {
			return b.String()[:cut] + "..."[:min(3, max)]
		}
		b.WriteString(piece)
		if length <= max-3 {
			cut = b.Len()
		}
		s = s[size:]
	}
	return b.String()
}

// visible reports whether r takes up room and shows itself. unicode.IsPrint
// leaves out controls, formats, surrogates and every space but U+0020;
// combining marks and the letters that are drawn as blanks are added here.
func visible(r rune) bool {
	if r < 0x7f {
		return r >= 0x20
	}
	switch r {
	case '\u115f', '\u1160', '\u2800', '\u3164', '\uffa0': // Hangul fillers, blank Braille
		return false
	}
	return unicode.IsPrint(r) && !unicode.In(r, unicode.Mn, unicode.Me)
}
