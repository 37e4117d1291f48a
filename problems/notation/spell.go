package notation

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// signs is how ASCII writes the signs of the notation and of the messages that
// are neither a Greek letter, a subscript, a superscript nor a fraction.
var signs = map[rune]string{
	'−': "-", '–': "-", '—': "-", '·': "*", '×': "*", '÷': "/", '√': "sqrt", '°': " deg", '…': "...",
	'≤': "<=", '≥': ">=", '’': "'", '‘': "'", '“': `"`, '”': `"`,
}

// bareGreek is a function with a Greek letter for its argument, which needs
// brackets once the letter is a word.
var bareGreek = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\b(sin|cos|tan) (\p{Greek})`)
})

// Spell writes text for a terminal without Unicode: Greek by name, the signs as
// they may be typed; a character that has no spelling is shown by its number.
func Spell(text string) string {
	if ascii(text) {
		return text
	}
	var b strings.Builder
	for _, r := range bareGreek().ReplaceAllString(text, "$1($2)") {
		b.WriteString(spelling(r))
	}
	return b.String()
}

func spelling(r rune) string {
	if r < 0x80 {
		return string(r)
	}
	if s, ok := signs[r]; ok {
		return s
	}
	if name, ok := greekName[r]; ok {
		return name
	}
	if c, ok := subscripts[r]; ok {
		return "_" + string(rune(c))
	}
	if c, ok := superscripts[r]; ok {
		return "^" + string(rune(c))
	}
	if f, ok := fractions[r]; ok {
		return strconv.Itoa(f[0]) + "/" + strconv.Itoa(f[1])
	}
	return fmt.Sprintf(`\u%04x`, r)
}

func ascii(text string) bool {
	for i := range len(text) {
		if text[i] >= 0x80 {
			return false
		}
	}
	return true
}
