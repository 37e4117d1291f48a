package plain

import (
	"fmt"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems/figure"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// What may be asked to be told: help, the figure, the ledger, the lines.

func (t *talk) help(string) error {
	t.say("Type the line asked for and press Enter. It is read back, then checked.")
	t.say("A whole equation may be typed in place of an entry, and a value, like \"T = 1.56 kN\", anywhere.")
	t.signs()
	for _, w := range vocabulary {
		t.say("%s: %s.", strings.TrimSpace(w.name+" "+w.takes), w.tells)
	}
	return nil
}

// signs tells the conventions now in force.
func (t *talk) signs() {
	c := t.desk.Choice()
	turn := "anticlockwise"
	if c.Clockwise {
		turn = "clockwise"
	}
	axes := "Right and up are positive"
	if c.Tilt != "" && c.Tilt != "0" {
		tilt := notation.Printable(c.Tilt)
		if _, err := strconv.ParseFloat(c.Tilt, 64); err == nil {
			tilt += "°"
		}
		axes = fmt.Sprintf("The x axis is turned %s anticlockwise from the level, and y is square to it", tilt)
	}
	about := "no pivot is chosen yet"
	if t.desk.PivotChosen() {
		about = "about " + notation.Printable(c.Pivot)
	}
	t.say("%s%s. Moments are positive %s; %s. Unknown forces are positive the way you list them.", axes, t.on(tutor.StepForces), turn, about)
}

// typable is what may be typed, with what it means.
var typable = [][2]string{
	{"T L sin(alpha)", "a product; between symbols a space, a star or nothing"},
	{"-M g L/2", "signs, and divisions"},
	{"2T sin 35", "a bare number in a sine is degrees, where the problem has degrees"},
	{"W_1 r_1", "subscripts; \"W1 r1\" is the same"},
	{"alpha", "Greek letters by name, or as they are"},
	{"sqrt(h(2R - h))", "roots; round or square brackets"},
	{"h^2", "powers; \"sin^2(alpha)\" too"},
	{"3.2e3", "a number; a decimal point, not a comma"},
	{"1.56 kN", "a value with its unit; units are \"N, kN, m, cm, mm, kg, N m, deg, rad\""},
	{"T L = M g L/2", "a whole equation, in place of any of its entries"},
	{"W at G down", "a force: a symbol, where it acts, which way"},
	{"T at B toward C", "or toward another point; or \"T at B at 35 deg\""},
}

func (t *talk) notation(string) error {
	t.say("What may be typed, with what it means:")
	for _, row := range typable {
		t.say("\"%s\": %s.", row[0], row[1])
	}
	if t.o.Spoken {
		t.say("Where you hear sub, type an underscore: W sub c is \"W_c\".")
	}
	return nil
}

// symbols tells the symbols and points of the problem.
func (t *talk) symbols(string) error {
	p := t.desk.Problem()
	for i := range p.Table.Len() {
		name := p.Table.Name(i)
		t.say("%s: %s.", notation.Display(name, t.plain()), notation.Printable(p.Meaning(name)))
	}
	for _, pt := range t.desk.Grader().Body().Points {
		if pt.Meaning != "" {
			t.say("Point %s: %s.", notation.Printable(pt.Name), notation.Printable(pt.Meaning))
		}
	}
	return nil
}

// stops are the walk through how a problem is worked.
var stops = []string{
	"You set up an equilibrium problem as on paper: choose a pivot, list the forces on the body, write each one's parts and moment, sum them to zero, solve, and doubt the answer.",
	"Each line is checked when you press Enter. If it is wrong you are told what kind of mistake it is; nothing is lost by being wrong. A line that cannot be read is not counted.",
	"A force is a symbol, a point and a way: \"W at G down\", or \"T at B toward C\". An unknown force may point either way; your choice is its positive sense. Say done when that is all of them.",
	"Then each force has a part along x, a part along y, and a moment about the pivot. Type an entry as you would write it: \"T L sin(alpha)\", \"-M g L/2\", \"0\".",
	"When you are stuck, say hint: first a question; again, the principle; a third time, the line itself, which then counts as shown and not as earned.",
	"Say figure for the figure in words, lines for what is open, go and a line to move to it, undo to take a line back, and quit to leave. The work is kept, and you can go on where you left.",
}

func (t *talk) tour(string) error {
	for i, text := range stops {
		t.say("%d of %d. %s", i+1, len(stops), text)
	}
	return nil
}

func (t *talk) figure(string) error {
	for _, line := range figure.Words(t.desk.Problem(), t.desk.Sight()) {
		t.say("%s", line)
	}
	return nil
}

// ledger tells the ledger force by force, then the equations.
func (t *talk) ledger(string) error {
	d := t.desk
	if len(d.Listed()) == 0 {
		t.say("No forces are listed yet%s.", t.on(tutor.StepForces))
	} else if len(d.Bodies()) > 1 {
		t.say("The ledger of the %s.", notation.Printable(d.Body().Name))
	}
	for _, line := range d.Lines() {
		t.say("Listed: %s.", notation.Printable(line))
	}
	for _, l := range d.Listed() {
		var parts []string
		for _, step := range []tutor.Step{tutor.StepX, tutor.StepY, tutor.StepMoment} {
			if task := d.Find(step, l.Symbol); task != nil {
				parts = append(parts, fmt.Sprintf("%s %s", step, state(task)))
			}
		}
		if len(parts) > 0 {
			t.say("%s: %s.", notation.Display(l.Symbol, t.plain()), strings.Join(parts, "; "))
		}
	}
	for _, row := range statics.Rows {
		if line, ok := d.Sum(row); ok {
			t.say("Sum for %s: %s.", grading.RowName(row, d.Grader().Frame()), line)
		}
	}
	return nil
}

// state says an entry, or how far it has come.
func state(task *tutor.Task) string {
	switch {
	case task.Status == tutor.Earned:
		return task.Reads
	case task.Status == tutor.Shown:
		return task.Reads + " (shown)"
	case task.Status == tutor.Taken:
		return task.Reads + " (not checked yet)"
	case task.Status == tutor.Covered:
		return "in the whole equation"
	case task.Tries > 0:
		return "open, not right yet"
	}
	return "open"
}

// lines tells the lines of the body in hand, the values and the doubts, by the
// names that go takes, with how each stands.
func (t *talk) lines(string) error {
	for _, task := range t.desk.Tasks() {
		if task.Body != "" && task.Body != t.desk.Body().Name || task.Status == tutor.Covered {
			continue
		}
		now := ""
		if task == t.desk.Current() {
			now = ", now asked"
		}
		t.say("%s%s: %s.", notation.Printable(nameOf(task)), now, how(task))
	}
	return nil
}

// nameOf is how a line is named to go to it.
func nameOf(task *tutor.Task) string {
	return strings.TrimSpace(string(task.Step) + " " + task.Cell)
}
