package screen

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/lucasb-eyer/go-colorful"
	"github.com/muesli/termenv"
)

// paletteRow is a surface that the screen is made for, with the ground that text
// lies on: of the grounds there may be, the one that is nearest to the text.
type paletteRow struct {
	name   string
	on     surface
	ground string
}

var palettes = []paletteRow{
	{"light, 24 bits", surface{profile: termenv.TrueColor}, "#f2f0ea"},
	{"dark, 24 bits", surface{profile: termenv.TrueColor, dark: true}, "#282c34"},
	{"light, 256 colours", surface{profile: termenv.ANSI256}, "#f2f0ea"},
	{"dark, 256 colours", surface{profile: termenv.ANSI256, dark: true}, "#282c34"},
	{"light, 16 colours", surface{profile: termenv.ANSI}, "#ffffff"},
	{"dark, 16 colours", surface{profile: termenv.ANSI, dark: true}, "#000000"},
	{"no colour", surface{profile: termenv.Ascii}, ""},
}

var roleNames = [roles]string{"plain", "heading", "quiet", "right", "wrong", "shown", "accent", "force", "chosen", "here", "caret"}

// letters stand for the roles in a map of them.
const letters = " hqrwsafc@_"

const firstTag = 100

// tagged makes a look paint with tags in place of colours.
func tagged(l *look) {
	for i := range l.on {
		if i > 0 {
			l.on[i] = fmt.Sprintf("\x1b[%dm", firstTag+i)
		}
	}
}

var painted = regexp.MustCompile("\x1b\\[(1[0-9][0-9])m([^\x1b]*)\x1b\\[0m")

// roleOf is the role of a tag that painted has matched.
func roleOf(tag string) int {
	n, _ := strconv.Atoi(tag)
	return n - firstTag
}

// roleMap is a tagged frame with a letter for each character: which role it is
// painted in.
func roleMap(frame string) string {
	plainly := func(text string) string { return strings.Repeat(" ", ansi.StringWidth(text)) }
	var out []string
	for _, line := range strings.Split(frame, "\n") {
		var b strings.Builder
		at := 0
		for _, m := range painted.FindAllStringSubmatchIndex(line, -1) {
			b.WriteString(plainly(line[at:m[0]]))
			b.WriteString(strings.Repeat(string(letters[roleOf(line[m[2]:m[3]])]), ansi.StringWidth(line[m[4]:m[5]])))
			at = m[1]
		}
		out = append(out, strings.TrimRight(b.String(), " "))
	}
	return strings.Join(out, "\n")
}

// A frame in any palette is the frame in roles, each role painted as the table
// of palettes.txt tells, at every size.
func TestFramesInPalettes(t *testing.T) {
	for _, sc := range scenes {
		for _, size := range sizes {
			tags := newStand(t, bareUnicode, size[0], size[1], nil)
			tagged(tags.m.look)
			sc.play(tags)
			for _, p := range palettes {
				s := newStand(t, p.on, size[0], size[1], nil)
				sc.play(s)
				on := s.m.look.on
				want := painted.ReplaceAllStringFunc(tags.frame(), func(run string) string {
					m := painted.FindStringSubmatch(run)
					if seq := on[roleOf(m[1])]; seq != "" {
						return seq + m[2] + "\x1b[0m"
					}
					return m[2]
				})
				lines := strings.Split(want, "\n")
				for i := range lines { // two roles may be one colour here
					lines[i] = s.m.look.lean(lines[i])
				}
				want = strings.Join(lines, "\n")
				if got := trimmed(s.frame()); got != trimmed(want) {
					t.Errorf("%s at %v, %s: %s", sc.name, size, p.name, difference(trimmed(want), got))
				}
			}
		}
	}
}

// What each role is painted with, and its contrast with what is behind it.
func TestGoldenPalettes(t *testing.T) {
	var b strings.Builder
	for _, p := range palettes {
		fmt.Fprintf(&b, "== %s ==\n", p.name)
		l := newLook(p.on)
		for i, name := range roleNames {
			seq := strings.TrimSuffix(strings.TrimPrefix(l.on[i], "\x1b["), "m")
			line := fmt.Sprintf("%c %-8s %-32s %s", letters[i], name, seq, p.contrast(t, palette[i]))
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	golden(t, "palettes.txt", b.String())
}

// shades are the foreground and the ground of a role as a palette shows them;
// false where both are the terminal's own.
func (p *paletteRow) shades(t *testing.T, of pair) (fore, ground colorful.Color, ok bool) {
	ink, under := of.light, of.lightOn
	if p.on.dark {
		ink, under = of.dark, of.darkOn
	}
	if ink.hex == "" || p.ground == "" {
		return fore, ground, false
	}
	behind := p.ground
	if under.hex != "" {
		behind = under.hex
	}
	switch p.on.profile {
	case termenv.ANSI256:
		fore = termenv.ConvertToRGB(termenv.ANSI256.Color(ink.hex))
		ground = colour(t, behind)
		if under.hex != "" {
			ground = termenv.ConvertToRGB(termenv.ANSI256.Color(behind))
		}
	case termenv.ANSI:
		if ink.low < 0 {
			return fore, ground, false // reversed: the terminal's own two
		}
		fore, ground = colour(t, sixteen[ink.low]), colour(t, p.ground)
	default:
		fore, ground = colour(t, ink.hex), colour(t, behind)
	}
	return fore, ground, true
}

func (p *paletteRow) contrast(t *testing.T, of pair) string {
	fore, ground, ok := p.shades(t, of)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s on %s  %.1f to 1", fore.Hex(), ground.Hex(), contrast(fore, ground))
}
