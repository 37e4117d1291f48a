package page

import (
	"fmt"
	"html/template"
	"strconv"
	"strings"
	"time"

	"steelyard/problems/notation"
	"steelyard/tutor"
	"steelyard/tutor/review"
)

// mostText bounds how much of one text the page shows.
const mostText = 240

// show is text from a log, a file or a bank with its control characters made
// visible; the template escapes it.
func show(text string) string { return notation.PrintableMax(text, mostText) }

// label is such text for a chart, where room is short.
func label(text string) string { return notation.PrintableMax(text, 30) }

// lines is text of several lines, each made visible.
func lines(text string) string {
	var out []string
	for line := range strings.Lines(text) {
		out = append(out, notation.PrintableMax(strings.TrimRight(line, "\r\n"), 4*mostText))
	}
	return strings.Join(out, "\n")
}

// of is a count of how many things, and the rate with its interval where there
// are enough to tell one.
func of(r review.Rate, things string) string {
	out := fmt.Sprintf("%s of %s", count(r.Count), many(r.N, things))
	if things == "" {
		out = fmt.Sprintf("%s of %s", count(r.Count), count(r.N))
	}
	if r.N >= review.MinFacility {
		out += ": " + rate(r)
	}
	return out
}

// banded is what a fit has at a chance, with its band; nothing where there is no
// fit.
func banded(b *review.Band) string {
	if b == nil {
		return ""
	}
	return fmt.Sprintf("%.0f\u202f%% (%.0f–%.0f)", 100*b.Rate, 100*b.Low, 100*b.High)
}

// rate is a share in percent with its interval, or silence.
func rate(r review.Rate) string {
	if r.N < review.MinFacility {
		return silent
	}
	return fmt.Sprintf("%.0f\u202f%% (%.0f–%.0f)", 100*r.Rate, 100*r.Low, 100*r.High)
}

// silent stands where counts are too small for a figure.
const silent = "too few"

// figure is a figure of an item, or silence.
func figure(v *float64) string {
	if v == nil {
		return silent
	}
	return two(*v)
}

// two is a number to two places, with the minus that is as wide as a digit,
// and none before 0.00.
func two(v float64) string {
	s := fmt.Sprintf("%.2f", v)
	if s == "-0.00" {
		s = "0.00"
	}
	return minus(s)
}

func minus(number string) string { return strings.ReplaceAll(number, "-", "−") }

// exponent is how fast errors fall with practice, with its interval.
func exponent(p *review.PowerLaw) string {
	if p == nil {
		return silent
	}
	return two(p.B) + " (" + two(p.BLow) + " to " + two(p.BHigh) + ")"
}

// minutes is a time, to the minute from ten on.
func minutes(m float64) string {
	switch {
	case m == 0:
		return "–"
	case m >= 10:
		return fmt.Sprintf("%.0f", m)
	}
	return fmt.Sprintf("%.1f", m)
}

func day(t time.Time) string { return t.UTC().Format("2 January 2006, 15:04") }

// count is a number with its digits in threes.
func count(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "\u202f" + s[i:]
	}
	return s
}

// many is a count of things.
func many(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return count(n) + " " + thing + "s"
}

// lineKinds says which line of a ledger is meant, by step; %s is the cell.
var lineKinds = map[tutor.Step]string{
	tutor.StepPivot:    "pivot",
	tutor.StepForces:   "list of forces",
	tutor.StepX:        "x part of %s",
	tutor.StepY:        "y part of %s",
	tutor.StepMoment:   "moment of %s",
	tutor.StepEquation: "%s equation",
	tutor.StepValue:    "value of %s",
	tutor.StepDoubt:    "doubt: %s",
}

// lineName says which line is meant; body and pivot may be "".
func lineName(body, step, cell, pivot string) string {
	kind, ok := lineKinds[tutor.Step(step)]
	name := kind
	switch {
	case !ok:
		name = strings.TrimSpace(step + " " + cell)
	case strings.Contains(kind, "%s"):
		name = fmt.Sprintf(kind, cell)
	}
	if body != "" {
		name += " on the " + body
	}
	if pivot != "" {
		name += " about " + pivot
	}
	return name
}

var whyAltered = map[review.AlteredReason]string{
	review.Edited:  "the log was changed",
	review.Edition: "from another edition of the scenario",
	review.Gap:     "events of the session are missing",
}

// why says what was altered; a reason that is not known is shown as it is.
func why(r review.AlteredReason) string {
	if text, ok := whyAltered[r]; ok {
		return text
	}
	return show(string(r))
}

var words = template.FuncMap{
	"show": show, "lines": lines, "of": of, "rate": rate, "figure": figure, "exponent": exponent,
	"minutes": minutes, "day": day, "count": count, "many": many, "two": two, "banded": banded,
	"cell":   func(c review.CellReport) string { return show(lineName(c.Body, c.Step, c.Cell, "")) },
	"line":   func(l review.Line) string { return show(lineName("", l.Step, l.Cell, l.Pivot)) },
	"group":  func(g review.Group) string { return show(lineName(g.Body, g.Step, g.Cell, g.Pivot)) },
	"why":    why,
	"add":    func(a, b int) int { return a + b },
	"commas": func(all []string) string { return show(strings.Join(all, ", ")) },
}
