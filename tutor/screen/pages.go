package screen

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// page is something only read: help.
type page struct {
	look   *look
	keys   pageKeys
	about  *tutor.Desk // the problem being worked, or nil
	scroll int
	width  int
	height int
}

func newPage(l *look, about *tutor.Desk, width, height int) page {
	return page{look: l, keys: newPageKeys(l), about: about, width: width, height: height}
}

// Update scrolls, or goes back.
func (p page) Update(msg tea.Msg) (page, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		p.width, p.height = msg.Width, msg.Height
	case tea.KeyMsg:
		switch {
		case pressed(msg, p.keys.Back):
			return p, send(backMsg{})
		case pressed(msg, p.keys.Tour):
			return p, send(tourMsg{})
		case pressed(msg, p.keys.Up):
			p.scroll--
		case pressed(msg, p.keys.Down):
			p.scroll++
		case pressed(msg, p.keys.PageUp):
			p.scroll -= max(p.height-3, 1)
		case pressed(msg, p.keys.PageDown):
			p.scroll += max(p.height-3, 1)
		}
	}
	p.scroll = min(max(p.scroll, 0), max(0, len(p.text(p.inner()))-p.room()))
	return p, nil
}

func (p page) inner() int { return max(p.width-2, 1) }

func (p page) room() int {
	return max(p.height-1-len(p.look.keyLines(p.keys.ShortHelp(), p.inner())), 0)
}

// View is the screen as lines.
func (p page) View() []string {
	width, room := p.inner(), p.room()
	text := p.text(width)
	from := min(p.scroll, max(0, len(text)-room))
	part := append([]string{}, text[from:min(len(text), from+room)]...)
	more := ""
	if len(text) > room {
		more = fmt.Sprintf("lines %d to %d of %d", from+1, from+len(part), len(text))
	}
	for len(part) < room {
		part = append(part, "")
	}
	lines := append([]string{p.look.banner("Help", more, width)}, part...)
	lines = append(lines, p.look.keyLines(p.keys.ShortHelp(), width)...)
	for i, line := range lines {
		if line != "" && p.width > 4 {
			lines[i] = " " + line
		}
	}
	return lines
}

// typable is what may be typed, with what it means.
var typable = [][2]string{
	{"T L sin(alpha)", "a product: a space, * or nothing between the symbols"},
	{"-M g L/2", "signs, and divisions"},
	{"2T sin 35", "a bare number in a sine is degrees, where the problem has degrees"},
	{"W_1 r_1  or  W1 r1", "subscripts"},
	{"alpha", "Greek letters by name, or as they are"},
	{"sqrt(h(2R - h))", "roots, with ( ) or [ ]"},
	{"h^2  or  h**2", "powers; sin^2(alpha) too"},
	{"3.2e3", "numbers; a decimal point, not a comma"},
	{"1.56 kN", "values with their unit: N, kN, m, cm, kg, deg, rad, lbf"},
	{"T L = M g L/2", "a whole equation, in place of any of its entries"},
	{"T = 1.56 kN", "a value, at any time"},
	{"W at G down", "a force: a symbol, where it acts, which way"},
	{"T at B toward C", "or toward another point; or at 35 deg"},
}

func (p page) text(width int) []string {
	l := p.look
	var out []string
	rows := func(name string, table [][2]string, left int) {
		if len(out) > 0 {
			out = append(out, "")
		}
		out = append(out, l.paint(heading, name))
		for _, row := range table {
			first := l.pad(l.text(row[0]), left)
			for i, part := range wrap(l.text(row[1]), max(width-left-4, 12)) {
				if i > 0 {
					first = strings.Repeat(" ", left)
				}
				out = append(out, "  "+l.paint(accent, first)+"  "+part)
			}
		}
	}
	if p.about != nil {
		if brief := p.about.Brief(); brief != "" {
			out = append([]string{l.paint(heading, "How this problem is worked")}, wrap(l.text(brief), width)...)
		}
		on := ""
		if several(p.about) {
			on = " on the " + l.text(p.about.Body().Name)
			rows("Bodies, taken in hand in turn", p.bodies(), 20)
		}
		rows("Signs now in force"+on, p.signs(), 20)
		rows("Symbols of this problem", p.symbols(), 20)
	}
	rows("What may be typed", typable, 20)
	rows("Keys while a problem is worked", newWorkKeys(l, nil).longHelp(), 20)
	m := l.marks
	rows("Marks", [][2]string{
		{m.right, "right"}, {m.wrong, "not right yet, with how many attempts"}, {m.shown, "shown by a hint, so not earned"},
		{m.covered, "stands in the whole equation, so it is not asked"}, {m.taken, "written, and not judged yet"}, {m.now, "the line now open"}, {m.open, "still to be written"},
	}, 4)
	out = append(out, "")
	return append(out, wrap("Every line is recorded before it is confirmed. A line that cannot be read is not counted as an attempt.", width)...)
}

