package screen

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"
)

// What the program's other screens draw with, so that all look alike and are
// tested once: roles and their colours, marks, lines cut and wrapped to a
// width, keys, and a line to type on.

// Look is how things are drawn in one terminal.
type Look = look

// Role is what a piece of text is for.
type Role = role

// The roles that any screen has.
const (
	Plain   = plain
	Heading = heading
	Quiet   = quiet
	Right   = right
	Wrong   = wrong
	Accent  = accent
	Chosen  = chosen
	Here    = here
)

// Entry is a line that is typed on.
type Entry = entry

// NewEntry makes an empty line.
func NewEntry(l *Look) Entry { return newEntry(l) }

// NewLook is the look of the standard terminal.
func NewLook(ascii bool) *Look { return newLook(known(Options{ASCII: ascii})) }

// LookOn is the look of a terminal that is told.
func LookOn(profile termenv.Profile, dark, ascii bool) *Look {
	return newLook(surface{profile: profile, dark: dark, ascii: ascii})
}

// BareLook has marks and no colours, not even bold.
func BareLook(ascii bool) *Look {
	return newLook(surface{profile: termenv.Ascii, ascii: ascii, bare: true})
}

// Sequences are what the look begins its roles with.
func (l *look) Sequences() []string { return l.on[:] }

// ASCII reports whether nothing beyond ASCII may be drawn.
func (l *look) ASCII() bool { return l.ascii }

// Now marks what is in hand.
func (l *look) Now() string { return l.marks.now }

// RightMark and WrongMark stand beside a verdict, and ShownMark beside what was
// given away.
func (l *look) RightMark() string { return l.marks.right }
func (l *look) WrongMark() string { return l.marks.wrong }
func (l *look) ShownMark() string { return l.marks.shown }

// Text makes what comes from outside fit to show; nothing in it acts on the
// terminal.
func (l *look) Text(s string) string { return l.text(s) }

// Paint draws text, which is printable already, in a role.
func (l *look) Paint(r Role, text string) string { return l.paint(r, text) }

// Wrapped breaks text at words into lines no wider than width, in a role.
func (l *look) Wrapped(r Role, text string, width int) []string { return l.painted(r, text, width) }

// Cut shortens a line to width, and Pad fills it up to width too.
func (l *look) Cut(line string, width int) string { return l.cut(line, width) }
func (l *look) Pad(line string, width int) string { return l.pad(line, width) }

// End is the end of a plain text that width has room for.
func (l *look) End(text string, width int) string { return l.end(text, width) }

// Ends sets one text at each end of a line; the right one gives way first.
func (l *look) Ends(left, rightward string, width int) string { return l.ends(left, rightward, width) }

// Beside sets two blocks of lines next to each other, the left one w wide.
func (l *look) Beside(left, rightward []string, w int, between string) []string {
	return l.beside(left, rightward, w, between)
}

// Banner is the head of a part: its name, what more there is to say of it, and
// a rule to the end.
func (l *look) Banner(name, more string, width int) string { return l.banner(name, more, width) }

// KeyLines prints keys with what they do, wrapped to width.
func (l *look) KeyLines(keys []key.Binding, width int) []string { return l.keyLines(keys, width) }

// Fit is the last word on a frame: no more lines than rows, none wider than the
// terminal.
func (l *look) Fit(lines []string, width, height int) string { return l.fit(lines, width, height) }

// Window is the part of lines that height has room for and that holds the line
// at focus, with how many are left out above and below.
func Window(lines []string, focus, height int) (part []string, above, below int) {
	return window(lines, focus, height)
}

// Bind makes a key: how it is shown, what it does, and its names.
func Bind(shown, does string, keys ...string) key.Binding { return bind(shown, does, keys...) }

// Pressed reports whether k is a key of b.
func Pressed(k tea.KeyMsg, b key.Binding) bool { return pressed(k, b) }
