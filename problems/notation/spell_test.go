package notation

import "testing"

func TestSpell(t *testing.T) {
	for _, c := range [][2]string{
		{"plain text", "plain text"},
		{"−T L sin α + W₁ r₁", "-T L sin(alpha) + W_1 r_1"},
		{"cos θ · √(h) ÷ 2", "cos(theta) * sqrt(h) / 2"},
		{"sin²α ≤ ½ … “35°”", `sin^2alpha <= 1/2 ... "35 deg"`},
		{"H₂₁ x³", "H_2_1 x^3"},
		{"é \u202e 漢", `\u00e9 \u202e \u6f22`},
	} {
		if got := Spell(c[0]); got != c[1] {
			t.Errorf("Spell(%q) = %q, want %q", c[0], got, c[1])
		}
		if got := Spell(c[1]); got != c[1] {
			t.Errorf("Spell(%q) = %q, want it as it is", c[1], got)
		}
	}
}
