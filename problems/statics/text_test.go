package statics

import (
	"strings"
	"testing"
)

// What a textbook writes for a force times its arm.
func TestProductText(t *testing.T) {
	l := newLab(t)
	for _, c := range []struct{ force, arm, want, ascii string }{
		{"T", "0", "0", "0"},
		{"T", "1", "T", "T"},
		{"T", "-1", "−T", "-T"},
		{"T", "L sin(alpha)", "T L sin α", "T L sin(alpha)"},
		{"T", "L sin(180 - alpha)", "T L sin α", "T L sin(alpha)"},
		{"T", "L sin(90 + alpha)", "T L cos α", "T L cos(alpha)"},
		{"T", "L sin(-alpha)", "−T L sin α", "-T L sin(alpha)"},
		{"M g", "-L/2", "−M g L/2", "-M g L/2"},
		{"M g", "-(L/2) cos(alpha)", "−M g L/2 cos α", "-M g L/2 cos(alpha)"},
		{"N_w", "L sin(alpha)", "N_w L sin α", "N_w L sin(alpha)"},
		{"N_w", "L sin(alpha) - d sin(alpha)", "N_w (L − d) sin α", "N_w (L - d) sin(alpha)"},
		{"N_w", "d sin(alpha) - L/2 sin(alpha)", "N_w (d − L/2) sin α", "N_w (d - L/2) sin(alpha)"},
		{"N", "L cos(alpha) - a sin(alpha)", "N (L cos α − a sin α)", "N (L cos(alpha) - a sin(alpha))"},
		{"N", "a sin(alpha) cos(beta) - d sin(alpha) sin(beta)", "N (a cos β − d sin β) sin α", "N (a cos(beta) - d sin(beta)) sin(alpha)"},
		{"w", "L^2 - L d", "w L (L − d)", "w L (L - d)"},
		{"w L", "L/2 - a", "w L (L/2 − a)", "w L (L/2 - a)"},
		{"w L/2", "a - 2L/3", "w L (a − 2 L/3)/2", "w L (a - 2 L/3)/2"},
		{"w L", "L/2", "w L²/2", "w L^2/2"},
		{"w L/2", "2 L/3", "w L²/3", "w L^2/3"},
		{"-P", "b - a", "−P (b − a)", "-P (b - a)"},
		{"P", "-a - b", "−P (a + b)", "-P (a + b)"},
		{"P", "-a + b", "P (b − a)", "P (b - a)"},
		{"P b/L", "sin(alpha)", "(P b/L) sin α", "(P b/L) sin(alpha)"},
		{"P b/L", "a", "P b a/L", "P b a/L"},
		{"P/(L a)", "cos(beta)", "(P/(L a)) cos β", "(P/(L a)) cos(beta)"},
		{"1/L", "sin(alpha)", "(sin α)/L", "(sin(alpha))/L"},
		{"M g", "L tan(alpha)", "M g L tan α", "M g L tan(alpha)"},
		{"M g", "L/cos(alpha)", "M g L/cos(α)", "M g L/cos(alpha)"},
		{"T", "sin(alpha) cos(beta)", "T sin α cos β", "T sin(alpha) cos(beta)"},
		{"T", "sin(alpha + 30)", "T sin(α + 30°)", "T sin(alpha + 30 deg)"},
		{"T", "sin(beta - alpha)", "−T sin(α − β)", "-T sin(alpha - beta)"},
		{"T", "L sin(35)", "T L sin 35°", "T L sin(35 deg)"},
		{"T", "sin(2 alpha)", "T sin(2 α)", "T sin(2 alpha)"},
		{"T", "sin(alpha)^2", "T sin² α", "T sin^2(alpha)"},
		{"T", "sqrt(L^2 + a^2)", "T sqrt(L² + a²)", "T sqrt(L^2 + a^2)"},
		{"T", "a L/sqrt(L^2 + a^2)", "T a L/sqrt(L² + a²)", "T a L/sqrt(L^2 + a^2)"},
		{"T", "0.3 L", "0.3 T L", "0.3 T L"},
		{"T", "0.1 L + 0.2 L", "0.3 T L", "0.3 T L"},
		{"T", "L/3 + L/3", "2 T L/3", "2 T L/3"},
		{"T", "0.0000001 L", "1e-07 T L", "1e-07 T L"},
		{"K_1", "d", "K₁ d", "K_1 d"},
		{"M g + m g", "L", "M g L + m g L", "M g L + m g L"},
	} {
		if got := l.product(c.force, c.arm, false); deSqrt(got) != c.want {
			t.Errorf("%s times %s: %q, want %q", c.force, c.arm, got, c.want)
		}
		if got := l.product(c.force, c.arm, true); got != c.ascii {
			t.Errorf("%s times %s: %q, want %q in ASCII", c.force, c.arm, got, c.ascii)
		}
		l.readsBack(c.force, c.arm)
	}
}

