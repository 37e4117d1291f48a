package notation

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestNewTable(t *testing.T) {
	many := make([]Spec, MaxSymbols+1)
	for i := range many {
		many[i].Name = fmt.Sprintf("F_%d", i)
	}
	if _, err := NewTable(true, many[:MaxSymbols]...); err != nil {
		t.Errorf("%d symbols: %v", MaxSymbols, err)
	}
	tests := []struct {
		specs []Spec
		want  string // in the error
	}{
		{many, "at most 64"},
		{[]Spec{{Name: ""}}, "has no name"},
		{[]Spec{{Name: "T"}, {Name: "T"}}, `typed like "T"`},
		{[]Spec{{Name: "N_w"}, {Name: "Nw"}}, `typed like "N_w"`},
		{[]Spec{{Name: "sin"}}, "the function sin"},
		{[]Spec{{Name: "arctan"}}, "the function atan"},
		{[]Spec{{Name: "s_in"}}, "the function sin"},
		{[]Spec{{Name: "pi"}}, "the number pi"},
		{[]Spec{{Name: "deg"}}, "an angle unit"},
		{[]Spec{{Name: "W1"}}, "before any underscore"},
		{[]Spec{{Name: "1W"}}, "before any underscore"},
		{[]Spec{{Name: "α"}}, "before any underscore"},
		{[]Spec{{Name: "W_"}}, "after its underscore"},
		{[]Spec{{Name: "_1"}}, "before its underscore"},
		{[]Spec{{Name: "W_1_2"}}, "in its subscript"},
		{[]Spec{{Name: "W 1"}}, "before any underscore"},
		{[]Spec{{Name: "W_\x1b"}}, `"W_\x1b"`},
		{[]Spec{{Name: strings.Repeat("W", 25)}}, "longer than 24"},
	}
	for _, test := range tests {
		if _, err := NewTable(true, test.specs...); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("NewTable(%.40v): error %v, want one with %q", test.specs, err, test.want)
		}
	}
}

func TestTable(t *testing.T) {
	table, err := NewTable(true, Spec{"T", false}, Spec{"alpha", true}, Spec{"mu_min", false})
	if err != nil {
		t.Fatal(err)
	}
	if table.Len() != 3 || table.Name(1) != "alpha" || !table.IsAngle(1) || table.IsAngle(0) || !table.Degrees() {
		t.Errorf("the table does not give back its symbols")
	}
	if i, ok := table.Index("mu_min"); i != 2 || !ok {
		t.Errorf(`Index("mu_min") = %d, %v`, i, ok)
	}
	for _, name := range []string{"mumin", "t", ""} {
		if _, ok := table.Index(name); ok {
			t.Errorf("Index(%q) finds a symbol: only canonical names are looked up", name)
		}
	}
}

func TestDisplay(t *testing.T) {
	for name, want := range map[string]string{
		"T": "T", "W_1": "W₁", "W_12": "W₁₂", "alpha": "α", "alpha_1": "α₁", "mu_min": "μ_min", "N_w": "N_w", "Delta": "Δ", "N_1a": "N_1a",
	} {
		if got := Display(name, false); got != want {
			t.Errorf("Display(%q) = %q, want %q", name, got, want)
		}
		if got := Display(name, true); got != name {
			t.Errorf("Display(%q, ascii) = %q", name, got)
		}
	}
}

// Every Greek letter and every fraction is read, alone and in a product, and
// shown as the same letter.
func TestEveryLetter(t *testing.T) {
	for _, row := range greekRows {
		if row.name == "pi" {
			continue // the number
		}
		table, err := NewTable(true, Spec{Name: row.name}, Spec{Name: "L"})
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{row.name, string(row.letter), string(row.also)} {
			if text == "\x00" {
				continue
			}
			for _, line := range []string{text + "L", "2 " + text + " L", "L" + text} {
				n, err := table.Parse(line)
				if err != nil {
					t.Errorf("%s: %v", line, err)
				} else if got := ReadBack(n, false); !strings.Contains(got, string(row.letter)) || !strings.Contains(got, "L") {
					t.Errorf("%s reads as %s", line, got)
				}
			}
		}
	}
	table := bench(t)
	for r, f := range fractions {
		n := mustParse(t, table, string(r)+"T")
		if got, want := Value(n, benchValues), benchValues[0]*(float64(f[0])/float64(f[1])); got != want {
			t.Errorf("%cT = %v, want %v", r, got, want)
		}
	}
}

