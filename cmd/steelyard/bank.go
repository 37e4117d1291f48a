package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/figure"
	"steelyard/problems/notation"
)

// discriminates makes every problem drawn here one whose numbers tell slips
// apart.
var discriminates = grading.Discriminates

func (a *app) listCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "list",
		Short: "List the problems in the bank",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			b, err := a.bank()
			if err != nil {
				return err
			}
			a.sayFaults(b)
			if asJSON {
				return a.listJSON(b)
			}
			w := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
			for _, s := range b.Scenarios {
				fmt.Fprintf(w, "%s\tlevel %d\t%s\t%s\n", s.ID, s.Level, printable(s.Family), printable(s.Title))
			}
			return w.Flush()
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write one JSON array")
	return c
}

func (a *app) listJSON(b *problems.Bank) error {
	type item struct {
		ID     string `json:"id"`
		Title  string `json:"title"`
		Family string `json:"family"`
		Level  int    `json:"level"`
	}
	items := []item{}
	for _, s := range b.Scenarios {
		items = append(items, item{s.ID, s.Title, s.Family, s.Level})
	}
	return a.writeJSON(items)
}

func (a *app) writeJSON(v any) error {
	enc := json.NewEncoder(a.out)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// drawFlags are the flags that say which problem of a scenario is meant.
type drawFlags struct {
	seed  uint64
	given []string
}

func (f *drawFlags) add(c *cobra.Command) {
	c.Flags().Uint64Var(&f.seed, "seed", 1, "the seed to draw the numbers with")
	c.Flags().StringArrayVar(&f.given, "given", nil, "a given's value, like L=5 or \"alpha=35 deg\"; may be repeated")
}

func (a *app) completeID(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	var out []string
	if b, err := a.bank(); err == nil {
		for _, s := range b.Scenarios {
			out = append(out, s.ID+"\t"+s.Title)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func (a *app) showCommand() *cobra.Command {
	var asJSON, answers, asSVG bool
	var body string
	var f drawFlags
	c := &cobra.Command{
		Use:   "show ID",
		Short: "Show a problem, with its figure and, if asked, its answers",
		Example: `  steelyard show davit-arm --seed 7 --answers
  steelyard show hull-ladder --given L=5 --given "alpha=53 deg" --json
  steelyard show davit-arm --seed 7 --svg > davit-arm.svg`,
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: a.completeID,
		RunE: func(_ *cobra.Command, args []string) error {
			b, err := a.bank()
			if err != nil {
				return err
			}
			a.sayFaults(b)
			p, err := a.draw(b, args[0], f.seed, f.given)
			if err != nil {
				return err
			}
			v, err := wholeView(p, body, answers)
			switch {
			case err != nil:
				return short(err)
			case asJSON:
				return a.writeJSON(p.Show())
			case asSVG:
				_, err := io.WriteString(a.out, figure.Build(p, v).SVG(svgWidth, svgHeight))
				return err
			}
			a.showText(p, v, answers)
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write one JSON object, with the solution and the reference rows")
	c.Flags().BoolVar(&answers, "answers", false, "show the forces, the reference equations and the solution")
	c.Flags().BoolVar(&asSVG, "svg", false, "write the figure alone, as SVG for print; with --answers, with its forces")
	c.Flags().StringVar(&body, "body", "", "the body whose forces the figure shows; without it, the first")
	c.MarkFlagsMutuallyExclusive("json", "svg")
	c.MarkFlagsMutuallyExclusive("json", "body")
	f.add(c)
	return c
}

// The most room that a figure for print takes, in units of 1/96 inch: the width
// of a column of text on A4, and a third of the page.
const svgWidth, svgHeight = 600, 380

// wholeView is the figure of a body with all that acts on it, if the answers are
// shown, and else with nothing. No name means the first body; of several bodies
// the one named is set apart.
func wholeView(p *problems.Problem, name string, answers bool) (figure.View, error) {
	body := &p.Bodies[0]
	if name != "" {
		named, ok := p.Body(name)
		if !ok {
			return figure.View{}, fmt.Errorf("--body: no body %q in %s; its bodies are %s", notation.Printable(name), p.ID, bodyNames(p))
		}
		body = named
	}
	v := figure.View{}
	if len(p.Bodies) > 1 && (answers || name != "") {
		v.Body = body.Name
	}
	if !answers {
		return v, nil
	}
	for _, f := range body.Forces {
		v.Forces = append(v.Forces, figure.Listed{Symbol: f.Symbol, At: f.At})
	}
	for _, c := range body.Couples {
		v.Forces = append(v.Forces, figure.Listed{Symbol: c.Symbol})
	}
	return v, nil
}

func bodyNames(p *problems.Problem) string {
	var names []string
	for _, b := range p.Bodies {
		names = append(names, fmt.Sprintf("%q", b.Name))
	}
	return strings.Join(names, ", ")
}

// showText writes the problem for a reader, its values in the scenario's own
// units.
func (a *app) showText(p *problems.Problem, v figure.View, answers bool) {
	fmt.Fprintf(a.out, "%s (%s, seed %d)\n\n%s\n\n", printable(p.Title), p.ID, p.Seed, wrap(p.Statement, 78))
	fmt.Fprintf(a.out, "%s\n\n", trimBlank(figure.Build(p, v).Text(72, 20, a.ascii).String()))
	w := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	for _, g := range p.Givens {
		fmt.Fprintf(w, "%s\t= %v %s\t%s\n", notation.Display(g.Symbol, a.ascii), p.In(g.Index, g.Unit), a.text(g.Unit.Name), g.Meaning)
	}
	for _, u := range p.Unknowns {
		fmt.Fprintf(w, "%s\t= ?\t%s\n", notation.Display(u.Symbol, a.ascii), u.Meaning)
	}
	w.Flush()
	if p.Caution != "" {
		fmt.Fprintf(a.out, "\n%s\n", wrap(p.Caution, 78))
	}
	if answers {
		a.showAnswers(p, w)
	}
}

// showAnswers writes the reference rows of each body, the solution, and the
// answers to the questions.
func (a *app) showAnswers(p *problems.Problem, w *tabwriter.Writer) {
	body := ""
	for _, r := range p.Show().Rows {
		if r.Body != body {
			w.Flush()
			fmt.Fprintln(a.out)
			if len(p.Bodies) > 1 {
				fmt.Fprintf(a.out, "The %s:\n", printable(r.Body))
			}
			body = r.Body
		}
		label := r.Row
		if r.Pivot != "" {
			label = "moments about " + r.Pivot
		}
		fmt.Fprintf(w, "%s\t%s\n", label, a.text(r.Text))
	}
	w.Flush()
	fmt.Fprintln(a.out)
	for _, u := range p.Unknowns {
		fmt.Fprintf(w, "%s\t= %s %s\n", notation.Display(u.Symbol, a.ascii), problems.Figures(p.In(u.Index, u.Unit), 4), a.text(u.Unit.Name))
	}
	w.Flush()
	if p.Limit != nil {
		if trend, err := p.Trend(); err == nil {
			fmt.Fprintf(a.out, "\n%s %s.\n", wrap(p.Limit.Question, 78), trend)
		}
	}
	for i, ask := range p.Asks {
		if k, err := p.Answer(i); err == nil {
			fmt.Fprintf(a.out, "\n%s %s: %s\n", wrap(ask.Question, 78), printable(ask.Answers[k].Text), p.Because(i, k, a.ascii))
		}
	}
}

// trimBlank takes blank lines off both ends of a picture.
func trimBlank(picture string) string {
	lines := strings.Split(picture, "\n")
	blank := func(line string) bool { return strings.TrimSpace(line) == "" }
	for len(lines) > 0 && blank(lines[0]) {
		lines = lines[1:]
	}
	for len(lines) > 0 && blank(lines[len(lines)-1]) {
		lines = lines[:len(lines)-1]
	}
	return strings.Join(lines, "\n")
}

// text is a line as the terminal can show it.
func (a *app) text(line string) string {
	if a.ascii {
		return notation.Spell(line)
	}
	return line
}

// wrap breaks text into lines of at most width characters, at spaces.
func wrap(text string, width int) string {
	var b strings.Builder
	n := 0
	for _, word := range strings.Fields(text) {
		k := len([]rune(word))
		switch {
		case n == 0:
		case n+1+k > width:
			b.WriteByte('\n')
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += k
	}
	return b.String()
}
