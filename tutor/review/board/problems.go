package board

import (
	"cmp"
	"fmt"

	"steelyard/tutor/review"
)

// problems are the problems, each opened to its lines.
func (d *data) problems() place {
	var rows []row
	for i := range d.rep.Problems {
		p := &d.rep.Problems[i]
		rows = append(rows, row{[]cell{d.word(p.Problem), d.word(p.Title), whole(p.Learners), rate(p.RightFirst), {fmt.Sprintf("%d of %d", p.Finished.Count, p.Finished.N), p.Finished.Rate},
			whole(p.Attempts), whole(p.Hints), minutes(p.MedianMinutes)}, func() place { return d.cells(p) }})
	}
	return d.table("By problem", "No problem was worked.", []column{{name: "problem", least: 16}, {name: "title", rank: 5, least: 16}, {name: "learners", number: true, rank: 2}, {name: "right first", number: true},
		{name: "finished", number: true, rank: 1}, {name: "attempts", number: true, rank: 4}, {name: "hints", number: true, rank: 3}, {name: "minutes", number: true, rank: 2}}, rows)
}

// cells are the lines of a problem, in the order it is worked.
func (d *data) cells(p *review.ProblemReport) place {
	var rows []row
	for i := range p.Cells {
		c := &p.Cells[i]
		slip := cell{}
		if len(c.Slips) > 0 {
			slip = d.word(fmt.Sprintf("%s (%d)", d.slip(c.Slips[0].Name), c.Slips[0].Count))
		}
		rows = append(rows, row{[]cell{{text: d.where("", c.Body, c.Step, c.Cell, "")}, rate(c.RightFirst), whole(c.Wrong), whole(c.Attempts), whole(c.Unread), whole(c.Hints), whole(c.Shown), minutes(c.MedianMinutes), whole(c.Left), slip},
			func() place { return d.cellPage(p, c) }})
	}
	t := d.table(d.text(p.Problem)+", line by line", "No line was met.", []column{{name: "line", least: 18}, {name: "right first", number: true}, {name: "wrong", number: true, rank: 1}, {name: "attempts", number: true, rank: 6},
		{name: "unread", number: true, rank: 7}, {name: "hints", number: true, rank: 4}, {name: "shown", number: true, rank: 5}, {name: "minutes", number: true, rank: 2}, {name: "left", number: true, rank: 3},
		{name: "commonest slip", rank: 8, least: 20}}, rows)
	t.above = func(width int) []string {
		return d.look.Wrapped(0, fmt.Sprintf("%s: %s, %d of %s finished, %s right first.", d.text(cmp.Or(p.Title, p.Problem)), plural(p.Learners, "learner"), p.Finished.Count, plural(p.Finished.N, "session"), review.Percent(p.RightFirst)), width)
	}
	return t
}

// cellPage is all that is known of a line.
func (d *data) cellPage(p *review.ProblemReport, c *review.CellReport) place {
	return d.sheet(d.where(p.Problem, c.Body, c.Step, c.Cell, ""), func(width, _ int) []string {
		out := d.facts(width,
			[2]string{"right first", fmt.Sprintf("%s %d of %s: %s", d.bar(c.RightFirst.Rate, max(min(30, width-44), 8)), c.RightFirst.Count, plural(c.RightFirst.N, "session"), review.Percent(c.RightFirst))},
			[2]string{"attempts", fmt.Sprintf("%d, of them %d wrong; %d could not be read", c.Attempts, c.Wrong, c.Unread)},
			[2]string{"hints", fmt.Sprintf("%d; the line was shown %s", c.Hints, plural(c.Shown, "time"))},
			[2]string{"minutes", minutes(c.MedianMinutes).text + ", the median of a session"},
			[2]string{"left here", plural(c.Left, "session")},
			[2]string{"slips", d.counts(c.Slips)})
		var lines []string
		for i := range d.rep.Unpredicted {
			if g := &d.rep.Unpredicted[i]; g.Problem == p.Problem && g.Body == c.Body && g.Step == c.Step && g.Cell == c.Cell {
				lines = append(lines, d.look.Cut(fmt.Sprintf("%4d  %s, %s", g.Answers, d.text(g.Meaning), plural(g.Learners, "learner")), width))
			}
		}
		return append(out, d.titled("Wrong answers here that no slip predicts, by what they mean", lines)...)
	})
}
