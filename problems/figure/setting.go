package figure

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"steelyard/problems/notation"
)

// How symbols are set: slanted, Greek by letter, what follows _ lowered; units,
// numbers and words upright.

// run is a part of a text that is set one way.
type run struct {
	text    string
	slanted bool
	lowered bool
}

// symbolWord is a symbol of the notation, or a word, within a text.
var symbolWord = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`[\p{L}]+(?:_[\p{L}\p{N}]+)?`)
})

// symbols sets a text of the scenario: its symbols as symbols, all else as it
// stands. A word of more than one letter, such as cos, is no symbol.
func symbols(text string) []run {
	text = notation.Printable(text)
	var out []run
	last := 0
	for _, at := range symbolWord().FindAllStringIndex(text, -1) {
		if at[0] > last {
			out = append(out, run{text: text[last:at[0]]})
		}
		base, sub, lowered := strings.Cut(text[at[0]:at[1]], "_")
		base = notation.Display(base, false)
		out = append(out, run{text: base, slanted: lowered || utf8.RuneCountInString(base) == 1})
		if lowered {
			out = append(out, run{text: sub, lowered: true})
		}
		last = at[1]
	}
	if last < len(text) {
		out = append(out, run{text: text[last:]})
	}
	return out
}

// plainRun sets a text upright.
func plainRun(text string) []run { return []run{{text: notation.Printable(text)}} }

// powers are set raised where there is a character for it.
var powers = strings.NewReplacer("^2", "²", "^3", "³")

// runs are the caption, with its value if it has one.
func (c Caption) runs() []run {
	out := symbols(c.Symbol)
	full, short := c.Full(false), c.Short(false)
	if rest := strings.TrimPrefix(full, short); rest != "" {
		out = append(out, run{text: powers.Replace(notation.Printable(rest))})
	}
	return out
}

const loweredSize = 0.72

// widthOf is how wide a text is at most, in units, in the wider of the usual
// serif faces.
func widthOf(runs []run, size float64) float64 {
	w := 0.0
	for _, r := range runs {
		s := size
		if r.lowered {
			s *= loweredSize
		}
		for _, c := range r.text {
			w += s * letterWidth(c)
		}
	}
	return w
}

// widths of letters for one of type size, by ASCII code; measured from DejaVu
// Serif, rounded up, which is wider than Times and its kin.
var widths = widthTable()

const otherWidth = 0.66

func widthTable() (out [128]float64) {
	for i := range out {
		out[i] = otherWidth
	}
	for letters, w := range map[string]float64{
		"iIjl|.,:;'!()[] ": 0.40, "ft-/rJ?s": 0.56, "mMwW": 1.08, "=+<>": 0.84,
		"ABCDEFGHKLNOPQRSTUVXYZ": 0.80,
	} {
		for _, c := range letters {
			out[c] = w
		}
	}
	return out
}

func letterWidth(c rune) float64 {
	if c < 0x80 {
		return widths[c]
	}
	return 0.84 // operators and Greek: as wide as any
}

// text writes runs from a spot on the base line.
func (c *canvas) text(at spot, runs []run) {
	fmt.Fprintf(&c.out, `<text x="%s" y="%s" xml:space="preserve">`, num(at.x), num(at.y))
	sunk := false
	for _, r := range runs {
		var look string
		if r.slanted {
			look += ` font-style="italic"`
		}
		if r.lowered {
			look += fmt.Sprintf(` font-size="%s"`, num(letterSize*loweredSize))
		}
		if r.lowered != sunk {
			look += fmt.Sprintf(` dy="%s"`, map[bool]string{true: "4", false: "-4"}[r.lowered])
			sunk = r.lowered
		}
		if look == "" {
			c.out.WriteString(escape(r.text))
			continue
		}
		fmt.Fprintf(&c.out, "<tspan%s>%s</tspan>", look, escape(r.text))
	}
	c.out.WriteString("</text>\n")
}
