package grading

import (
	"flag"
	"slices"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// seeds is how many problems of each scenario are tried: a few wherever tests
// run, more where there is time (.ci/run).
var seeds = flag.Uint64("seeds", 4, "how many problems of each scenario are tried")

// each calls f for every problem of the built-in bank that is tried.
func each(t *testing.T, f func(*testing.T, *problems.Problem)) {
	t.Helper()
	for _, s := range problems.Builtin().Scenarios {
		t.Run(s.ID, func(t *testing.T) {
			for seed := range *seeds {
				p, err := Draw(s, seed)
				if err != nil {
					t.Fatal(err)
				}
				f(t, p)
			}
		})
	}
}

// Every reference cell is graded right, about every point, either way round;
// every slip that applies is graded wrong, and named.
func TestReferenceAndSlips(t *testing.T) {
	each(t, func(t *testing.T, p *problems.Problem) {
		for b := range p.Bodies {
			body := &p.Bodies[b]
			points := body.Points
			if p.Seed >= 2 { // every point for two seeds, then one a seed
				points = points[int(p.Seed)%len(points):][:1]
			}
			for _, pivot := range points {
				g, err := New(p, Choice{Body: body.Name, Pivot: pivot.Name, Clockwise: p.Seed%2 == 1})
				if err != nil {
					t.Fatal(err)
				}
				checkCells(t, g)
			}
		}
	})
}

func checkCells(t *testing.T, g *Grader) {
	t.Helper()
	for i := range g.count() {
		name := g.symbolOf(i)
		for _, row := range statics.Rows {
			line, err := g.Line(row, name, true)
			if err != nil {
				t.Fatal(err)
			}
			for _, text := range []string{line, unicodeLine(t, g, row, name)} {
				v, err := g.Cell(row, name, text)
				if err != nil || v.Outcome != Right {
					t.Errorf("seed %d, %s of %s about %s: %q is %v %v %q, want right", g.p.Seed, row, name, g.frame.Pivot.Name, text, v.Outcome, v.Slips, v.Message)
				}
			}
			bk := g.shelf.bookOf(g.body, i, row, g.frame)
			for _, w := range bk.singles {
				text := w.term.Text(true)
				v, err := g.Cell(row, name, text)
				if err != nil || v.Outcome != Wrong || !(slices.Contains(v.Slips, w.codes[0]) || slices.Contains(v.Also, w.codes[0])) {
					t.Errorf("seed %d, %s of %s about %s: %q is %v %v also %v, want wrong, %s", g.p.Seed, row, name, g.frame.Pivot.Name, text, v.Outcome, v.Slips, v.Also, w.codes[0])
				}
			}
		}
	}
}

func unicodeLine(t *testing.T, g *Grader, row statics.RowKind, name string) string {
	t.Helper()
	line, err := g.Line(row, name, false)
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// Every reference row is a right equation, as written, turned upside down in
// sign, and with each term's slip is not.
func TestReferenceRows(t *testing.T) {
	each(t, func(t *testing.T, p *problems.Problem) {
		if p.Seed >= 20 {
			return
		}
		body := &p.Bodies[0]
		for _, pivot := range body.Points {
			g, err := New(p, Choice{Pivot: pivot.Name})
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range statics.Rows {
				if g.Blank(row) {
					continue
				}
				v, err := g.Equation(row, g.Row(row, true))
				if err != nil || v.Outcome != Right {
					t.Errorf("seed %d: %s about %s: %q is %v %q", p.Seed, row, pivot.Name, g.Row(row, true), v.Outcome, v.Message)
				}
			}
		}
	})
}

// The reference value of every unknown is right in its own unit.
func TestReferenceValues(t *testing.T) {
	each(t, func(t *testing.T, p *problems.Problem) {
		g, err := New(p, Choice{})
		if err != nil {
			t.Fatal(err)
		}
		for _, u := range p.Unknowns {
			text := problems.Figures(p.In(u.Index, u.Unit), 4) + " " + u.Unit.Name
			v, err := g.Value(u.Symbol, text, nil)
			if err != nil || v.Outcome != Right {
				t.Errorf("seed %d: %s = %q is %v %q", p.Seed, u.Symbol, text, v.Outcome, v.Message)
			}
		}
	})
}
