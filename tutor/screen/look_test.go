package screen

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/lucasb-eyer/go-colorful"
	"github.com/muesli/termenv"
)

// sixteen are the colours that xterm gives the first sixteen numbers.
var sixteen = []string{"#000000", "#cd0000", "#00cd00", "#cdcd00", "#0000ee", "#cd00cd", "#00cdcd", "#e5e5e5",
	"#7f7f7f", "#ff0000", "#00ff00", "#ffff00", "#5c5cff", "#ff00ff", "#00ffff", "#ffffff"}

// luminance is the relative luminance of WCAG 2.2.
func luminance(c colorful.Color) float64 {
	linear := func(v float64) float64 {
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// contrast is the contrast ratio of WCAG 2.2, 1.4.3.
func contrast(a, b colorful.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func colour(t *testing.T, hex string) colorful.Color {
	t.Helper()
	c, err := colorful.Hex(hex)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestContrastKnown(t *testing.T) {
	if got := contrast(colour(t, "#000000"), colour(t, "#ffffff")); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white is %v, want 21", got)
	}
	if got := contrast(colour(t, "#777777"), colour(t, "#ffffff")); math.Abs(got-4.48) > 0.01 {
		t.Errorf("#777777 on white is %v, want 4.48", got)
	}
}

// Every text has a contrast of 4.5 to 1 with what is behind it (WCAG 2.2,
// 1.4.3), in 24 bits, 256 and 16 colours, on light and dark terminals.
func TestContrast(t *testing.T) {
	const least = 4.5
	pairs := 0
	check := func(r role, what string, fore, ground colorful.Color) {
		t.Helper()
		pairs++
		if got := contrast(fore, ground); got < least {
			t.Errorf("role %d, %s: %s on %s is %.2f to 1", r, what, fore.Hex(), ground.Hex(), got)
		}
	}
	for _, p := range palette {
		for _, side := range []struct {
			name         string
			fore, ground ink
			grounds      []string
			low          string
		}{{"light", p.light, p.lightOn, lightGrounds, "#ffffff"}, {"dark", p.dark, p.darkOn, darkGrounds, "#000000"}} {
			if side.fore.hex == "" {
				continue // the terminal's own on its own
			}
			grounds := side.grounds
			if side.ground.hex != "" {
				grounds = []string{side.ground.hex}
			}
			for _, g := range grounds {
				check(p.role, side.name, colour(t, side.fore.hex), colour(t, g))
				ground := colour(t, g)
				if side.ground.hex != "" {
					ground = termenv.ConvertToRGB(termenv.ANSI256.Color(g))
				}
				check(p.role, side.name+" 256", termenv.ConvertToRGB(termenv.ANSI256.Color(side.fore.hex)), ground)
			}
			if side.fore.low >= 0 {
				check(p.role, side.name+" 16", colour(t, sixteen[side.fore.low]), colour(t, side.low))
			}
		}
	}
	if pairs < 60 {
		t.Errorf("only %d pairs were checked", pairs)
	}
	for i, p := range palette {
		if int(p.role) != i {
			t.Errorf("row %d of the palette is of role %d", i, p.role)
		}
	}
}

// Without colour, what colour says is still there: the frame of a screen in
// colour, with its colours taken off, is that without.
func TestColourAddsNothing(t *testing.T) {
	for _, on := range []surface{{profile: termenv.TrueColor}, {profile: termenv.ANSI256, dark: true}, {profile: termenv.ANSI}, {profile: termenv.Ascii}} {
		for _, sc := range scenes {
			a, b := newStand(t, on, 100, 30, nil), newStand(t, bareUnicode, 100, 30, nil)
			sc.play(a)
			sc.play(b)
			if got := trimmed(styling.ReplaceAllString(a.frame(), "")); got != trimmed(b.frame()) {
				t.Errorf("%s: in colour it says something else:\n%s\nwithout:\n%s", sc.name, got, b.frame())
			}
		}
	}
}

func trimmed(frame string) string {
	lines := strings.Split(frame, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// NO_COLOR takes colours away, and leaves bold and reverse.
func TestNoColourSequences(t *testing.T) {
	s := newStand(t, surface{profile: termenv.Ascii}, 100, 30, nil)
	for _, seq := range styling.FindAllString(s.frame(), -1) {
		if seq != "\x1b[0m" && seq != "\x1b[1m" && seq != "\x1b[7m" {
			t.Errorf("%q is a colour", seq)
		}
	}
}

// Every key of a key map is on its help line.
func TestEveryKeyIsShown(t *testing.T) {
	s := davit(t, bareUnicode, 80, 24)
	s.sees("Enter check", "Tab move", "Ctrl + T hint", "Z undo", "U clear", "P pivot", "S signs", "O view", "L list", "Q quit", "F1 help", "PgDn scroll")
	s.press("help")
	s.press("pgdn", "pgdn")
	s.sees("Ctrl+T or F2", "Shift+Tab")
}

// No line that is wrapped is wider than it should be, and nothing of it is
// lost, a minus with a space on each side included.
func TestWrap(t *testing.T) {
	for _, text := range []string{"N_A * L * cos(alpha) = W * (L - s) * cos(alpha) + (T * L / 2) * sin(alpha)", "a two-force member, equal-and-opposite", "-M g L/2 - m g L - - -", strings.Repeat("long-", 30)} {
		for width := 1; width < 60; width++ {
			lines := wrap(text, width)
			for _, l := range lines {
				if ansi.StringWidth(l) > width {
					t.Errorf("%q in %d columns has a line %q", text, width, l)
				}
			}
			bare := strings.NewReplacer(" ", "")
			if got := bare.Replace(strings.Join(lines, "")); got != bare.Replace(text) {
				t.Errorf("%q in %d columns becomes %q", text, width, got)
			}
		}
	}
}
