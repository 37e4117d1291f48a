package board

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/tutor"
	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// learners are the learners, those to see first.
func (d *data) learners() place {
	var rows []row
	for i := range d.rep.Students {
		l := &d.rep.Students[i]
		rows = append(rows, row{[]cell{d.word(l.Learner), d.word(l.Cohort), {fmt.Sprintf("%.1f", l.See), l.See}, {fmt.Sprintf("%d of %d", l.Finished, l.Sessions), float64(l.Finished)}, whole(l.Earned), rate(l.RightFirst),
			per(l.Attempts, l.Lines), whole(l.Hints), whole(l.DeepHints), whole(l.LongWaits), minutes(l.Minutes), whole(l.Days), d.word(strings.Join(d.alikeWith(l.Learner), ", "))}, func() place { return d.learner(l) }})
	}
	return d.table("By learner, those to see first", "Nobody typed a line.", []column{{name: "learner", least: 10}, {name: "cohort", rank: 9, least: 8}, {name: "see", number: true}, {name: "finished", number: true, rank: 1}, {name: "earned", number: true, rank: 4},
		{name: "right first", number: true}, {name: "attempts a line", number: true, rank: 3}, {name: "hints", number: true, rank: 5}, {name: "shown", number: true, rank: 7}, {name: "long waits", number: true, rank: 8},
		{name: "minutes", number: true, rank: 2}, {name: "days", number: true, rank: 6}, {name: "alike with", rank: 4, least: 10}}, rows)
}

func per(count, of int) cell {
	v := float64(count) / float64(max(of, 1))
	return cell{fmt.Sprintf("%.1f", v), v}
}

// alikeWith are those whose wrong lines are a learner's.
func (d *data) alikeWith(learner string) []string {
	var out []string
	for _, a := range d.rep.Alike {
		if i := slices.Index(a.Learners[:], learner); i >= 0 {
			out = append(out, a.Learners[1-i])
		}
	}
	return out
}

// learner is one learner, with all lines they typed.
func (d *data) learner(l *review.LearnerReport) place {
	var rows []row
	for _, t := range d.lines(l.Learner) {
		rows = append(rows, row{[]cell{{text: t.At.Format("2 Jan 15:04"), sort: float64(t.At.Unix())}, d.word(t.Problem), {text: d.line(&t)}, d.word(t.Typed), {text: d.became(&t)},
			{text: fmt.Sprintf("%.0f", t.Seconds), sort: t.Seconds}}, func() place { return d.typedPage(l.Learner, &t) }})
	}
	p := d.table(d.text(l.Learner), "No line was typed.", []column{{name: "when", rank: 2}, {name: "problem", least: 10, rank: 1}, {name: "line", least: 16}, {name: "typed", least: 16}, {name: "what it was", least: 14}, {name: "seconds", number: true, rank: 3}}, rows)
	course := d.course(l.Learner)
	p.above = func(width int) []string { return append(d.about(l, course, width), "") }
	return p
}

// line says which line it is: of which body where it is of one, and about which
// pivot where that matters.
func (d *data) line(t *review.TypedLine) string {
	body, pivot := t.Body, ""
	if !tutor.Step(t.Step).OfBody() {
		body = ""
	}
	if tutor.Step(t.Step) == tutor.StepMoment || t.Cell == string(tutor.StepMoment) {
		pivot = t.Pivot
	}
	return d.where("", body, t.Step, t.Cell, pivot)
}

// became is what grading says of a line, with its mark.
func (d *data) became(t *review.TypedLine) string {
	switch {
	case t.Hint == 3:
		return d.look.ShownMark() + " shown"
	case t.Hint > 0:
		return fmt.Sprintf("  hint %d", t.Hint)
	case t.Verdict == grading.Wrong && len(t.Slips) > 0:
		return d.look.WrongMark() + " " + d.slips(t.Slips)
	case t.Verdict == grading.Wrong:
		return d.look.WrongMark() + " wrong, no known slip"
	case t.Verdict == grading.Right:
		return d.look.RightMark() + " right"
	case t.Verdict == grading.Remarked:
		return d.look.RightMark() + " right, with a remark"
	case t.Verdict == grading.Unreadable:
		return "  could not be read"
	}
	return "  not judged"
}

