package grading

import (
	"fmt"
	"regexp"
	"slices"
	"testing"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// A learner's own equations may be far out. Here each row of each problem of
// the bank has an unknown too large or too small by a factor, so that its own
// root is 0.05 to 20 times the true value; a value that is that root follows
// from them, and one that is a tenth off does not.
func TestFollowsFarFromTheTruth(t *testing.T) {
	tried := 0
	for _, s := range problems.Builtin().Scenarios {
		p, err := Draw(s, 1)
		if err != nil {
			t.Fatal(err)
		}
		g, rows := graderOf(t, p, Choice{}), allRows(t, p)
		for _, u := range p.Unknowns {
			if p.Values[u.Index] == 0 || !standsAlone(p, u) {
				continue
			}
			for _, factor := range []float64{0.05, 0.4, 3, 20} {
				own := outBy(rows, u.Symbol, factor)
				tried++
				for _, c := range []struct {
					times float64
					want  Outcome
				}{{factor, Remarked}, {1.1 * factor, Wrong}} {
					value := fmt.Sprintf("%.8g %s", c.times*p.Values[u.Index]/u.Unit.Factor, u.Unit.Name)
					v, err := g.Value(u.Symbol, value, own)
					if err != nil || v.Outcome != c.want || (c.want == Remarked) != slices.Equal(v.Slips, []string{"carried-error"}) {
						t.Errorf("%s, %s = %s (%v times the true value) from %q: %v %v %q %v, want %v", p.ID, u.Symbol, value, c.times, own, v.Outcome, v.Slips, v.Message, err, c.want)
					}
				}
			}
		}
	}
	if tried < 500 {
		t.Errorf("%d sets of equations were tried, want 500 at least", tried)
	}
}

// standsAlone reports whether an unknown is solved for, and nothing is defined
// by it: then its root alone is moved by a factor on it.
func standsAlone(p *problems.Problem, u problems.Unknown) bool {
	for _, d := range p.Definitions() {
		if d.Index == u.Index || slices.Contains(notation.Symbols(d.Is), u.Index) {
			return false
		}
	}
	return true
}

// allRows is the rows of every body that is no assembly of others.
func allRows(t *testing.T, p *problems.Problem) (out []string) {
	t.Helper()
	for _, b := range p.Bodies {
		if b.Whole() {
			continue
		}
		g := graderOf(t, p, Choice{Body: b.Name})
		for _, row := range statics.Rows {
			if !g.Blank(row) {
				out = append(out, g.Row(row, true))
			}
		}
	}
	return out
}

// outBy is the rows with a symbol divided by a factor in each.
func outBy(rows []string, symbol string, factor float64) (out []string) {
	is := regexp.MustCompile(`\b` + symbol + `\b`)
	for _, r := range rows {
		out = append(out, is.ReplaceAllString(r, fmt.Sprintf("(%s/%v)", symbol, factor)))
	}
	return out
}
