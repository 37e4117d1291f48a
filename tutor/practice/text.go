package practice

import (
	"fmt"
	"io"
	"strings"
	"time"

	"steelyard/problems/notation"
)

// Width is the most columns that [Plan.Write] fills, but for a command line,
// which is not broken so that it can be copied.
const Width = 80

// Writer says how a plan is written.
type Writer struct {
	ASCII   bool
	Command func(Choice) string // the command line that begins a problem
}

// Write writes the plan as text.
func (w Writer) Write(out io.Writer, p *Plan) error {
	t := &text{Writer: w}
	t.head(p)
	t.standings(p)
	t.past(p)
	t.next(p)
	t.ahead(p)
	_, err := io.WriteString(out, t.String())
	return err
}

type text struct {
	strings.Builder
	Writer
}

func (t *text) line(format string, args ...any) {
	t.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

// wrapped writes a paragraph after a head, its later lines indented as far.
func (t *text) wrapped(head, s string) {
	line, empty := head, true
	for _, word := range strings.Fields(notation.Printable(s)) {
		if !empty && len([]rune(line))+1+len([]rune(word)) > Width {
			t.line("%s", line)
			line, empty = strings.Repeat(" ", len(head)), true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	t.line("%s", line)
}

func (t *text) head(p *Plan) {
	if p.Exam == "" {
		t.line("Practice on %s: %d of %d skills likely known", p.Today, p.Known, p.Of)
		t.counts(p)
		return
	}
	t.line("Plan from %s to the exam on %s: %s, %d minutes each", p.Today, p.Exam, plural(p.Days, "day"), p.Minutes)
	t.line("Now       %2d of %d skills likely known", p.Known, p.Of)
	t.line("Target    all %d on the eve of the exam", p.Of)
	t.line("Forecast  %2d of %d, if the plan is followed", p.Forecast, p.Of)
	if len(p.Short) > 0 {
		t.wrapped("          ", "Short of the target: "+strings.Join(p.Short, ", ")+". "+t.remedy(p))
	}
	t.counts(p)
}

// counts says when a skill counts as likely known.
func (t *text) counts(p *Plan) {
	t.line("A skill counts at %.0f %% or more, if it was seen %d times or more.", 100*p.Target, p.Sight)
	t.line("A zero is not counted as seen; what was not seen is judged by the rest.")
}

func (t *text) remedy(p *Plan) string {
	switch {
	case p.Days == 0:
		return ""
	case p.Enough > 0:
		return fmt.Sprintf("%d minutes a day would do.", p.Enough)
	}
	return "Three hours a day would not do: begin with what is weakest."
}

const barWidth = 20

// bar is a probability as a bar.
func (t *text) bar(p float64) string {
	full, empty := "█", "░"
	if t.ASCII {
		full, empty = "#", "."
	}
	n := int(p*barWidth + 0.5)
	return strings.Repeat(full, n) + strings.Repeat(empty, barWidth-n)
}

func (t *text) standings(p *Plan) {
	t.line("")
	t.line("%-22s %-*s       %-14s %s", "Skill", barWidth, "Likely known", "Evidence", "Due again")
	for _, s := range p.Skills {
		seen := "not seen yet"
		if s.Seen > 0 {
			seen = "seen " + times(s.Seen)
		}
		t.line("%-22s %s %3.0f %% %-14s %s", s.Plainly, t.bar(s.Known), 100*s.Known, seen, s.Due)
	}
}

func (t *text) past(p *Plan) {
	if len(p.Past) == 0 {
		return
	}
	t.line("")
	t.line("Done")
	for _, d := range p.Past {
		t.line("%s  %-12s %4.0f min  %d of %d lines right at once", t.day(d.Date), plural(d.Problems, "problem"), d.Minutes, d.Right, d.Lines)
	}
}

func (t *text) next(p *Plan) {
	if p.Next == nil {
		return
	}
	t.line("")
	t.offer("Next", *p.Next)
	for _, c := range p.Or {
		t.offer("Or", c)
	}
}

func (t *text) offer(head string, c Choice) {
	t.wrapped(fmt.Sprintf("%-6s", head+":"), fmt.Sprintf("%s (level %d, about %.0f minutes)", c.Title, c.Level, c.Minutes))
	t.wrapped("      ", c.Why)
	t.line("      %s", notation.Printable(t.Command(c)))
}

func (t *text) ahead(p *Plan) {
	if len(p.Ahead) == 0 {
		return
	}
	t.line("")
	t.line("Day by day")
	for _, d := range p.Ahead {
		head := t.day(d.Date)
		if d.Over > 0.5 {
			t.line("%s  %-12s %-43s %3.0f min", head, "", "finish the one begun", d.Over)
			head = strings.Repeat(" ", len(head))
		}
		for _, c := range d.Problems {
			t.line("%s  %-12s %-43s %3.0f min", head, c.Skill, cut(c.Problem+": "+notation.Printable(c.Title), 43), c.Minutes)
			head = strings.Repeat(" ", len(head))
		}
		if len(d.Problems) == 0 && d.Over <= 0.5 {
			t.line("%s  %-12s", head, "rest")
		}
	}
}

// day is a date with its weekday, 14 columns.
func (t *text) day(date string) string {
	d, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return d.Format("Mon 2006-01-02")
}

// cut keeps a text to n columns, whole words where it can.
func cut(s string, n int) string {
	if len([]rune(s)) <= n {
		return s
	}
	r := []rune(s)[:n-3]
	if i := strings.LastIndex(string(r), " "); i > n/2 {
		return string(r)[:i] + "..."
	}
	return string(r) + "..."
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