// about is how a learner does: progress, struggle, likeness, effort.
func (d *data) about(l *review.LearnerReport, course string, width int) []string {
	var alike []string
	for _, a := range d.rep.Alike {
		if i := slices.Index(a.Learners[:], l.Learner); i >= 0 {
			alike = append(alike, fmt.Sprintf("%s, %d of %d wrong lines", d.text(a.Learners[1-i]), a.Shared, a.Of))
		}
	}
	return d.facts(width,
		[2]string{"progress", fmt.Sprintf("%d of %s finished; %d of %s earned; %s right first", l.Finished, plural(l.Sessions, "session"), l.Earned, plural(l.Lines, "line"), review.Percent(l.RightFirst))},
		[2]string{"by session", course},
		[2]string{"effort", fmt.Sprintf("%.0f minutes on %s; %s; %s shown; %s above %.0f minutes", l.Minutes, plural(l.Days, "day"), plural(l.Hints, "hint"), plural(l.DeepHints, "line"), plural(l.LongWaits, "wait"), review.LongWait.Minutes())},
		[2]string{"slips", d.counts(l.Slips)},
		[2]string{"alike with", strings.Join(alike, "; ")},
		[2]string{"to see", d.text(strings.Join(l.Reasons, "; "))})
}

// steps are how high a share stands, lowest first.
var (
	steps      = []rune("▁▂▃▄▅▆▇█")
	asciiSteps = []rune("0123456789")
)

// course is how much was right first in each session, as columns side by side,
// in ASCII as tenths, and in words.
func (d *data) course(learner string) string {
	all := d.sessions(learner)
	if len(all) < 2 {
		return ""
	}
	const most = 30
	all = all[max(0, len(all)-most):]
	high := steps
	if d.look.ASCII() {
		high = asciiSteps
	}
	var b strings.Builder
	for _, s := range all {
		b.WriteRune(high[min(int(s.RightFirst.Rate*float64(len(high))), len(high)-1)])
	}
	return fmt.Sprintf("%s  right first: %.0f %%, at last %.0f %%", b.String(), 100*all[0].RightFirst.Rate, 100*all[len(all)-1].RightFirst.Rate)
}

// typedPage is one line of a learner, whole.
func (d *data) typedPage(learner string, t *review.TypedLine) place {
	return d.sheet(d.text(learner)+", "+t.At.Format("2 January 15:04:05"), func(width, _ int) []string {
		return d.facts(width,
			[2]string{"problem", fmt.Sprintf("%s, seed %d", d.text(t.Problem), t.Seed)},
			[2]string{"line", d.line(t)},
			[2]string{"typed", d.text(t.Typed)},
			[2]string{"what it was", strings.TrimSpace(d.became(t))},
			[2]string{"seconds", fmt.Sprintf("%.0f since the event before", t.Seconds)},
			[2]string{"see it", d.text(fmt.Sprintf("steelyard show %s --seed %d --answers", t.Problem, t.Seed))})
	})
}

// alike are the pairs whose wrong lines are the same.
func (d *data) alike() place {
	var rows []row
	for i := range d.rep.Alike {
		a := &d.rep.Alike[i]
		rows = append(rows, row{[]cell{d.word(a.Learners[0]), d.word(a.Learners[1]), whole(a.Shared), whole(a.Of), d.word(strings.Join(a.Problems, ", "))}, func() place { return d.pair(a) }})
	}
	t := d.table("Learners who typed the same wrong lines", "No two learners typed the same wrong lines beyond what chance brings.", []column{{name: "learner", least: 10}, {name: "and", least: 10}, {name: "alike", number: true},
		{name: "of", number: true}, {name: "in", rank: 1, least: 12}}, rows)
	if len(rows) > 0 {
		t.above = func(width int) []string {
			return append(d.look.Wrapped(screen.Quiet, "A reason to ask how they worked, and no proof: friends who worked together look the same.", width), "")
		}
	}
	return t
}

func (d *data) pair(a *review.Alike) place {
	return d.sheet(d.text(a.Learners[0])+" and "+d.text(a.Learners[1]), func(width, _ int) []string {
		out := d.facts(width,
			[2]string{"alike", fmt.Sprintf("%d of %d wrong lines, to the letter, that few others typed", a.Shared, a.Of)},
			[2]string{"in", d.text(strings.Join(a.Problems, ", "))})
		var lines []string
		for _, l := range a.Lines {
			lines = append(lines, d.typed(l, width, true))
		}
		return append(out, d.titled("Some of the lines, with how often anybody typed them", lines)...)
	})
}
