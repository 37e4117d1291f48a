package screen

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// The sizes at which the layout changes.
const (
	leastWidth  = 60 // below either of these, only the line itself is shown
	leastHeight = 18
	wideWidth   = 100 // from here on, figure beside ledger
	wideHeight  = 24
	foldWidth   = 72 // from here on, figure beside the column in hand
	foldHeight  = 20
)

func (w work) wide() bool  { return w.width >= wideWidth && w.height >= wideHeight }
func (w work) small() bool { return w.width < leastWidth || w.height < leastHeight }

// View is the screen as lines.
func (w work) View() []string {
	if w.small() {
		return w.narrow()
	}
	keys := w.look.keyLines(w.keys.ShortHelp(), w.width-2)
	lower := w.lower(w.width - 2)
	bodies := w.bodies(w.width - 2)
	room := w.height - 2 - len(bodies) - len(lower) - len(keys)
	if room < 3 { // a very long message: it comes before all else
		room = max(0, w.height-1-len(lower))
		keys, bodies = nil, nil
	}
	upper := w.upper(w.width-2, room)
	for len(upper) < room {
		upper = append(upper, "")
	}
	lines := append([]string{w.header(w.width - 2)}, bodies...)
	lines = append(lines, upper[:room]...)
	if keys != nil {
		lines = append(lines, w.look.paint(quiet, strings.Repeat(w.look.marks.rule, w.width-2)))
	}
	lines = append(lines, lower...)
	lines = append(lines, keys...)
	for i, line := range lines {
		if line != "" {
			lines[i] = " " + line
		}
	}
	return lines
}

func (w work) header(width int) string {
	title := w.look.text(w.desk.Problem().Title)
	aside := w.asideOfHead(width - ansi.StringWidth(title) - 2)
	if _, timed := w.desk.Remaining(w.now); timed { // the title gives way to the time
		title = w.look.cut(title, width-len(aside)-2)
	}
	return w.look.ends(w.look.paint(heading, title), w.look.paint(quiet, aside), width)
}

// lower is what is said of the last line, what is asked now, and the line.
func (w work) lower(width int) []string {
	var lines []string
	for _, s := range w.said {
		lines = append(lines, s.lines(w.look, width)...)
	}
	lines = append(lines, w.asked(width)...)
	lines = append(lines, w.entry.View(width, w.example()))
	return append(lines, w.heard(width)...)
}

// asked is the prompt, and the answers to choose from.
func (w work) asked(width int) []string {
	if w.turning {
		return w.look.painted(heading, "Turn the axes: how far is x turned, anticlockwise from the level?", width)
	}
	if q, asking := w.wondered(); asking {
		return w.askedWhy(q, width)
	}
	t := w.desk.Current()
	if t == nil {
		return []string{"Every line is done."}
	}
	lines := w.look.painted(heading, w.look.text(w.prompt(t)), width)
	if choices := w.desk.Choices(t); len(choices) > 0 {
		lines = append(lines, w.offered(choices, width)...)
	}
	return lines
}

// example says what may be typed, while nothing is.
func (w work) example() string {
	if w.turning {
		return "an angle: 20, alpha, 180 - alpha; " + w.keys.Leave.Help().Key + " leaves it"
	}
	if _, asking := w.wondered(); asking {
		return "a number, or your own words for your instructor; " + w.keys.Pass.Help().Key + " goes on"
	}
	t := w.desk.Current()
	if t == nil {
		return ""
	}
	if w.watched() {
		return "Enter shows the next line; own and Enter, or " + w.keys.Ready.Help().Key + ", goes on alone"
	}
	switch t.Status {
	case tutor.Earned, tutor.Shown:
		return "stands as: " + w.look.text(t.Reads)
	case tutor.Taken:
		if t.Step == tutor.StepForces {
			return "a force to add, or to list anew; drop W takes W off"
		}
		return "written: " + w.look.text(t.Reads) + "; " + w.keys.Mend.Help().Key + " to mend it"
	}
	switch t.Step {
	case tutor.StepPivot:
		return "the letter of a point in the figure"
	case tutor.StepForces:
		return "a symbol, at a point, which way"
	case tutor.StepX, tutor.StepY, tutor.StepMoment:
		return "an expression in the symbols; 0 if there is none"
	case tutor.StepEquation:
		return "left side = right side"
	case tutor.StepChecking, tutor.StepHandIn:
		return mannerOf(w.desk).word + " and Enter, or " + w.keys.Ready.Help().Key
	case tutor.StepValue:
		if u, _ := w.desk.Problem().Unknown(t.Cell); u.Unit.Name == "" {
			return "a number"
		}
		return "a number and its unit"
	}
	if choices := w.desk.Choices(t); len(choices) > 1 {
		return numbers(choices)
	}
	return "the letter of another point"
}

