package problems

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"steelyard/problems/statics"
)

// A second way to the solution, which uses none of the rows: virtual work.
// Each body is turned by a small angle about a point, every force's point is
// seen to move, and the work of all forces and couples is added up. For a body
// at rest it vanishes about any point; three points that are not in line give
// three independent equations.

// centres are three points not in line, away from any body's own.
var centres = [3][2]float64{{-1.7, 0.9}, {2.3, -1.1}, {0.4, 3.2}}

// work is the virtual work, per radian, of each force and couple of the body at
// unit size, turned about the centre. The displacement is the difference of
// two turns either way; what it lacks of the tangent (sin d/d) is the same for
// all.
func work(p *Problem, b *statics.Body, centre [2]float64) (forces, couples []float64) {
	const d = 1e-3
	for _, f := range b.Forces {
		at, _ := b.Point(f.At)
		x, y := at.XY(p.Values)
		x, y = x-centre[0], y-centre[1]
		turned := func(a float64) (float64, float64) {
			return x*math.Cos(a) - y*math.Sin(a), x*math.Sin(a) + y*math.Cos(a)
		}
		x1, y1 := turned(d)
		x0, y0 := turned(-d)
		phi := f.Dir.Radians(p.Values)
		forces = append(forces, ((x1-x0)*math.Cos(phi)+(y1-y0)*math.Sin(phi))/(2*d))
	}
	for _, c := range b.Couples {
		couples = append(couples, c.Sense*math.Sin(d)/d)
	}
	return forces, couples
}

