package review

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// mostGroups bounds the groups of unpredicted answers that text shows.
const mostGroups = 6

func (p *writing) unpredicted(rep *Report) {
	p.title("Wrong answers that no slip predicts, grouped by meaning")
	if len(rep.Unpredicted) == 0 {
		p.line("None.")
	}
	offers := 0
	shown := 0
	for _, g := range rep.Unpredicted {
		if shown == mostGroups || g.Learners < 2 && shown > 0 {
			break
		}
		shown++
		var ways []string
		for _, l := range g.Lines {
			ways = append(ways, `"`+p.show(cut(l.Typed, 40))+`"`)
		}
		p.para(4, "%s: %s, %s", p.show(where(g.Problem, g.Body, g.Step, g.Cell, g.Pivot)), p.show(cut(g.Meaning, 60)), plural(g.Learners, "learner"))
		p.para(4, "    written as %s%s", strings.Join(ways, ", "), more(g.Ways-len(ways)))
		if g.Offer != "" && g.Learners > 1 && offers == 0 {
			offers++
			p.offer(g)
		}
	}
	if n := len(rep.Unpredicted) - shown; n > 0 {
		lone := 0
		for _, g := range rep.Unpredicted[shown:] {
			if g.Learners == 1 {
				lone++
			}
		}
		p.para(0, "%s more, %d of them by one learner; --json lists them, with a slip for each that can be told in symbols.", plural(n, "group"), lone)
	}
}

// offer shows a slip so that it can be copied as it stands.
func (p *writing) offer(g Group) {
	lines := strings.Split(strings.TrimSuffix(g.Offer, "\n"), "\n")
	for i, l := range lines {
		if lines[i] = "      " + p.show(l); utf8.RuneCountInString(lines[i]) > p.Width {
			p.line("    It can be a slip of the scenario's own; --json has it.")
			return
		}
	}
	p.line("    As a slip of its own, for the end of the scenario file:")
	for _, l := range lines {
		p.line("%s", l)
	}
}

func more(n int) string {
	if n <= 0 {
		return ""
	}
	return fmt.Sprintf(" and %d ways more", n)
}

func (p *writing) problems(rep *Report) {
	p.title("By problem")
	rows := [][]string{{"problem", "learners", "finished", "right first", "attempts", "hints", "minutes"}}
	for _, r := range rep.Problems {
		rows = append(rows, []string{p.show(r.Problem), fmt.Sprint(r.Learners), fmt.Sprintf("%d/%d", r.Finished.Count, r.Finished.N), percent(r.RightFirst),
			fmt.Sprint(r.Attempts), fmt.Sprint(r.Hints), fmt.Sprintf("%.1f", r.MedianMinutes)})
	}
	p.table(1, rows...)
	for _, r := range rep.Problems {
		p.hardest(r)
	}
}

// hardest writes the lines of a problem that were right first least often,
// and those that sessions were left at.
func (p *writing) hardest(r ProblemReport) {
	const most = 3
	rows := [][]string{{p.show(r.Problem) + ": hardest lines", "right first", "attempts", "hints", "minutes", "left"}}
	taken := map[int]bool{}
	for range min(most, len(r.Cells)) {
		worst := -1
		for i, k := range r.Cells {
			if !taken[i] && k.RightFirst.N >= MinFacility && (worst < 0 || k.RightFirst.Rate < r.Cells[worst].RightFirst.Rate) {
				worst = i
			}
		}
		if worst >= 0 {
			taken[worst] = true
		}
	}
	for i, k := range r.Cells {
		if taken[i] || k.Left > 0 {
			name := strings.TrimPrefix(where("", k.Body, k.Step, k.Cell, ""), ", ")
			rows = append(rows, []string{"  " + p.show(name), percent(k.RightFirst), fmt.Sprint(k.Attempts), fmt.Sprint(k.Hints), fmt.Sprintf("%.1f", k.MedianMinutes), fmt.Sprint(k.Left)})
		}
	}
	if len(rows) > 1 {
		p.b.WriteByte('\n')
		p.table(1, rows...)
	}
}

func (p *writing) skills(rep *Report) {
	p.title("By skill: do errors go down with practice?")
	if len(rep.Skills) == 0 {
		p.line("No line of a known skill.")
		return
	}
	p.line("The error rate at the n-th chance is taken as a n^-b.")
	rows := [][]string{{"skill", "chances", "1st", "10th", "b", ""}}
	for _, s := range rep.Skills {
		fit := "-"
		if s.Fit != nil {
			fit = fmt.Sprintf("%.2f (%.2f-%.2f)", s.Fit.B, s.Fit.BLow, s.Fit.BHigh)
			if s.Fit.BLow < 0 {
				fit = fmt.Sprintf("%.2f (%.2f to %.2f)", s.Fit.B, s.Fit.BLow, s.Fit.BHigh)
			}
		}
		rows = append(rows, []string{s.Skill, fmt.Sprint(s.N), at(s, 1), at(s, 10), fit, s.Verdict})
	}
	p.table(1, rows...)
	p.fitted(rep.Skills)
	var still []string
	for _, s := range rep.Skills {
		if s.Verdict == NotImproves || s.Verdict == Worsens {
			still = append(still, s.Skill)
		}
	}
	if len(still) > 0 {
		p.para(0, "Not seen to improve: %s.", strings.Join(still, ", "))
	}
}

