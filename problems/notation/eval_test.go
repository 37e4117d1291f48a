package notation

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// bench is the table most tests read with: a uniform beam held by a cable.
func bench(t testing.TB) *Table {
	t.Helper()
	table, err := readSymbols("degrees T L M m g N W h R W_1 r_1 N_w mu alpha* theta*")
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// values of bench's symbols, by index: no two alike, angles in radians.
var benchValues = []float64{1560, 4.2, 85, 3, 9.81, 410, 833, 0.7, 1.9, 120, 0.35, 77, 0.4, 0.6108652381980153, 0.9}

func mustParse(t testing.TB, table *Table, text string) Node {
	t.Helper()
	n, err := table.Parse(text)
	if err != nil {
		t.Fatalf("Parse(%q): %v", text, err)
	}
	return n
}

func TestValues(t *testing.T) {
	const T, L, M, m, g, h, R, alpha = 1560, 4.2, 85, 3, 9.81, 0.7, 1.9, 0.6108652381980153
	tests := []struct {
		text string
		want float64
	}{
		// What govaluate's own parser misreads or refuses.
		{"-2^2", -4}, {"-2**2", -4}, {"+T", T}, {"T*-L", -T * L}, {"1e3", 1000}, {"2^-1", 0.5}, {"2^3", 8},
		{"--T", T}, {"---T", -T}, {"-(-2)^2", -4}, {"(-2)^2", 4}, {"2^3^2", 512}, {"(2^3)^2", 64}, {"-T^2 L", -T * T * L},
		{"T - L - h", T - L - h}, {"T - (L - h)", T - (L - h)}, {"T/L/h", T / L / h}, {"T/(L/h)", T / (L / h)},
		{"T/L*h", T / L * h}, {"T - L + h", T - L + h}, {"T - L*h - R", T - L*h - R}, {"L^h^R", math.Pow(L, math.Pow(h, R))},
		{"(L^h)^R", math.Pow(math.Pow(L, h), R)}, {"T/L^2", T / (L * L)}, {"T - -L", T + L}, {"T + -L h", T - L*h},
		// Implicit products have the rank of written ones.
		{"1/2 T L", T * L / 2}, {"mgL/2", m * g * L / 2}, {"M g/2 L", M * g / 2 * L}, {"½ T L", T * L / 2}, {"2½L", 2.5 * L},
		{"T/2L", T / 2 * L}, {"-M g (L/2) cos(alpha) + T L sin(180 - alpha)", -M*g*L/2*math.Cos(alpha) + T*L*math.Sin(alpha)},
		{"sqrt(h(2R-h))", math.Sqrt(h * (2*R - h))}, {"√h R", math.Sqrt(h) * R}, {"√2 L", math.Sqrt2 * L},
		// Functions of one factor.
		{"sin α L", math.Sin(alpha) * L}, {"sin 2α L", math.Sin(2*alpha) * L}, {"sin α/2", math.Sin(alpha) / 2},
		{"sin²α + cos²α", 1}, {"sin^2 α", math.Pow(math.Sin(alpha), 2)}, {"sin α²", math.Sin(alpha * alpha)},
		{"sin sin α", math.Sin(math.Sin(alpha))}, {"sqrt(sin(cos(alpha)))", math.Sqrt(math.Sin(math.Cos(alpha)))},
		{"sin⁻¹(h/R)", math.Asin(h / R)}, {"tan(atan(h/R))", h / R}, {"abs(-T)", T}, {"acos(h/R)", math.Acos(h / R)},
		// Degrees.
		{"sin(30)", 0.5}, {"sin 30°", 0.5}, {"sin(30 deg)", 0.5}, {"sin(π/6)", 0.5}, {"sin(0.5 rad)", math.Sin(0.5)},
		{"sin(180 - alpha)", math.Sin(alpha)}, {"cos(90 - alpha)", math.Sin(alpha)}, {"sin(90+alpha)", math.Cos(alpha)},
		{"sin(30+15)", math.Sin(math.Pi / 4)}, {"sin(2*15)", 0.5}, {"sin(-30)", -0.5}, {"sin((180 - alpha)/2)", math.Cos(alpha / 2)},
		{"cos(-(90 - α))", math.Sin(alpha)}, {"sin(2(90 - α))", math.Sin(2 * alpha)}, {"90°", math.Pi / 2}, {"sin 35", math.Sin(alpha)},
		{"sin(h/R + 30)", math.Sin(h/R + math.Pi/6)}, {"sin(sqrt(900))", 0.5}, {"sin(α + α/2)", math.Sin(1.5 * alpha)},
	}
	table := bench(t)
	for _, test := range tests {
		n := mustParse(t, table, test.text)
		if got := Value(n, benchValues); !close12(got, test.want) {
			t.Errorf("%s: Value = %v, want %v", test.text, got, test.want)
		}
		p, err := Compile(n)
		if err != nil {
			t.Errorf("%s: %v", test.text, err)
			continue
		}
		if got, err := p.Eval(benchValues); err != nil || !close12(got, test.want) {
			t.Errorf("%s: Eval = %v, %v, want %v", test.text, got, err, test.want)
		}
	}
}

// close12 allows a relative difference of 1e-12, absolute below one.
func close12(a, b float64) bool { return math.Abs(a-b) <= 1e-12*max(1, math.Abs(a), math.Abs(b)) }

func TestRadians(t *testing.T) {
	table, err := readSymbols("radians L alpha*")
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]float64{
		"sin(2)": math.Sin(2), "sin(α + 2)": math.Sin(2.5), "sin 30°": 0.5, "sin 0.61 rad": math.Sin(0.61),
	} {
		if got := Value(mustParse(t, table, text), []float64{3, 0.5}); !close12(got, want) {
			t.Errorf("%s = %v, want %v", text, got, want)
		}
	}
}

