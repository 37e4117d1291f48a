package notation

import (
	"sync"
	"unicode"
)

// greekRow is a Greek letter by its name, as symbols are named, and as typed.
type greekRow struct {
	name   string
	letter rune
	also   rune // a second code point for the same letter
}

// Capitals drawn like Latin ones are left out on purpose: they are in
// lookalikes, and refused.
var greekRows = []greekRow{
	{"alpha", 'α', 0}, {"beta", 'β', 'ϐ'}, {"gamma", 'γ', 0}, {"delta", 'δ', 0},
	{"epsilon", 'ε', 'ϵ'}, {"zeta", 'ζ', 0}, {"eta", 'η', 0}, {"theta", 'θ', 'ϑ'},
	{"iota", 'ι', 0}, {"kappa", 'κ', 'ϰ'}, {"lambda", 'λ', 0}, {"mu", 'μ', 'µ'},
	{"nu", 'ν', 0}, {"xi", 'ξ', 0}, {"pi", 'π', 'ϖ'}, {"rho", 'ρ', 'ϱ'},
	{"sigma", 'σ', 'ς'}, {"tau", 'τ', 0}, {"upsilon", 'υ', 0}, {"phi", 'φ', 'ϕ'},
	{"chi", 'χ', 0}, {"psi", 'ψ', 0}, {"omega", 'ω', 0},
	{"Gamma", 'Γ', 0}, {"Delta", 'Δ', '∆'}, {"Theta", 'Θ', 'ϴ'}, {"Lambda", 'Λ', 0},
	{"Xi", 'Ξ', 0}, {"Pi", 'Π', '∏'}, {"Sigma", 'Σ', '∑'}, {"Phi", 'Φ', 0},
	{"Psi", 'Ψ', 0}, {"Omega", 'Ω', '\u2126'},
}

var (
	greekName   = map[rune]string{} // α -> alpha
	greekLetter = map[string]rune{} // alpha -> α
)

func init() {
	for _, row := range greekRows {
		greekLetter[row.name] = row.letter
		greekName[row.letter] = row.name
		if row.also != 0 {
			greekName[row.also] = row.name
		}
	}
}

// subscripts maps the subscript characters to what they lower.
var subscripts = map[rune]byte{
	'₀': '0', '₁': '1', '₂': '2', '₃': '3', '₄': '4', '₅': '5', '₆': '6', '₇': '7', '₈': '8', '₉': '9',
	'ₐ': 'a', 'ₑ': 'e', 'ₕ': 'h', 'ᵢ': 'i', 'ⱼ': 'j', 'ₖ': 'k', 'ₗ': 'l', 'ₘ': 'm', 'ₙ': 'n', 'ₒ': 'o',
	'ₚ': 'p', 'ᵣ': 'r', 'ₛ': 's', 'ₜ': 't', 'ᵤ': 'u', 'ᵥ': 'v', 'ₓ': 'x',
}

// superscripts maps the superscript characters to what they raise.
var superscripts = map[rune]byte{
	'⁰': '0', '¹': '1', '²': '2', '³': '3', '⁴': '4', '⁵': '5', '⁶': '6', '⁷': '7', '⁸': '8', '⁹': '9',
	'⁻': '-', '⁺': '+',
}

var superscriptDigits = []rune("⁰¹²³⁴⁵⁶⁷⁸⁹")

// fractions are the typographic ones: numerator and denominator.
var fractions = map[rune][2]int{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5}, '⅙': {1, 6}, '⅚': {5, 6},
	'⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
	'↉': {0, 3},
}

// operators maps every way an operator may be typed to the one kept in the
// tree. Dashes are here because word processors turn a hyphen into one.
var operators = map[rune]byte{
	'+': '+', '＋': '+',
	'-': '-', '−': '-', '‐': '-', '‑': '-', '‒': '-', '–': '-', '—': '-',
	'*': '*', '·': '*', '⋅': '*', '∙': '*', '•': '*', '×': '*', '∗': '*', '✕': '*',
	'/': '/', '÷': '/', '∕': '/', '⁄': '/',
	'^': '^',
}

// lookalikes are letters of other scripts that are drawn like a Latin one: a
// keyboard left in another layout types them, and the eye cannot tell.
var lookalikes = sync.OnceValue(func() map[rune]lookalike {
	out := map[rune]lookalike{}
	for _, row := range []struct{ script, theirs, latin string }{
		{"Cyrillic", "АВСЕНІЈКМОРЅТХаесіјорѕухԁһ", "ABCEHIJKMOPSTXaecijopsyxdh"},
		{"Greek", "ΑΒΕΖΗΙΚΜΝΟΡΤΥΧο", "ABEZHIKMNOPTYXo"},
	} {
		for i, r := range []rune(row.theirs) {
			out[r] = lookalike{row.latin[i], row.script}
		}
	}
	for r := rune('A'); r <= 'z'; r++ {
		if r <= 'Z' || r >= 'a' {
			out[r-'A'+'Ａ'] = lookalike{byte(r), "full-width"}
		}
	}
	return out
})

type lookalike struct {
	latin  byte
	script string
}

// latinFor says which Latin letter or digit r is easily taken for, and the
// script it really belongs to.
func latinFor(r rune) (lookalike, bool) {
	if l, ok := lookalikes()[r]; ok {
		return l, true
	}
	// U+1D400 to U+1D6A3 are thirteen styled alphabets of 52 letters each.
	if r >= 0x1d400 && r <= 0x1d6a3 {
		const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
		return lookalike{alphabet[(r-0x1d400)%52], "mathematical"}, true
	}
	return lookalike{}, false
}

// blank reports whether r separates words: the tab and every Unicode space.
func blank(r rune) bool {
	return r == ' ' || r == '\t' || r >= 0x80 && unicode.Is(unicode.Zs, r)
}

func letter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }
func digit(c byte) bool  { return '0' <= c && c <= '9' }

// wordRune reports whether r can be part of a symbol's name as typed.
func wordRune(r rune) bool {
	if r < 0x80 {
		return letter(byte(r)) || digit(byte(r)) || r == '_'
	}
	_, isGreek := greekName[r]
	_, isSub := subscripts[r]
	return isGreek || isSub
}
