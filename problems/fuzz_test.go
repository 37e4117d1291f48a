package problems

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/problems/notation"
)

// slow is how long any input may take. The figure is 50 ms, and BenchmarkHostile
// shows it; this has room for a busy machine that looks for races as well.
const slow = 5 * time.Second

func printable(t *testing.T, err error) {
	t.Helper()
	for _, line := range strings.Split(err.Error(), "\n") {
		if notation.Printable(line) != line {
			t.Errorf("a message does not print: %q", line)
		}
	}
}

func quick(t *testing.T, what string, start time.Time) {
	t.Helper()
	if d := time.Since(start); d > slow {
		t.Errorf("%s takes %v", what, d)
	}
}

// No file may panic, hang or print what a terminal would act on; one that is
// accepted draws finite problems or says why not.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"bank/*.toml", "testdata/*.toml"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		f.Fatal(err)
	}
	for _, c := range [][2]string{
		{"step = 0.5", "step = 1e-300"}, {"to = 5", "to = 1e300"}, {"to = 5", "to = nan"}, {"step = 0.5", "step = 5e-7"}, {"from = 2", "from = -1e12"},
		{`is = "q L"`, `is = "q^4 L^999"`}, {`is = "q L"`, `is = "1/(L-L)"`}, {`is = "q L"`, "is = \"" + strings.Repeat("(q+L)(T+d)", 40) + "\""},
		{`["180 - alpha"]`, `["1e308 * 1e308 + alpha"]`}, {`"A + L @ 0"`, `"A + 1e308 L @ 1e300"`}, {`"A shelf"`, `"\u0007\u202e"`},
		{"[[unknowns]]", "[[unknowns]]\nsymbol = \"x\"\nunit = \"m\"\nwithin = [\"\", \"\"]\n[[unknowns]]"},
		{"[[unknowns]]", "[[unknowns]]\nsymbol = \"x\"\nunit = \"m\"\nwithin = []\n[[unknowns]]"},
		{`toward = "0"`, `toward = "alpha + beta"`}, {`toward = "0"`, `toward = ""`}, {`at = "0"`, `at = "+"`}, {`at = "0"`, `at = "A + (,)"`},
	} {
		f.Add([]byte(strings.Replace(string(base), c[0], c[1], 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		start := time.Now()
		s, err := Read("fuzz\x1b.toml", data)
		quick(t, "reading", start)
		if err != nil {
			printable(t, err)
			return
		}
		start = time.Now()
		p, err := s.Draw(1, nil)
		quick(t, "drawing", start)
		if err != nil {
			printable(t, err)
			return
		}
		for i, v := range p.Values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s is drawn as %g", s.Table.Name(i), v)
			}
		}
		for _, r := range p.Rows() {
			if text := r.Text(false, p.Values); notation.Printable(text) != text {
				t.Errorf("a row does not print: %q", text)
			}
		}
		if p.Limit != nil {
			if _, err := p.Trend(); err != nil {
				printable(t, err)
			}
		}
	})
}

// No given value, and no place, may panic, hang or print what a terminal would
// act on.
func FuzzEnter(f *testing.F) {
	for _, text := range []string{
		"L=5", "L = 300 cm", "α=35°", "M=1e308", "m=1e-320", "alpha=1/0", "L==3", "L=3=4", "g=0", "L=nan", "L=inf", "=\x1b[2J", "L=2\u202e m", "L=(((((((((",
		"A + L/2 @ alpha", "B + (L, -L)", "A + 1e300 @ 1e300", "A + (L+M)(m+g)(L+m)(M+g) @ 0", "@", "A + ", "A + (,)", "A+(L,L))", "B + -L @ -",
	} {
		f.Add(text)
	}
	scenarios := []*Scenario{bench(f, "davit-arm"), bench(f, "hull-ladder-limit")}
	f.Fuzz(func(t *testing.T, text string) {
		for _, s := range scenarios {
			start := time.Now()
			p, err := s.Enter(1, []string{text}, nil)
			if err != nil {
				printable(t, err)
			} else if !finite(p.Values) || notation.Printable(p.Entered) != p.Entered {
				t.Errorf("%q gives %q: %v", text, p.Entered, p.Values)
			}
			quick(t, "entering", start)
			start = time.Now()
			if at, err := s.Place(&s.Bodies[0], text); err != nil {
				printable(t, err)
			} else if notation.Printable(at.Name) != at.Name {
				t.Errorf("%q is called %q", text, at.Name)
			}
			quick(t, "placing", start)
		}
	})
}