// heard is how the line reads so far, or where and why it does not: always one
// line while there is typing, so that nothing moves above it, and little is
// sent over a slow line.
func (w work) heard(width int) []string {
	if w.entry.note != "" {
		return w.look.painted(shown, "  "+w.look.marks.wrong+" "+w.entry.note, width)
	}
	mend := "type a new line, or mend this one with " + w.keys.Mend.Help().Key
	switch {
	case w.live.at > 0:
		reason := w.live.reason
		if w.entry.held { // the reply has said why
			reason = mend
		}
		return []string{w.look.paint(quiet, w.caret(reason, width))}
	case w.entry.held:
		return []string{w.look.paint(quiet, w.look.cut("  "+mend, width))}
	case w.live.as != "":
		as := w.live.as
		if w.live.step == tutor.StepValue && w.live.cell != w.at.cell {
			as = w.look.text(notation.Display(w.live.cell, w.look.ascii)) + " = " + as
		}
		const lead = "  reads as: "
		return []string{w.look.paint(quiet, lead+w.look.end(as, width-len(lead)))}
	}
	return []string{""}
}

// caret points at the place on the line above that could not be read, with the
// reason on the side of it that has room.
func (w work) caret(reason string, width int) string {
	at := min(2+w.entry.column(width, w.live.at), width-1)
	if right := width - at - 2; ansi.StringWidth(reason) <= right || right >= at {
		return strings.Repeat(" ", max(at, 0)) + "^ " + w.look.cut(reason, right)
	}
	reason = w.look.cut(reason, at-1)
	return strings.Repeat(" ", max(at-1-ansi.StringWidth(reason), 0)) + reason + " ^"
}

// upper is the problem and the work so far, as much as height has room for.
func (w work) upper(width, height int) []string {
	switch w.shown() {
	case viewStatement:
		return w.scrolled(w.banner("Statement"), w.told.Long(width), height, width)
	case viewFigure:
		return w.besideFigure(width, height)
	case viewBoth:
		if w.wide() {
			return w.board(width, height)
		}
		if height >= leastFolded {
			return w.folded(width, height)
		}
	}
	return w.alone(width, height)
}

// banner is the head of what is shown, with what the view key shows next.
func (w work) banner(name string) string {
	more := ""
	key := w.keys.View.Help().Key + ": " + w.next().name()
	width := w.width - 2 - ansi.StringWidth(key) - 1
	if name == "Ledger" {
		name, more = w.ledger().head(width - 1)
	}
	return w.look.banner(name, more, width) + " " + w.look.paint(quiet, key)
}

// board is everything at once: the statement across, the figure beside the
// ledger.
func (w work) board(width, height int) []string {
	g := w.ledger()
	leftWidth := min(max(width*42/100, 40), 66)
	// The figure gives way to the ledger where that helps; by what is written,
	// not by what is being typed, so that nothing moves under the fingers.
	if spare := width - 3 - w.written().natural(); spare < leftWidth && spare >= 34 {
		leftWidth = 34
	}
	rightWidth := width - leftWidth - 3
	least, _ := g.View(rightWidth, 0)
	told := w.told.Short(width)
	if most := height - 1 - max(len(least), 8); len(told) > most {
		told = w.told.Brief(width, most)
	}
	if c := w.told.problem.Caution; c != "" && height-len(told) > 20 {
		told = append(told, w.look.painted(shown, "Caution: "+w.look.text(c), width)...)
	}
	room := height - len(told) - 1
	if room < 5 {
		told, room = nil, height-1
	}
	left := append([]string{w.look.banner("Figure", w.caption(), leftWidth)}, w.drawing.View(w.desk.Problem(), w.desk.Sight(), leftWidth, room)...)
	lines, focus := g.View(rightWidth, room)
	if legend := w.legend(rightWidth); len(lines)+1+len(legend) <= room {
		lines = append(append(lines, ""), legend...)
	}
	name, more := g.head(rightWidth)
	right := append([]string{w.look.banner(name, more, rightWidth)}, w.sighted(lines, focus, room)...)
	return append(told, w.look.beside(left, right, leftWidth, "   ")...)
}

// caption says what the figure shows of the moment now asked for.
func (w work) caption() string {
	switch v := w.desk.Sight(); {
	case v.Selected != "" && v.NoArm:
		return "with the line of " + w.look.text(v.Selected)
	case v.Selected != "":
		return "with the line and arm of " + w.look.text(v.Selected)
	}
	if w.desk.PivotChosen() {
		return "pivot " + w.look.text(w.desk.Choice().Pivot)
	}
	return ""
}