// bodies are the bodies of the problem, with how far each is.
func (p page) bodies() [][2]string {
	var out [][2]string
	for _, name := range p.about.Bodies() {
		words := progress(p.about, name)
		if p.about.Progress(name).Stage == tutor.Writing {
			words += " lines " + mannerOf(p.about).there
		}
		if name == p.about.Body().Name {
			words += "; in hand"
		}
		out = append(out, [2]string{name, words})
	}
	return out
}

func (p page) signs() [][2]string {
	c := p.about.Choice()
	way := "anticlockwise"
	if c.Clockwise {
		way = "clockwise"
	}
	out := [][2]string{{"x", "positive to the right"}, {"y", "positive upward"}}
	if tilt := p.look.tilt(p.about.Session); tilt != "" {
		out = [][2]string{{"x", "positive along the axis turned " + tilt + " anticlockwise from the level"}, {"y", "positive square to it, anticlockwise of x"}}
	}
	about := "once you have chosen a pivot"
	if p.about.PivotChosen() {
		about = "about " + c.Pivot
	}
	return append(out, [2]string{"moments", way + " is positive, " + about}, [2]string{"unknown forces", "positive the way you listed them"})
}

func (p page) symbols() [][2]string {
	prob := p.about.Problem()
	var out [][2]string
	for i := range prob.Table.Len() {
		name := prob.Table.Name(i)
		out = append(out, [2]string{notation.Display(name, p.look.ascii), prob.Meaning(name)})
	}
	for _, pt := range p.about.Grader().Body().Points {
		out = append(out, [2]string{"point " + pt.Name, pt.Meaning})
	}
	return out
}

// tour is a short walk through how the tutor is used.
type tour struct {
	look   *look
	keys   tourKeys
	at     int
	width  int
	height int
}

func newTour(l *look, width, height int) tour {
	return tour{look: l, keys: newTourKeys(l), width: width, height: height}
}

// stops are the tour's pages: a name and paragraphs, short enough for the
// smallest screen.
var stops = []struct {
	name string
	text []string
}{
	{"One line at a time", []string{
		"You set up an equilibrium problem as on paper: choose a pivot, list the forces on the body, write each one's parts and moment, sum them to zero, solve, and doubt the answer.",
		"Each line is checked when you press Enter. If it is wrong you are told what kind of mistake it is; nothing is lost by being wrong."}},
	{"Listing the forces", []string{
		"A force is a symbol, a point and a way:",
		"    W at G down",
		"    T at B toward C",
		"An unknown force may point either way; your choice is its positive sense. Say done when that is all of them."}},
	{"The ledger", []string{
		"Then there is a table: a row for each force, and columns for its part along x, its part along y, and its moment about the pivot. Type an entry as you would write it:",
		"    T L sin(alpha)     -M g L/2     0",
		"How it reads is shown under the line while you type. When a column is full, its sum is the equation. Where there are several bodies each has a ledger; F9 takes the next in hand."}},
	{"When you are stuck", []string{
		"Ctrl+T gives a hint: first a question; again, the principle; a third time, the line itself, which then counts as shown and not as earned.",
		"Arrows and Tab go to any other line. Ctrl+Z takes the last one back. F1 is help, and there is this tour again. Ctrl+Q quits; the work is kept, and you can go on where you left."}},
}

// Update turns the page.
func (t tour) Update(msg tea.Msg) (tour, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		t.width, t.height = msg.Width, msg.Height
	case tea.KeyMsg:
		switch {
		case pressed(msg, t.keys.Skip):
			return t, send(backMsg{})
		case pressed(msg, t.keys.Prev):
			t.at = max(t.at-1, 0)
		case pressed(msg, t.keys.Next):
			if t.at == len(stops)-1 {
				return t, send(backMsg{})
			}
			t.at++
		}
	}
	return t, nil
}

// View is the screen as lines.
func (t tour) View() []string {
	width := min(max(t.width-4, 1), 72)
	stop := stops[t.at]
	lines := []string{"", t.look.banner(stop.name, fmt.Sprintf("%d of %d", t.at+1, len(stops)), width), ""}
	for _, text := range stop.text {
		if strings.HasPrefix(text, " ") {
			lines = append(lines, t.look.paint(accent, t.look.cut(t.look.text(text), width)))
			continue
		}
		if lines[len(lines)-1] != "" {
			lines = append(lines, "")
		}
		lines = append(append(lines, wrap(t.look.text(text), width)...), "")
	}
	lines = append(lines, t.look.keyLines(t.keys.ShortHelp(), width)...)
	for i, line := range lines {
		if line != "" {
			lines[i] = "  " + line
		}
	}
	return lines
}

// notice is said before anything else, until a key is pressed.
func (l *look) notice(text string, width, height int) []string {
	lines := []string{"", l.paint(heading, "  Before you begin"), ""}
	for _, part := range strings.Split(text, "\n") {
		for _, line := range wrap(l.text(part), min(width-4, 76)) {
			lines = append(lines, "  "+line)
		}
	}
	lines = append(lines, "", l.paint(accent, "  Press a key to go on."))
	if len(lines) > height { // the words come before the space about them
		lines = lines[len(lines)-height:]
	}
	return lines
}
