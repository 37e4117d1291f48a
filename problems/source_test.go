package problems

import (
	"os"
	"strings"
	"testing"
)

// Every part of a scenario is found where it stands in its file.
func TestSourcePlaces(t *testing.T) {
	data, err := os.ReadFile("testdata/step-ladder.toml")
	if err != nil {
		t.Fatal(err)
	}
	src := NewSource(data)
	lines := strings.Split(string(data), "\n")
	for _, c := range []struct{ path, key, line string }{
		{src.Given("W"), "symbol", `symbol = "W"`},
		{src.Unknown("C_x"), "symbol", `symbol = "C_x"`},
		{src.Body("right leg"), "name", `name = "right leg"`},
		{src.Point("right leg", "E"), "at", `at = "C + L/2 @ -alpha"`},
		{src.Action("W"), "kind", `kind = "weight"`},
		{src.Action("N_A"), "symbols", `symbols = ["N_A"]`},
		{src.Action("T"), "to", `to = "E"`},
	} {
		at := src.At(c.path + "." + c.key)
		if c.path == "" || at.Line == 0 || lines[at.Line-1] != c.line || at.Column != strings.IndexByte(c.line, '=')+3 && !strings.HasSuffix(c.line, "]") { // a list is where its key is
			t.Errorf("%s.%s is said to be at %v", c.path, c.key, at)
		}
	}
	for _, none := range []string{
		src.Given("T"), src.Unknown("W"), src.Defined("W"), src.Body("wrong leg"), src.Point("left leg", "E"), src.Point("wrong leg", "A"), src.Action("L"),
	} {
		if none != "" {
			t.Errorf("found %s", none)
		}
	}
	if at := NewSource([]byte("id = ")).At("id"); at.Line > 1 {
		t.Errorf("%v", at)
	}
}

// What each symbol of a scenario is there for.
func TestUseOf(t *testing.T) {
	data, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	extra := "\n[[givens]]\nsymbol = \"a\"\nunit = \"m\"\nvalue = 1\n\n[[givens]]\nsymbol = \"b\"\nunit = \"m\"\nvalue = 1\n\n[[givens]]\nsymbol = \"c\"\nunit = \"m\"\nvalue = 1\n" +
		"\n[[defined]]\nsymbol = \"e\"\nunit = \"m\"\nis = \"2 b\"\n\n[[figure]]\ndraw = \"crate\"\nat = \"A\"\nwidth = \"e\"\n"
	s, err := Read("f.toml", append(data, extra...))
	if err != nil {
		t.Fatal(err)
	}
	for symbol, want := range map[string]Use{
		"L":     {Solved: true, Bounds: true, Placed: true, Drawn: true},
		"d":     {Bounds: true},
		"alpha": {Solved: true, Drawn: true}, // a mark is placed by it
		"q":     {Solved: true},
		"a":     {},
		"b":     {Drawn: true}, // by way of e
		"c":     {},
		"W":     {Solved: true},
	} {
		i, ok := s.Table.Index(symbol)
		if got := s.UseOf(i); !ok || got != want || got.None() != (want == Use{}) {
			t.Errorf("%s: %+v, want %+v", symbol, got, want)
		}
	}
}
