package screen

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor"
)

func bind(shown, does string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(shown, does))
}

// pressed reports whether k is a key of b. A word that arrives all at once, as
// over a slow line, is not the key of that name: "up" is no arrow.
func pressed(k tea.KeyMsg, b key.Binding) bool {
	if k.Type == tea.KeyRunes && (len(k.Runes) != 1 || k.Paste) {
		return false
	}
	return key.Matches(k, b)
}

// quitKeys quit from anywhere, what lies over the screen included.
func quitKeys() key.Binding { return bind("Ctrl+Q", "quit", "ctrl+q", "ctrl+c", "f8") }

// mouseKeys take the mouse, or let the terminal have it.
func mouseKeys() key.Binding { return bind("F12", "mouse on or off", "f12", "ctrl+g") }

// workKeys are the keys while a problem is worked. Letters are for typing, so
// whatever else there is to do is on Ctrl with its own first letter where a
// terminal lets that through; each has a function key as well.
type workKeys struct {
	Check, Prev, Next, Back, Forth, Body, Help              key.Binding
	Mend, Hint, Undo, Clear, Pivot, Signs, View, List, Quit key.Binding
	Axes, Leave, PageUp, PageDown, Ready, Pass              key.Binding

	unhinted  bool // no hint is to be had, so its key is not offered
	wondering bool // a reason is asked for, so that the arrows do not move
}

// Keys are there for what the desk has: a next body, something to be ready for.
// Without a desk all are.
func newWorkKeys(l *look, d *tutor.Desk) workKeys {
	up, down, aside := "↑", "↓", "← →"
	if l.ascii {
		up, down, aside = "Up", "Down", "Left or Right"
	}
	k := workKeys{
		Mend:     bind(aside, "mend the line", "left", "right"),
		Check:    bind("Enter", "check", "enter"),
		Prev:     bind(up, "line above", "up"),
		Next:     bind(up+" "+down+" Tab", "move", "down"),
		Forth:    bind("Tab", "next line", "tab"),
		Back:     bind("Shift+Tab", "line before", "shift+tab"),
		Help:     bind("F1", "help", "f1"),
		Hint:     bind("Ctrl+T", "hint", "ctrl+t", "f2"),
		Undo:     bind("Ctrl+Z", "undo", "ctrl+z", "f6"),
		Clear:    bind("Ctrl+U", "clear", "ctrl+u"),
		Pivot:    bind("Ctrl+P", "pivot", "ctrl+p", "f4"),
		Signs:    bind("Ctrl+S", "signs", "ctrl+s", "f5"),
		Axes:     bind("F10", "axes", "f10", "ctrl+x"),
		Leave:    bind("Esc", "leave the axes", "esc"),
		View:     bind("Ctrl+O", "view", "ctrl+o", "f3"),
		List:     bind("Ctrl+L", "list", "ctrl+l", "f7"),
		Quit:     quitKeys(),
		PageUp:   bind("PgUp", "scroll", "pgup"),
		PageDown: bind("PgUp PgDn", "scroll", "pgdown"),
		Body:     bind("F9", "next body", "f9", "ctrl+n"),
		Ready:    bind("Ctrl+R", "ready", "ctrl+r", "f11"),
		Pass:     bind("Esc", "go on without", "esc"),
	}
	if d != nil {
		k.Body.SetEnabled(several(d))
		k.suit(d)
	}
	return k
}

// suit makes the keys those of the manner that the problem is now worked in.
func (k *workKeys) suit(d *tutor.Desk) {
	m := mannerOf(d)
	k.Check.SetHelp("Enter", m.enter)
	k.Ready.SetHelp("Ctrl+R", m.ready)
	k.Ready.SetEnabled(m.ready != "")
	_, asking := d.Asking()
	k.Pass.SetEnabled(asking)
	if k.wondering = asking; asking {
		k.Check.SetHelp("Enter", "answer")
	}
	k.unhinted = d.Terms().Hints == 0 || asking
}

