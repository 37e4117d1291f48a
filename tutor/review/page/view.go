package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"

	"steelyard/tutor/review"
)

// numbered is a learner with the number that a chart shows.
type numbered struct {
	review.LearnerReport
	Number int
}

// problemView is a problem with the chart of its lines.
type problemView struct {
	review.ProblemReport
	Lines some[review.CellReport]
	Chart template.HTML
}

// hardLine is a line with its problem.
type hardLine struct {
	review.CellReport
	Problem string
}

type curveView struct {
	review.SkillCurve
	Chart template.HTML // "" where there is too little to draw
}

type setView struct {
	review.ItemSet
	Stats some[review.ItemStat]
}

// SlipName is what a slip is called, by its code.
func (d *whole) SlipName(code string) string {
	if name, ok := d.names[code]; ok {
		return show(name)
	}
	return show(code)
}

func (d *whole) slips() {
	d.names = map[string]string{}
	for _, s := range d.Slips {
		d.names[s.Code] = s.Name
	}
	d.AllSlips = upTo(mostSlips, d.Slips)
	var all []row
	for i, s := range d.Slips[:min(chartedSlips, len(d.Slips))] {
		if s.Learners.N >= review.MinFacility {
			all = append(all, row{label(s.Name), s.Learners, i < len(d.Headline)})
		}
	}
	if len(all) > 0 {
		d.SlipChart = rows(all, "learners who made the slip, of those who met a line where it can be made", "slips",
			"Share of learners who made each slip", "One row for each slip, dearest first; full marks are the three to reteach. The table below has the numbers.")
	}
}

func (d *whole) problems() {
	var all []row
	var lines []hardLine
	problems := upTo(mostProblems, d.Problems)
	for i, p := range problems.List {
		v := problemView{ProblemReport: p, Lines: upTo(mostCells, p.Cells)}
		var cells []row
		for _, c := range v.Lines.List {
			if c.RightFirst.N >= review.MinFacility {
				cells = append(cells, row{label(lineName("", c.Step, c.Cell, "")), c.RightFirst, c.Left > 0})
			}
		}
		if len(cells) > 0 {
			v.Chart = rows(cells, "right first time", fmt.Sprintf("cells-%d", i), "Right first time, by line of "+show(p.Problem),
				"One row for each line in the order of work; full marks are lines that sessions were left at. The table below has the numbers.")
		}
		d.AllProblems.List = append(d.AllProblems.List, v)
		if p.RightFirst.N >= review.MinFacility {
			all = append(all, row{label(p.Problem), p.RightFirst, false})
		}
		for _, c := range p.Cells {
			lines = append(lines, hardLine{c, p.Problem})
		}
	}
	d.AllProblems.More = problems.More
	if len(all) > 0 {
		slices.SortStableFunc(all, func(a, b row) int { return cmp.Compare(a.rate.Rate, b.rate.Rate) })
		all[0].mark = true
		d.ProblemChart = rows(all, "lines that were right first time", "problems", "Right first time, by problem",
			"One row for each problem, hardest first, marked full. The table below has the numbers.")
	}
	d.hardest(lines)
}

// hardest picks the lines that are surely hard, by the upper end of the
// interval, and those that sessions were left at.
func (d *whole) hardest(lines []hardLine) {
	left := slices.Clone(lines)
	lines = slices.DeleteFunc(lines, func(l hardLine) bool { return l.RightFirst.N < review.MinFacility || l.RightFirst.Rate == 1 })
	slices.SortStableFunc(lines, func(a, b hardLine) int { return cmp.Compare(a.RightFirst.High, b.RightFirst.High) })
	d.Hardest = upTo(mostHardest, lines).List
	left = slices.DeleteFunc(left, func(l hardLine) bool { return l.Left == 0 })
	slices.SortStableFunc(left, func(a, b hardLine) int { return cmp.Compare(b.Left, a.Left) })
	d.Leaving = upTo(mostHardest, left).List
}

func (d *whole) groups() {
	var shared, single []review.Group
	for _, g := range d.Unpredicted {
		if g.Learners > 1 {
			shared = append(shared, g)
		} else {
			single = append(single, g)
		}
	}
	d.Shared = upTo(mostGroups, shared)
	d.Further = upTo(mostFurther, shared[len(d.Shared.List):])
	d.Single = upTo(mostSingle, single)
}

func (d *whole) skills() {
	for i, s := range d.Skills {
		v := curveView{SkillCurve: s}
		if s.Fit != nil {
			v.Chart = curve(s, fmt.Sprintf("skill-%d", i), "Learning curve: "+show(s.Skill),
				"Share wrong at each chance to use the skill, with its interval, and the fitted line. The table below has the numbers.")
		}
		d.Curves = append(d.Curves, v)
		if s.Verdict == review.NotImproves || s.Verdict == review.Worsens {
			d.Still = append(d.Still, s.Skill)
		}
	}
}

func (d *whole) learners() {
	var all, see []numbered
	var at []spot
	d.Cohorts = slices.ContainsFunc(d.Students, func(l review.LearnerReport) bool { return l.Cohort != d.Students[0].Cohort })
	for i, l := range d.Students {
		n := numbered{l, i + 1}
		all = append(all, n)
		if len(l.Reasons) > 0 {
			see = append(see, n)
		}
		if l.RightFirst.N >= review.MinFacility {
			per := float64(l.Attempts) / float64(max(1, l.Lines))
			at = append(at, spot{per, l.RightFirst.Rate, n.Number, len(l.Reasons) > 0})
		}
	}
	d.See = upTo(mostSee, see)
	d.AllLearners = upTo(mostLearners, all)
	d.TogetherWith = upTo(mostAlike, d.Alike)
	if len(at) > 0 {
		d.LearnerChart = spots(at, axis{label: "attempts a line", from: 1}, axis{label: "right first time", share: true}, "learners",
			"Learners by attempts and lines right first time", "Triangles with numbers are those to see; the numbers are those of the table.")
	}
}

func (d *whole) items() {
	for _, s := range d.Items {
		d.Sets = append(d.Sets, setView{s, upTo(mostCells, s.Items)})
	}
	if len(d.Items) == 0 {
		return
	}
	var at []spot
	for i, s := range d.Items[0].Items {
		if s.Facility != nil && s.Discrimination != nil {
			at = append(at, spot{*s.Facility, *s.Discrimination, i + 1, true})
		}
	}
	if len(at) > 0 {
		d.ItemChart = spots(at, axis{label: "facility: mean share right", share: true}, axis{label: "discrimination", from: -1}, "items",
			"Problems by facility and discrimination", "Easy problems are to the right; those that tell learners apart are high. The numbers are those of the table.")
	}
}

func (d *whole) troubles() {
	failed := slices.ContainsFunc(d.Sources, func(s review.Source) bool { return s.Failed != "" })
	d.Troubled = failed || d.DamagedLines+len(d.Altered)+len(d.NotInBank) > 0
	d.DamagedFirst = upTo(mostTrouble, d.Damaged)
	d.DamageNotShown = d.DamagedLines - len(d.DamagedFirst.List)
	d.AlteredFirst = upTo(mostTrouble, d.Altered)
	d.MissingFirst = upTo(mostTrouble, d.NotInBank)
	d.SourcesFirst = upTo(mostTrouble, d.Sources)
}
