package review

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"steelyard/problems/notation"
	"steelyard/tutor"
)

// Look is how a report is written as text.
type Look struct {
	Width int  // columns; 80 if 0
	Plain bool // no rules or bars: for screen readers and scripts
	ASCII bool
}

// WriteText writes a report for a terminal: first what to reteach, then whom
// to see, then the rest. No line is wider than the look's width, and nothing
// that was typed acts on the terminal.
func WriteText(w io.Writer, rep *Report, look Look) error {
	if look.Width == 0 {
		look.Width = 80
	}
	p := &writing{Look: look}
	p.head(rep)
	p.headline(rep)
	p.see(rep)
	p.unpredicted(rep)
	p.reasons(rep)
	p.problems(rep)
	p.skills(rep)
	p.items(rep)
	p.trouble(rep)
	_, err := io.WriteString(w, p.b.String())
	return err
}

// writing is text being written.
type writing struct {
	Look
	b strings.Builder
}

// show is text of unknown origin, safe to show.
func (p *writing) show(text string) string {
	if p.ASCII {
		text = notation.Spell(text)
	}
	return notation.Printable(text)
}

// cut is a line that fits into so many columns.
func cut(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:max(0, most-3)]) + "..."
}

// line writes a line, cut to the width.
func (p *writing) line(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if p.ASCII {
		text = notation.Spell(text)
	}
	p.b.WriteString(strings.TrimRight(cut(text, p.Width), " ") + "\n")
}

// para writes a paragraph, folded to the width, its lines after the first set
// in by so many blanks.
func (p *writing) para(indent int, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if p.ASCII {
		text = notation.Spell(text)
	}
	line, lead := strings.Repeat(" ", len(text)-len(strings.TrimLeft(text, " "))), ""
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > p.Width {
			p.b.WriteString(line + "\n")
			line, empty = lead, true
		}
		lead = strings.Repeat(" ", indent)
		if !empty {
			line += " "
		}
		line += word
		for utf8.RuneCountInString(line) > p.Width {
			p.b.WriteString(string([]rune(line)[:p.Width]) + "\n")
			line = lead + string([]rune(line)[p.Width:])
		}
		empty = false
	}
	p.b.WriteString(line + "\n")
}

func (p *writing) title(text string) {
	p.b.WriteByte('\n')
	p.line("%s", text)
	if !p.Plain {
		rule := "─"
		if p.ASCII {
			rule = "-"
		}
		p.b.WriteString(strings.Repeat(rule, p.Width) + "\n")
	}
}

// table writes rows in columns as wide as they need to be; the columns from
// right on are set to the right. What does not fit is cut from the first.
func (p *writing) table(rightFrom int, rows ...[]string) {
	wide := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	total := 0
	for _, n := range wide {
		total += n + 2
	}
	wide[0] = max(8, wide[0]-max(0, total-p.Width))
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			cell = cut(cell, wide[i])
			blanks := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell))
			if i >= rightFrom {
				b.WriteString(blanks + cell + "  ")
			} else {
				b.WriteString(cell + blanks + "  ")
			}
		}
		p.line("%s", b.String())
	}
}

// percent is a rate with its interval.
func percent(r Rate) string {
	if r.N == 0 {
		return "no data"
	}
	return fmt.Sprintf("%.0f %% (%.0f-%.0f)", 100*r.Rate, 100*r.Low, 100*r.High)
}

func (p *writing) head(rep *Report) {
	p.line("%s, %s, %s", plural(rep.Learners, "learner"), plural(rep.Sessions, "session"), plural(rep.Answers, "line")+" typed")
	if rep.Events == 0 {
		p.line("There is nothing in these logs to review.")
		return
	}
	p.para(0, "%s to %s (UTC); %d sessions finished; %d lines graded again.", rep.From.Format("2006-01-02 15:04"), rep.To.Format("2006-01-02 15:04"), rep.Finished, rep.Regraded)
	if !p.Plain {
		p.line("In brackets: the range that a rate lies in, 95 times of 100.")
	}
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// where says which line of which problem is meant.
func where(problem, body, step, cell, pivot string) string {
	out := problem + ", "
	switch tutor.Step(step) {
	case tutor.StepMoment:
		out += "moment of " + cell
	case tutor.StepX, tutor.StepY:
		out += step + " part of " + cell
	case tutor.StepEquation:
		out += cell + " equation"
	case tutor.StepValue:
		out += "value of " + cell
	default:
		out += strings.TrimSpace(step + " " + cell)
	}
	if body != "" {
		out += " on the " + body
	}
	if pivot != "" {
		out += " about " + pivot
	}
	return out
}

func (p *writing) where(l Line) string { return p.show(where(l.Problem, "", l.Step, l.Cell, l.Pivot)) }

func (p *writing) headline(rep *Report) {
	p.title("To reteach: the slips that cost most")
	if len(rep.Headline) == 0 {
		p.line("No slip was made.")
	}
	for i, s := range rep.Headline {
		p.line("%d. %s", i+1, p.show(s.Name))
		p.line("   %d of %d learners: %s; %d answers, %.0f minutes", s.Learners.Count, s.Learners.N, percent(s.Learners), s.Attempts, s.Minutes)
		for _, l := range s.Evidence {
			p.line("   %4d x  %s   %s", l.Count, cut(p.show(l.Typed), p.Width/2-10), p.where(l))
		}
		if s.Recall != "" {
			p.para(3, "   %s", s.Recall)
		}
	}
	if rest := rep.Slips[len(rep.Headline):]; len(rest) > 0 {
		rows := [][]string{{"Other slips", "learners", "answers", "minutes"}}
		for _, s := range rest[:min(7, len(rest))] {
			rows = append(rows, []string{p.show(s.Name), fmt.Sprint(s.Learners.Count), fmt.Sprint(s.Attempts), fmt.Sprintf("%.0f", s.Minutes)})
		}
		p.b.WriteByte('\n')
		p.table(1, rows...)
	}
}

// mostSeen bounds the learners to see that text names; all are in the report.
const mostSeen = 8

func (p *writing) see(rep *Report) {
	p.title("To see")
	n := 0
	for _, l := range rep.Students {
		if len(l.Reasons) == 0 || n == mostSeen {
			continue
		}
		n++
		p.para(4, "%s: %s", p.show(cut(l.Learner, 40)), strings.Join(l.Reasons, "; "))
	}
	if n == 0 {
		p.line("Nobody stands out.")
	}
	for _, a := range rep.Alike[:min(mostSeen, len(rep.Alike))] {
		p.para(4, "%s and %s typed %d of %d wrong lines to the letter alike, in %s: ask how they worked.",
			p.show(cut(a.Learners[0], 40)), p.show(cut(a.Learners[1], 40)), a.Shared, a.Of, p.show(strings.Join(a.Problems, ", ")))
	}
}
