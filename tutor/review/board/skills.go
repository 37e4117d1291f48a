package board

import (
	"fmt"
	"math"
	"strings"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// skills are the skills, each opened to its curve.
func (d *data) skills() place {
	var rows []row
	for i := range d.rep.Skills {
		s := &d.rep.Skills[i]
		rows = append(rows, row{[]cell{d.word(s.Skill), whole(s.Learners), whole(s.N), d.at(s, 1), d.at(s, 10), exponent(s.Fit), d.word(s.Verdict)}, func() place { return d.skill(s) }})
	}
	return d.table("By skill: share wrong at the n-th chance, falling as n^-b", "No line of a known skill.", []column{{name: "skill"}, {name: "learners", number: true, rank: 3}, {name: "chances", number: true, rank: 2}, {name: "at 1st", number: true},
		{name: "at 10th", number: true, rank: 1}, {name: "b", number: true}, {name: "verdict", least: 19}}, rows)
}

// at is the error rate at an opportunity.
func (d *data) at(s *review.SkillCurve, opportunity int) cell {
	for _, p := range s.Points {
		if p.Opportunity == opportunity {
			return cell{fmt.Sprintf("%.0f %%", 100*p.Errors.Rate), p.Errors.Rate}
		}
	}
	return cell{"-", -1}
}

func exponent(p *review.PowerLaw) cell {
	if p == nil {
		return cell{"too few", math.Inf(-1)}
	}
	return cell{fmt.Sprintf("%s (%s to %s)", two(p.B), two(p.BLow), two(p.BHigh)), p.B}
}

// skill is a curve, its fit, and its table.
func (d *data) skill(s *review.SkillCurve) place {
	return d.sheet(d.text(s.Skill+": "+s.Verdict), func(width, height int) []string {
		fit := "too few chances for one"
		if s.Fit != nil {
			fit = fmt.Sprintf("share wrong = %.2f n^-b with b = %s, 95 times of 100", s.Fit.A, exponent(s.Fit).text)
		}
		out := d.facts(width,
			[2]string{"met by", fmt.Sprintf("%s, %s, %d wrong", plural(s.Learners, "learner"), plural(s.N, "chance"), s.Errors)},
			[2]string{"fit", fit})
		if len(s.Points) == 0 {
			return append(append(out, ""), d.look.Wrapped(screen.Quiet, fmt.Sprintf("At no chance were there %d learners or more, so there is nothing to draw.", review.MinPoint), width)...)
		}
		out = append(out, "")
		out = append(out, d.chart(s, width, min(max(height-len(out)-3-len(d.look.Wrapped(screen.Quiet, d.legend(), width))+1, 7), 18))...)
		return append(out, d.titled("In numbers", d.points(s))...)
	})
}

// points are the points of a curve as a table.
func (d *data) points(s *review.SkillCurve) []string {
	out := []string{d.look.Paint(screen.Quiet, fmt.Sprintf("%6s  %8s  %5s  %14s  %14s", "chance", "learners", "wrong", "share wrong", "the fit"))}
	for _, p := range s.Points {
		fit := "-"
		if f := p.Fitted; f != nil {
			fit = review.Percent(review.Rate{N: 1, Rate: f.Rate, Low: f.Low, High: f.High})
		}
		out = append(out, fmt.Sprintf("%6d  %8d  %5d  %14s  %14s", p.Opportunity, p.Errors.N, p.Errors.Count, review.Percent(p.Errors), fit))
	}
	return out
}

// strokes are what a chart is drawn with.
type strokes struct{ point, interval, fit, band, axis, corner, level rune }

var (
	unicodeStrokes = strokes{'●', '│', '·', '░', '┤', '└', '─'}
	asciiStrokes   = strokes{'o', ':', '.', '\'', '|', '+', '-'}
)

// chart draws the share wrong at each chance with its interval, and the fitted
// curve, so many rows high. One column of dots is one chance, or several where
// there is no room for all.
func (d *data) chart(s *review.SkillCurve, width, rows int) []string {
	rows -= 1 - rows%2 // one of them is half way up
	with := d.strokes()
	last := s.Points[len(s.Points)-1].Opportunity
	top := 0.1
	for _, p := range s.Points {
		top = max(top, min(p.Errors.High, 1))
	}
	top = math.Ceil(top*10) / 10
	const left = 7
	across := max(min(width-left-1, 5*last, 100), 1)
	column := func(n float64) int {
		if last == 1 {
			return 0
		}
		return int(math.Round((n - 1) / float64(last-1) * float64(across-1)))
	}
	row := func(share float64) int {
		return rows - 1 - int(math.Round(min(max(share/top, 0), 1)*float64(rows-1)))
	}
	type dot struct {
		role screen.Role
		r    rune
	}
	field := make([][]dot, rows)
	for i := range field {
		field[i] = make([]dot, across)
	}
	if s.Fit != nil {
		for x := range across {
			n := 1 + float64(x)*float64(last-1)/float64(max(across-1, 1))
			if low, high, ok := bandAt(s, n); ok {
				for y := row(high); y <= row(low); y++ {
					field[y][x] = dot{screen.Quiet, with.band}
				}
			}
			field[row(s.Fit.A*math.Pow(n, -s.Fit.B))][x] = dot{screen.Chosen, with.fit}
		}
	}
	for _, p := range s.Points {
		x := column(float64(p.Opportunity))
		for y := row(p.Errors.High); y <= row(p.Errors.Low); y++ {
			field[y][x] = dot{screen.Quiet, with.interval}
		}
	}
	for _, p := range s.Points {
		field[row(p.Errors.Rate)][column(float64(p.Opportunity))] = dot{screen.Accent, with.point}
	}
	var out []string
	for y, line := range field {
		label := "     "
		if y == 0 || y == rows-1 || y == (rows-1)/2 {
			label = fmt.Sprintf("%3.0f %%", 100*top*float64(rows-1-y)/float64(rows-1))
		}
		var b strings.Builder
		b.WriteString(d.look.Paint(screen.Quiet, label+" "+string(with.axis)))
		for _, c := range line {
			if c.r == 0 {
				b.WriteByte(' ')
				continue
			}
			b.WriteString(d.look.Paint(c.role, string(c.r)))
		}
		out = append(out, strings.TrimRight(b.String(), " "))
	}
	out = append(out, d.look.Paint(screen.Quiet, "      "+string(with.corner)+strings.Repeat(string(with.level), across)))
	foot := fmt.Sprintf("%*s", across-1, fmt.Sprint(last))
	out = append(out, d.look.Paint(screen.Quiet, "       1"+foot))
	return append(out, d.look.Wrapped(screen.Quiet, d.legend(), width)...)
}

// bandAt is the interval of the fit at the n-th chance, straight between the
// points that it is known at.
func bandAt(s *review.SkillCurve, n float64) (low, high float64, ok bool) {
	for i, p := range s.Points {
		at := float64(p.Opportunity)
		switch {
		case p.Fitted == nil || at < n && i < len(s.Points)-1:
			continue
		case i == 0 || at <= n || s.Points[i-1].Fitted == nil:
			return p.Fitted.Low, p.Fitted.High, true
		}
		before := s.Points[i-1]
		part := (n - float64(before.Opportunity)) / (at - float64(before.Opportunity))
		between := func(a, b float64) float64 { return a + part*(b-a) }
		return between(before.Fitted.Low, p.Fitted.Low), between(before.Fitted.High, p.Fitted.High), true
	}
	return 0, 0, false
}

func (d *data) strokes() strokes {
	if d.look.ASCII() {
		return asciiStrokes
	}
	return unicodeStrokes
}

func (d *data) legend() string {
	with := d.strokes()
	return fmt.Sprintf("%c share wrong  %c its interval  %c the fit  %c its interval; across: n-th chance", with.point, with.interval, with.fit, with.band)
}