// fitted says what the fits have at the first chance and the last, with their
// bands.
func (p *writing) fitted(skills []SkillCurve) {
	var ends []string
	for _, s := range skills {
		if s.Fit == nil {
			continue
		}
		first, last := s.Points[0], s.Points[len(s.Points)-1]
		if first.Fitted == nil || last.Fitted == nil {
			continue
		}
		ends = append(ends, fmt.Sprintf("%s %s to %s at the %s", s.Skill, banded(*first.Fitted), banded(*last.Fitted), ordinal(last.Opportunity)))
	}
	if len(ends) > 0 {
		p.para(4, "By the fit, with its 95 %% band, from the 1st chance: %s.", strings.Join(ends, "; "))
	}
}

func banded(b Band) string {
	return fmt.Sprintf("%.0f %% (%.0f-%.0f)", 100*b.Rate, 100*b.Low, 100*b.High)
}

func ordinal(n int) string {
	ending := "th"
	if n%100 < 11 || n%100 > 13 {
		ending = [...]string{"th", "st", "nd", "rd", "th", "th", "th", "th", "th", "th"}[n%10]
	}
	return fmt.Sprintf("%d%s", n, ending)
}

// at is the error rate at an opportunity.
func at(s SkillCurve, opportunity int) string {
	for _, q := range s.Points {
		if q.Opportunity == opportunity {
			return fmt.Sprintf("%.0f %%", 100*q.Errors.Rate)
		}
	}
	return "-"
}

func (p *writing) items(rep *Report) {
	if len(rep.Items) == 0 {
		return
	}
	set := rep.Items[0]
	p.title("Problems as items of a test")
	if set.Alpha != nil {
		p.line("Cronbach's alpha %.2f, of %s who met every problem.", *set.Alpha, plural(set.Learners, "learner"))
	} else if set.Silence != "" {
		p.line("No reliability or discrimination: %s.", set.Silence)
	}
	rows := [][]string{{"problem", "learners", "facility", "discrimination"}}
	for _, i := range set.Items {
		rows = append(rows, []string{p.show(i.Item), fmt.Sprint(i.N), number(i.Facility), number(i.Discrimination)})
	}
	p.table(1, rows...)
}

func number(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.2f", *v)
}

var alteredWords = map[AlteredReason]string{
	Edited:  "the log was changed",
	Edition: "from another edition of the scenario",
	Gap:     "some of it is missing",
}

// mostTrouble bounds the lines of each kind of trouble that text shows.
const mostTrouble = 5

func (p *writing) trouble(rep *Report) {
	if rep.DamagedLines+len(rep.Altered)+len(rep.NotInBank)+rep.Duplicates+failed(rep) == 0 {
		return
	}
	p.title("About the logs")
	for _, s := range rep.Sources {
		if s.Failed != "" {
			p.para(4, "%s: not read to its end: %s", p.show(s.Name), p.show(s.Failed))
		}
	}
	if rep.Duplicates > 0 {
		p.line("%s met again, by id, and counted once.", plural(rep.Duplicates, "event"))
	}
	if rep.DamagedLines > 0 {
		p.line("%s skipped:", plural(rep.DamagedLines, "damaged line"))
	}
	for _, d := range rep.Damaged[:min(mostTrouble, len(rep.Damaged))] {
		p.para(4, "  %s:%d: %s", p.show(d.Source), d.Line, p.show(d.Reason))
	}
	if n := rep.DamagedLines - mostTrouble; n > 0 && len(rep.Damaged) > 0 {
		p.line("  and %d more", n)
	}
	if len(rep.Altered) > 0 {
		p.line("%s with verdicts that grading does not give, or with gaps:", plural(len(rep.Altered), "session"))
	}
	for _, a := range rep.Altered[:min(mostTrouble, len(rep.Altered))] {
		p.para(4, "  %s at %s: %s; %d of %d verdicts differ", p.show(cut(a.Learner, 40)), p.show(cut(a.Problem, 40)), alteredWords[a.Reason], a.Lines, a.Of)
		if a.Lines > 0 {
			p.para(6, "    \"%s\" %s", p.show(cut(a.First.Typed, 60)), a.First.Differs())
		}
	}
	if n := len(rep.Altered) - mostTrouble; n > 0 {
		p.line("  and %s more; --json lists them", plural(n, "session"))
	}
	for _, n := range rep.NotInBank[:min(mostTrouble, len(rep.NotInBank))] {
		p.para(4, "%s cannot be graded again (%s): %s count as the log has them. Give its folder with --bank.", p.show(cut(n.Problem, 40)), p.show(cut(n.Reason, 200)), plural(n.Events, "event"))
	}
}

func failed(rep *Report) int {
	n := 0
	for _, s := range rep.Sources {
		if s.Failed != "" {
			n++
		}
	}
	return n
}
