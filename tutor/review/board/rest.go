package board

import (
	"fmt"
	"strings"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// items are problems, and the lines of each, as items of a test.
func (d *data) items() place {
	var rows []row
	for i := range d.rep.Items {
		set := &d.rep.Items[i]
		for k := range set.Items {
			it := &set.Items[k]
			rows = append(rows, row{[]cell{d.word(set.Name), d.word(it.Item), whole(it.N), figure(it.Facility), figure(it.Discrimination)}, func() place { return d.item(set, it) }})
		}
	}
	t := d.table("Items of a test", "There is no item.", []column{{name: "set", least: 10}, {name: "item", least: 14}, {name: "learners", number: true, rank: 1}, {name: "facility", number: true}, {name: "discrimination", number: true}}, rows)
	if len(d.rep.Items) > 0 {
		t.above = func(width int) []string { return append(d.reliability(&d.rep.Items[0], width), "") }
	}
	return t
}

// reliability is how well a set measures, or why that is not said.
func (d *data) reliability(set *review.ItemSet, width int) []string {
	what := d.text(set.Reliability)
	if what == "alpha" {
		what = "Cronbach's alpha"
	}
	if set.Alpha == nil {
		return d.look.Wrapped(screen.Quiet, "No reliability or discrimination of "+d.text(set.Name)+": "+d.text(set.Silence)+".", width)
	}
	return d.look.Wrapped(screen.Plain, fmt.Sprintf("%s of %s is %.2f, of %s who met every item.", what, d.text(set.Name), *set.Alpha, plural(set.Learners, "learner")), width)
}

func (d *data) item(set *review.ItemSet, it *review.ItemStat) place {
	return d.sheet(d.text(it.Item), func(width, _ int) []string {
		facility := figure(it.Facility).text
		if it.Interval != nil {
			facility += ", " + review.Percent(*it.Interval)
		}
		out := d.facts(width,
			[2]string{"set", d.text(set.Name)},
			[2]string{"scored", d.text(set.Scored)},
			[2]string{"learners", fmt.Sprint(it.N)},
			[2]string{"facility", facility},
			[2]string{"discrimination", figure(it.Discrimination).text})
		return append(append(out, ""), d.reliability(set, width)...)
	})
}

// reasons are the questions for a reason, and how they were answered.
func (d *data) reasons() place {
	var rows []row
	for i := range d.rep.Reasons {
		r := &d.rep.Reasons[i]
		rows = append(rows, row{[]cell{d.word(r.Topic), whole(r.Asked), whole(r.Learners), rate(r.AtOnce), whole(r.Passed), whole(len(r.Own))}, func() place { return d.reason(r) }})
	}
	return d.table("Reasons that were asked for", "No reason was asked for in these sessions.", []column{{name: "question", least: 20}, {name: "asked", number: true}, {name: "learners", number: true, rank: 1}, {name: "right at once", number: true},
		{name: "passed over", number: true, rank: 2}, {name: "in own words", number: true, rank: 3}}, rows)
}

func (d *data) reason(r *review.ReasonReport) place {
	return d.sheet(d.text(r.Topic), func(width, _ int) []string {
		out := d.facts(width,
			[2]string{"asked", fmt.Sprintf("%s, of %s; passed over %s", plural(r.Asked, "time"), plural(r.Learners, "learner"), plural(r.Passed, "time"))},
			[2]string{"right at once", fmt.Sprintf("%d of %s who chose: %s", r.AtOnce.Count, plural(r.AtOnce.N, "learner"), review.Percent(r.AtOnce))})
		var lines []string
		for _, f := range r.False {
			lines = append(lines, d.look.Wrapped(screen.Plain, fmt.Sprintf("%s, %s: %s", plural(f.Learners.Count, "learner"), review.Percent(f.Learners), d.text(f.Topic)), width)...)
		}
		out = append(out, d.titled("Reasons chosen that do not hold", lines)...)
		lines = nil
		for _, o := range r.Own {
			lines = append(lines, d.look.Wrapped(screen.Plain, fmt.Sprintf("%s, %s: %s", d.text(o.Learner), d.text(o.Problem), d.text(o.Typed)), width)...)
		}
		return append(out, d.titled("In their own words", lines)...)
	})
}

// troubled reports whether something is wrong with the logs.
func troubled(r *review.Report) bool {
	for _, s := range r.Sources {
		if s.Failed != "" {
			return true
		}
	}
	return r.DamagedLines+len(r.Altered)+len(r.NotInBank) > 0
}

// logs are what was read, and what was wrong with it.
func (d *data) logs() place {
	r := d.rep
	var rows []row
	add := func(what, where, detail string, page func() place) {
		if page == nil {
			page = func() place {
				return d.sheet(what, func(width, _ int) []string {
					return d.facts(width, [2]string{"where", where}, [2]string{"what", detail})
				})
			}
		}
		rows = append(rows, row{[]cell{{text: what}, {text: where}, {text: detail}}, page})
	}
	const bad = "! "
	for _, s := range r.Sources {
		if s.Failed != "" {
			add(bad+"not read whole", d.text(s.Name), d.text(s.Failed), nil)
		}
	}
	for i := range r.Altered {
		a := &r.Altered[i]
		add(bad+"verdicts differ", d.text(a.Learner)+" at "+d.text(a.Problem), fmt.Sprintf("%d of %d; %s", a.Lines, a.Of, d.text(a.Reason.Words())), func() place { return d.altered(a) })
	}
	for _, x := range r.Damaged {
		add(bad+"damaged line", fmt.Sprintf("%s:%d", d.text(x.Source), x.Line), d.text(x.Reason), nil)
	}
	if n := r.DamagedLines - len(r.Damaged); n > 0 {
		add(bad+"damaged line", "", fmt.Sprintf("and %d more", n), nil)
	}
	for _, n := range r.NotInBank {
		add(bad+"not in the bank", d.text(n.Problem), fmt.Sprintf("%s count as the log has them; give its folder with --bank. %s", plural(n.Events, "event"), d.text(n.Reason)), nil)
	}
	if r.Duplicates > 0 {
		add("met again", "", plural(r.Duplicates, "event")+", counted once", nil)
	}
	for _, s := range r.Sources {
		what := "log"
		if s.Journal {
			what = "journal"
		}
		detail := plural(s.Lines, "line")
		if s.Damaged > 0 {
			detail += fmt.Sprintf(", %d damaged", s.Damaged)
		}
		add(what, d.text(s.Name), detail, nil)
	}
	t := d.table("The logs", "Nothing was read.", []column{{name: "what"}, {name: "where", least: 24, end: true}, {name: "detail", least: 20}}, rows)
	t.above = func(width int) []string {
		text := fmt.Sprintf("%s; %d of %s typed were graded again.", plural(r.Events, "event"), r.Regraded, plural(r.Answers, "line"))
		if !troubled(r) {
			text += " Nothing is wrong with the logs."
		}
		return append(d.look.Wrapped(screen.Plain, text, width), "")
	}
	return t
}

// altered is a session whose verdicts are not what grading gives.
func (d *data) altered(a *review.Altered) place {
	return d.sheet(d.text(a.Learner)+" at "+d.text(a.Problem), func(width, _ int) []string {
		first := ""
		if a.Lines > 0 {
			first = fmt.Sprintf("%s: \"%s\" %s", d.where("", "", a.First.Step, a.First.Cell, ""), d.text(a.First.Typed), d.text(a.First.Differs()))
		}
		return d.facts(width,
			[2]string{"why", d.text(a.Reason.Words())},
			[2]string{"verdicts", fmt.Sprintf("%d of %d differ", a.Lines, a.Of)},
			[2]string{"the first", first},
			[2]string{"session", d.text(strings.TrimSpace(a.Session))},
			[2]string{"counted", "every line as grading has it, not as the log says"})
	})
}
