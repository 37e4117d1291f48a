package board

import (
	"fmt"
	"io"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/tutor/screen"
)

func (m *Model) page(w io.Writer) error { return m.o.Page(w, m.data.rep) }

func (m *Model) slip(w io.Writer) error {
	_, err := io.WriteString(w, m.top().offer)
	return err
}

// inner is how wide what is shown may be: a column is left free at each side
// where there is room.
func (m *Model) inner() int {
	if m.width < 30 {
		return max(m.width, 1)
	}
	return m.width - 2
}

// room is how many lines there are between the head and the foot.
func (m *Model) room() int { return max(m.height-len(m.head())-len(m.foot()), 1) }

// head is the counts, and the names of the parts.
func (m *Model) head() []string {
	if m.height < 12 {
		return nil
	}
	width, r := m.inner(), m.data.rep
	counts := fmt.Sprintf("%s, %s, %s", plural(r.Learners, "learner"), plural(r.Sessions, "session"), plural(r.Answers, "line")+" typed")
	days := ""
	if r.Events > 0 {
		days = r.From.Format("2 January 2006") + " to " + r.To.Format("2 January 2006") + " (UTC)"
	}
	out := []string{m.look.Ends(m.look.Paint(screen.Heading, "Review")+"  "+counts, m.look.Paint(screen.Quiet, days), width)}
	return append(out, m.tabs(width)...)
}

// tabs are the names of the parts with their keys. The one in sight is marked,
// and that of the logs where something is wrong with them.
func (m *Model) tabs(width int) []string {
	var out []string
	line, used := "", 0
	for i, v := range views {
		text := fmt.Sprintf("%d %s", (i+1)%10, v.name)
		if v.warn != nil && v.warn(m.data.rep) {
			text += " !"
		}
		gap := 2
		if used == 0 {
			gap = 0
		}
		role := screen.Quiet
		if i == m.view {
			text, role = m.look.Now()+" "+text, screen.Chosen
		}
		w := ansi.StringWidth(text)
		if used > 0 && used+gap+w > width {
			out, line, used, gap = append(out, line), "", 0, 0
		}
		line += strings.Repeat(" ", gap) + m.look.Paint(role, text)
		used += gap + w
	}
	return append(out, line)
}

// foot is what is said, a line that is typed, and the keys.
func (m *Model) foot() []string {
	width := m.inner()
	var out []string
	for _, text := range m.said {
		role, mark := screen.Right, m.look.RightMark()
		if m.failed {
			role, mark = screen.Wrong, m.look.WrongMark()
		}
		out = append(out, m.look.Wrapped(role, mark+" "+text, width)...)
	}
	if m.ask != nil {
		q := questions[m.ask.purpose]
		out = append(out, m.look.Cut(m.look.Paint(screen.Heading, q.text), width), m.ask.entry.View(width, q.hint))
	}
	if m.height < 8 {
		return out
	}
	return append(out, m.look.KeyLines(m.shown(), width)...)
}

// View is the frame: never wider or higher than the terminal.
func (m Model) View() string {
	if m.width < 1 || m.height < 1 {
		return ""
	}
	var lines []string
	if m.reading != nil {
		lines = m.reading.View(m.look, m.inner())
	} else {
		foot := m.foot()
		lines = append(m.head(), m.top().View()...)
		for len(lines)+len(foot) < m.height {
			lines = append(lines, "")
		}
		lines = append(lines[:max(min(len(lines), m.height-len(foot)), 0)], foot...)
	}
	if m.inner() < m.width {
		for i, line := range lines {
			if line != "" {
				lines[i] = " " + line
			}
		}
	}
	return m.look.Fit(lines, m.width, m.height)
}
