package notation

import "strings"

// confusable are pairs of single letters that hands and eyes mix up: alike in
// shape, or a Latin letter typed for the Greek one it stands in for.
var confusable = [][2]string{
	{"q", "g"}, {"v", "u"}, {"l", "i"}, {"n", "h"}, {"a", "alpha"}, {"b", "beta"},
	{"u", "mu"}, {"o", "theta"}, {"O", "theta"}, {"p", "rho"}, {"v", "nu"}, {"w", "omega"},
	{"F", "phi"}, {"g", "gamma"}, {"d", "delta"}, {"s", "sigma"}, {"t", "tau"}, {"e", "epsilon"},
}

// near says which of the table's symbols, or which function, a word is nearly;
// empty if it is not near enough to any for the advice to be worth giving.
func (t *Table) near(word string) string {
	word = plainName(word)
	for _, s := range t.symbols {
		if strings.EqualFold(word, s.name) || strings.EqualFold(word, s.base+s.sub) {
			return "did you mean " + s.name + "?"
		}
	}
	if advice := t.nearSubscript(word); advice != "" {
		return advice
	}
	for _, pair := range confusable {
		for k := range pair {
			if _, ok := t.index[pair[1-k]]; ok && pair[k] == word {
				return "did you mean " + pair[1-k] + "?"
			}
		}
	}
	best, bestDistance := "", allowed(word)+1
	for _, s := range t.symbols {
		for _, name := range []string{s.name, s.base + s.sub} {
			if d := distance(word, name); d < bestDistance && len(name) > 1 {
				best, bestDistance = s.name, d
			}
		}
	}
	if best != "" {
		return "did you mean " + best + "?"
	}
	if len(word) > 2 {
		return nearFunction(word)
	}
	return ""
}

// nearSubscript is the advice for a symbol with a subscript or digits that no
// symbol has: T2 may be meant as another of the T's, as 2 T or as T squared.
func (t *Table) nearSubscript(word string) string {
	if strings.HasSuffix(word, "_") {
		return "write a subscript after _, or remove it"
	}
	base := strings.TrimRight(word, "0123456789")
	sub := word[len(base):]
	base, _ = strings.CutSuffix(base, "_")
	if base == word || base == "" {
		return ""
	}
	for _, s := range t.symbols {
		if s.base == base && s.sub != "" {
			return "did you mean " + s.name + "?"
		}
	}
	if _, ok := t.index[base]; !ok || sub == "" {
		return ""
	}
	sub, base = PrintableMax(sub, 8), PrintableMax(base, quotedMax)
	return "write " + sub + " " + base + " to multiply, " + base + "^" + sub + " for a power"
}

// plainName writes a name as typed in the letters names are kept in: a Greek
// letter by its name, a subscript character as what it lowers.
func plainName(word string) string {
	var b strings.Builder
	for _, r := range word {
		if sub, ok := subscripts[r]; ok {
			b.WriteByte(sub)
		} else if name, ok := greekName[r]; ok {
			b.WriteString(name)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// nearFunction says which function a word is nearly.
func nearFunction(word string) string {
	lower := strings.ToLower(word)
	if advice, ok := elsewhere[lower]; ok {
		return advice
	}
	for _, f := range functions {
		for _, s := range f.spellings {
			if lower == s {
				return "did you mean " + s + "?"
			}
		}
	}
	best, bestDistance := "", allowed(word)+1
	for _, f := range functions {
		for _, s := range f.spellings {
			if d := distance(lower, s); d < bestDistance {
				best, bestDistance = s, d
			}
		}
	}
	if best == "" {
		return ""
	}
	return "did you mean " + best + "?"
}

// allowed is how many slips of the hand are forgiven in a word. In a word of
// one or two letters any change makes another word.
func allowed(word string) int {
	switch n := len(word); {
	case n < 3:
		return 0
	case n < 5:
		return 1
	case n <= maxName:
		return 2
	default:
		return -1 // too long to be any name; do not compare
	}
}

// distance is the number of letters to insert, remove, replace or swap with
// their neighbour to turn a into b (restricted Damerau-Levenshtein distance),
// or a large number if either is longer than a name may be.
func distance(a, b string) int {
	if len(a) > maxName || len(b) > maxName {
		return maxName
	}
	var rows [maxName + 1][maxName + 1]int
	for i := range len(a) + 1 {
		rows[i][0] = i
	}
	for j := range len(b) + 1 {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}

// listed is how many symbols are named when none is near.
const listed = 8

// list names the symbols there are.
func (t *Table) list() string {
	if len(t.symbols) == 0 {
		return "there are no symbols here"
	}
	names := make([]string, 0, listed)
	for i := range min(listed, len(t.symbols)) {
		names = append(names, t.symbols[i].name)
	}
	switch {
	case len(t.symbols) == 1:
		return "the only symbol here is " + names[0]
	case len(t.symbols) > listed:
		return "the symbols here are " + strings.Join(names, ", ") + " and others"
	}
	last := len(names) - 1
	return "the symbols here are " + strings.Join(names[:last], ", ") + " and " + names[last]
}
