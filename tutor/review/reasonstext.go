package review

import "fmt"

// mostOwn bounds the reasons in own words that text shows of a question; all
// are in the report.
const mostOwn = 5

// reasons tells how the class answered what was asked for; nothing where
// nothing was.
func (p *writing) reasons(rep *Report) {
	if len(rep.Reasons) == 0 {
		return
	}
	p.title("Reasons that were asked for")
	for _, r := range rep.Reasons {
		p.para(4, "%s: asked of %s, %s; %s", p.show(r.Topic), plural(r.Learners, "learner"), plural(r.Asked, "time"), p.atOnce(r))
		for _, f := range r.False {
			p.line("   %4d x  %s, %s", f.Learners.Count, p.show(f.Topic), percent(f.Learners))
		}
		for _, o := range r.Own[:min(mostOwn, len(r.Own))] {
			p.para(11, "      own  \"%s\"  %s, %s", p.show(cut(o.Typed, 200)), p.show(cut(o.Learner, 40)), p.show(o.Problem))
		}
		if n := len(r.Own) - mostOwn; n > 0 {
			p.line("           and %d more in own words; --json has them all.", n)
		}
	}
}

func (p *writing) atOnce(r ReasonReport) string {
	passed := ""
	if r.Passed > 0 {
		passed = fmt.Sprintf("; passed over %s", plural(r.Passed, "time"))
	}
	if r.AtOnce.N == 0 {
		return "nobody chose" + passed
	}
	return fmt.Sprintf("%d of %d right at once, %s%s", r.AtOnce.Count, r.AtOnce.N, percent(r.AtOnce), passed)
}
