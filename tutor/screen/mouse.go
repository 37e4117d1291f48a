package screen

import (
	"regexp"
	"strconv"
	"strings"
	"sync"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// The mouse is never needed: a click does what keys do. Where things are on the
// screen is known to the frame alone. So when there is a click the frame is
// drawn once more, with an invisible mark before and after each thing that can
// be clicked, and the mark about the click tells what it is.

// touch makes a text one that a click on sends a message.
func (l *look) touch(msg tea.Msg, text string) string {
	if !l.touching {
		return text
	}
	l.touched = append(l.touched, msg)
	return "\x1b[" + strconv.Itoa(len(l.touched)) + "z" + text + "\x1b[0z"
}

// marked is a mark that touch makes: a sequence that says nothing to a
// terminal, and that reaches none.
var marked = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile("\x1b\\[([0-9]+)z")
})

// touchable is a frame with its marks, line by line.
func (l *look) touchable(frame func() string) []string {
	l.touching, l.touched = true, nil
	lines := strings.Split(frame(), "\n")
	l.touching = false
	return lines
}

// under is the message of what touchable lines have at a column and a row, both
// from 0; nil if there is nothing to click.
func (l *look) under(lines []string, col, row int) tea.Msg {
	if row < 0 || row >= len(lines) {
		return nil
	}
	line, at, from, in := lines[row], 0, 0, 0
	for _, m := range append(marked().FindAllStringSubmatchIndex(line, -1), []int{len(line), len(line), 0, 0}) {
		at += ansi.StringWidth(line[from:m[0]])
		if col < at {
			if in < 1 || in > len(l.touched) {
				return nil
			}
			return l.touched[in-1]
		}
		in, _ = strconv.Atoi(line[m[2]:m[3]])
		from = m[1]
	}
	return nil
}

// click is what a press of a button, or a turn of the wheel, comes to: a key,
// or a message for the part that is shown; nil if nothing.
func (m Model) click(msg tea.MouseMsg) tea.Msg {
	if msg.Action != tea.MouseActionPress {
		return nil
	}
	switch msg.Button {
	case tea.MouseButtonLeft:
		return m.look.under(m.look.touchable(m.View), msg.X, msg.Y)
	case tea.MouseButtonWheelUp:
		return tea.KeyMsg{Type: m.wheel(tea.KeyUp, tea.KeyPgUp)}
	case tea.MouseButtonWheelDown:
		return tea.KeyMsg{Type: m.wheel(tea.KeyDown, tea.KeyPgDown)}
	}
	return nil
}

// wheel is the key that scrolls what is shown: while a problem is worked the
// arrows go from line to line.
func (m Model) wheel(arrow, page tea.KeyType) tea.KeyType {
	if m.stage == working && m.page == nil && m.tour == nil {
		return page
	}
	return arrow
}

// keyMsgs are the keys by the names that bindings have for them.
var keyMsgs = func() map[string]tea.KeyMsg {
	out := map[string]tea.KeyMsg{}
	for t := tea.KeyType(-100); t <= 127; t++ {
		k := tea.KeyMsg{Type: t}
		if name := k.String(); name != "" && t != tea.KeyRunes {
			out[name] = k
		}
	}
	for r := 'a'; r <= 'z'; r++ {
		out[string(r)] = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
	}
	return out
}()

// turnMouse takes the mouse, or lets the terminal have it again, for selecting
// text.
func (m *Model) turnMouse() tea.Cmd {
	m.unmoused = !m.unmoused
	s := said{quiet, m.look.marks.open, "Clicks are taken again.", ""}
	cmd := tea.Cmd(tea.EnableMouseCellMotion)
	if m.unmoused {
		s.head, cmd = "Clicks are left to the terminal, to select text with; "+mouseKeys().Help().Key+" takes them again.", tea.DisableMouse
	}
	switch m.stage {
	case choosing:
		m.choose.said = []said{s}
	case working:
		m.work.say(s)
	default:
		m.finish.said = []said{s}
	}
	return cmd
}
