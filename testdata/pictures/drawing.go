package main

import (
	"fmt"
	"html"
	"image/color"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// A cell of the drawing in px, for a font whose letters are 0.602 em wide, as
// those of most monospaced fonts are.
const (
	cellWidth  = 8.43
	cellHeight = 17.0
	fontSize   = 14
	margin     = 10.0
	paper      = "#12171c"
	ink        = "#e4e7ea"
	fonts      = "'DejaVu Sans Mono','Cascadia Mono',Menlo,Consolas,monospace"
)

// style is how a run of cells looks.
type style struct {
	fore, back                         string
	bold, faint, italic, under, turned bool
}

// run are cells side by side that look the same.
type run struct {
	style
	at, width int
	text      string
}

// drawing is a captured screen, with its escape sequences, as SVG. Each run is
// stretched to its cells, so that columns stand under each other in any font.
func drawing(screen string, width, height int) string {
	var b strings.Builder
	w, h := 2*margin+cellWidth*float64(width), 2*margin+cellHeight*float64(height)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f" font-family="%s" font-size="%d">`+"\n", w, h, w, h, fonts, fontSize)
	fmt.Fprintf(&b, `<rect width="%.0f" height="%.0f" rx="6" fill="%s"/>`+"\n", w, h, paper)
	var now style
	for i, line := range strings.Split(strings.TrimRight(screen, "\n"), "\n") {
		top := margin + cellHeight*float64(i)
		for _, r := range runs(line, &now) {
			r.write(&b, top)
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func (r run) write(b *strings.Builder, top float64) {
	fore, back := r.fore, r.back
	if fore == "" {
		fore = ink
	}
	if r.turned {
		if fore, back = back, fore; fore == "" {
			fore = paper
		}
	}
	left, width := margin+cellWidth*float64(r.at), cellWidth*float64(r.width)
	if back != "" {
		fmt.Fprintf(b, `<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="%s" shape-rendering="crispEdges"/>`+"\n", left, top, width, cellHeight, back)
	}
	if strings.TrimSpace(r.text) == "" && !r.under {
		return
	}
	if dots := braille(r.text, left, top); dots != "" {
		fmt.Fprintf(b, `<path d="%s" stroke="%s" stroke-width="2.3" stroke-linecap="round"/>`+"\n", dots, fore)
		return
	}
	var more string
	for _, a := range []struct {
		on   bool
		text string
	}{{r.bold, ` font-weight="bold"`}, {r.italic, ` font-style="italic"`}, {r.under, ` text-decoration="underline"`}, {r.faint, ` opacity="0.65"`}} {
		if a.on {
			more += a.text
		}
	}
	fmt.Fprintf(b, `<text x="%.2f" y="%.2f" textLength="%.2f" lengthAdjust="spacingAndGlyphs" fill="%s"%s xml:space="preserve">%s</text>`+"\n",
		left, top+13, width, fore, more, html.EscapeString(r.text))
}

// braille are the dots of a run of braille cells, as a path. Few fonts have them,
// and in those that do they do not meet from cell to cell.
func braille(text string, left, top float64) string {
	var b strings.Builder
	for i, r := range []rune(text) {
		if kindOf(string(r)) != dotted {
			return ""
		}
		for bit, at := range [8][2]float64{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}} { // Unicode 15, chapter 21.1
			if (r-0x2800)>>bit&1 == 1 {
				fmt.Fprintf(&b, "M%.1f %.1fh0", left+cellWidth*(float64(i)+0.25+0.5*at[0]), top+cellHeight*(0.125+0.25*at[1]))
			}
		}
	}
	return b.String()
}

// runs cuts a line where its look changes, between ASCII, braille and the rest,
// and at runs of space, which need no drawing. The look goes on into the next line.
func runs(line string, now *style) []run {
	var out []run
	at, state := 0, byte(0)
	parser := ansi.NewParser()
	for len(line) > 0 {
		seq, width, n, next := ansi.DecodeSequence(line, state, parser)
		line, state = line[n:], next
		if width == 0 {
			if ansi.Cmd(parser.Command()).Final() == 'm' && strings.HasPrefix(seq, "\x1b[") {
				now.set(parser.Params())
			}
			continue
		}
		last := len(out) - 1
		if last >= 0 && out[last].style == *now && kindOf(out[last].text) == kindOf(seq) && !(strings.HasSuffix(out[last].text, "  ") && seq != " ") {
			out[last].text += seq
			out[last].width += width
		} else {
			out = append(out, run{*now, at, width, seq})
		}
		at += width
	}
	for i := range out {
		if out[i].under || out[i].back != "" || out[i].turned {
			continue
		}
		out[i].text = strings.TrimRight(out[i].text, " ")
		if spaces := out[i].width - utf8.RuneCountInString(out[i].text); kindOf(out[i].text) == ascii && spaces > 0 {
			out[i].width -= spaces
		}
	}
	return out
}

// Kinds of characters, which are drawn apart.
const (
	ascii = iota
	dotted
	other
)

// kindOf is the kind of a run's characters.
func kindOf(text string) int {
	switch r, _ := utf8.DecodeRuneInString(text); {
	case r < 0x80:
		return ascii
	case r >= 0x2800 && r <= 0x28ff:
		return dotted
	}
	return other
}

// set takes the numbers of a select-graphic-rendition sequence (ECMA-48, 8.3.117).
func (s *style) set(params ansi.Params) {
	var codes []int
	params.ForEach(0, func(_, param int, _ bool) { codes = append(codes, param) })
	if len(codes) == 0 {
		codes = []int{0}
	}
	for i := 0; i < len(codes); i++ {
		switch c := codes[i]; {
		case c == 0:
			*s = style{}
		case c == 1:
			s.bold = true
		case c == 2:
			s.faint = true
		case c == 3:
			s.italic = true
		case c == 4:
			s.under = true
		case c == 7:
			s.turned = true
		case c == 22:
			s.bold, s.faint = false, false
		case c == 23:
			s.italic = false
		case c == 24:
			s.under = false
		case c == 27:
			s.turned = false
		case c >= 30 && c <= 37:
			s.fore = indexed(c - 30)
		case c >= 90 && c <= 97:
			s.fore = indexed(c - 90 + 8)
		case c == 39:
			s.fore = ""
		case c >= 40 && c <= 47:
			s.back = indexed(c - 40)
		case c >= 100 && c <= 107:
			s.back = indexed(c - 100 + 8)
		case c == 49:
			s.back = ""
		case c == 38 || c == 48:
			name, used := extended(codes[i+1:])
			if c == 38 {
				s.fore = name
			} else {
				s.back = name
			}
			i += used
		}
	}
}

// extended is a colour by index (5;n) or by parts (2;r;g;b), with how many
// numbers it took.
func extended(codes []int) (string, int) {
	switch {
	case len(codes) >= 2 && codes[0] == 5:
		return indexed(codes[1]), 2
	case len(codes) >= 4 && codes[0] == 2:
		return fmt.Sprintf("#%02x%02x%02x", codes[1], codes[2], codes[3]), 4
	}
	return "", len(codes)
}

func indexed(n int) string {
	c := color.RGBAModel.Convert(ansi.IndexedColor(n)).(color.RGBA)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}