func TestLookalikes(t *testing.T) {
	table := bench(t)
	for r, like := range lookalikes() {
		_, err := table.Parse("T " + string(r))
		if err == nil || !strings.Contains(err.Error(), "only looks like "+string(like.latin)) || !strings.HasPrefix(err.Error(), "column 3:") {
			t.Errorf("%U, like %c: %v", r, like.latin, err)
		}
	}
}

func TestLimits(t *testing.T) {
	table := bench(t)
	tests := []struct {
		text string
		want string // in the error; empty if it is read
	}{
		{strings.Repeat("T", MaxBytes), ""},
		{strings.Repeat("T", MaxBytes+1), "column 513: the line is longer than 512 bytes"},
		{strings.Repeat("α", MaxBytes/2+1), "column 257: the line is longer"},
		{strings.Repeat("x", 1<<20), "longer than 512"},
		{strings.Repeat("(", MaxDepth) + "T" + strings.Repeat(")", MaxDepth), ""},
		{strings.Repeat("(", MaxDepth+1) + "T" + strings.Repeat(")", MaxDepth+1), "column 65: the line is nested more than 64"},
		{strings.Repeat("-", MaxDepth) + "T", ""},
		{strings.Repeat("-", MaxBytes), "column 65: the line is nested"},
		{strings.Repeat("+", MaxBytes-1) + "T", ""},
		{strings.Repeat("2^", MaxDepth) + "2", ""},
		{strings.Repeat("2^", MaxDepth+1) + "2", "nested more"},
		{strings.Repeat("sin(", MaxDepth) + "T" + strings.Repeat(")", MaxDepth), ""},
		{strings.Repeat("√", MaxDepth+1) + "T", "nested more"},
		{strings.Repeat("T+", MaxBytes/2-1) + "T", ""},
		{strings.Repeat("9", 308), ""},
		{strings.Repeat("9", 310), "out of range"},
		{"0." + strings.Repeat("0", 400) + "1", "out of range"},
		{"1e99999999999999999999", "out of range"},
		{"0e99999", ""},
		{strings.Repeat("9", 300) + "½", "out of range"},
	}
	for _, test := range tests {
		n, err := table.Parse(test.text)
		switch {
		case test.want == "" && err != nil:
			t.Errorf("%.20s... of %d bytes: %v", test.text, len(test.text), err)
		case test.want == "":
			checkTree(t, table, test.text, n)
		case err == nil || !strings.Contains(err.Error(), test.want):
			t.Errorf("%.20s... of %d bytes: error %v, want %q", test.text, len(test.text), err, test.want)
		}
	}
}

func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"T L sin α":                  "T L sin α",
		"\x00\t\n\x7f":               `\x00\x09\x0a\x7f`,
		"\x1b[31mred":                `\x1b[31mred`,
		"\u0085\u009b":               `\u0085\u009b`,
		"\u202eT\u2066":              `\u202eT\u2066`,
		"a\u200bb\u200d\ufeff\u00ad": `a\u200bb\u200d\ufeff\u00ad`,
		"e\u0301":                    `e\u0301`,
		"\xff\xc0T":                  `\xff\xc0T`,
		"\ufffd":                     "\ufffd",
		"\u3164\u2800\u00a0":         `\u3164\u2800\u00a0`,
		"\U000e0041\U0010ffff":       `\U000e0041\U0010ffff`,
		`back\slash`:                 `back\slash`,
	} {
		if got := Printable(text); got != want {
			t.Errorf("Printable(%q) = %q, want %q", text, got, want)
		}
	}
	for _, test := range []struct {
		text string
		max  int
		want string
	}{
		{"abcdef", 6, "abcdef"}, {"abcdefg", 6, "abc..."}, {"abc\x1b", 6, "abc..."}, {"αβγδεζη", 6, "αβγ..."},
		{"\x1b\x1b", 6, "..."}, {"abc", 2, ".."}, {"", 0, ""}, {"a", 0, ""},
	} {
		if got := PrintableMax(test.text, test.max); got != test.want {
			t.Errorf("PrintableMax(%q, %d) = %q, want %q", test.text, test.max, got, test.want)
		}
	}
}

