package notation

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// MaxSymbols is how many symbols one problem may have.
const MaxSymbols = 64

// maxName bounds a symbol's canonical name, in bytes.
const maxName = 24

// Spec names one symbol of a problem. Name is canonical and in ASCII: letters
// (or a Greek letter's name), then perhaps an underscore and a subscript:
// "T", "W_1", "alpha", "N_w", "mu_min".
type Spec struct {
	Name  string
	Angle bool // its value is an angle
}

// Table holds the symbols that may be typed in one problem. It is immutable,
// and safe for use by several goroutines.
type Table struct {
	degrees bool
	symbols []symbol
	index   map[string]int
	first   [128][]int // symbols by the first letter of their ASCII name
	greek   map[string][]int
}

// symbol is a Spec taken apart.
type symbol struct {
	name, base, sub string
	angle           bool
}

// NewTable makes the table of a problem's symbols. Degrees says that the
// problem gives its angles in degrees, so that a bare number in a sine is in
// degrees too. It is an error if a name is malformed, means something already
// ("sin", "pi", "deg"), or would be typed like another ("Nw" and "N_w").
func NewTable(degrees bool, symbols ...Spec) (*Table, error) {
	if len(symbols) > MaxSymbols {
		return nil, fmt.Errorf("table of symbols: %d symbols; a problem may have at most %d", len(symbols), MaxSymbols)
	}
	t := &Table{degrees: degrees, index: map[string]int{}, greek: map[string][]int{}}
	typed := map[string]string{} // the name without its underscore -> the name
	for i, spec := range symbols {
		base, sub, err := splitName(spec.Name)
		if err != nil {
			return nil, err
		}
		if other, ok := typed[base+sub]; ok {
			return nil, fmt.Errorf("symbol %q is typed like %q, which is there already: rename one of them", spec.Name, other)
		}
		typed[base+sub] = spec.Name
		t.index[spec.Name] = i
		t.symbols = append(t.symbols, symbol{spec.Name, base, sub, spec.Angle})
		t.first[base[0]] = append(t.first[base[0]], i)
		if _, ok := greekLetter[base]; ok {
			t.greek[base] = append(t.greek[base], i)
		}
	}
	return t, nil
}

// splitName checks a canonical name and cuts it at its underscore.
func splitName(name string) (base, sub string, err error) {
	bad := func(why string) (string, string, error) {
		return "", "", fmt.Errorf("symbol %s %s: use letters, then perhaps _ and a subscript, as in W_1", quote(name), why)
	}
	base, sub, hasSub := strings.Cut(name, "_")
	switch {
	case name == "":
		return bad("has no name")
	case len(name) > maxName:
		return bad(fmt.Sprintf("is longer than %d characters", maxName))
	case base == "":
		return bad("has nothing before its underscore")
	case hasSub && sub == "":
		return bad("has nothing after its underscore")
	}
	for i := range len(base) {
		if !letter(base[i]) {
			return bad("has a character other than a letter before any underscore")
		}
	}
	for i := range len(sub) {
		if !letter(sub[i]) && !digit(sub[i]) {
			return bad("has a character other than letters and digits in its subscript")
		}
	}
	if meaning, ok := reserved(base + sub); ok {
		return bad("already means " + meaning)
	}
	return base, sub, nil
}

// reserved says what a word means in every problem, whatever its symbols.
func reserved(word string) (string, bool) {
	if word == "pi" {
		return "the number pi", true
	}
	if _, ok := angleWords[word]; ok {
		return "an angle unit", true
	}
	for _, f := range functions {
		for _, s := range f.spellings {
			if s == word {
				return "the function " + f.name, true
			}
		}
	}
	return "", false
}

// Len is the number of symbols.
func (t *Table) Len() int { return len(t.symbols) }

// Index finds a symbol by its canonical name.
func (t *Table) Index(name string) (int, bool) {
	i, ok := t.index[name]
	return i, ok
}

// Name is the canonical name of symbol i.
func (t *Table) Name(i int) string { return t.symbols[i].name }

// IsAngle reports whether symbol i is an angle.
func (t *Table) IsAngle(i int) bool { return t.symbols[i].angle }

// Degrees reports whether a bare number in a sine is in degrees.
func (t *Table) Degrees() bool { return t.degrees }

// longestSymbol finds the symbol with the longest spelling that begins at pos,
// among those that end where more can be read (ok nil: anywhere). The end of a
// spelling is never between a letter and a digit or subscript of the same
// name: "T2" is not T times 2.
func (t *Table) longestSymbol(text string, pos int, ok []bool) (index, end int) {
	var candidates []int
	if c := text[pos]; c < 0x80 {
		candidates = t.first[c]
	} else {
		r, _ := utf8.DecodeRuneInString(text[pos:])
		candidates = t.greek[greekName[r]]
	}
	index, end = -1, pos
	for _, i := range candidates {
		e := t.symbols[i].match(text, pos)
		if e > end && !subscriptFollows(text, e) && (ok == nil || ok[e]) {
			index, end = i, e
		}
	}
	return index, end
}

// match returns where s ends if text spells it at pos, and pos if not.
func (s *symbol) match(text string, pos int) int {
	end := matchName(text, pos, s.base)
	if end == pos || s.sub == "" {
		return end
	}
	mid := end
	if mid < len(text) && text[mid] == '_' {
		mid++
	}
	if end = matchName(text, mid, s.sub); end > mid {
		return end
	}
	// Subscript characters, or a mixture of them and plain ones.
	for i := range len(s.sub) {
		if mid >= len(text) {
			return pos
		}
		r, size := utf8.DecodeRuneInString(text[mid:])
		if r != rune(s.sub[i]) && subscripts[r] != s.sub[i] {
			return pos
		}
		mid += size
	}
	return mid
}

// matchName returns where name ends if text spells it at pos, in ASCII or as
// one Greek letter, and pos if not.
func matchName(text string, pos int, name string) int {
	if strings.HasPrefix(text[pos:], name) {
		return pos + len(name)
	}
	if pos < len(text) && text[pos] >= 0x80 {
		r, size := utf8.DecodeRuneInString(text[pos:])
		if greekName[r] == name {
			return pos + size
		}
	}
	return pos
}

// subscriptFollows reports whether what comes at pos would belong to the name
// that ends there.
func subscriptFollows(text string, pos int) bool {
	if pos >= len(text) {
		return false
	}
	if c := text[pos]; c < 0x80 {
		return digit(c) || c == '_'
	}
	r, _ := utf8.DecodeRuneInString(text[pos:])
	_, ok := subscripts[r]
	return ok
}