// ShortHelp is what the help line shows.
func (k workKeys) ShortHelp() []key.Binding {
	keys := []key.Binding{k.Check, k.Pass, k.Next, k.Body, k.PageDown, k.Axes, k.Help, k.Hint, k.Clear, k.Undo, k.Pivot, k.Signs, k.View, k.Ready, k.List, k.Quit}
	if k.unhinted {
		keys = slices.DeleteFunc(keys, func(b key.Binding) bool { return b.Help() == k.Hint.Help() })
	}
	if k.wondering {
		keys = slices.DeleteFunc(keys, func(b key.Binding) bool { return b.Help() == k.Next.Help() })
	}
	return keys
}

// longHelp tells the keys one by one, for the help screen: the key, its other
// names, and what it does.
func (k workKeys) longHelp() [][2]string {
	return [][2]string{
		{"Enter", "check the line; where lines are judged later, keep it"},
		{"Ctrl+R or F11", "in practice, have all lines checked; in an exam, hand the paper in; while a problem is worked for you, go on alone"},
		{k.Prev.Help().Key + ", " + strings.Fields(k.Next.Help().Key)[1], "the entry above or below; outside the ledger, the line before or after"},
		{"Tab, Shift+Tab", "the next line, the line before"},
		{"F9 or Ctrl+N", "the next body in hand, where a problem has several"},
		{"Ctrl+T or F2", "a hint: a question; again, the principle; again, the line, which is then not earned"},
		{"Ctrl+Z or F6", "take back the line earned last"},
		{k.Mend.Help().Key, "move in the line; after a line that was not right, take it up to mend it"},
		{"Ctrl+U", "clear the line; once more brings it back"},
		{"Ctrl+P or F4", "choose another pivot"},
		{"Ctrl+S or F5", "count moments positive the other way round"},
		{"F10 or Ctrl+X", "turn the axes: 20, alpha, 180 - alpha, or 0 for level"},
		{"Ctrl+O or F3", "see the figure, the ledger or the statement"},
		{"PgUp, PgDn", "scroll what does not fit"},
		{"a click", "on an entry, an equation, a value, a body or a key of the foot: goes there, or does it"},
		{"F12 or Ctrl+G", "leave clicks to the terminal, to select text with; once more takes them again"},
		{"Ctrl+L or F7", "leave for the list of problems; the work is kept"},
		{"Ctrl+Q or F8", "quit; the work is kept"},
		{"F1", "this help"},
	}
}

// chooseKeys are the keys of the list of problems.
type chooseKeys struct {
	Up, Down, Family, FamilyBack, PageUp, PageDown, Start, Clear, Help, Quit key.Binding
}

func newChooseKeys(l *look) chooseKeys {
	arrows := "↑ ↓"
	if l.ascii {
		arrows = "Up Down"
	}
	return chooseKeys{
		Up:         bind(arrows, "choose", "up"),
		Down:       bind("Down", "choose", "down"),
		Family:     bind("Tab", "next family", "tab"),
		PageUp:     bind("PgUp", "a page up", "pgup"),
		PageDown:   bind("PgUp PgDn", "a page", "pgdown"),
		Start:      bind("Enter", "begin or go on", "enter"),
		FamilyBack: bind("Shift+Tab", "family before", "shift+tab"),
		Clear:      bind("Esc", "show all", "esc"),
		Help:       bind("F1", "help", "f1"),
		Quit:       quitKeys(),
	}
}

// ShortHelp is what the help line shows.
func (k chooseKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Up, k.Family, k.Start, key.NewBinding(key.WithKeys("any letter"), key.WithHelp("letters", "search")), k.Clear, k.PageDown, mouseKeys(), k.Help, k.Quit}
}

// finishKeys are the keys when a problem is done.
type finishKeys struct {
	Another, List, Up, Down, PageUp, PageDown, Quit, Help key.Binding
}

func newFinishKeys(l *look) finishKeys {
	arrows := "↑ ↓"
	if l.ascii {
		arrows = "Up Down"
	}
	return finishKeys{
		Another:  bind("A", "another like it", "a", "A"),
		List:     bind("L", "list of problems", "l", "L", "ctrl+l", "f7"),
		Up:       bind(arrows, "scroll", "up"),
		Down:     bind("Down", "scroll", "down"),
		PageUp:   bind("PgUp", "a page up", "pgup"),
		PageDown: bind("PgUp PgDn", "a page", "pgdown", " "),
		Quit:     bind("Q", "quit", "q", "Q", "ctrl+q", "ctrl+c", "f8"),
		Help:     bind("F1", "help", "f1"),
	}
}