// independent solves a problem's forces by virtual work and its definitions
// alone; a searched unknown keeps the problem's own value, which closed forms
// check.
func independent(p *Problem) map[string]float64 {
	var symbols []string
	place := func(symbol string, unknown bool) int {
		if !unknown {
			return -1
		}
		i := slices.Index(symbols, symbol)
		if i < 0 {
			i, symbols = len(symbols), append(symbols, symbol)
		}
		return i
	}
	var rows []map[int]float64 // by unknown; -1 is the known side
	for i := range p.Bodies {
		b := &p.Bodies[i]
		for _, c := range centres {
			forces, couples := work(p, b, c)
			row := map[int]float64{}
			for j, f := range b.Forces {
				if k := place(f.Symbol, f.Unknown); k >= 0 {
					row[k] += forces[j]
				} else {
					row[-1] += forces[j] * f.Magnitude.Eval(p.Values)
				}
			}
			for j, cp := range b.Couples {
				if k := place(cp.Symbol, cp.Unknown); k >= 0 {
					row[k] += couples[j]
				} else {
					row[-1] += couples[j] * cp.Magnitude.Eval(p.Values)
				}
			}
			rows = append(rows, row)
		}
	}
	// A force defined by another, f = mu N or B_y = A_y, is one more equation.
	for _, d := range p.Defined {
		k := slices.Index(symbols, d.Symbol)
		if k < 0 {
			continue
		}
		row := map[int]float64{k: -1}
		for j, symbol := range symbols {
			i, _ := p.Table.Index(symbol)
			v := slices.Clone(p.Values)
			v[i]++
			statics.Define([]statics.Definition{{Index: d.Index, Is: d.Is}}, v)
			if step := v[d.Index] - p.Values[d.Index]; j != k {
				row[j] += step
			}
		}
		rows = append(rows, row)
	}
	a, b := mat.NewDense(len(rows), len(symbols), nil), mat.NewVecDense(len(rows), nil)
	for i, row := range rows {
		for k, v := range row {
			if k < 0 {
				b.SetVec(i, -v)
			} else {
				a.Set(i, k, v)
			}
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		return nil
	}
	out := map[string]float64{}
	for i, symbol := range symbols {
		out[symbol] = x.AtVec(i)
	}
	return out
}

// testScenarios are the bank's, and those of testdata with what the bank lacks:
// loads, built-in ends, links, springs, two bodies.
func testScenarios(t testing.TB) []*Scenario {
	out := slices.Clone(Builtin().Scenarios)
	for _, id := range []string{"base", "beam-point", "beam-uniform", "beam-rising", "beam-falling", "cantilever-uniform", "cantilever-rising",
		"cantilever-falling", "metre-stick", "forearm", "door", "ramp", "strut", "stack"} {
		out = append(out, bench(t, id))
	}
	return out
}

func TestVirtualWork(t *testing.T) {
	for _, s := range testScenarios(t) {
		for seed := range uint64(200) {
			p, err := s.Draw(seed, nil)
			if err != nil {
				t.Fatal(err)
			}
			for i := range p.Bodies {
				vanishes(t, p, &p.Bodies[i])
			}
			for symbol, want := range independent(p) {
				i, _ := p.Table.Index(symbol)
				if got := p.Values[i]; math.Abs(got-want) > 1e-6*max(math.Abs(want), p.forceScale(p.Values)*1e-3) {
					t.Errorf("%s, seed %d: %s = %.12g by the rows, %.12g by virtual work", s.ID, seed, symbol, got, want)
				}
			}
			if len(independent(p)) == 0 {
				t.Errorf("%s, seed %d: virtual work finds nothing", s.ID, seed)
			}
		}
	}
}

func vanishes(t *testing.T, p *Problem, b *statics.Body) {
	t.Helper()
	for _, c := range centres {
		forces, couples := work(p, b, c)
		var sum, largest float64
		for i, f := range b.Forces {
			w := forces[i] * f.Magnitude.Eval(p.Values)
			sum, largest = sum+w, max(largest, math.Abs(w))
		}
		for i, cp := range b.Couples {
			w := couples[i] * cp.Magnitude.Eval(p.Values)
			sum, largest = sum+w, max(largest, math.Abs(w))
		}
		if !(math.Abs(sum) <= 1e-9*largest) {
			t.Errorf("%s, seed %d: turned about %v the %s gains %g of %g", p.ID, p.Seed, c, b.Name, sum, largest)
		}
	}
}

// What a book gets by hand, for every unknown of the bank.
func TestClosedForms(t *testing.T) {
	for id, forms := range map[string]map[string]string{
		"plank-balance":     {"r_2": "W_1 r_1/W_2", "N": "W + W_1 + W_2"},
		"davit-arm":         {"T": "(M/2 + m) g/sin(alpha)", "H": "(M/2 + m) g/tan(alpha)", "V": "M g/2"},
		"hull-ladder":       {"N_w": "(M L/2 + m d) g/(L tan(alpha))", "N": "(M + m) g", "f": "(M L/2 + m d) g/(L tan(alpha))", "mu_min": "(M L/2 + m d)/(L tan(alpha)(M + m))"},
		"hull-ladder-limit": {"N": "(M + m) g", "f": "mu (M + m) g", "N_w": "mu (M + m) g", "d": "L (mu (M + m) tan(alpha) - M/2)/m"},
		"drum-kerb":         {"P": "M g sqrt(h(2R - h))/(R - h)", "H": "M g sqrt(h(2R - h))/(R - h)", "V": "M g"},
		"winch-bar":         {"F": "C/(L sin(theta))", "S_x": "-C/(L tan(theta))", "S_y": "-C/L"},
		"trailer-braking":   {"N_f": "M (g c + a h)/w", "N_r": "M (g (w - c) - a h)/w", "f": "M a"},
		"quay-plank":        {"x": "W (L/2 - e)/(m g)", "N": "W + m g"},
		"metre-stick":       {"m_3": "(m r + m_1 r_1 + m_2 r_2)/r_3"},
		"strut":             {"F": "-(W/2 - S + C/L) sqrt(L^2 + h^2)/h"},
	} {
		s := bench(t, id)
		for seed := range uint64(100) {
			p, err := s.Draw(seed, nil)
			if err != nil {
				t.Fatal(err)
			}
			for symbol, form := range forms {
				i, _ := s.Table.Index(symbol)
				if got, want := p.Values[i], value(t, p, form); math.Abs(got-want) > 1e-9*math.Abs(want) {
					t.Errorf("%s, seed %d: %s = %.12g, want %s = %.12g", id, seed, symbol, got, form, want)
				}
			}
		}
	}
}