// deSqrt writes the root sign as the word: which of the two is shown is the
// notation's choice.
func deSqrt(s string) string { return strings.ReplaceAll(s, "√", "sqrt") }

func (l *lab) product(force, arm string, ascii bool) string {
	l.Helper()
	return ProductText(l.sum(force), l.sum(arm), ascii, nil)
}

// readsBack checks that what is written of force times arm, typed again, has
// the product's value, whatever the symbols' values.
func (l *lab) readsBack(force, arm string) {
	l.Helper()
	for seed := range uint64(20) {
		l.shake(seed)
		want := 0.0
		if arm != "0" {
			want = eval(l.node(force), l) * eval(l.node(arm), l)
		}
		for _, ascii := range []bool{true, false} {
			for _, values := range [][]float64{nil, l.values} {
				text := ProductText(l.sum(force), l.sum(arm), ascii, values)
				l.near(text, eval(l.node(text), l), want)
			}
		}
	}
}

// A line of terms joins them with one sign each.
func TestRowText(t *testing.T) {
	l := newLab(t)
	b := Body{Name: "arm", Points: []Point{
		{Name: "A"}, {Name: "G", Chain: []Offset{l.polar("L/2", "0")}}, {Name: "B", Chain: []Offset{l.polar("L", "0")}},
	}}
	b.Forces = []Force{
		l.force("T", "B", "180 - alpha", true), l.force("H", "A", "0", true), l.force("V", "A", "90", true),
		l.weight("M g", "G"), l.weight("m g", "B"),
	}
	b.Couples = []Couple{{Symbol: "C", Magnitude: l.sum("C"), Sense: -1, Kind: Turning}}
	a, _ := b.Point("A")
	tip, _ := b.Point("B")
	for _, c := range []struct {
		kind  RowKind
		frame Frame
		want  string
	}{
		{RowMoment, Frame{Pivot: a}, "T L sin α − M g L/2 − m g L − C = 0"},
		{RowMoment, Frame{Pivot: a, Clockwise: true}, "−T L sin α + M g L/2 + m g L + C = 0"},
		{RowMoment, Frame{Pivot: tip}, "−V L + M g L/2 − C = 0"},
		{RowMoment, Frame{Pivot: tip, Reversed: map[string]bool{"V": true, "C": true}}, "V L + M g L/2 + C = 0"},
		{RowX, Frame{Pivot: a}, "−T cos α + H = 0"},
		{RowY, Frame{Pivot: a}, "T sin α + V − M g − m g = 0"},
		{RowX, Frame{Pivot: a, Tilt: l.angle("beta")}, "−T cos(α + β) + H cos β + V sin β − M g sin β − m g sin β = 0"},
		{RowX, Frame{Pivot: a, Reversed: map[string]bool{"H": true}}, "−T cos α − H = 0"},
	} {
		row := b.Row(c.kind, c.frame)
		if got := row.Text(false, l.values); got != c.want {
			t.Errorf("%s about %s: %q, want %q", c.kind, c.frame.Pivot.Name, got, c.want)
		}
	}
	bare := Body{Name: "bare", Points: b.Points, Forces: []Force{l.force("H", "A", "0", true)}}
	if row := bare.Row(RowY, Frame{Pivot: a}); row.Text(false, nil) != "0 = 0" {
		t.Errorf("an empty row is %q", row.Text(false, nil))
	}
}
