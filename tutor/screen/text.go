package screen

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"steelyard/problems/notation"
)

// text makes what comes from outside fit to show: nothing in it acts on the
// terminal, and on a terminal without Unicode it is ASCII.
func (l *look) text(s string) string {
	s = notation.Printable(spaced.Replace(s))
	if l.ascii {
		s = notation.Spell(s)
	}
	return s
}

// spaced takes the breaks out of what is to be wrapped here.
var spaced = strings.NewReplacer("\r\n", " ", "\n", " ", "\t", " ")

// sentence begins a text with a capital.
func sentence(s string) string {
	if s == "" {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// wrap breaks text at words into lines no wider than width; a longer word is
// broken where it must be.
func wrap(text string, width int) []string {
	if text == "" {
		return nil
	}
	lines := ansi.Wrap(whole.Replace(text), max(width, 1), " ")
	return strings.Split(broken.Replace(lines), "\n")
}

// A line is not broken after a hyphen, which may be a minus: the library, which
// would, lets such a line be longer than width.
var (
	whole  = strings.NewReplacer("-", "\u2011")
	broken = strings.NewReplacer("\u2011", "-")
)

// painted wraps text and draws each line of it in a role.
func (l *look) painted(r role, text string, width int) []string {
	out := wrap(text, width)
	for i, line := range out {
		out[i] = l.paint(r, strings.TrimRight(line, " "))
	}
	return out
}

// cut shortens a line to width, with a sign that it was.
func (l *look) cut(line string, width int) string {
	if ansi.StringWidth(line) <= width {
		return line
	}
	more := l.marks.more
	if width <= len(l.marks.more) {
		more = ""
	}
	return ansi.Truncate(line, max(width, 0), more)
}

// end is the end of a plain text that width has room for, with a sign that there
// is more before it.
func (l *look) end(text string, width int) string {
	over := ansi.StringWidth(text) - width
	if over <= 0 {
		return text
	}
	return ansi.TruncateLeft(text, over+ansi.StringWidth(l.marks.more), l.marks.more)
}

// pad fills a line with spaces up to width, or cuts it.
func (l *look) pad(line string, width int) string {
	line = l.cut(line, width)
	return line + strings.Repeat(" ", max(0, width-ansi.StringWidth(line)))
}

// beside sets two blocks of lines next to each other, the left one w wide.
func (l *look) beside(left, rightward []string, w int, between string) []string {
	out := make([]string, max(len(left), len(rightward)))
	for i := range out {
		a, b := "", ""
		if i < len(left) {
			a = left[i]
		}
		if i < len(rightward) {
			b = rightward[i]
		}
		out[i] = strings.TrimRight(l.pad(a, w)+between+b, " ")
	}
	return out
}

// ends sets one text at each end of a line; the right one gives way first.
func (l *look) ends(left, rightward string, width int) string {
	a, b := ansi.StringWidth(left), ansi.StringWidth(rightward)
	if a+b+2 > width {
		return l.cut(left, width)
	}
	return left + strings.Repeat(" ", width-a-b) + rightward
}

// banner is the head of a part: its name, what more there is to say of it,
// and a rule to the end.
func (l *look) banner(name, more string, width int) string {
	line := l.paint(heading, name)
	if more != "" && ansi.StringWidth(name)+ansi.StringWidth(more)+2 <= width {
		line += "  " + l.paint(quiet, more)
	}
	if rest := width - ansi.StringWidth(line) - 1; rest > 0 {
		line += " " + l.paint(quiet, strings.Repeat(l.marks.rule, rest))
	}
	return l.cut(line, width)
}

// fit is the last word on a frame: exactly as many lines as there are rows at
// most, none wider than the terminal.
func (l *look) fit(lines []string, width, height int) string {
	if len(lines) > height {
		lines = lines[:max(height, 0)]
	}
	out := make([]string, len(lines))
	for i, line := range lines {
		out[i] = strings.TrimRight(line, " ")
		if ansi.StringWidth(line) > width {
			out[i] = ansi.Truncate(line, width, "")
		}
		out[i] = l.lean(out[i])
	}
	return strings.Join(out, "\n")
}

const (
	reset  = "\x1b[0m"
	within = "\x00" // begins no text
)

// lean lets a role go on over the spaces to the next text in the same role,
// instead of ending and beginning it anew: a line sent over a slow line is a
// third shorter for it.
func (l *look) lean(line string) string {
	if l.touching {
		return line
	}
	var b strings.Builder
	open := ""
	for {
		at := strings.IndexByte(line, '\x1b')
		if at < 0 {
			break
		}
		end := at + strings.IndexByte(line[at:], 'm') + 1
		if end <= at {
			break
		}
		b.WriteString(line[:at])
		seq, rest := line[at:end], line[end:]
		switch gap := strings.TrimLeft(rest, " "); {
		case seq != reset && open != "": // one within another
			open = within
			b.WriteString(seq)
		case seq != reset:
			open = seq
			b.WriteString(seq)
		case open != "" && open != l.on[here] && open != l.on[caret] && strings.HasPrefix(gap, open): // here has a ground of its own
			b.WriteString(rest[:len(rest)-len(gap)])
			rest = gap[len(open):]
		default:
			open = ""
			b.WriteString(seq)
		}
		line = rest
	}
	b.WriteString(line)
	return b.String()
}

// window is the part of lines that height has room for and that holds the
// line at focus, with how many are left out above and below.
func window(lines []string, focus, height int) (part []string, above, below int) {
	if len(lines) <= height {
		return lines, 0, 0
	}
	if height <= 0 {
		return nil, 0, len(lines)
	}
	from := min(max(focus-height+1, 0), len(lines)-height)
	if focus < from {
		from = focus
	}
	return lines[from : from+height], from, len(lines) - from - height
}
