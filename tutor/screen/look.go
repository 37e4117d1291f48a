package screen

import (
	"os"
	"runtime"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// role is what a piece of text is for. Each has its colours in the palette;
// whatever a role says, a mark or a word beside it says too.
type role int

const (
	plain   role = iota // what is read: the terminal's own foreground
	heading             // names of parts
	quiet               // helps along, and may be passed over
	right
	wrong
	shown  // given away by a hint
	accent // keys, the pivot, the cursor's mark
	force  // forces in the figure
	chosen // the force in hand, its line of action and its arm
	here   // the cell or line now open
	caret  // on the line being typed
	roles
)

// ink is a colour for 24-bit and 256-colour terminals, and the number to use
// where there are only sixteen; "" and -1 are the terminal's own.
type ink struct {
	hex string
	low int
}

var own = ink{"", -1}

// pair is the ink of a role on a light and on a dark terminal.
type pair struct {
	role        role
	light, dark ink
	lightOn     ink // background, for the roles that bring their own
	darkOn      ink
	bold, flip  bool // flip: reversed where there is no background to bring
}

// palette is every colour of the screen. Its contrast is computed in a test,
// against the grounds below.
var palette = [roles]pair{
	{role: plain, light: own, dark: own, lightOn: own, darkOn: own},
	{role: heading, light: ink{"#0b4a80", 4}, dark: ink{"#9fd0ff", 14}, lightOn: own, darkOn: own, bold: true},
	{role: quiet, light: ink{"#565d66", 0}, dark: ink{"#a9b2bc", 7}, lightOn: own, darkOn: own},
	{role: right, light: ink{"#17652a", 4}, dark: ink{"#86d993", 10}, lightOn: own, darkOn: own},
	{role: wrong, light: ink{"#a3200f", 1}, dark: ink{"#ffa08f", 11}, lightOn: own, darkOn: own, bold: true},
	{role: shown, light: ink{"#6f4a00", 5}, dark: ink{"#e8c671", 13}, lightOn: own, darkOn: own},
	{role: accent, light: ink{"#0b4a80", 4}, dark: ink{"#9fd0ff", 14}, lightOn: own, darkOn: own},
	{role: force, light: ink{"#0c5c63", 4}, dark: ink{"#86dcd6", 14}, lightOn: own, darkOn: own},
	{role: chosen, light: ink{"#7a1c69", 5}, dark: ink{"#f3aee6", 13}, lightOn: own, darkOn: own, bold: true},
	{role: here, light: ink{"#ffffff", -1}, dark: ink{"#10151b", -1}, lightOn: ink{"#0b4a80", -1}, darkOn: ink{"#f2dca0", -1}, flip: true},
	{role: caret, light: own, dark: own, lightOn: own, darkOn: own, flip: true}, // reversed: few bytes, and drawn at every key
}

// The grounds that the palette is made for, lightest to darkest: with 24 bits
// or 256 colours any ground between the two of a kind will do, with sixteen
// colours white or black.
var (
	lightGrounds = []string{"#ffffff", "#f2f0ea"}
	darkGrounds  = []string{"#000000", "#282c34"}
)

// look is how things are drawn in one terminal.
type look struct {
	ascii bool
	marks marks
	on    [roles]string // the sequence that begins a role; "" if it needs none

	touching bool      // the frame is drawn to find what is under a click
	touched  []tea.Msg // what clicks on its marks send
}

// marks are the signs that stand beside colours. In ASCII they are of letters,
// since * or + before an entry would be read as part of it.
type marks struct {
	right, wrong, shown, taken, part, covered, open, now, rule, down, more string
}

var (
	unicodeMarks = marks{"✓", "!", "◇", "●", "½", "=", "○", "▸", "─", "│", "…"}
	asciiMarks   = marks{"ok:", "no:", "sh:", "wr:", "in part:", "--", "..", ">", "-", "|", "..."}
)

// surface is what is known of the terminal.
type surface struct {
	profile termenv.Profile
	dark    bool
	ascii   bool
	bare    bool // not even bold: what golden frames are made of
}

// known is the surface of the standard terminal. The ground's colour was asked
// for when the libraries were loaded, so nothing waits for it here.
func known(o Options) surface {
	s := surface{profile: lipgloss.ColorProfile(), dark: lipgloss.HasDarkBackground(), ascii: o.ASCII || !unicodeTerminal(os.Getenv)}
	if o.NoColor {
		s.profile = termenv.Ascii
	}
	return s
}

// unicodeTerminal reports whether the environment promises a terminal that
// shows Unicode: a locale of UTF-8 (POSIX, Base Definitions 8.2: LC_ALL comes
// before LC_CTYPE, and that before LANG), and no console whose font holds too
// few characters for the figure's dots.
func unicodeTerminal(env func(string) string) bool {
	if runtime.GOOS == "windows" {
		return true // it has no such variables, and shows Unicode
	}
	switch env("TERM") {
	case "linux", "vt100", "vt220", "dumb":
		return false
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(env(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}

func newLook(s surface) *look {
	l := &look{ascii: s.ascii, marks: unicodeMarks}
	if s.ascii {
		l.marks = asciiMarks
	}
	if s.bare {
		return l
	}
	for i, p := range palette {
		fore, ground := p.light, p.lightOn
		if s.dark {
			fore, ground = p.dark, p.darkOn
		}
		var codes []string
		if p.bold {
			codes = append(codes, "1")
		}
		switch s.profile {
		case termenv.TrueColor, termenv.ANSI256:
			codes = append(codes, sequence(s.profile, fore.hex, false), sequence(s.profile, ground.hex, true))
		case termenv.ANSI:
			if fore.low >= 0 {
				codes = append(codes, termenv.ANSIColor(fore.low).Sequence(false))
			}
		}
		if p.flip && (ground.hex == "" || s.profile != termenv.TrueColor && s.profile != termenv.ANSI256) {
			codes = append(codes, "7")
		}
		codes = compact(codes)
		if len(codes) > 0 {
			l.on[i] = "\x1b[" + strings.Join(codes, ";") + "m"
		}
	}
	return l
}

func sequence(p termenv.Profile, hex string, ground bool) string {
	if hex == "" {
		return ""
	}
	return p.Color(hex).Sequence(ground)
}

func compact(in []string) []string {
	var out []string
	for _, s := range in {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// paint draws text, which is printable already, in a role.
func (l *look) paint(r role, text string) string {
	if text == "" || l.on[r] == "" {
		return text
	}
	return l.on[r] + text + reset
}