func TestEvalRefuses(t *testing.T) {
	table := bench(t)
	zero := make([]float64, table.Len())
	for _, text := range []string{"T/L", "1/0", "T/(L-L)", "sqrt(-1 - T)", "asin(2)", "10^400", "0^-1", "-T/0", "L^-h^0"} {
		p, err := Compile(mustParse(t, table, text))
		if err != nil {
			t.Errorf("Compile(%s): %v", text, err)
			continue
		}
		if got, err := p.Eval(zero); !errors.Is(err, ErrNotFinite) {
			t.Errorf("%s at zero = %v, %v, want ErrNotFinite", text, got, err)
		}
	}
	p, err := Compile(mustParse(t, table, "T + theta"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Eval(zero[:3]); err == nil || !strings.Contains(err.Error(), "15 needed") {
		t.Errorf("Eval with too few values: %v, want the number needed", err)
	}
	for _, bad := range []Node{
		nil,
		&Symbol{Name: "Z", Index: MaxSymbols},
		&Symbol{Name: "Z", Index: -1},
		&Call{Func: "exp", Arg: &Symbol{Name: "T"}},
		&Binary{Op: '%', Left: &Symbol{Name: "T"}, Right: &Symbol{Name: "T"}},
	} {
		if _, err := Compile(bad); err == nil {
			t.Errorf("Compile(%#v) succeeds", bad)
		}
		if _, err := CompileDifference(bad, &Symbol{Name: "T"}); err == nil {
			t.Errorf("CompileDifference(%#v, T) succeeds", bad)
		}
	}
}

// The parser puts angle units on constants only, but a tree may be built.
func TestAngleOfSymbols(t *testing.T) {
	T, L, h := &Symbol{Name: "T", Index: 0}, &Symbol{Name: "L", Index: 1}, &Symbol{Name: "h", Index: 7}
	sum := &Binary{Op: '-', Left: &Binary{Op: '-', Left: T, Right: L}, Right: h}
	for _, degrees := range []bool{false, true} {
		n := &Binary{Op: '/', Left: T, Right: &Angle{Operand: sum, Degrees: degrees}}
		p, err := Compile(n)
		if err != nil {
			t.Fatal(err)
		}
		want := 1560 / (1560 - 4.2 - 0.7)
		if degrees {
			want *= 180 / math.Pi
		}
		if got, err := p.Eval(benchValues); err != nil || !close12(got, want) || !close12(Value(n, benchValues), want) {
			t.Errorf("%s = %v by program (%v), %v by walk, want %v", n, got, err, Value(n, benchValues), want)
		}
	}
}

func TestUses(t *testing.T) {
	table := bench(t)
	l, r, err := table.ParseEquation("T L sin 30 = M g (L/2) + 0 h")
	if err != nil {
		t.Fatal(err)
	}
	p, err := CompileDifference(l, r)
	if err != nil {
		t.Fatal(err)
	}
	want := "T L M g h"
	var got []string
	for i := -1; i <= MaxSymbols; i++ {
		if p.Uses(i) {
			got = append(got, table.Name(i))
		}
	}
	if s := strings.Join(got, " "); s != want {
		t.Errorf("uses %s, want %s", s, want)
	}
	got = got[:0]
	for _, i := range Symbols(&Binary{Op: '-', Left: r, Right: l}) {
		got = append(got, table.Name(i))
	}
	if s := strings.Join(got, " "); s != "M g L h T" {
		t.Errorf("Symbols = %s, want them in the order of appearance", s)
	}
	v, err := p.Eval(benchValues)
	if want := 1560*4.2/2 - 85*9.81*2.1; err != nil || !close12(v, want) {
		t.Errorf("difference = %v, %v, want %v", v, err, want)
	}
}

// randomTree draws a tree of at most the given depth. Every node the parser
// can make may occur in it.
func randomTree(r *rapid.T, table *Table, depth int) Node {
	if depth == 0 || rapid.IntRange(0, 5).Draw(r, "leaf") == 0 {
		switch rapid.IntRange(0, 4).Draw(r, "leaf kind") {
		case 0:
			return &Number{Value: float64(rapid.IntRange(0, 9).Draw(r, "digit")), Text: "", Exact: true}
		case 1:
			return newPi(0)
		case 2:
			return &Angle{Operand: &Number{Value: 35, Text: "35", Exact: true}, Degrees: rapid.Bool().Draw(r, "degrees")}
		}
		i := rapid.IntRange(0, table.Len()-1).Draw(r, "symbol")
		return &Symbol{Name: table.Name(i), Index: i}
	}
	switch rapid.IntRange(0, 9).Draw(r, "kind") {
	case 0, 1:
		return &Unary{Operand: randomTree(r, table, depth-1)}
	case 2, 3:
		row := rapid.IntRange(0, len(functions)-1).Draw(r, "function")
		return &Call{Func: functions[row].name, Arg: randomTree(r, table, depth-1)}
	}
	op := "+-*/^"[rapid.IntRange(0, 4).Draw(r, "op")]
	return &Binary{Op: op, Left: randomTree(r, table, depth-1), Right: randomTree(r, table, depth-1)}
}

// named gives the literals of a random tree their texts.
func named(n Node) Node {
	for i, number := range Numbers(n) {
		if number.Text == "" {
			n = WithNumber(n, i, number.Value)
		}
	}
	return n
}

// agree reports whether a walk's value and a program's are the same: to 1e-12
// of the size of the terms, or both without a finite value.
func agree(walk, program float64, err error, size float64) bool {
	if math.IsNaN(walk) || math.IsInf(walk, 0) {
		return errors.Is(err, ErrNotFinite)
	}
	return err == nil && (walk == program || math.Abs(walk-program) <= 1e-12*max(math.Abs(walk), size))
}

// The program and the walk are two roads to one value: one through govaluate's
// planner, the other straight down the tree.
func TestProgramAgreesWithWalk(t *testing.T) {
	table := bench(t)
	finite := 0
	rapid.Check(t, func(r *rapid.T) {
		n := named(randomTree(r, table, 6))
		values := make([]float64, table.Len())
		for i := range values {
			values[i] = rapid.Float64Range(-3, 3).Draw(r, "value")
		}
		p, err := Compile(n)
		if err != nil {
			r.Fatalf("Compile(%s): %v", n, err)
		}
		walk := Value(n, values)
		got, err := p.Eval(values)
		if !agree(walk, got, err, 0) {
			r.Fatalf("%s: Value = %v, Eval = %v, %v", n, walk, got, err)
		}
		if err == nil {
			finite++
		}
	})
	if finite < 20 {
		t.Errorf("only %d trees had a finite value: nothing was compared", finite)
	}
}

// What is read back, in every form, means what was meant.
func TestReadBackMeansTheSame(t *testing.T) {
	// In radians, where a bare number in a sine is what the tree says it is.
	table, err := readSymbols("radians T L M m g N W h R W_1 r_1 N_w mu alpha* theta*")
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(r *rapid.T) {
		n := named(randomTree(r, table, 5))
		for _, text := range []string{ReadBack(n, false), ReadBack(n, true), n.String()} {
			again, err := table.parse(text, 1<<16, 1<<10)
			if err != nil {
				r.Fatalf("%q does not parse: %v", text, err)
			}
			if a, b := Value(n, benchValues), Value(again, benchValues); !same(a, b) {
				r.Fatalf("%s = %v, but %q = %v", n, a, text, b)
			}
			if got := again.String(); got != n.String() {
				r.Fatalf("%q comes back as %s, want %s", text, got, n)
			}
		}
	})
}

func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func TestSize(t *testing.T) {
	table := bench(t)
	const L, h, R = 4.2, 0.7, 1.9
	for text, want := range map[string]float64{
		"L - L":           2 * L,
		"-L":              L,
		"h (L - R)":       h * (L + R),
		"(L - R)/(R - h)": (L + R) / (R - h),
		"(L - R)^2":       (L + R) * (L + R),
		"(L - R)^-1":      1 / (L - R),
		"sin(-30) L":      L / 2,
		"sqrt(L - R)":     math.Sqrt(L - R),
		"L - L + h":       2*L + h,
	} {
		if got := Size(mustParse(t, table, text), benchValues); !close12(got, want) {
			t.Errorf("Size(%s) = %v, want %v", text, got, want)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		n := named(randomTree(r, table, 5))
		size, value := Size(n, benchValues), Value(n, benchValues)
		if size < math.Abs(value)*(1-1e-9) && !math.IsInf(value, 0) {
			r.Fatalf("%s: Size = %v is less than |Value| = %v", n, size, math.Abs(value))
		}
	})
}

func TestNumbers(t *testing.T) {
	table := bench(t)
	n := mustParse(t, table, "0.5 L + 2 T sin(180 - alpha) - ½ h^3 + 1.20e2")
	var texts []string
	var rounding []float64
	for _, number := range Numbers(n) {
		texts = append(texts, number.Text)
		rounding = append(rounding, number.Rounding)
	}
	if got := strings.Join(texts, " "); got != "0.5 2 180 ½ 3 1.20e2" {
		t.Errorf("Numbers = %s", got)
	}
	for i, want := range []float64{0.05, 0, 0, 0, 0, 0.5} {
		if !close12(rounding[i], want) {
			t.Errorf("%s implies rounding of %v, want %v", texts[i], rounding[i], want)
		}
	}
	before := n.String()
	for i, want := range []string{
		"7 * L + 2 * T * sin(180 - alpha) - (1 / 2) * h ^ 3 + 1.20e2",
		"0.5 * L + 7 * T * sin(180 - alpha) - (1 / 2) * h ^ 3 + 1.20e2",
		"0.5 * L + 2 * T * sin(7 - alpha) - (1 / 2) * h ^ 3 + 1.20e2",
		"0.5 * L + 2 * T * sin(180 - alpha) - 7 * h ^ 3 + 1.20e2",
		"0.5 * L + 2 * T * sin(180 - alpha) - (1 / 2) * h ^ 7 + 1.20e2",
		"0.5 * L + 2 * T * sin(180 - alpha) - (1 / 2) * h ^ 3 + 7",
	} {
		if got := WithNumber(n, i, 7).String(); got != want {
			t.Errorf("WithNumber(%d) = %s, want %s", i, got, want)
		}
	}
	if got := WithNumber(n, 1, -2.5).String(); !strings.Contains(got, "(-2.5) * T") {
		t.Errorf("a negative literal is not in brackets: %s", got)
	}
	for _, which := range []int{-1, 6} {
		if WithNumber(n, which, 7) != n {
			t.Errorf("WithNumber(%d), of no literal, is not the tree itself", which)
		}
	}
	if n.String() != before {
		t.Errorf("WithNumber changed the tree it copied: %s", n)
	}
	for text, want := range map[string]bool{
		"2 T": false, "½ T": false, "π T": false, "5. T": false, "3e3": false, "0.5 T": true, "3e-3": true,
		"sin(35.0)": true, "sin(35)": false, "T": false,
	} {
		if got := Decimals(mustParse(t, table, text)); got != want {
			t.Errorf("Decimals(%s) = %v", text, got)
		}
	}
}
