package grading

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Listed is one force as the learner listed it.
type Listed struct {
	Symbol   string // the scenario's
	At       string
	Reversed bool // assumed the other way from the scenario's
}

// MaxListed bounds the lines of a list of forces.
const MaxListed = 32

// Forces grades the list of forces on the body: lines like "T at B toward C",
// "W at G down", "C clockwise", separated by new lines or semicolons. What was
// understood comes back with the verdict, right or wrong, and is whole only if
// the verdict is right.
func (g *Grader) Forces(answer string) (Verdict, []Listed) {
	lines := strings.FieldsFunc(answer, func(c rune) bool { return c == '\n' || c == ';' })
	var list, renamed []Listed
	var reads []string
	var faults []Verdict
	seenAt := map[string]bool{}
	column := 1
	if len(lines) > MaxListed {
		return Verdict{Outcome: Unreadable, At: 1, Message: fmt.Sprintf("That is %d lines; a body here has far fewer forces. List each once.", len(lines))}, nil
	}
	for _, line := range lines {
		at := column + len([]rune(line)) - len([]rune(strings.TrimLeft(line, " \t\r")))
		column += len([]rune(line)) + 1
		line = strings.TrimSpace(line)
		if mark := bullet().FindString(line); mark != "" {
			at += len([]rune(mark))
			line = line[len(mark):]
		}
		if line = strings.TrimRight(line, " .,"); line == "" {
			continue
		}
		l, v, known := g.oneForce(line)
		if v.Outcome == Unreadable {
			v.At += at - 1
			return v, nil
		}
		if known && seenAt[l.Symbol] {
			v = g.slipped("", "listed-twice", g.entryFor(l.Symbol))
		}
		if v.Outcome == Wrong {
			faults = append(faults, v)
			if !known {
				renamed = append(renamed, l)
				continue
			}
		}
		if known && !seenAt[l.Symbol] {
			seenAt[l.Symbol] = true
			list = append(list, l)
			reads = append(reads, v.ReadsAs)
		}
	}
	if len(lines) == 0 || len(list)+len(faults) == 0 {
		return Verdict{Outcome: Unreadable, At: 1, Message: "List the forces, one a line: a symbol, where it acts and which way, like \"W at G down\"."}, nil
	}
	missing, excused := g.missing(slices.Concat(list, renamed))
	faults = append(faults, missing...)
	return merge(faults, strings.Join(reads, "; "), excused), list
}

// merge makes one verdict of a list's faults: every slip, and what to say of
// the first two.
func merge(faults []Verdict, reads, excused string) Verdict {
	if len(faults) == 0 {
		if excused != "" {
			return remark(reads, excused)
		}
		return right(reads)
	}
	v := Verdict{Outcome: Wrong, ReadsAs: reads}
	var say []string
	for _, f := range faults {
		for _, code := range f.Slips {
			if !slices.Contains(v.Slips, code) {
				v.Slips = append(v.Slips, code)
			}
		}
		if len(say) < 2 && !slices.Contains(say, f.Message) {
			say = append(say, f.Message)
		}
	}
	v.Message = strings.Join(say, " ")
	if more := len(faults) - len(say); more > 0 {
		v.Message += fmt.Sprintf(" (%d more.)", more)
	}
	return v
}

func (g *Grader) entryFor(symbol string) slip.Entry {
	i, err := g.entry(symbol)
	if err != nil {
		return slip.Entry{Given: notation.Printable(symbol)}
	}
	return entryOf(g.p.Scenario, g.body, i, statics.RowMoment, g.frame)
}

// missing says which forces are not in the list. A steadily accelerating
// body's inertia force may be left out by one who takes moments about the
// centre of mass.
func (g *Grader) missing(list []Listed) (faults []Verdict, excused string) {
	for i := range g.count() {
		s := g.symbolOf(i)
		if slices.ContainsFunc(list, func(l Listed) bool { return l.Symbol == s }) {
			continue
		}
		e := entryOf(g.p.Scenario, g.body, i, statics.RowMoment, g.frame)
		if st := g.p.Steady; st != nil && s == st.Inertia {
			if g.frame.Pivot.Name == st.Centre {
				excused = fmt.Sprintf("Right: about %s, %s has no moment. In the sums along x and y it stands as mass times acceleration.", st.Centre, notation.Display(s, false))
				continue
			}
			e.Given = "the acceleration: about any point but " + st.Centre + ", the inertia force counts"
		} else if e.Couple != nil {
			e.Given = "what turns the " + g.body.Name + " without pushing it"
		} else if e.Force.Kind == statics.Weight {
			e.Given = "what is heavy: " + e.Force.Meaning
		} else {
			e.Given = "what happens at " + pointName(g.body, e.Force.At)
		}
		v := g.slipped("", "force-missing", e)
		v.Message, _, _ = strings.Cut(v.Message, "\n")
		faults = append(faults, v)
	}
	return faults, excused
}

func pointName(b *statics.Body, name string) string {
	if p, ok := b.Point(name); ok && p.Meaning != "" {
		return fmt.Sprintf("%s (%s)", name, p.Meaning)
	}
	return name
}
