package board

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// twoColumns is how wide the first page must be for learners to stand beside
// slips.
const twoColumns = 118

// detail is how much is said of each slip on the first page.
type detail struct {
	lines  int // of evidence
	recall bool
	apart  bool // a blank line between slips
}

// details are tried until one leaves all three slips in sight.
var details = []detail{{3, true, true}, {3, false, true}, {3, false, false}, {2, false, true}, {2, false, false}, {1, false, false}}

// reteach is the first page: the slips that cost most, and whom to see.
func (d *data) reteach() place {
	return d.sheet("To reteach: the slips that cost most", func(width, height int) []string {
		if d.rep.Events == 0 {
			return d.look.Wrapped(screen.Plain, "There is nothing in these logs to review. Name files or folders that hold exported logs or journals.", width)
		}
		if width < twoColumns {
			also := d.also(width)
			return append(append(d.headline(width, height-len(also)-1), ""), also...)
		}
		left := width * 62 / 100
		see := append([]string{d.look.Paint(screen.Heading, "To see")}, d.toSee(width-left-3, height-1)...)
		return d.look.Beside(d.headline(left, height), see, left, "   ")
	})
}

// headline is the three slips, in as much detail as there is room for.
func (d *data) headline(width, height int) []string {
	if len(d.rep.Headline) == 0 {
		return []string{"No slip was made."}
	}
	var out []string
	for _, how := range details {
		out = nil
		for i := range d.rep.Headline {
			if how.apart && i > 0 {
				out = append(out, "")
			}
			out = append(out, d.cost(i+1, &d.rep.Headline[i], how, width)...)
		}
		if len(out) <= height {
			break
		}
	}
	return out
}

// cost is what one slip cost.
func (d *data) cost(n int, s *review.SlipCost, how detail, width int) []string {
	out := []string{d.look.Cut(fmt.Sprintf("%d. %s", n, d.look.Paint(screen.Chosen, d.text(s.Name))), width),
		d.look.Cut(fmt.Sprintf("   %d of %s: %s  %s  %.0f "+either(width < 64, "min", "minutes"), s.Learners.Count, plural(s.Learners.N, "learner"), review.Percent(s.Learners), plural(s.Attempts, "attempt"), s.Minutes), width)}
	for _, l := range s.Evidence[:min(how.lines, len(s.Evidence))] {
		out = append(out, "  "+d.typed(l, width-2, true))
	}
	if how.recall && s.Recall != "" {
		for _, line := range d.look.Wrapped(screen.Quiet, d.text(s.Recall), width-3) {
			out = append(out, "   "+line)
		}
	}
	return out
}

// also is what else is worth a look, in a few words, with the part that says
// more.
func (d *data) also(width int) []string {
	var names []string
	more := 0
	for _, l := range d.rep.Students {
		switch {
		case len(l.Reasons) == 0:
		case len(names) < 4:
			names = append(names, d.look.Cut(d.text(l.Learner), 16))
		default:
			more++
		}
	}
	see := "Nobody stands out."
	if len(names) > 0 {
		see = "To see: " + strings.Join(names, ", ")
		if more > 0 {
			see += fmt.Sprintf(" and %d more", more)
		}
		see += " (6)."
	}
	if n := len(d.rep.Alike); n > 0 {
		see += fmt.Sprintf(" %s alike (7).", plural(n, "pair"))
	}
	out := d.look.Wrapped(screen.Plain, see, width)
	if troubled(d.rep) {
		out = append(out, d.look.Wrapped(screen.Wrong, "! The logs are not all sound (0).", width)...)
	}
	return out
}

// together is the pairs whose wrong lines are most alike.
func (d *data) together(width int) []string {
	var out []string
	for _, a := range d.rep.Alike[:min(3, len(d.rep.Alike))] {
		out = append(out, d.look.Cut(fmt.Sprintf("%s  %d of %d wrong lines alike", d.look.Paint(screen.Accent, d.text(a.Learners[0])+" and "+d.text(a.Learners[1])), a.Shared, a.Of), width))
	}
	return out
}

// toSee is the learners who stand out, with the reasons, as many as there is
// room for, and the pairs whose wrong lines are alike.
func (d *data) toSee(width, height int) []string {
	pairs := d.together(width)
	var out []string
	for _, l := range d.rep.Students {
		if len(l.Reasons) == 0 {
			continue
		}
		one := []string{d.look.Paint(screen.Accent, d.look.Cut(d.text(l.Learner), width))}
		for _, r := range l.Reasons {
			for i, line := range d.look.Wrapped(screen.Plain, d.text(r), max(width-4, 12)) {
				if i > 0 {
					line = "  " + line
				}
				one = append(one, "  "+line)
			}
		}
		if len(out)+len(one)+len(pairs) > height {
			break
		}
		out = append(out, one...)
	}
	if len(out)+len(pairs) == 0 {
		return d.also(width)
	}
	return append(out, pairs...)
}

// allSlips are all slips, dearest first.
func (d *data) allSlips() place {
	var rows []row
	for i := range d.rep.Slips {
		s := &d.rep.Slips[i]
		rows = append(rows, row{[]cell{d.word(s.Name), rate(s.Learners), whole(s.Learners.Count), whole(s.Attempts), minutes(s.Minutes), rate(s.First)},
			func() place { return d.slipPage(s) }})
	}
	return d.table("Slips, dearest first", "No slip was made.", []column{{name: "slip", least: 24}, {name: "share", number: true},
		{name: "learners", number: true, rank: 2}, {name: "attempts", number: true}, {name: "minutes", number: true, rank: 1}, {name: "at first attempts", number: true, rank: 3}}, rows)
}

// slipPage is all that is known of a slip.
func (d *data) slipPage(s *review.SlipCost) place {
	return d.sheet(d.text(s.Name), func(width, _ int) []string {
		wide := max(min(30, width-40), 8)
		out := d.facts(width,
			[2]string{"learners", fmt.Sprintf("%s %d of %d who met a line where it can be made: %s", d.bar(s.Learners.Rate, wide), s.Learners.Count, s.Learners.N, review.Percent(s.Learners))},
			[2]string{"first attempts", fmt.Sprintf("%d of %d at such lines: %s", s.First.Count, s.First.N, review.Percent(s.First))},
			[2]string{"cost", fmt.Sprintf("%s, %.0f minutes", plural(s.Attempts, "attempt"), s.Minutes)},
			[2]string{"to reteach", d.text(s.Recall)})
		var lines []string
		for _, l := range s.Evidence {
			lines = append(lines, d.typed(l, width, true))
		}
		out = append(out, d.titled("As it was typed", lines)...)
		return append(out, d.titled("Where it was made", d.madeAt(s.Code, width))...)
	})
}

// madeAt is the lines at which a slip is among the commonest.
func (d *data) madeAt(code string, width int) []string {
	type place struct {
		count int
		text  string
	}
	var all []place
	for _, p := range d.rep.Problems {
		for _, c := range p.Cells {
			for _, s := range c.Slips {
				if s.Name == code {
					all = append(all, place{s.Count, d.where(p.Problem, c.Body, c.Step, c.Cell, "")})
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b place) int { return b.count - a.count })
	var out []string
	for _, p := range all[:min(12, len(all))] {
		out = append(out, d.look.Cut(fmt.Sprintf("%4d  %s", p.count, p.text), width))
	}
	return out
}
