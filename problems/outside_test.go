package problems

import (
	"math"
	"os"
	"path/filepath"
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

func outside(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "outside", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := toml.Unmarshal(data, into); err != nil {
		t.Fatal(err)
	}
}

// The solver agrees with published examples and tables: testdata/outside.
func TestOutside(t *testing.T) {
	var f struct {
		Example []struct {
			What, Source, Scenario string
			Given                  []string
			Expect                 map[string]float64
			Tolerance              float64
		}
	}
	outside(t, "statics.toml", &f)
	if len(f.Example) < 15 {
		t.Fatalf("%d examples; has the file been read?", len(f.Example))
	}
	for _, e := range f.Example {
		if e.Source == "" || len(e.Expect) == 0 || e.Tolerance <= 0 {
			t.Errorf("%s: without a source, a value or a tolerance", e.What)
		}
		p, err := bench(t, e.Scenario).Enter(0, e.Given, nil)
		if err != nil {
			t.Errorf("%s: %v", e.What, err)
			continue
		}
		for symbol, want := range e.Expect {
			u, ok := p.Unknown(symbol)
			if !ok {
				t.Errorf("%s: no unknown %s", e.What, symbol)
				continue
			}
			got := p.In(u.Index, u.Unit)
			if scale := max(math.Abs(want), 1e-3); !(math.Abs(got-want) <= e.Tolerance*scale) {
				t.Errorf("%s: %s is %.8g %s, want %g", e.What, symbol, got, u.Unit.Name, want)
			}
		}
	}
}

func TestOutsideConstants(t *testing.T) {
	var f struct {
		Constant []struct {
			What, Source, Unit string
			Value              float64
		}
	}
	outside(t, "constants.toml", &f)
	g, pound, inch := f.Constant[0].Value, f.Constant[1].Value, f.Constant[2].Value
	for unit, want := range map[string]float64{"lbf": pound * g, "lb": pound, "in": inch} {
		u, err := notation.ParseUnit(unit)
		if err != nil || math.Abs(u.Factor-want) > 1e-12*want {
			t.Errorf("%s is %.14g SI, want %.14g (%v)", unit, u.Factor, want, err)
		}
	}
	// A problem states the g it uses, to three figures of the standard one.
	for _, s := range Builtin().Scenarios {
		for _, given := range s.Givens {
			if given.Symbol == "g" && (math.Abs(given.From-g) > 0.005 || !given.Constant()) {
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
