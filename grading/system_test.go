package grading

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// setups are sets of whole equations, with what must be said of each.
var setups = []struct {
	request Request
	lines   string // separated by ;
	verdict Outcome
	slips   []string
	says    string // in the message
}{
	// Right sets.
	{davit, "H - T cos(alpha) = 0; V + T sin(alpha) - W - W_c = 0; T L sin(alpha) - W L/2 - W_c L = 0", Right, nil, ""},
	{davit, "T L sin(alpha) = M g L/2 + m g L; W/2 = V; H L tan(alpha) = W L/2 + W_c L", Right, nil, ""},        // A, B, C
	{davit, "T sin(alpha) = W/2 + W_c; V L = W L/2; H = T cos(alpha)", Right, nil, ""},                          // A, B and x
	{davit, "3 (H - T cos(alpha)) = 0; H + V + T sin(alpha) = T cos(alpha) + W + W_c; V = W/2", Right, nil, ""}, // a combination
	{davit, "V + T sin(alpha) = W + W_c; W_c - T sin(alpha) + W/2 = 0; T = H/cos(alpha)", Right, nil, ""},
	{davit, "T = g (m + M/2)/sin(alpha); H = g (m + M/2)/tan(alpha); V = M g/2", Right, nil, ""}, // solved
	{drum, "P = H; V = W; P (R - h) = W a", Right, nil, ""},
	{drum, "P(R - h) - W sqrt(h(2R - h)) = 0; H = P; M g - V = 0", Right, nil, ""},
	{ladder, "f - N_w = 0; N = W + W_p; N_w L sin(alpha) = (W L/2 + W_p d) cos(alpha)", Right, nil, ""},
	{limit, "f = N_w; N = (M + m) g; N_w L sin(alpha) = (W L/2 + W_p d) cos(alpha)", Right, nil, ""},
	{limit, "f = mu N; mu N = N_w; N = (M + m) g; N_w L sin(alpha) = (W L/2 + W_p d) cos(alpha)", Right, nil, ""},
	{balance, "N = W + W_1 + W_2; W_1 r_1 = W_2 r_2", Right, nil, ""},
	{balance, "0 = 0; N = W + W_1 + W_2; W_1 r_1 = W_2 r_2", Right, nil, ""}, // nothing along x
	{quay, "N = W + m g; W (L/2 - e) = m g x", Right, nil, ""},
	// In numbers.
	{davit, "H - 0.8192 T = 0; V + 0.5736 T - 392.4 - 686.7 = 0; 1.721 T = 588.6 + 2060.1", Remarked, nil, "numbers in at the end"},
	{davit, "H = T cos(alpha); V + 0.5736 T = 1079.1; T sin(alpha) = W/2 + W_c", Remarked, nil, "numbers in at the end"},
	{davit, "H + V - 0.2456 T = 1079.1; V = W/2; H = T cos(alpha)", Remarked, nil, "numbers in at the end"}, // x and y added
	{davit, "V + 0.7002 H = 1079.1; V = W/2; H = T cos(alpha)", Remarked, nil, "numbers in at the end"},     // T eliminated
	// More than are needed.
	{davit, "H = T cos(alpha); V + T sin(alpha) = W + W_c; V = W/2; T sin(alpha) = W/2 + W_c", Remarked, nil, "Three would do: line 4 is a sum of lines 2 and 3."},

	// Dependent sets.
	{davit, "T L sin(alpha) = W L/2 + W_c L; V L/2 + W_c L/2 = T sin(alpha) L/2; V = W/2", Wrong, nil, "line 3 is a sum of the others, for A, G and B lie in one line"},
	{davit, "V + T sin(alpha) = W + W_c; T L sin(alpha) = W L/2 + W_c L; V L = W L/2", Wrong, nil, "line 3 is a sum of the others, for moments about A and B hold"},
	{davit, "H = T cos(alpha); 2 H - 2 T cos(alpha) = 0; V = W/2", Wrong, nil, "line 2 says the same as line 1"},
	{davit, "H = T cos(alpha); V + T sin(alpha) = W + W_c; H + V + T sin(alpha) = T cos(alpha) + W + W_c", Wrong, nil, "These three cannot fix T, H and V: line 3 is a sum of lines 1 and 2"},
	{davit, "1.721 T = 2648.7; V + 0.5736 T = 1079.1; V = 196.2", Wrong, nil, "line 3 is a sum of the others"},
	{davit, "1.721 T = 2648.7; V + 0.5736 T = 1079.1; T sin(alpha) = W/2 + W_c", Wrong, nil, "line 3 says the same as line 1"},
	{drum, "P = H; V = W; H - P = 0", Wrong, nil, "line 3 says the same as line 1"},
	{ladder, "N_w = f; f L sin(alpha) - N_w L sin(alpha) = 0; N = W + W_p", Wrong, nil, "line 2 says the same as line 1"},
	{balance, "W_1 r_1 = W_2 r_2; r_2 = W_1 r_1/W_2", Wrong, nil, "These two cannot fix N and r₂: line 2 says the same as line 1"},

	// Short sets.
	{davit, "H = T cos(alpha); V = W/2", Wrong, nil, "Two equations are here, and three are needed to fix T, H and V"},
	{davit, "T L sin(alpha) = W L/2 + W_c L", Wrong, nil, "One equation is here, and three are needed"},
	{limit, "f = mu N; N_w = mu N; N = W + W_p", Wrong, nil, "Two equations are here, and three are needed to fix N_w, N and d"},
	{quay, "N = W + m g", Wrong, nil, "One equation is here, and two are needed to fix N and x"},
	{balance, "0 = 0", Wrong, nil, "No equation is here, and two are needed"},

	// Sets with a slip.
	{davit, "H - T cos(alpha) = 0; V + T cos(alpha) - W - W_c = 0; T L sin(alpha) - W L/2 - W_c L = 0", Wrong, []string{"sine-cosine"}, "Line 2: Sine and cosine"},
	{davit, "H = T cos(alpha); V + T sin(alpha) = W + W_c; T L = W L/2 + W_c L", Wrong, []string{"whole-distance"}, "Line 3: You used the whole distance"},
	{davit, "H + T cos(alpha) = 0; V = W/2; T L sin(alpha) - W L - W_c L = 0", Wrong, []string{"sense-reversed", "weight-at-end"}, "Line 1: "},
	{davit, "H = T cos(alpha); V L/2 + W_c L/2 + T sin(alpha) L/2 = 0; T L sin(alpha) = W L/2 + W_c L", Wrong, []string{"sense-reversed"}, "Line 2: "}, // about G
	{davit, "H = T cos(alpha); T = T; V = W/2", Wrong, []string{"says-nothing"}, "Line 2: "},
	{davit, "(H - T cos(alpha)) (V - W/2) = 0; V = W/2; T sin(alpha) = W/2 + W_c", Wrong, []string{"mixed-rows"}, "Line 1: "},
	{davit, "(V - W/2)^2 = 0; H = T cos(alpha); T sin(alpha) = W/2 + W_c", Right, nil, ""},
	{davit, "(V - W/2)^2 = 0; H = T cos(alpha); V = W/2", Wrong, nil, "line 3 says the same as line 1"},
	{ladder, "f = 373.8; N = W + W_p; N_w L sin(alpha) = (W L/2 + W_p d) cos(alpha)", Wrong, []string{"value-early"}, "Line 1: f is still unknown"},
	{davit, "(H - T cos(alpha)) (T - 5) = 0; V = W/2; T sin(alpha) = W/2 + W_c", Wrong, nil, "Line 1: This holds where the sum is 0, but also"},
	{davit, "(H - T cos(alpha)) (L - 3) = 0; V = W/2; T sin(alpha) = W/2 + W_c", Wrong, []string{"says-nothing"}, "Line 1: "}, // L is 3
	{davit, "H = T^2; V = W/2; T sin(alpha) = W/2 + W_c", Wrong, nil, "Line 1: "},
	{ladder, "f = N_w; N = W + W_p; N_w L sin(alpha) = (W L + W_p d) cos(alpha)", Wrong, []string{"weight-at-end"}, "Line 3: "},
	{drum, "P = H; V = W; P (R - h) = M a", Wrong, []string{"mass-for-weight"}, "Line 3: "},
	{quay, "N = W; W (L/2 - e) = m g x", Wrong, []string{"left-out"}, "Line 1: "},
	{limit, "f = mu W; N_w = f; N = W + W_p", Wrong, nil, "Line 1: "},

	// By chance true at the answer, N_w = f = 373.8 and N = 882.9, but no setup.
	{ladder, "4 N_w + 1.2 f = 2.2 N + 1.4; N = W + W_p; f = N_w", Wrong, nil, "Line 1: "},
	{davit, "2 H - 1.9 V = 1.391 T + 8.2; V = W/2; H = T cos(alpha)", Wrong, nil, "Line 1: "},

	// What cannot be read.
	{davit, "", Unreadable, nil, "Write the equations"},
	{davit, "H = T cos(alpha); V + Q = 0", Unreadable, nil, "Line 2: "},
	{davit, "H = T cos(alpha); V", Unreadable, nil, "Line 2: An equation has an = in it"},
	{davit, "H = T cos(alpha); V = W/(T - T)", Unreadable, nil, "Line 2: This has no finite value"},
	{davit, strings.Repeat("H = T; ", 40), Unreadable, nil, "That is 41 lines"},
}

