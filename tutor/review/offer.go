package review

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"steelyard/grading"
	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// wideOffer is how wide an offer is written, so that it can be shown, and
// pasted, line by line.
const wideOffer = 52

// unnamedLine is a group, and the line that its slip would have.
type unnamedLine struct {
	Group
	writes string
}

// offer writes each group down as a [[slips]] table of its scenario, for the end
// of the file, where that can be. What it says to the learner is a beginning.
func (c *class) offer(groups []unnamedLine) {
	taken := map[string]bool{} // "problem code"
	for i := range groups {
		g := &groups[i]
		s, err := c.bank.Scenario(g.Problem)
		if err != nil || g.writes == "" || !unnamed(s, g) {
			continue
		}
		base := code(g)
		name := base
		for n := 2; taken[g.Problem+" "+name] || hasCode(s, name); n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		taken[g.Problem+" "+name] = true
		g.Offer = slipTable(s, g, name)
	}
}

func hasCode(s *problems.Scenario, code string) bool {
	_, own := s.OwnSlip(code)
	_, general := slip.Of(code)
	return own || general
}

// unnamed reports whether the line, told as a slip's is, is wrong and called
// nothing yet: one that was written with senses or axes of the learners' own may
// be right with the scenario's.
func unnamed(s *problems.Scenario, g *unnamedLine) bool {
	p, err := grading.Draw(s, 1)
	if err != nil {
		return false
	}
	grader, err := grading.New(p, grading.Choice{Body: g.Body, Pivot: g.Pivot})
	if err != nil {
		return false
	}
	var v grading.Verdict
	if tutor.Step(g.Step) == tutor.StepEquation {
		v, err = grader.Equation(statics.RowKind(g.Cell), g.writes)
	} else {
		v, err = grader.Cell(statics.RowKind(g.Step), g.Cell, g.writes)
	}
	return err == nil && v.Outcome == grading.Wrong && len(v.Slips) == 0
}

// code makes a code of where the line stands and what it comes to.
func code(g *unnamedLine) string {
	words := strings.FieldsFunc(strings.ToLower(g.Step+" "+g.Cell+" "+g.Pivot+" as "+g.writes), func(r rune) bool { return !('a' <= r && r <= 'z' || '0' <= r && r <= '9') })
	out := strings.Join(words, "-")
	return strings.TrimRight(out[:min(40, len(out))], "-")
}

// questions are what to ask of a line, by its step.
var questions = map[tutor.Step]string{
	tutor.StepX:        "How much of %s lies along the x axis, and which way?",
	tutor.StepY:        "How much of %s lies along the y axis, and which way?",
	tutor.StepMoment:   "How far from the pivot does %s pass, and which way does it turn?",
	tutor.StepEquation: "Which force of the row for %s is missing here, or not as it acts?",
}

// slipTable is the slip as TOML.
func slipTable(s *problems.Scenario, g *unnamedLine, code string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# Written by %s, %s.\n# Say in message what to look at next.\n[[slips]]\n", plural(g.Learners, "learner"), plural(g.Answers, "time"))
	body := g.Body
	if len(s.Bodies) == 1 {
		body = ""
	}
	message := fmt.Sprintf("What does %s stand for here?", g.Meaning)
	if utf8.RuneCountInString(message) > 120 {
		message = "What does each part of this line stand for?"
	}
	for _, row := range []struct{ key, value string }{
		{"code", code}, {"body", body}, {"step", g.Step}, {"cell", g.Cell}, {"pivot", g.Pivot}, {"line", g.writes},
		{"message", message}, {"hint", fmt.Sprintf(questions[tutor.Step(g.Step)], notation.Display(g.Cell, false))},
	} {
		if row.value != "" {
			b.WriteString(row.key + " = " + toml(row.value, wideOffer-len(row.key)-3) + "\n")
		}
	}
	return b.String()
}

// toml is a basic string of TOML 1.0, folded at its blanks if it is wider than
// so many characters.
func toml(text string, width int) string {
	if utf8.RuneCountInString(text)+2 <= width || !strings.Contains(text, " ") {
		return `"` + escaped(text) + `"`
	}
	out, column := `"""\`+"\n  ", 2
	for i, word := range strings.Split(text, " ") {
		switch n := utf8.RuneCountInString(word); {
		case i == 0:
			column += n
		case column+n+3 > wideOffer:
			out += " \\\n  "
			column = 2 + n
		default:
			out += " "
			column += 1 + n
		}
		out += escaped(word)
	}
	return out + `"""`
}

// escaped is a text as it stands in quotes.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
