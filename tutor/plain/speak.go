package plain

import (
	"regexp"
	"strings"
	"sync"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// Screen readers pass over many signs, or name them in their own way: "−T · cos α"
// may be heard as "T cos". Spoken lines say signs, units and functions in words.
// What stands in double quotes is to be typed, and stays as it is.

// speech are the signs of a line in ASCII, in the order in which they are put
// into words. Each sign is a regular expression, compiled when one is first
// spoken.
var speech = []struct{ sign, word string }{
	{`(\d) N/m\b`, "$1 newtons per metre"},
	{`(\d) kN/m\b`, "$1 kilonewtons per metre"},
	{`(\d) m/s\^2`, "$1 metres per second squared"},
	{`(\d) kg/m\^3`, "$1 kilograms per cubic metre"},
	{`(\d) N m\b`, "$1 newton metres"},
	{`(\d) kN m\b`, "$1 kilonewton metres"},
	{`(\d) N\b`, "$1 newtons"},
	{`(\d) kN\b`, "$1 kilonewtons"},
	{`(\d) kg\b`, "$1 kilograms"},
	{`(\d) mm\b`, "$1 millimetres"},
	{`(\d) cm\b`, "$1 centimetres"},
	{`(\d) m\b`, "$1 metres"},
	{`(\d) deg\b`, "$1 degrees"},
	{` ?\(([A-Za-z_0-9]+|[^()=+*^/]*[a-z]{2,}[^()=+*^/]*)\)([.,:;?]?)`, ""}, // an aside, or a function's bracket: see aside
	{`\bsin\b`, "sine"},
	{`\bcos\b`, "cosine"},
	{`\btan\b`, "tangent"},
	{`\bsqrt\b`, "root of"},
	{`([0-9A-Za-z)])\^2\b`, "$1 squared"},
	{`([0-9A-Za-z)])\^3\b`, "$1 cubed"},
	{`\^`, " to the power "},
	{`([A-Za-z])_([0-9A-Za-z])`, "$1 sub $2"},
	{` \* `, " times "},
	{` ?/ ?`, " over "},
	{` \+ `, " plus "},
	{` - `, " minus "},
	{`(^|[\s(])-([0-9A-Za-z(])`, "${1}minus $2"},
	{` = `, " equals "},
	{` <= `, " is at most "},
	{` >= `, " is at least "},
	{` < `, " is less than "},
	{` > `, " is greater than "},
	{`\( ?`, " open bracket "},
	{` ?\)`, ", close bracket,"},
	{`,([,.;:?])`, "$1"},
	{`  +`, " "},
}

var signs = sync.OnceValue(func() []*regexp.Regexp {
	var out []*regexp.Regexp
	for _, s := range speech {
		out = append(out, regexp.MustCompile(s.sign))
	}
	return out
})

// functions take the bracket before which they stand.
var functions = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?:sin|cos|tan|sqrt)$`)
})

// spoken is a line with its signs in words.
func (t *talk) spoken(line string) string {
	parts := strings.Split(notation.Spell(line), `"`)
	for i := 0; i < len(parts); i += 2 {
		text := parts[i]
		for i, s := range speech {
			sign := signs()[i]
			if s.word == "" {
				text = asides(sign, text)
				text = t.cases(text)
				continue
			}
			text = sign.ReplaceAllString(text, s.word)
		}
		parts[i] = text
	}
	return strings.TrimSpace(strings.Join(parts, `"`))
}

// asides turns brackets around words, or around one symbol, into commas; those
// of a function are left out.
func asides(bracket *regexp.Regexp, text string) string {
	var b strings.Builder
	at := 0
	for _, m := range bracket.FindAllStringSubmatchIndex(text, -1) {
		inside, stop := text[m[2]:m[3]], text[m[4]:m[5]]
		b.WriteString(text[at:m[0]])
		if functions().MatchString(text[:m[0]]) {
			b.WriteString(" " + inside + stop)
		} else if stop != "" || m[1] == len(text) {
			b.WriteString(", " + inside + stop)
		} else {
			b.WriteString(", " + inside + ",")
		}
		at = m[1]
	}
	return b.String() + text[at:]
}

// alike are the symbols of a problem that sound the same, as M and m do: those of
// one letter, with how they are said. Points are not among them, since the words
// about a point tell it from a symbol.
func alike(p *problems.Problem) map[string]string {
	sounds := map[string]int{}
	for i := range p.Table.Len() {
		sounds[strings.ToLower(p.Table.Name(i))]++
	}
	out := map[string]string{}
	for i := range p.Table.Len() {
		name := p.Table.Name(i)
		switch low := strings.ToLower(name); {
		case len(name) != 1 || sounds[low] < 2:
		case name == low:
			out[name] = "small " + name
		default:
			out[name] = "capital " + name
		}
	}
	return out
}

// letter is a letter alone.
var letter = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\b[A-Za-z]\b`)
})

// articles are letters that are words, so symbols only beside a sign.
const articles = "aAI"

// cases says small or capital of the letters that need it.
func (t *talk) cases(text string) string {
	if t.desk == nil {
		return text
	}
	if t.alikeOf != t.desk.Problem() {
		t.alikeOf, t.alike = t.desk.Problem(), alike(t.desk.Problem())
	}
	if len(t.alike) == 0 {
		return text
	}
	var b strings.Builder
	at := 0
	for _, m := range letter().FindAllStringIndex(text, -1) {
		name := text[m[0]:m[1]]
		said, ok := t.alike[name]
		possessive := m[0] > 0 && text[m[0]-1] == '\''
		if !ok || possessive || strings.Contains(articles, name) && !beside(text, m[0], m[1]) {
			continue
		}
		b.WriteString(text[at:m[0]] + said)
		at = m[1]
	}
	return b.String() + text[at:]
}

// beside reports whether a sign of the notation stands next to text[from:to].
func beside(text string, from, to int) bool {
	before, after := strings.TrimRight(text[:from], " "), strings.TrimLeft(text[to:], " ")
	return before != "" && strings.ContainsRune("=*+/(^-<>", rune(before[len(before)-1])) ||
		after != "" && strings.ContainsRune("=*+/)^-<>", rune(after[0]))
}

// speak turns spoken lines on and off.
func (t *talk) speak(string) error {
	t.o.Spoken = !t.o.Spoken
	if t.desk != nil {
		t.desk.ASCII = t.plain()
	}
	if t.o.Spoken {
		t.say("Signs are said in words from here on. Say speak again for signs.")
	} else {
		t.say("Signs are written as signs from here on.")
	}
	return nil
}

// plain reports whether lines keep to ASCII.
func (t *talk) plain() bool { return t.o.ASCII || t.o.Spoken }
