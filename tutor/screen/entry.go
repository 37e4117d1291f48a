package screen

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"steelyard/problems/notation"
)

// entry is the line that is typed on. Only characters that show themselves
// get into it, and no more than the notation reads.
type entry struct {
	input textinput.Model
	look  *look
	held  bool   // the line has been sent, or brought back: typing replaces it, a key that moves or deletes mends it
	spent bool   // it has been sent as it stands
	gone  string // the line that was cleared or replaced last
	note  string // what became of the last thing typed or pasted, if not all of it was taken
}

func newEntry(l *look) entry {
	in := textinput.New()
	in.Prompt = ""
	in.CharLimit = notation.MaxBytes
	in.Cursor.SetMode(cursor.CursorStatic)
	in.ShowSuggestions = false
	in.KeyMap.Paste = key.NewBinding(key.WithDisabled()) // the terminal pastes; the clipboard of another machine is none of ours
	in.KeyMap.NextSuggestion = key.NewBinding(key.WithDisabled())
	in.KeyMap.PrevSuggestion = key.NewBinding(key.WithDisabled())
	in.KeyMap.AcceptSuggestion = key.NewBinding(key.WithDisabled())
	in.Focus()
	return entry{input: in, look: l}
}

// Value is the text.
func (e entry) Value() string { return e.input.Value() }

// Set replaces the text, with the cursor at its end.
func (e *entry) Set(s string) {
	e.input.SetValue(e.clean(s, notation.MaxBytes))
	e.input.CursorEnd()
	e.note, e.held, e.spent = "", false, false
}

// Hold keeps a line to be replaced or mended, with the cursor before a 1-based
// column, or at the end for 0.
func (e *entry) Hold(column int) {
	e.held = e.Value() != ""
	if column > 0 {
		e.input.SetCursor(column - 1)
	}
}

// Clear empties the line; on an empty line it brings back what was there.
func (e *entry) Clear() {
	v := e.Value()
	if v == "" {
		e.Set(e.gone)
		return
	}
	e.Set("")
	e.gone = v
}

// Update types, moves the cursor, or deletes.
func (e entry) Update(msg tea.Msg) entry {
	k, ok := msg.(tea.KeyMsg)
	if !ok {
		return e
	}
	if k.Paste {
		if text := e.clean(string(k.Runes), notation.MaxBytes*64); len(text) > notation.MaxBytes-e.kept() {
			e.note = fmt.Sprintf("What you pasted is too long: a line holds %d characters. None of it was taken; the line is as it was.", notation.MaxBytes)
			return e
		}
	}
	was, held := e, e.held
	e.note, e.held, e.spent = "", false, false
	if held && (k.Type == tea.KeyLeft || k.Type == tea.KeyRight) {
		return e // taken up where the cursor stands
	}
	if k.Type == tea.KeyRunes || k.Type == tea.KeySpace {
		if !k.Alt {
			if held {
				e.Clear()
			}
			e.insert(e.clean(string(k.Runes), notation.MaxBytes-len(e.input.Value())))
			return e
		}
		if len(k.Runes) != 1 || !strings.ContainsRune("bdf", k.Runes[0]) { // a word back, cut, forward
			return was // no key of the entry's
		}
	}
	e.input, _ = e.input.Update(k)
	switch k.Type {
	case tea.KeyHome, tea.KeyEnd, tea.KeyCtrlA, tea.KeyCtrlE:
		return e // taken up there, though it may stand there already
	}
	if e.Value() == was.Value() && e.input.Position() == was.input.Position() {
		return was
	}
	return e
}

// kept is how much of the line stays when something is typed.
func (e entry) kept() int {
	if e.held {
		return 0
	}
	return len(e.Value())
}

// insert types text at the cursor. It does not go through the library's Update,
// which would take the word "right", arriving all at once over a slow line,
// for the key of that name.
func (e *entry) insert(text string) {
	value, at := []rune(e.input.Value()), e.input.Position()
	at = min(at, len(value))
	typed := []rune(text)
	e.input.SetValue(string(value[:at]) + text + string(value[at:]))
	e.input.SetCursor(at + len(typed))
}

// clean keeps of s what may be typed, up to a number of bytes. A new line
// becomes a semicolon, which parts the lines of a list too.
func (e *entry) clean(s string, room int) string {
	s = strings.ReplaceAll(strings.TrimRight(s, "\r\n"), "\r\n", "\n")
	var b strings.Builder
	hidden := 0
	for _, r := range s {
		piece := string(r)
		switch {
		case r == '\n' || r == '\r':
			piece = "; "
		case r == '\t' || r == '\u00a0' || r == '\u2009':
			piece = " "
		case notation.Printable(piece) != piece || r == utf8.RuneError:
			hidden++
			continue
		case e.look.ascii && r >= 0x80:
			if piece = notation.Spell(piece); strings.HasPrefix(piece, `\u`) { // it has no spelling
				hidden++
				continue
			}
		}
		if b.Len()+len(piece) > room {
			e.note = fmt.Sprintf("A line holds %d characters at most; the rest was left out.", notation.MaxBytes)
			break
		}
		b.WriteString(piece)
	}
	if hidden > 0 && e.note == "" {
		e.note = "Characters that cannot be shown here were left out."
	}
	return b.String()
}

// View is the line as it shows in width columns, with the cursor on it.
func (e entry) View(width int, hint string) string {
	lead := e.look.marks.now + " "
	width = max(width-2, 1)
	value := []rune(e.Value())
	if len(value) == 0 {
		return lead + e.look.paint(caret, " ") + e.look.paint(quiet, e.look.cut(hint, width-1))
	}
	at := min(e.input.Position(), len(value))
	from := e.from(width)
	before := string(value[from:at])
	under, after := " ", ""
	if at < len(value) {
		under, after = string(value[at]), string(value[at+1:])
	}
	room := width - ansi.StringWidth(before) - ansi.StringWidth(under)
	if e.held {
		return lead + e.look.paint(quiet, before) + e.look.paint(caret, under) + e.look.paint(quiet, e.look.cut(after, room))
	}
	return lead + before + e.look.paint(caret, under) + e.look.cut(after, room)
}

// column is how far right, in cells, a 1-based column of the text shows.
func (e entry) column(width, at int) int {
	value := []rune(e.Value())
	at = min(max(at-1, 0), len(value))
	from := e.from(max(width-2, 1))
	if at < from {
		return 0
	}
	return ansi.StringWidth(string(value[from:at]))
}

// from is the first character shown: the text slides so that the cursor is in
// sight.
func (e entry) from(width int) int {
	value := []rune(e.Value())
	at := min(e.input.Position(), len(value))
	from := 0
	for from < at && ansi.StringWidth(string(value[from:at]))+2 > width {
		from++
	}
	return from
}
