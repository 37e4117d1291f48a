package statics

import (
	"math"
	"math/rand/v2"
	"testing"

	"steelyard/problems/notation"
)

// lab is a table of symbols to write bodies in, and values for them.
type lab struct {
	*testing.T
	table  *notation.Table
	values []float64
}

// symbols of the lab: angles, then lengths, forces and the rest.
var labAngles = []string{"alpha", "beta", "theta"}
var labOthers = []string{"L", "a", "b", "d", "h", "M", "m", "g", "P", "T", "N", "N_w", "f", "H", "V", "C", "w", "mu", "F", "S", "K_1", "K_2"}

func newLab(t *testing.T) *lab {
	var specs []notation.Spec
	for _, n := range labAngles {
		specs = append(specs, notation.Spec{Name: n, Angle: true})
	}
	for _, n := range labOthers {
		specs = append(specs, notation.Spec{Name: n})
	}
	table, err := notation.NewTable(true, specs...)
	if err != nil {
		t.Fatal(err)
	}
	l := &lab{t, table, make([]float64, len(specs))}
	l.shake(1)
	return l
}

// shake draws a value for every symbol, none special.
func (l *lab) shake(seed uint64) {
	rng := rand.New(rand.NewPCG(seed, 7))
	for i := range l.values {
		l.values[i] = 0.5 + 3*rng.Float64()
		if l.table.IsAngle(i) {
			l.values[i] = 0.2 + rng.Float64()
		}
	}
}

func (l *lab) set(symbol string, v float64) {
	l.Helper()
	l.values[l.index(symbol)] = v
}

func (l *lab) index(symbol string) int {
	l.Helper()
	i, ok := l.table.Index(symbol)
	if !ok {
		l.Fatalf("no symbol %s", symbol)
	}
	return i
}

func (l *lab) get(symbol string) float64 { return l.values[l.index(symbol)] }

func (l *lab) node(text string) notation.Node {
	l.Helper()
	n, err := l.table.Parse(text)
	if err != nil {
		l.Fatalf("%q: %v", text, err)
	}
	return n
}

func (l *lab) sum(text string) Sum {
	l.Helper()
	if text == "0" {
		return nil
	}
	return FromNode(l.node(text))
}

func (l *lab) angle(text string) Angle {
	l.Helper()
	a, ok := AngleFromNode(l.node(text))
	if !ok {
		l.Fatalf("%q is no angle", text)
	}
	return a
}

func (l *lab) polar(length, angle string) Offset {
	l.Helper()
	return Offset{Polar: true, Len: l.sum(length), Angle: l.angle(angle)}
}

func (l *lab) xy(x, y string) Offset {
	l.Helper()
	return Offset{DX: l.sum(x), DY: l.sum(y)}
}

func (l *lab) force(symbol, at, angle string, unknown bool) Force {
	l.Helper()
	return Force{Symbol: symbol, At: at, Dir: At(l.angle(angle)), Magnitude: l.sum(symbol), Unknown: unknown, Kind: Applied}
}

// weight is a known force straight down.
func (l *lab) weight(size, at string) Force {
	l.Helper()
	return Force{Symbol: "W" + at, At: at, Dir: At(Deg(-90)), Magnitude: l.sum(size), Kind: Weight}
}

// solve solves the body's rows about its first point.
func (l *lab) solve(b *Body, unknowns ...string) (Solution, error) {
	l.Helper()
	s := System{Rows: b.Ledger(Frame{Pivot: b.Points[0]}), Search: -1}
	for _, u := range unknowns {
		s.Unknowns, s.Names = append(s.Unknowns, l.index(u)), append(s.Names, u)
	}
	return s.Solve(l.values)
}

func (l *lab) near(what string, got, want float64) {
	l.Helper()
	if !(math.Abs(got-want) <= 1e-9*max(1, math.Abs(want))) {
		l.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}