// ShortHelp is what the help line shows.
func (k finishKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Another, k.List, k.Up, k.PageDown, k.Quit, k.Help}
}

// pageKeys are the keys of a page that is only read.
type pageKeys struct {
	Up, Down, PageUp, PageDown, Back, Tour, Quit key.Binding
}

func newPageKeys(l *look) pageKeys {
	arrows := "↑ ↓"
	if l.ascii {
		arrows = "Up Down"
	}
	return pageKeys{
		Up:       bind(arrows, "scroll", "up"),
		Down:     bind("Down", "scroll", "down"),
		PageUp:   bind("PgUp", "a page up", "pgup"),
		PageDown: bind("PgUp PgDn", "a page", "pgdown", " "),
		Back:     bind("Enter or F1", "back", "enter", "esc", "f1", "q"),
		Tour:     bind("T", "take the tour", "t", "T"),
		Quit:     quitKeys(),
	}
}

// ShortHelp is what the help line shows.
func (k pageKeys) ShortHelp() []key.Binding {
	return []key.Binding{k.Back, k.Tour, k.Up, k.PageDown, k.Quit}
}

// tourKeys are the keys of the tour.
type tourKeys struct{ Next, Prev, Skip, Quit key.Binding }

func newTourKeys(*look) tourKeys {
	return tourKeys{
		Next: bind("Enter", "next", "enter", "right", "down", " "),
		Prev: bind("Left", "back", "left", "up"),
		Skip: bind("Esc", "skip the tour", "esc"),
		Quit: quitKeys(),
	}
}

// ShortHelp is what the help line shows.
func (k tourKeys) ShortHelp() []key.Binding { return []key.Binding{k.Next, k.Prev, k.Skip, k.Quit} }

const withCtrl = "Ctrl+"

// keyLines prints keys with what they do, wrapped to width. Keys that are
// held with Ctrl stand together, and Ctrl is said once.
func (l *look) keyLines(keys []key.Binding, width int) []string {
	var plainKeys, ctrl []item
	for _, k := range keys {
		if !k.Enabled() {
			continue
		}
		h := k.Help()
		if rest, ok := strings.CutPrefix(h.Key, withCtrl); ok && len(keys) > 10 {
			ctrl = append(ctrl, item{rest, h.Desc, k})
			continue
		}
		plainKeys = append(plainKeys, item{h.Key, h.Desc, k})
	}
	var out []string
	line, used := "", 0
	add := func(it item, gap int) {
		w := it.width()
		if used > 0 && used+gap+w > width {
			out, line, used = append(out, line), "", 0
		}
		if used > 0 {
			line, used = line+strings.Repeat(" ", gap), used+gap
		}
		line += l.touch(it.press(), l.paint(accent, it.key)+" "+l.paint(quiet, it.does))
		used += w
	}
	for _, it := range plainKeys {
		add(it, 3)
	}
	if len(ctrl) > 0 {
		ctrl[0].key = "Ctrl +  " + ctrl[0].key
		together := 3
		for _, it := range ctrl {
			together += it.width() + 2
		}
		if used+together-2 > width { // kept together, on a line of their own
			out, line, used = append(out, line), "", 0
		}
	}
	for i, it := range ctrl {
		gap := 2
		if i == 0 {
			gap = 3
		}
		add(it, gap)
	}
	return append(out, line)
}

type item struct {
	key, does string
	bound     key.Binding
}

// press is the key itself; nil if it is none.
func (it item) press() tea.Msg {
	for _, name := range it.bound.Keys() {
		if k, ok := keyMsgs[name]; ok {
			return k
		}
	}
	return nil
}

func (it item) width() int { return ansi.StringWidth(it.key) + 1 + ansi.StringWidth(it.does) }
