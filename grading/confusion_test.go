package grading

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// confusion counts, of cells with one slip in them, which slip was named.
type confusion struct {
	told  map[string]map[string]int // true slip -> slip named first ("-" for none)
	all   int
	named int // the true slip is named, or listed as writing the same
	false int // another is named, and the true one is not even listed
	right int // called right
}

func (c *confusion) add(truth string, v Verdict) {
	if c.told == nil {
		c.told = map[string]map[string]int{}
	}
	if c.told[truth] == nil {
		c.told[truth] = map[string]int{}
	}
	first := "-"
	if len(v.Slips) > 0 {
		first = strings.Join(v.Slips, "+")
	}
	c.told[truth][first]++
	c.all++
	switch {
	case v.Earned():
		c.right++
	case names(v, truth):
		c.named++
	case len(v.Slips) > 0:
		c.false++
	}
}

func (c *confusion) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d cells: named or listed %.2f %%, falsely named %.2f %%, called right %d\n", c.all,
		100*float64(c.named)/float64(c.all), 100*float64(c.false)/float64(c.all), c.right)
	for _, truth := range slices.Sorted(maps.Keys(c.told)) {
		fmt.Fprintf(&b, "  %-22s", truth)
		row := c.told[truth]
		for _, k := range slices.SortedFunc(maps.Keys(row), func(x, y string) int { return row[y] - row[x] }) {
			fmt.Fprintf(&b, " %s %d", k, row[k])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Over the bank, about every point, each slip that can be made in a cell is
// made: in symbols, and with every given's number put in and the product worked
// out to four figures. The table of the slip made against the slip named first
// is printed by
//
//	go test ./grading -run Confusion -v
//
// A slip named first that is not the one made writes the same line, and the
// one made is listed beside it; "falsely named" counts where it is not.
func TestConfusion(t *testing.T) {
	var symbols, numbers confusion
	for _, s := range problems.Builtin().Scenarios {
		for seed := range (*seeds + 1) / 2 {
			p, err := Draw(s, seed)
			if err != nil {
				t.Fatal(err)
			}
			for _, b := range p.Bodies {
				for _, pivot := range b.Points {
					g, err := New(p, Choice{Body: b.Name, Pivot: pivot.Name})
					if err != nil {
						t.Fatal(err)
					}
					confuse(t, g, &symbols, &numbers)
				}
			}
		}
	}
	t.Logf("in symbols, %v", &symbols)
	t.Logf("in numbers, %v", &numbers)
	for _, c := range []*confusion{&symbols, &numbers} {
		if c.right > 0 || float64(c.named) < 0.97*float64(c.all) || float64(c.false) > 0.01*float64(c.all) {
			t.Errorf("%v\nwant at least 97 %% named, at most 1 %% falsely, none right", c)
		}
	}
}

func confuse(t *testing.T, g *Grader, symbols, numbers *confusion) {
	t.Helper()
	for _, row := range statics.Rows {
		for i, bk := range g.ledger(row) {
			for _, w := range bk.singles {
				v, err := g.Cell(row, g.symbolOf(i), w.term.Text(true))
				if err != nil {
					t.Fatal(err)
				}
				symbols.add(w.codes[0], v)
				text, ok := worked(g, &w)
				if !ok || bk.right.term.IsZero() || row == statics.RowMoment && g.frame.Pivot.Mark {
					continue // draws tell slips apart about the body's own points, not about every place there is
				}
				if v, err = g.Cell(row, g.symbolOf(i), text); err != nil {
					t.Fatal(err)
				}
				if v.Earned() {
					t.Logf("%s seed %d, %s of %s about %s: %q, for %q, is %v", g.p.ID, g.p.Seed, row, g.symbolOf(i), g.frame.Pivot.Name, text, w.term.Text(true), v.Outcome)
				}
				numbers.add(w.codes[0], v)
			}
		}
	}
}

// worked is what a slip writes with numbers put in and worked out to four
// figures, the unknown of the cell kept; not ok where another unknown is in it.
func worked(g *Grader, w *written) (string, bool) {
	unknown := ""
	at := append([]float64(nil), g.p.Values...)
	for _, u := range g.p.Unknowns {
		if !w.term.Uses(u.Index) {
			continue
		}
		if unknown != "" {
			return "", false
		}
		unknown = u.Symbol
		at[u.Index] = 1
		if x := slices.Clone(at); true { // only a factor can be kept
			x[u.Index] = 2
			if !near(w.term.Eval(x), 2*w.term.Eval(at), abs(w.term.Eval(x)), 1e-9) {
				return "", false
			}
		}
	}
	k := w.term.Eval(at)
	if k == 0 || abs(k) < 1e-4 || abs(k) > 1e7 {
		return "0", k == 0 && w.term.IsZero()
	}
	text := problems.Figures(k, 4)
	if unknown == "" {
		return text, true
	}
	return text + " " + unknown, true
}

// Every slip's message, about every cell of every scenario, is short enough to
// be read aloud, is filled in, prints, and blames nobody.
func TestMessages(t *testing.T) {
	for _, s := range problems.Builtin().Scenarios {
		p, err := Draw(s, 3)
		if err != nil {
			t.Fatal(err)
		}
		for b := range p.Bodies {
			for _, pivot := range p.Bodies[b].Points {
				g, err := New(p, Choice{Body: p.Bodies[b].Name, Pivot: pivot.Name, Clockwise: pivot.Mark})
				if err != nil {
					t.Fatal(err)
				}
				for _, row := range statics.Rows {
					for _, bk := range g.ledger(row) {
						sayAll(t, g, bk)
					}
				}
			}
		}
	}
}

func sayAll(t *testing.T, g *Grader, bk *book) {
	t.Helper()
	check := func(what, text string) {
		switch {
		case len([]rune(text)) >= 200:
			t.Errorf("%s: %s is %d characters: %q", g.p.ID, what, len([]rune(text)), text)
		case strings.ContainsAny(text, "{}") || strings.Contains(text, "  ") || strings.Contains(text, "%!"):
			t.Errorf("%s: %s is not filled in: %q", g.p.ID, what, text)
		case notation.Printable(text) != text:
			t.Errorf("%s: %s does not print: %q", g.p.ID, what, text)
		case text == "" || !strings.ContainsAny(text[len(text)-1:], ".?"):
			t.Errorf("%s: %s is no sentence: %q", g.p.ID, what, text)
		}
		for _, blame := range []string{"you forgot", "careless", "stupid", "obvious", "should have", "mistake", "error", "fail"} {
			if strings.Contains(strings.ToLower(text), blame) {
				t.Errorf("%s: %s blames: %q", g.p.ID, what, text)
			}
		}
	}
	right := bk.right.entry
	right.Place, right.Given = "another point", g.show(0)
	for i := range slip.Catalogue {
		sl := &slip.Catalogue[i]
		check(sl.Code+" say", sl.Fill(sl.Say, right))
		check(sl.Code+" ask", sl.Fill(sl.Ask, right))
		check(sl.Code+" recall", sl.Fill(sl.Recall, right))
	}
	for i := range bk.singles {
		w := &bk.singles[i]
		check(w.codes[0], g.named("", *w).Message)
	}
	check("unknown", slip.Unknown(right))
}
