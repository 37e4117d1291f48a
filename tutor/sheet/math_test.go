package sheet

import (
	"testing"

	"steelyard/problems/notation"
)

func TestMath(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"N_1", "<var>N</var><sub>1</sub>"},
		{"W₁ r₁", "<var>W</var><sub>1</sub>" + tight + "<var>r</var><sub>1</sub>"},
		{"mu_A", "<var>μ</var><sub>A</sub>"},
		{"T L sin α − M g L/2", "<var>T</var>" + tight + "<var>L</var>" + tight + "sin" + tight + "<var>α</var> − <var>M</var>" + tight + "<var>g</var>" + tight + "<var>L</var>/2"},
		{"-3116 × cos 22°", "−3116 × cos" + tight + "22°"},
		{"sin(2 alpha)", "sin(2" + tight + "<var>α</var>)"},
		{"m/(2 sin(α_1)) + cos(β)/L", "<var>m</var>/(2" + tight + "sin" + tight + "<var>α</var><sub>1</sub>) + cos(<var>β</var>)/<var>L</var>"},
		{"sin()", "sin()"},
		{"22 deg", "22°"},
		{"√(h · (2 · R − h))", `<span class="root">√<span class="bar"><var>h</var>` + tight + "·" + tight + "(2" + tight + "·" + tight + `<var>R</var> − <var>h</var>)</span></span>`},
		{"sqrt(L^2 + x_0^2)", `<span class="root">√<span class="bar"><var>L</var><sup>2</sup> + <var>x</var><sub>0</sub><sup>2</sup></span></span>`},
		{"√2 L²", `<span class="root">√<span class="bar">2</span></span>` + tight + "<var>L</var><sup>2</sup>"},
		{"x^(n + 1)", "<var>x</var><sup><var>n</var> + 1</sup>"},
		{"√(", `<span class="root">√<span class="bar"></span></span>(`},
		{"a < b & \"c\"<script>", "<var>a</var> &lt; <var>b</var>" + tight + "&amp;" + tight + "&#34;<var>c</var>&#34;&lt;<var>script</var>&gt;"},
		{"T\x1b[2J", "<var>T</var>\\<var>x</var>1<var>b</var>[2<var>J</var>"},
		{"", ""},
	} {
		if got := string(Math(c.line)); got != c.want {
			t.Errorf("Math(%q)\n got %s\nwant %s", c.line, got, c.want)
		}
	}
}

func TestProse(t *testing.T) {
	table, err := notation.NewTable(true, notation.Spec{Name: "alpha", Angle: true}, notation.Spec{Name: "a"}, notation.Spec{Name: "h"},
		notation.Spec{Name: "R"}, notation.Spec{Name: "N_r"}, notation.Spec{Name: "A"}, notation.Spec{Name: "I"}, notation.Spec{Name: "s"})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, want string }{
		{"at an angle alpha to a wall", "at an angle <var>α</var> to a wall"},
		{"E is a = sqrt(h(2R - h)) to the right", `E is <var>a</var> = <span class="root">√<span class="bar"><var>h</var>(2<var>R</var> − <var>h</var>)</span></span> to the right`},
		{"with a deceleration a. A force N_r", "with a deceleration <var>a</var>. A force <var>N</var><sub>r</sub>"},
		{"the inertia force I = M", "the inertia force <var>I</var> = M"},
		{"the hull's side - s or so", "the hull&#39;s side - <var>s</var> or so"},
		{"a <b>bold</b> claim & \"more\"", "a &lt;b&gt;bold&lt;/b&gt; claim &amp; &#34;more&#34;"},
		{"h^2 over R", "<var>h</var><sup>2</sup> over <var>R</var>"},
		{"points A and B", "points A and B"},
		{"  two\n lines\t", "two lines"},
	} {
		if got := string(Prose(c.text, table)); got != c.want {
			t.Errorf("Prose(%q)\n got %s\nwant %s", c.text, got, c.want)
		}
	}
}
