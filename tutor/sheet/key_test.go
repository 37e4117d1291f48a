package sheet

import (
	"html"
	"html/template"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// scenarios are the whole bank, and what the readers of scenarios are tested
// with: loads, couples, springs, links, joints.
func scenarios(tb testing.TB) []*problems.Scenario {
	tb.Helper()
	out := problems.Builtin().Scenarios
	files, err := filepath.Glob("../../problems/testdata/*.toml")
	if err != nil || len(files) == 0 {
		tb.Fatalf("no scenario files: %v", err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			tb.Fatal(err)
		}
		if s, err := problems.Read(name, data); err == nil { // some are there to be refused
			out = append(out, s)
		}
	}
	return out
}

// draw makes a problem with any numbers its physics allows, those that tell no
// slips apart too: a key must be right for those as well.
func draw(tb testing.TB, s *problems.Scenario, seed uint64) *problems.Problem {
	tb.Helper()
	p, err := s.Draw(seed, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

var (
	rootTag    = regexp.MustCompile(`<span class="root">√<span class="bar">`)
	digitPower = regexp.MustCompile(`<sup>(\d+)</sup>`)
	anyTag     = regexp.MustCompile(`</?[a-z][^>]*>`)
)

// typed is a typeset line as it could be typed.
func typed(line template.HTML) string {
	s := rootTag.ReplaceAllString(string(line), "sqrt(")
	s = strings.ReplaceAll(s, "</span></span>", ")")
	s = digitPower.ReplaceAllString(s, "^$1")
	s = strings.NewReplacer("<sub>", "_", "</sub>", "", "<sup>", "^(", "</sup>", ")", tight, " ", fixed, " ").Replace(s)
	return html.UnescapeString(anyTag.ReplaceAllString(s, ""))
}

// shown is a number as the key shows it, and half a unit of its last digit.
func shown(t *testing.T, text string) (value, half float64) {
	t.Helper()
	table, _ := notation.NewTable(true)
	n, err := table.Parse(text)
	if err != nil {
		t.Fatalf("%q is no number: %v", text, err)
	}
	_, decimals, _ := strings.Cut(text, ".")
	value = notation.Value(n, nil)
	half = 0.5 * math.Pow(10, -float64(len(decimals)))
	if value != 0 && !strings.Contains(text, ".") {
		half = max(half, 0.5*math.Pow(10, math.Floor(math.Log10(math.Abs(value)))-figures+1))
	}
	return value, half
}

// read evaluates a typeset line at the problem's values.
func read(t *testing.T, p *problems.Problem, line template.HTML) (value, size float64, symbols int) {
	t.Helper()
	n, err := p.Table.Parse(typed(line))
	if err != nil {
		t.Fatalf("%s, seed %d: %q (of %s) cannot be read: %v", p.ID, p.Seed, typed(line), line, err)
	}
	return notation.Value(n, p.Values), notation.Size(n, p.Values), len(notation.Symbols(n))
}

// Every entry of every key, read back from the page: its line in symbols is
// worth the number shown, within its last digit; so is its line in numbers,
// within what rounding its numbers to four figures can do.
func TestEntriesEvaluate(t *testing.T) {
	cells := 0
	for _, s := range scenarios(t) {
		for seed := range uint64(2) {
			p := draw(t, s, seed+1)
			k, err := keyOf(p)
			if err != nil {
				t.Fatal(err)
			}
			for _, b := range k.Bodies {
				for _, r := range b.Ledger {
					for _, c := range r.Cells {
						if c.Zero {
							continue
						}
						cells++
						want, half := shown(t, c.Value)
						got, size, symbols := read(t, p, c.Line)
						if math.Abs(got-want) > half+1e-9*size {
							t.Errorf("%s, seed %d: %s is %g, shown as %s", p.ID, p.Seed, typed(c.Line), got, c.Value)
						}
						if c.Numbers == "" {
							continue
						}
						put, size, left := read(t, p, c.Numbers)
						if left > 0 {
							t.Errorf("%s, seed %d: symbols are left in %s", p.ID, p.Seed, typed(c.Numbers))
						}
						if math.Abs(put-want) > half+5.1e-4*float64(symbols)*size {
							t.Errorf("%s, seed %d: %s is %g, shown as %s", p.ID, p.Seed, typed(c.Numbers), put, c.Value)
						}
					}
				}
			}
		}
	}
	if cells < 500 {
		t.Errorf("only %d entries were looked at", cells)
	}
}

// Every unknown has a value, and, but for one that is searched for, a line; in
// symbols and in numbers that comes to the solution's.
func TestValuesEvaluate(t *testing.T) {
	lines := 0
	for _, s := range scenarios(t) {
		p := draw(t, s, 5)
		k, err := keyOf(p)
		if err != nil {
			t.Fatal(err)
		}
		if len(k.Values) != len(p.Unknowns) {
			t.Errorf("%s: %d values for %d unknowns", p.ID, len(k.Values), len(p.Unknowns))
		}
		for _, v := range k.Values {
			want := p.Values[v.index]
			if v.Line == "" {
				if v.index != p.Search() {
					t.Errorf("%s: %s has no line: %s", p.ID, v.Symbol, v.From)
				}
				continue
			}
			lines++
			got, size, symbols := read(t, p, v.Line)
			if math.Abs(got-want) > 1e-7*max(size, math.Abs(want)) {
				t.Errorf("%s: %s = %s is %g, want %g", p.ID, v.Symbol, typed(v.Line), got, want)
			}
			if v.Numbers == "" {
				continue
			}
			put, size, left := read(t, p, v.Numbers)
			if left > 0 || math.Abs(put-want) > 5.1e-4*float64(symbols)*size {
				t.Errorf("%s: %s = %s is %g, want %g", p.ID, v.Symbol, typed(v.Numbers), put, want)
			}
		}
	}
	if lines < 40 {
		t.Errorf("only %d values have a line", lines)
	}
}

// Every equation holds at the solution in symbols and in numbers, and its
// entries' values add to zero within their last digits.
func TestEquationsHold(t *testing.T) {
	for _, s := range scenarios(t) {
		p := draw(t, s, 2)
		k, err := keyOf(p)
		if err != nil {
			t.Fatal(err)
		}
		var all []equationView
		for _, b := range k.Bodies {
			all = append(all, b.Equations...)
		}
		for _, e := range append(all, k.Checks...) {
			if e.Values == "" {
				continue
			}
			left, _, ok := strings.Cut(typed(e.Line), " = 0")
			n, err := p.Table.Parse(left)
			if !ok || err != nil {
				t.Fatalf("%s: %q: %v", p.ID, left, err)
			}
			if v, size := notation.Value(n, p.Values), notation.Size(n, p.Values); math.Abs(v) > 1e-7*size {
				t.Errorf("%s: %s comes to %g of %g", p.ID, left, v, size)
			}
			terms, zero, _ := strings.Cut(typed(e.Values), " = ")
			if zero != "0" {
				t.Errorf("%s: %s", p.ID, typed(e.Values))
			}
			sum, halves := 0.0, 0.0
			for _, term := range strings.Fields(strings.NewReplacer("+ ", "", "− ", "−").Replace(terms)) {
				v, half := shown(t, term)
				sum, halves = sum+v, halves+half
			}
			if math.Abs(sum) > halves+1e-9 {
				t.Errorf("%s: %s add to %g, more than %g", p.ID, terms, sum, halves)
			}
		}
	}
}

// A key tells slips whose lines are wrong, by at least 3 % of the larger.
func TestSlipsAreWrong(t *testing.T) {
	for _, s := range problems.Builtin().Scenarios {
		p := draw(t, s, 4)
		k, err := keyOf(p)
		if err != nil {
			t.Fatal(err)
		}
		if len(k.Slips) == 0 || len(k.Slips) > mostSlips {
			t.Errorf("%s: %d slips", p.ID, len(k.Slips))
		}
		for _, v := range k.Slips {
			wrong, _, _ := read(t, p, v.Wrong)
			right, _, _ := read(t, p, v.Right)
			if math.Abs(wrong-right) < 0.0299*max(math.Abs(wrong), math.Abs(right)) {
				t.Errorf("%s: %s: %s is %g, and %s is %g", p.ID, v.Name, typed(v.Wrong), wrong, typed(v.Right), right)
			}
			if want, half := shown(t, v.Value); math.Abs(wrong-want) > half*(1+1e-9) {
				t.Errorf("%s: %s: %s is %g, shown as %s", p.ID, v.Name, typed(v.Wrong), wrong, v.Value)
			}
		}
	}
}

// The values near a limit bear its answer out.
func TestLimitsAreShown(t *testing.T) {
	for _, s := range problems.Builtin().Scenarios {
		p := draw(t, s, 4)
		k, err := keyOf(p)
		if err != nil {
			t.Fatal(err)
		}
		if k.Limit == nil {
			continue
		}
		number := func(i int) float64 {
			text, _, _ := strings.Cut(k.Limit.Near[i].Value, fixed)
			v, _ := shown(t, strings.TrimSuffix(text, "°"))
			return math.Abs(v)
		}
		ratio := number(3) / number(2)
		ok := map[string]bool{
			string(problems.Falls): number(3) == 0 || ratio < 0.5,
			string(problems.Stays): ratio > 0.5 && ratio < 2,
			string(problems.Grows): ratio > 2,
		}
		if !ok[k.Limit.Answer] {
			t.Errorf("%s: %s, but %v", p.ID, k.Limit.Answer, k.Limit.Near)
		}
	}
}