var (
	davit   = Request{Problem: "davit-arm", Seed: 7, Given: []string{"L=3", "M=40", "m=70", "alpha=35"}, Pivot: "A"}
	drum    = Request{Problem: "drum-kerb", Seed: 1, Pivot: "E"}
	ladder  = Request{Problem: "hull-ladder", Seed: 1, Given: []string{"L=5", "M=20", "m=70", "d=4", "alpha=60"}, Pivot: "A"}
	limit   = Request{Problem: "hull-ladder-limit", Seed: 1, Pivot: "A"}
	balance = Request{Problem: "plank-balance", Seed: 1, Pivot: "O"}
	quay    = Request{Problem: "quay-plank", Seed: 1, Pivot: "E"}
)

func TestSystem(t *testing.T) {
	s := NewService(problems.Builtin())
	for _, c := range setups {
		r := c.request
		r.Step, r.Equations = "system", strings.Split(c.lines, ";")
		v, err := s.Grade(r)
		if err != nil {
			t.Errorf("%s: %v", c.lines, err)
			continue
		}
		got, want := slices.Sorted(slices.Values(v.Slips)), slices.Sorted(slices.Values(c.slips))
		if v.Outcome != c.verdict || c.slips != nil && !slices.Equal(got, want) || c.slips == nil && v.Earned() && got != nil || !strings.Contains(v.Message, c.says) {
			t.Errorf("%s: %s is %s %v: %q, want %s %v: %q", r.Problem, c.lines, v.Outcome, v.Slips, v.Message, c.verdict, c.slips, c.says)
		}
		if n := len([]rune(v.Message)); n >= 200 && (n >= 400 || !strings.Contains(v.Message, " Also: ")) {
			t.Errorf("%s: %d characters: %q", c.lines, n, v.Message)
		}
		if v.Outcome == Unreadable && v.At < 1 || v.Outcome == Right && v.ReadsAs == "" {
			t.Errorf("%s: at %d, reads %q", c.lines, v.At, v.ReadsAs)
		}
	}
}

