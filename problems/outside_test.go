package problems

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"steelyard/problems/notation"
)

// bench finds a scenario of the bank or of testdata.
func bench(t testing.TB, id string) *Scenario {
	t.Helper()
	if s, err := Builtin().Scenario(id); err == nil {
		return s
	}
	path := filepath.Join("testdata", id+".toml")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(path, data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func outside(t *testing.T, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := toml.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

// source is where published figures are from. Again is the command to read
// them again with; it is empty for what was recalled from memory.
type source struct {
	Title, Again string
}

func (s source) how() string {
	if s.Again == "" {
		return "from memory"
	}
	return "read"
}

// example is one published result: a scenario, what is entered, and what is
// printed of it. Printed maps an expression in the problem's symbols, "T" or
// "sqrt(H^2 + V^2)", to the text printed, with its unit: "313 N" or "P (L - c)/L".
type example struct {
	What, From, At, Scenario string
	Given                    []string
	Printed                  map[string]string
	Exact                    bool // printed by exact arithmetic, not rounded
}

var printedNumber = regexp.MustCompile(`^-?\d+(?:\.(\d+))?(?:e(-?\d+))?(?: |$)`)

// rounding is half a unit of the last place that a number is printed to.
func rounding(text string) (half float64, err error) {
	m := printedNumber.FindStringSubmatch(text)
	if m == nil {
		return 0, fmt.Errorf("\"%s\" does not begin with a printed number; write one, or exact = true", text)
	}
	exponent := 0
	if m[2] != "" {
		if exponent, err = strconv.Atoi(m[2]); err != nil {
			return 0, err
		}
	}
	return 0.5 * math.Pow10(exponent-len(m[1])), nil
}

// compare holds what the problem comes to against what is printed.
func (e example) compare(p *Problem, symbols, printed string) error {
	found, err := p.Table.Parse(symbols)
	if err != nil {
		return fmt.Errorf("%s: %w", symbols, err)
	}
	q, err := p.Table.ParseValue(printed)
	if err != nil {
		return fmt.Errorf("%s: printed \"%s\": %w", symbols, printed, err)
	}
	factor := q.Unit.Factor
	if u, ok := p.Unknown(symbols); ok {
		formula := len(notation.Symbols(q.Expr)) > 0
		if q.HasUnit && !notation.SameDim(q.Unit, u.Unit) || !q.HasUnit && !formula && u.Unit.Name != "" {
			return fmt.Errorf("%s: \"%s\" is not in a unit like %s", symbols, printed, u.Unit.Name)
		}
	}
	got, want := notation.Value(found, p.Values), q.SI(p.Values)
	within := 1e-9 * max(math.Abs(want), 1)
	if !e.Exact && len(notation.Symbols(q.Expr)) == 0 {
		half, err := rounding(printed)
		if err != nil {
			return fmt.Errorf("%s: %w", symbols, err)
		}
		within += half * factor
	}
	if !(math.Abs(got-want) <= within) {
		return fmt.Errorf("%s is %.10g, printed %s, which is %.10g to within %.2g", symbols, got/factor, printed, want/factor, within/factor)
	}
	return nil
}

// The solver agrees with published examples and tables: testdata/outside, which
// says of each where it is printed, and how that is read again.
func TestOutside(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("..", "testdata", "outside", "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, path := range paths {
		var f struct {
			Sources map[string]source
			Example []example
		}
		outside(t, path, &f)
		for _, e := range f.Example {
			from, ok := f.Sources[e.From]
			if !ok || from.Title == "" || e.At == "" || e.What == "" || len(e.Given) == 0 || len(e.Printed) == 0 {
				t.Errorf("%s: %s: without a source, a place in it, a value given or a value printed", path, e.What)
				continue
			}
			p, err := bench(t, e.Scenario).Enter(0, e.Given, nil)
			if err != nil {
				t.Errorf("%s: %s: %v", path, e.What, err)
				continue
			}
			for symbols, printed := range e.Printed {
				if err := e.compare(p, symbols, printed); err != nil {
					t.Errorf("%s: %s: %v", path, e.What, err)
				}
			}
			count[from.how()]++
			t.Logf("%s, %s (%s): %s", from.Title, e.At, from.how(), e.What)
		}
	}
	t.Logf("%d read, %d from memory", count["read"], count["from memory"])
	if count["read"] < 15 || count["read"]+count["from memory"] < 45 {
		t.Errorf("%d examples read and %d from memory; have the files been read?", count["read"], count["from memory"])
	}
}

// A value that is off by more than its printing allows is found.
func TestOutsideTells(t *testing.T) {
	p, err := bench(t, "beam-point").Enter(0, []string{"L = 6 m", "c = 2 m", "P = 100 N"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		symbols, printed string
		exact, agrees    bool
	}{
		{"V", "67 N", false, true}, {"V", "66.7 N", false, true}, {"V", "6.7e1 N", false, true}, {"V", "0.067 kN", false, true},
		{"V", "200/3 N", true, true}, {"V", "P (L - c)/L", false, true}, {"sqrt(V^2)", "66.67 N", false, true},
		{"V", "66 N", false, false}, {"V", "66.6 N", false, false}, {"V", "67 N", true, false}, {"V", "66.7 N", true, false},
		{"V", "P c/L", false, false}, {"V", "66.7 kg", false, false}, {"V", "66.7", false, false}, {"V", "200/3 N", false, false}, {"X", "1 N", false, false},
	} {
		if err := (example{Exact: c.exact}).compare(p, c.symbols, c.printed); (err == nil) != c.agrees {
			t.Errorf("%s printed %s, exact %v: %v", c.symbols, c.printed, c.exact, err)
		}
	}
}

func TestOutsideConstants(t *testing.T) {
	var f struct {
		Sources  map[string]source
		Constant []struct {
			What, From, At, Unit, In string
			Value                    float64
		}
	}
	outside(t, filepath.Join("..", "testdata", "outside", "constants.toml"), &f)
	if len(f.Constant) < 15 {
		t.Fatalf("%d constants; has the file been read?", len(f.Constant))
	}
	standard := 0.0
	for _, c := range f.Constant {
		if from := f.Sources[c.From]; from.Title == "" || c.At == "" {
			t.Errorf("%s: without a source or a place in it", c.What)
		}
		if c.Unit == "" {
			standard = c.Value
			continue
		}
		u, err := notation.ParseUnit(c.Unit)
		in, err2 := notation.ParseUnit(c.In)
		if err != nil || err2 != nil || !notation.SameDim(u, in) {
			t.Errorf("%s: %v %v", c.What, err, err2)
			continue
		}
		if got := u.Factor / in.Factor; math.Abs(got-c.Value) > 1e-14*c.Value {
			t.Errorf("%s: one %s is %.15g %s, printed %.15g", c.What, c.Unit, got, c.In, c.Value)
		}
	}
	// A problem states the g it uses, to three figures of the standard one.
	for _, s := range Builtin().Scenarios {
		for _, given := range s.Givens {
			if given.Symbol == "g" && (math.Abs(given.From-standard) > 0.005 || !given.Constant()) {
				t.Errorf("%s takes g = %g", s.ID, given.From)
			}
		}
	}
}

// The questions of limits have the answers that the closed forms give.
func TestTrends(t *testing.T) {
	for id, want := range map[string]Trend{
		"davit-arm":         Grows, // T = (M/2 + m) g/sin(alpha), alpha -> 0
		"drum-kerb":         Grows, // P = a M g/(R - h), h -> R
		"hull-ladder":       Grows, // f goes as cot(alpha), alpha -> 0
		"hull-ladder-limit": Stays, // d -> mu L tan(alpha) as M -> 0
		"plank-balance":     Falls, // r_2 = W_1 r_1/W_2, r_1 -> 0
		"quay-plank":        Falls, // x = W (L/2 - e)/(m g), e -> L/2
		"trailer-braking":   Stays, // N_f -> M g c/w as h -> 0
		"winch-bar":         Grows, // F = C/(L sin(theta)), theta -> 0
	} {
		s := bench(t, id)
		for seed := range uint64(50) {
			p, err := s.Draw(seed, nil)
			if err != nil {
				t.Fatal(err)
			}
			if got, err := p.Trend(); err != nil || got != want {
				t.Errorf("%s, seed %d: %s, %v; want %s", id, seed, got, err, want)
			}
		}
	}
	// The step's other end: no kerb, no pull. P goes as the root of h.
	kerb := *bench(t, "drum-kerb")
	kerb.Limit = &Limit{Symbol: "P", Vary: "h"}
	p, err := kerb.Draw(1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := p.Trend(); err != nil || got != Falls {
		t.Errorf("P as h falls to zero: %s, %v", got, err)
	}
	// Both supports at one place: each carries without bound.
	rest := *bench(t, "beam-point")
	rest.Limit = &Limit{Symbol: "V", Vary: "L"}
	if p, err = rest.Draw(1, nil); err != nil {
		t.Fatal(err)
	}
	if got, err := p.Trend(); err != nil || got != Grows {
		t.Errorf("V as the span falls to zero: %s, %v", got, err)
	}
	// With no friction at all the ladder does not stand, wherever the painter is.
	ice := *bench(t, "hull-ladder-limit")
	ice.Limit = &Limit{Symbol: "d", Vary: "mu"}
	if p, err = ice.Draw(1, nil); err != nil {
		t.Fatal(err)
	}
	if got, err := p.Trend(); err == nil || got != Breaks {
		t.Errorf("d as mu falls to zero: %s, %v", got, err)
	}
	none := *bench(t, "davit-arm")
	none.Limit = nil
	if p, err = none.Draw(1, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Trend(); err == nil || !strings.Contains(err.Error(), "no question of limits") {
		t.Errorf("%v", err)
	}
}
