package problems

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"steelyard/problems/notation"
)

// listed is a problem's givens and unknowns as one line.
func listed(p *Problem) string {
	var b strings.Builder
	for _, g := range p.Givens {
		fmt.Fprintf(&b, " %s=%s", g.Symbol, strconv.FormatFloat(p.In(g.Index, g.Unit), 'g', -1, 64))
	}
	b.WriteString(" |")
	for _, u := range p.Unknowns {
		fmt.Fprintf(&b, " %s=%s", u.Symbol, Figures(p.In(u.Index, u.Unit), 8))
	}
	return b.String()
}

// The same scenario and seed give the same problem, on every run and machine:
// testdata/draws.txt holds what they gave when the bank was made. A scenario
// that changes on purpose gets new lines, with -update.
func TestDrawsAreTheSameEverywhere(t *testing.T) {
	var got strings.Builder
	for _, s := range Builtin().Scenarios {
		for _, seed := range []uint64{0, 1, 7, math.MaxUint64} {
			p, err := s.Draw(seed, nil)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&got, "%s %d:%s\n", s.ID, seed, listed(p))
		}
	}
	if *update {
		if err := os.WriteFile("testdata/draws.txt", []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/draws.txt")
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(string(want), "\n") {
		if lines := strings.Split(got.String(), "\n"); i >= len(lines) || lines[i] != line {
			t.Fatalf("line %d of testdata/draws.txt is no longer drawn: %s", i+1, line)
		}
	}
}

// Every given is a whole number of its steps, in its range, in no more digits
// than a textbook would give it; and nothing breaks the physics.
func TestDrawsAreRounded(t *testing.T) {
	for _, s := range testScenarios(t) {
		seen := map[string]bool{}
		for seed := range uint64(200) {
			p, err := s.Draw(seed, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, g := range s.Givens {
				v := p.In(g.Index, g.Unit)
				if v < g.From || v > g.To {
					t.Errorf("%s, seed %d: %s = %g is out of %g to %g", s.ID, seed, g.Symbol, v, g.From, g.To)
				}
				text := strconv.FormatFloat(v, 'f', -1, 64)
				step := strconv.FormatFloat(g.Step, 'f', -1, 64)
				if g.Constant() {
					step = strconv.FormatFloat(g.From, 'f', -1, 64)
				} else if k := (v - g.From) / g.Step; math.Abs(k-math.Round(k)) > 1e-6 {
					t.Errorf("%s, seed %d: %s = %g is no whole number of steps", s.ID, seed, g.Symbol, v)
				}
				if _, want, _ := strings.Cut(step, "."); len(text)-len(strings.TrimRight(text, "0123456789")) > 0 {
					if _, digits, _ := strings.Cut(text, "."); len(digits) > len(want) {
						t.Errorf("%s, seed %d: %s = %s has more digits than its step %s", s.ID, seed, g.Symbol, text, step)
					}
				}
			}
			if !finite(p.Values) {
				t.Errorf("%s, seed %d: %v", s.ID, seed, p.Values)
			}
			if err := p.Check(); err != nil {
				t.Errorf("%s, seed %d: %v", s.ID, seed, err)
			}
			seen[listed(p)] = true
		}
		if len(seen) < 30 {
			t.Errorf("%s: 200 seeds give %d problems", s.ID, len(seen))
		}
	}
}

// A draw that nothing satisfies says why, and does not go on for ever.
func TestDrawGivesUp(t *testing.T) {
	s := bench(t, "plank-balance")
	if _, err := s.Draw(3, func(*Problem) bool { return false }); err == nil || !strings.Contains(err.Error(), "plank-balance, seed 3: no usable draw in 2000: its numbers cannot tell mistakes apart") {
		t.Errorf("%v", err)
	}
	data, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	strict, err := Read("", []byte(strings.Replace(string(data), `"d < L"`, `"d > 2 L"`, 1)))
	if err != nil {
		t.Fatal(err)
	}
	var physics *PhysicsError
	if _, err := strict.Draw(1, nil); !errors.As(err, &physics) || !strings.Contains(err.Error(), "it must hold that d > 2 L") {
		t.Errorf("%v", err)
	}
}

func TestEnter(t *testing.T) {
	s := bench(t, "davit-arm")
	all := []string{"L = 300 cm", "M=40", "m = 0.1 t", "α = 0.5 rad", "g=9.81"}
	p, err := s.Enter(5, all, func(*Problem) bool { return false }) // nothing left to draw: accept is not asked
	if err != nil {
		t.Fatal(err)
	}
	if p.Entered != "L=3 M=40 alpha=28.64788975654116 g=9.81 m=100" {
		t.Errorf("entered %q", p.Entered)
	}
	tension, _ := s.Unknown("T")
	if got, want := p.Values[tension.Index], 120*9.81/math.Sin(0.5); math.Abs(got-want) > 1e-9 {
		t.Errorf("T = %g, want %g", got, want)
	}
	// What is left open is drawn, the same each time, to accept's liking.
	picky := func(p *Problem) bool { i, _ := s.Table.Index("L"); return p.Values[i] > 4 }
	for range 2 {
		p, err := s.Enter(9, []string{"M=33"}, picky)
		if err != nil || !picky(p) {
			t.Fatalf("%v", err)
		}
		if again, _ := s.Enter(9, []string{"M = 33 kg"}, picky); listed(again) != listed(p) {
			t.Errorf("%s, then %s", listed(p), listed(again))
		}
	}
	// If accept cannot be had with these values, they are taken all the same.
	if p, err := s.Enter(9, []string{"L=2.5"}, picky); err != nil || p.Entered != "L=2.5" {
		t.Errorf("%v", err)
	}
	// A weight may be entered in pounds, and an angle beyond the range.
	if _, err := s.Enter(0, []string{"alpha = 89"}, nil); err != nil {
		t.Error(err)
	}
}

func TestEnterRefuses(t *testing.T) {
	for _, c := range []struct{ id, given, want string }{
		{"davit-arm", "L", "write SYMBOL=VALUE, with one of L, M, m, alpha, g"},
		{"davit-arm", "Q=3", "write SYMBOL=VALUE"},
		{"davit-arm", "T=3", "write SYMBOL=VALUE"},
		{"davit-arm", "=3", "write SYMBOL=VALUE"},
		{"davit-arm", "L=", "given value \"L=\""},
		{"davit-arm", "L=long", "given value \"L=long\""},
		{"davit-arm", "L=2 M", "a value is a number"},
		{"davit-arm", "L=M=2", "given value"},
		{"davit-arm", "L=2 kg", "L is a length, not a mass; give it in m"},
		{"davit-arm", "alpha=2 m", "alpha is an angle, not a length; give it in deg"},
		{"hull-ladder-limit", "mu=2 N", "give it in no unit"},
		{"davit-arm", "L=1e300", "no larger than"},
		{"davit-arm", "L=1/0", "finite"},
		{"davit-arm", "L=-4", "L is -4.000 m: it cannot be negative here"},
		{"davit-arm", "L=0", "davit-arm with L=0: "},
		{"davit-arm", "alpha=0", "davit-arm with alpha=0: "},
		{"davit-arm", "alpha=190", "T comes out as -"},
		{"davit-arm", "L=2\x1b[31m", `\x1b`},
		{"hull-ladder", "d=99", "it must hold that d < 0.9 L"},
		{"drum-kerb", "h=0.95", "it must hold that h < 0.7 R"},
		{"trailer-braking", "a=90", "it must hold that a h < g (w - c)"},
		{"quay-plank", "W=9e4", "it must hold that W (L/2 - e) < m g e"},
		{"metre-stick", "m=-1 kg", "m is -1000 g"},
		{"forearm", "s=-2 cm", "s is -2.000 cm"},
		{"hull-ladder-limit", "mu=0", "no value of d from 0 to "},
		{"ramp", "alpha=75", "f comes out as "},
		{"stack", "w=-3", "w is -3.000 N"},
	} {
		_, err := bench(t, c.id).Enter(1, []string{c.given}, nil)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s, %q: %v, want %q", c.id, c.given, err, c.want)
			continue
		}
		if notation.Printable(err.Error()) != err.Error() {
			t.Errorf("%s, %q: the message does not print: %q", c.id, c.given, err)
		}
	}
	if _, err := bench(t, "davit-arm").Enter(1, []string{"alpha=30", "α = 30"}, nil); err == nil || err.Error() != "alpha is given twice; give it once" {
		t.Errorf("%v", err)
	}
}

// A crate stays put up to the angle whose tangent is mu, and not beyond.
func TestFrictionIsChecked(t *testing.T) {
	s := bench(t, "ramp")
	for _, c := range []struct {
		alpha float64
		holds bool
	}{{10, true}, {math.Atan(0.5)*180/math.Pi - 1e-6, true}, {math.Atan(0.5)*180/math.Pi + 1e-4, false}, {40, false}} {
		_, err := s.Enter(0, []string{"M=10", "mu=0.5", fmt.Sprintf("alpha=%.10f", c.alpha)}, nil)
		if (err == nil) != c.holds {
			t.Errorf("at %g degrees: %v", c.alpha, err)
		}
	}
	_, err := s.Enter(0, []string{"M=10", "mu=0.5", "alpha=40", "g=10"}, nil)
	if want := "ramp with M=10 alpha=40 g=10 mu=0.5: f comes out as 64.3 N, but the contact slips beyond mu N = 38.3 N"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	// Which coefficient belongs to which contact.
	data, err := os.ReadFile("testdata/ramp.toml")
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"mu_A": true, "mu_s": true, "mu_k": true, "nu": false} {
		s, err := Read("", []byte(strings.Replace(string(data), `"mu"`, `"`+name+`"`, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if got := len(s.contacts) == 1; got != want {
			t.Errorf("%s: the contact is checked: %v, want %v", name, got, want)
		}
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int
		want string
	}{
		{0, 3, "0"}, {1234.5, 3, "1230"}, {9.996, 3, "10.0"}, {0.09996, 3, "0.100"}, {999.6, 3, "1000"}, {-2.5, 2, "-2.5"}, {1, 4, "1.000"},
		{123456789, 2, "120000000"}, {1e-5, 3, "0.0000100"}, {1.5e-300, 3, "1.50e-300"}, {1e300, 3, "1.00e+300"}, {2.345, 0, "2"},
		{math.NaN(), 3, "NaN"}, {math.Inf(-1), 3, "-Inf"}, {9.81, 3, "9.81"},
	} {
		if got := Figures(c.v, c.n); got != c.want {
			t.Errorf("Figures(%g, %d) = %s, want %s", c.v, c.n, got, c.want)
		}
	}
}

// A learner may name a pivot anywhere, and is told why a place cannot be read.
func TestPlace(t *testing.T) {
	s := bench(t, "davit-arm")
	b := &s.Bodies[0]
	p, err := s.Draw(1, nil)
	if err != nil {
		t.Fatal(err)
	}
	l, _ := s.Table.Index("L")
	for text, want := range map[string][2]float64{
		"": {0, 0}, "A": {0, 0}, " B ": {p.Values[l], 0}, "A + L/4 @ 90": {0, p.Values[l] / 4}, "B + (-L, 2)": {0, 2}, "G+(L/2)@(180)": {0, 0},
		"0 + 1 @ 0": {1, 0}, "A + (L/2 + L/2) @ 180 + (L, -1)": {0, -1},
	} {
		at, err := s.Place(b, text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if x, y := at.XY(p.Values); math.Abs(x-want[0]) > 1e-12 || math.Abs(y-want[1]) > 1e-12 {
			t.Errorf("%q is at %g, %g, want %v", text, x, y, want)
		}
	}
	for text, want := range map[string]string{
		"Z":                                  `no point "Z" here; points are A, G, B, C, or a place like "A + 0.5 @ 0"`,
		"A + x @ 0":                          "column 5: no symbol \"x\" here",
		"A + L @ L":                          "column 9: L is not an angle",
		"Z + L @ 0":                          "column 1: a place begins with a point",
		"A + L":                              "column 4: an offset is",
		"A + (L)":                            "column 5: components are two",
		"A + (L, q)":                         "column 9: ",
		"A + (":                              "column 4: an offset is",
		"\x1b[2J":                            `\x1b`,
		"A + \x1b @ 0":                       `\x1b`,
		"A" + strings.Repeat(" + L @ 0", 40): "too many",
	} {
		if _, err := s.Place(b, text); err == nil || !strings.Contains(err.Error(), want) || notation.Printable(err.Error()) != err.Error() {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