// The lines may come as equations, as the answer, or as both.
func TestSystemInTheAnswer(t *testing.T) {
	s := NewService(problems.Builtin())
	lines := []string{"H = T cos(alpha)", "V = W/2", "T sin(alpha) = W/2 + W_c"}
	for k := range lines {
		for _, between := range []string{"; ", "\n", "\r\n"} {
			r := davit
			r.Step, r.Equations, r.Answer = "system", lines[:k], strings.Join(lines[k:], between)
			if v, err := s.Grade(r); err != nil || v.Outcome != Right {
				t.Errorf("%q and %q: %v, %v", r.Equations, r.Answer, v, err)
			}
		}
	}
}

// The rows of any frame are a right setup of each body, in every scenario:
// whatever the pivot, the axes and the senses. One of them twice in place of
// another is not. Where all forces are upright, one of tilted axes says what the
// other says, and two rows are a setup.
func TestSystemOfRows(t *testing.T) {
	for _, s := range problems.Builtin().Scenarios {
		p, err := Draw(s, 3)
		if err != nil {
			t.Fatal(err)
		}
		for k := range p.Bodies {
			b := &p.Bodies[k]
			for i, pivot := range b.Points {
				c := Choice{Body: b.Name, Pivot: pivot.Name, Clockwise: i%2 == 1, Tilt: strconv.Itoa(20 * i), Reversed: map[string]bool{}}
				if i > 0 {
					c.Reversed[b.Forces[0].Symbol] = b.Forces[0].Unknown
				}
				g, err := New(p, c)
				if err != nil {
					t.Fatal(err)
				}
				systemOfRows(t, g)
			}
		}
	}
}

// independent reports whether sums are, at the problem's own numbers: whether
// the matrix of their coefficients and constants is of full rank.
func independent(g *Grader, sums []statics.Sum) bool {
	vars := slices.Clone(g.p.LinearUnknowns())
	if z := g.p.Search(); z >= 0 {
		vars = append(vars, z)
	}
	a := mat.NewDense(len(sums), len(vars), nil)
	for j, i := range vars {
		for k, sum := range sums {
			v := slices.Clone(g.p.Values)
			h := 1e-4 * (1 + abs(v[i]))
			v[i] += h
			statics.Define(g.p.Definitions(), v)
			a.Set(k, j, (sum.Eval(v)-sum.Eval(g.p.Values))/h)
		}
	}
	for k := range sums {
		row := a.RawRowView(k)
		if most := floats.Norm(row, math.Inf(1)); most > 0 {
			floats.Scale(1/most, row)
		}
	}
	var svd mat.SVD
	return svd.Factorize(a, mat.SVDNone) && svd.Rank(1e-6) == len(sums)
}

func systemOfRows(t *testing.T, g *Grader) {
	t.Helper()
	var lines []string
	var sums []statics.Sum
	for _, row := range statics.Rows {
		if !g.Blank(row) {
			sums = append(sums, g.body.Row(row, g.frame).Sum())
			lines = append(lines, sums[len(sums)-1].Text(true)+" = 0")
		}
	}
	where := g.p.ID + ", " + g.body.Name + " about " + g.frame.Pivot.Name
	v, err := g.System(lines)
	if err != nil || !v.Earned() {
		t.Errorf("%s: %q: %v %q, %v", where, lines, v.Outcome, v.Message, err)
	}
	if len(lines) < 3 || !independent(g, sums) {
		return
	}
	if v.Outcome != Right {
		t.Errorf("%s: %q: %v %q, %v", where, lines, v.Outcome, v.Message, err)
	}
	lines[0] = lines[1]
	if v, err := g.System(lines); err != nil || v.Outcome != Wrong || !strings.Contains(v.Message, "line 2 says the same as line 1") {
		t.Errorf("%s: %q: %v %q, %v", where, lines, v.Outcome, v.Message, err)
	}
}
