package board

import (
	"github.com/charmbracelet/bubbles/key"

	"steelyard/tutor/screen"
)

// keyMap are the keys of the board. The lines at its foot print those that
// work where it stands.
type keyMap struct {
	Up, Down, PageUp, PageDown, Top, Bottom key.Binding
	Open, Back, Next, Prev, Pick            key.Binding
	Sort, Turn, Filter, All                 key.Binding
	Write, Offer, Help, Quit, Leave         key.Binding
	Done, Cancel                            key.Binding // of a line that is typed
}

func newKeys(ascii bool) keyMap {
	arrows := "↑ ↓ PgUp PgDn"
	if ascii {
		arrows = "Up Down PgUp PgDn"
	}
	return keyMap{
		Up:       screen.Bind(arrows, "move", "up"),
		Down:     screen.Bind("Down", "the next", "down"),
		PageUp:   screen.Bind("PgUp", "a page up", "pgup"),
		PageDown: screen.Bind("PgDn", "a page down", "pgdown", " "),
		Top:      screen.Bind("Home", "the first", "home"),
		Bottom:   screen.Bind("Home End", "ends", "end"),
		Open:     screen.Bind("Enter", "open", "enter", "right"),
		Back:     screen.Bind("Esc", "back", "esc", "left", "backspace"),
		Next:     screen.Bind("Tab", "next part", "tab"),
		Prev:     screen.Bind("Shift+Tab", "part before", "shift+tab"),
		Pick:     screen.Bind("0-9", "parts", "1", "2", "3", "4", "5", "6", "7", "8", "9", "0"),
		Sort:     screen.Bind("S", "sort", "s", "S"),
		Turn:     screen.Bind("T", "turn round", "t", "T"),
		Filter:   screen.Bind("F", "filter", "f", "F"),
		All:      screen.Bind("A", "show all", "a", "A"),
		Write:    screen.Bind("W", "write the page", "w", "W"),
		Offer:    screen.Bind("O", "write the slip", "o", "O"),
		Help:     screen.Bind("F1", "help", "f1", "h", "H"),
		Quit:     screen.Bind("Q", "quit", "q", "Q", "ctrl+q", "f8"),
		Leave:    screen.Bind("Ctrl+C", "quit", "ctrl+c", "ctrl+q", "f8"),
		Done:     screen.Bind("Enter", "do it", "enter"),
		Cancel:   screen.Bind("Esc", "leave it", "esc"),
	}
}

// shown are the keys that work where the board stands, those first that are
// looked for most.
func (m *Model) shown() []key.Binding {
	k := m.keys
	if m.reading != nil {
		return []key.Binding{k.Leave}
	}
	if m.ask != nil {
		q := questions[m.ask.purpose]
		return []key.Binding{screen.Bind(k.Done.Help().Key, q.enter, k.Done.Keys()...), screen.Bind(k.Cancel.Help().Key, q.esc, k.Cancel.Keys()...)}
	}
	p := m.top()
	var out []key.Binding
	if p.grid != nil {
		if len(p.grid.order) > 1 {
			out = append(out, k.Up)
		}
		if p.grid.opens() {
			out = append(out, k.Open)
		}
	} else if p.page.scrolls() {
		out = append(out, screen.Bind(k.Up.Help().Key, "scroll"))
	}
	if len(m.over) > 0 {
		out = append(out, k.Back)
	}
	if p.grid != nil && len(p.grid.rows) > 1 {
		out = append(out, k.Sort, k.Turn, k.Filter)
		if p.grid.filter != "" {
			out = append(out, k.All)
		}
	}
	if p.offer != "" {
		out = append(out, k.Offer)
	}
	return append(out, k.Next, k.Write, k.Help, k.Quit)
}

// longHelp is every key with what it does, at length.
func (k keyMap) longHelp() [][2]string {
	var out [][2]string
	for _, row := range []struct {
		key  key.Binding
		does string
	}{
		{k.Pick, "go to the part of that number"},
		{k.Next, "go to the next part"},
		{k.Prev, "go to the part before"},
		{k.Up, "go through rows, or scroll"},
		{k.Bottom, "go to the first row or the last"},
		{k.Open, "open the row in hand: what it is made of"},
		{k.Back, "go back to where you came from"},
		{k.Sort, "sort by the next column; after the last one, back to the order as given"},
		{k.Turn, "turn the order round"},
		{k.Filter, "show only rows that hold the words you type"},
		{k.All, "show all rows again"},
		{k.Offer, "write a slip that is offered to a file; a scenario file keeps what it holds"},
		{k.Write, "write the whole review as one HTML page with charts"},
		{k.Help, "this page"},
		{k.Quit, "quit; Ctrl+C does at any time"},
	} {
		out = append(out, [2]string{row.key.Help().Key, row.does})
	}
	return out
}
