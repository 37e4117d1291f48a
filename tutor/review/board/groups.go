package board

import (
	"fmt"
	"strings"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// unpredicted are the groups of wrong answers that no slip predicts.
func (d *data) unpredicted() place {
	var rows []row
	for i := range d.rep.Unpredicted {
		g := &d.rep.Unpredicted[i]
		offer := "-"
		if g.Offer != "" {
			offer = "yes"
		}
		rows = append(rows, row{[]cell{d.word(g.Meaning), {text: d.where(g.Problem, "", g.Step, g.Cell, g.Pivot)}, whole(g.Learners), whole(g.Answers), {text: offer}, whole(g.Ways)},
			func() place { return d.group(g) }})
	}
	return d.table("Wrong answers that no slip predicts, by what they mean", "There are none: every wrong answer is a known slip.", []column{{name: "meaning", least: 18}, {name: "line", least: 31},
		{name: "learners", number: true}, {name: "answers", number: true, rank: 1}, {name: "slip offered", rank: 2}, {name: "ways", number: true, rank: 3}}, rows)
}

// group is one group with its lines, and the slip it could be.
func (d *data) group(g *review.Group) place {
	p := d.sheet(d.text(g.Meaning), func(width, _ int) []string {
		out := d.facts(width,
			[2]string{"where", d.where(g.Problem, g.Body, g.Step, g.Cell, g.Pivot)},
			[2]string{"learners", fmt.Sprintf("%d of %d who met the line: %s", g.First.Count, g.First.N, review.Percent(g.First))},
			[2]string{"answers", fmt.Sprint(g.Answers)})
		var lines []string
		for _, l := range g.Lines {
			lines = append(lines, d.typed(l, width-20, false)+d.look.Paint(screen.Quiet, "  by "+plural(l.Learners, "learner")))
		}
		if n := g.Ways - len(g.Lines); n > 0 {
			lines = append(lines, fmt.Sprintf("      and %s more", plural(n, "way")))
		}
		out = append(out, d.titled("As it was typed", lines)...)
		if g.Offer == "" {
			return append(append(out, ""), d.look.Wrapped(screen.Quiet, "No slip is offered: these are numbers, or a line that is not of the problem's symbols.", width)...)
		}
		return append(out, d.titled("The slip it could be (O writes it to a file)", d.offered(g.Offer, width))...)
	})
	p.offer = g.Offer
	return p
}

// offered is a slip as it stands in the file, its lines broken only where they
// must be.
func (d *data) offered(offer string, width int) []string {
	var out []string
	for line := range strings.Lines(offer) {
		out = append(out, d.look.Wrapped(screen.Accent, d.look.Text(strings.TrimRight(line, "\r\n")), width)...)
	}
	return out
}
