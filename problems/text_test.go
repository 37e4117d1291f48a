package problems

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

func value(t *testing.T, p *Problem, text string) float64 {
	t.Helper()
	n, err := p.Table.Parse(text)
	if err != nil {
		t.Fatalf("%s: %q: %v", p.ID, text, err)
	}
	return notation.Value(n, p.Values)
}

// A reference line, typed as it is shown, means what it was built from: every
// scenario, pivot, tilt and sign convention, in Unicode and in ASCII, at states
// of the symbols that are no solution.
func TestLinesReadBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, s := range testScenarios(t) {
		p, err := s.Draw(1, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.Bodies {
			b := &s.Bodies[i]
			pivots := b.Points
			for _, text := range []string{b.Points[0].Name + " + 0.7 @ 40", b.Points[0].Name + " + (0.3, -1.2)"} {
				off, err := s.Place(b, text)
				if err != nil {
					t.Fatal(err)
				}
				pivots = append(pivots[:len(pivots):len(pivots)], off)
			}
			for n, pivot := range pivots {
				for tilt := -90.0; tilt <= 180; tilt += 45 {
					fr := statics.Frame{Pivot: pivot, Tilt: statics.Deg(tilt), Clockwise: n%2 == 1, Reversed: map[string]bool{b.Forces[0].Symbol: tilt > 0}}
					s.Sample(rng, p.Values)
					for _, row := range b.Ledger(fr) {
						linesReadBack(t, p, row)
					}
				}
			}
		}
	}
}

func linesReadBack(t *testing.T, p *Problem, row statics.Row) {
	t.Helper()
	for _, ascii := range []bool{true, false} {
		for _, settled := range [][]float64{nil, p.Values} {
			var sum, size float64
			for _, c := range row.Cells {
				want, text := c.Coef.Eval(p.Values)*c.Magnitude.Eval(p.Values), c.Text(ascii, settled)
				if got := value(t, p, text); math.Abs(got-want) > 1e-9*max(math.Abs(want), c.Coef.Size(p.Values)*c.Magnitude.Size(p.Values)) {
					t.Errorf("%s about %s: %s of %s, %q, reads as %g, want %g", p.ID, row.Pivot, row.Kind, c.Symbol, text, got, want)
				}
				sum, size = sum+want, size+math.Abs(want)
			}
			text := row.Text(ascii, settled)
			left, right, err := p.Table.ParseEquation(text)
			if err != nil {
				t.Fatalf("%s: %q: %v", p.ID, text, err)
			}
			if got := notation.Value(left, p.Values); math.Abs(got-sum) > 1e-9*size || notation.Value(right, p.Values) != 0 {
				t.Errorf("%s about %s: %q reads as %g, want %g", p.ID, row.Pivot, text, got, sum)
			}
			for _, ugly := range []string{"1 ·", "+ −", "− −", "+ -", "- -", "  ", " 1 ", "(1 ", "( ", " )", "−−", "--"} {
				if strings.Contains(text, ugly) {
					t.Errorf("%s: %q has %q in it", p.ID, text, ugly)
				}
			}
		}
	}
}

// The lines of the bank, as a textbook writes them.
func TestBankLines(t *testing.T) {
	for _, c := range []struct{ id, pivot, row, want string }{
		{"davit-arm", "A", "moment", "T L sin α − M g L/2 − m g L = 0"},
		{"davit-arm", "B", "moment", "−V L + M g L/2 = 0"},
		{"davit-arm", "A", "x", "−T cos α + H = 0"},
		{"hull-ladder", "A", "moment", "N_w L sin α − M g L/2 cos α − m g d cos α = 0"},
		{"hull-ladder", "B", "moment", "−N L cos α + f L sin α + M g L/2 cos α + m g (L − d) cos α = 0"},
		{"hull-ladder", "D", "moment", "N_w (L − d) sin α − N d cos α + f d sin α + M g (d − L/2) cos α = 0"},
		{"hull-ladder-limit", "A", "moment", "N_w L sin α − M g L/2 cos α − m g d cos α = 0"},
		{"drum-kerb", "E", "moment", "−P (R − h) + M g a = 0"},
		{"drum-kerb", "O", "moment", "−H (R − h) + V a = 0"},
		{"winch-bar", "S", "moment", "F L sin θ − C = 0"},
		{"winch-bar", "B", "moment", "−S_y L − C = 0"},
		{"trailer-braking", "R", "moment", "N_f w − M g c − M a h = 0"},
		{"trailer-braking", "F", "moment", "−N_r w + M g (w − c) − M a h = 0"},
		{"trailer-braking", "G", "moment", "−N_r c + N_f (w − c) − f h = 0"},
		{"quay-plank", "E", "moment", "W (L/2 − e) − m g x = 0"},
		{"plank-balance", "O", "moment", "W₁ r₁ − W₂ r₂ = 0"},
		{"plank-balance", "O", "y", "N − W − W₁ − W₂ = 0"},
		{"beam-uniform", "A", "moment", "N L − q L²/2 = 0"},
		{"beam-rising", "A", "moment", "N L − q L²/3 = 0"},
		{"beam-point", "B", "moment", "−V L + P (L − c) = 0"},
		{"cantilever-falling", "A", "moment", "−q L²/6 + C = 0"},
		{"ramp", "A", "y", "N cos α + f sin α − M g = 0"},
	} {
		s := bench(t, c.id)
		p, err := s.Draw(1, nil)
		if err != nil {
			t.Fatal(err)
		}
		pivot, _ := s.Bodies[0].Point(c.pivot)
		if got := s.Bodies[0].Row(statics.RowKind(c.row), statics.Frame{Pivot: pivot}).Text(false, p.Values); got != c.want {
			t.Errorf("%s about %s: %q, want %q", c.id, c.pivot, got, c.want)
		}
	}
}