func TestColumns(t *testing.T) {
	n := mustParse(t, bench(t), "α T + 2√(h R)")
	var got []string
	visit(n, func(n Node) { got = append(got, fmt.Sprintf("%s@%d", n, n.Column())) })
	want := "alpha * T + 2 * sqrt(h * R)@1, alpha * T@1, alpha@1, T@3, 2 * sqrt(h * R)@7, 2@7, sqrt(h * R)@8, h * R@10, h@10, R@12"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("columns:\n got %s\nwant %s", s, want)
	}
}

func TestUnits(t *testing.T) {
	tests := []struct {
		text   string
		factor float64
		what   string
	}{
		{"", 1, "a pure number"}, {"%", 0.01, "a pure number"}, {"N", 1, "a force"}, {"kN", 1000, "a force"}, {"MN", 1e6, "a force"},
		{"mN", 1e-3, "a force"}, {"kgf", 9.80665, "a force"}, {"m", 1, "a length"}, {"cm", 0.01, "a length"}, {"mm", 0.001, "a length"},
		{"km", 1000, "a length"}, {"ft", 0.3048, "a length"}, {"in", 0.0254, "a length"}, {"kg", 1, "a mass"}, {"g", 0.001, "a mass"},
		{"t", 1000, "a mass"}, {"lb", 0.45359237, "a mass"}, {"s", 1, "a time"}, {"min", 60, "a time"}, {"rad", 1, "an angle"},
		{"N m", 1, "a moment"}, {"N·m", 1, "a moment"}, {"N⋅m", 1, "a moment"}, {"N*m", 1, "a moment"}, {"Nm", 1, "a moment"},
		{"kN m", 1000, "a moment"}, {" kN   m ", 1000, "a moment"}, {"N/m", 1, "a force per length"}, {"N / m", 1, "a force per length"},
		{"kN/m", 1000, "a force per length"}, {"m/s", 1, "a speed"}, {"m/s^2", 1, "an acceleration"}, {"m/s²", 1, "an acceleration"},
		{"m/s**2", 1, "an acceleration"}, {"m s⁻²", 1, "an acceleration"}, {"ft/s²", 0.3048, "an acceleration"},
		{"Pa", 1, "a pressure"}, {"kPa", 1000, "a pressure"}, {"kg/m³", 1, "a mass per volume"}, {"N/m³", 1, "a force per volume"},
		{"deg", math.Pi / 180, "an angle"}, {"°", math.Pi / 180, "an angle"}, {"degrees", math.Pi / 180, "an angle"},
		// NIST Special Publication 811, appendix B.8, to the figures printed there; from memory.
		{"lbf", 4.448222, "a force"}, {"lbf ft", 1.355818, "a moment"}, {"lbf in", 0.1129848, "a moment"},
		{"lbf/ft", 14.59390, "a force per length"}, {"lbf/in", 175.1268, "a force per length"}, {"psi", 6894.757, "a pressure"},
	}
	for _, test := range tests {
		u, err := ParseUnit(test.text)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if math.Abs(u.Factor/test.factor-1) > 5e-7 {
			t.Errorf("%q has the factor %v, want %v", test.text, u.Factor, test.factor)
		}
		if got := DimName(test.text); got != test.what {
			t.Errorf("%q measures %q, want %q", test.text, got, test.what)
		}
	}
	for _, text := range []string{"kn", "n", "Kg", "N m m", "foo", "m/", "\x1b", strings.Repeat("m", 1<<16)} {
		if _, err := ParseUnit(text); err == nil {
			t.Errorf("%.20q is a unit", text)
		} else {
			checkError(t, text, err)
		}
		if got := DimName(text); got != "" {
			t.Errorf("%.20q measures %s", text, got)
		}
	}
	// One kind, one set of dimensions; another kind, another set.
	for _, a := range unitRows {
		for _, b := range unitRows {
			if got, want := SameDim(units[a.name], units[b.name]), a.kind.name == b.kind.name; got != want {
				t.Errorf("SameDim(%q, %q) = %v", a.name, b.name, got)
			}
		}
	}
}