// alone is the whole ledger, with the figure above it where both fit.
func (w work) alone(width, height int) []string {
	g := w.ledger()
	lines, focus := g.View(width, height-1)
	head := []string{w.banner("Ledger")}
	if spare := height - 1 - len(lines); spare >= 9 {
		pic := w.drawing.View(w.desk.Problem(), w.desk.Sight(), min(width, 3*spare), min(spare-1, 24))
		head = append(pic, head...)
	} else if legend := w.legend(width); spare > len(legend) {
		lines = append(append(lines, ""), legend...)
	}
	return append(head, w.sighted(lines, focus, height-len(head))...)
}

// besideFigure is the figure with the statement, or the forces so far, next to
// it.
func (w work) besideFigure(width, height int) []string {
	leftWidth := width * 52 / 100
	rightWidth := width - leftWidth - 2
	var text []string
	if w.desk.Find(tutor.StepForces, "").Done() && !w.written().relisting() {
		text, _ = w.written().sums(rightWidth)
	} else if len(w.desk.Listed()) > 0 {
		text, _ = w.written().table(rightWidth)
	}
	if len(text) > 0 {
		text = append(text, "")
	}
	text = append(text, w.told.Symbols(rightWidth)...)
	text = append(append(text, ""), wrap(w.look.text(w.told.problem.Statement), rightWidth)...)
	if len(w.desk.Listed()) == 0 {
		text = w.told.Short(rightWidth)
	}
	head := w.banner("Figure")
	pic := w.drawing.View(w.desk.Problem(), w.desk.Sight(), leftWidth, height-1)
	side := w.scrolled("", text, height-1, rightWidth)
	return append([]string{head}, w.look.beside(pic, side, leftWidth, "  ")...)
}

// scrolled is a part of lines that fits, under a head, with how much more
// there is.
func (w work) scrolled(head string, lines []string, height, width int) []string {
	var out []string
	if head != "" {
		out, height = []string{head}, height-1
	}
	from := min(w.scroll, max(0, len(lines)-height))
	part := lines[from:min(len(lines), from+max(height, 0))]
	if rest := len(lines) - from - len(part); rest > 0 && len(part) > 1 {
		part = append(part[:len(part)-1:len(part)-1], w.look.paint(quiet, w.look.cut(fmt.Sprintf("%s %d more lines: PgDn", w.look.marks.more, rest+1), width)))
	}
	return append(out, part...)
}

// sighted is the part of the ledger that holds the open line.
func (w work) sighted(lines []string, focus, height int) []string {
	if w.scroll > 0 {
		focus = min(focus+w.scroll, len(lines)-1)
	}
	part, above, below := window(lines, focus, height)
	if above+below == 0 || len(part) < 3 {
		return part
	}
	part = append([]string{}, part...)
	if above > 0 {
		part[0] = w.look.paint(quiet, fmt.Sprintf("%s %d lines above", w.look.marks.more, above+1))
	}
	if below > 0 && focus-above < len(part)-1 {
		part[len(part)-1] = w.look.paint(quiet, fmt.Sprintf("%s %d lines below: PgDn", w.look.marks.more, below+1))
	}
	return part
}

// narrow is for a window too small for the screen: the line, what is asked,
// how it reads, what was said, in that order of need; the rest is left out.
func (w work) narrow() []string {
	width := max(w.width, 1)
	room := w.height
	take := func(lines []string) []string {
		lines = lines[:min(len(lines), max(room, 0))]
		room -= len(lines)
		return lines
	}
	line := take([]string{w.entry.View(width, w.example())})
	asked := take(w.asked(width))
	var left []string
	if d, timed := w.desk.Remaining(w.now); timed {
		left = take(w.look.painted(quiet, timeLeft(d), width))
	}
	var heard, said []string
	if w.live.as != "" || w.live.at > 0 || w.entry.note != "" {
		heard = take(w.heard(width))
	}
	for _, s := range w.said {
		said = append(said, s.lines(w.look, width)...)
	}
	said = take(said)
	out := left
	for _, advice := range []string{
		"This window is small; steelyard plain suits it. Ctrl+T hint, Ctrl+Q quit, F1 help.",
		"Small window; F1 help, Ctrl+Q quit",
	} {
		if lines := w.look.painted(quiet, advice, width); len(lines) <= room {
			out = append(out, lines...)
			break
		}
	}
	for _, part := range [][]string{said, asked, line, heard} {
		out = append(out, part...)
	}
	return out
}
