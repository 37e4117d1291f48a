package figure

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestSVGLabels draws the whole bank in several states: no two texts may
// overlap, none may leave the frame, and every force, length, angle and load is
// named.
func TestSVGLabels(t *testing.T) {
	for _, s := range figures(t) {
		for seed := range uint64(4) {
			p := drawProblem(t, s, seed)
			v := everything(s)
			if seed%2 == 1 {
				v = anyView(rand.New(rand.NewPCG(seed, 9)), s)
			}
			for _, size := range [][2]float64{{560, 360}, {520, 290}, {350, 330}} { // of show, and of sheets
				if err := checkLetters(Build(p, v), size[0], size[1]); err != nil {
					t.Errorf("%s, seed %d, %v: %v", s.ID, seed, size, err)
				}
			}
		}
	}
}

func checkLetters(scene Scene, width, height float64) error {
	c := scene.onCanvas(width, height)
	for i, b := range c.boxes {
		if b.low.x < 0 || b.low.y < 0 || b.high.x > width || b.high.y > height {
			return fmt.Errorf("%q leaves the frame: %v", b.name, b.box)
		}
		for _, o := range c.boxes[:i] {
			if b.meets(o.box) {
				return fmt.Errorf("%q lies over %q", b.name, o.name)
			}
		}
	}
	for _, want := range mustName(scene) {
		if !slices.ContainsFunc(c.boxes, func(b lettered) bool { return b.name == want || strings.HasSuffix(b.name, ": "+want) }) {
			return fmt.Errorf("%q is nowhere", want)
		}
	}
	return nil
}

// mustName are the texts that a scene has to show.
func mustName(s Scene) (out []string) {
	for _, shape := range s.Shapes {
		switch s := shape.(type) {
		case Arrow:
			out = append(out, form{runs: symbols(s.Symbol)}.name())
		case Turn:
			out = append(out, form{runs: symbols(s.Symbol)}.name())
		case Length:
			out = append(out, form{runs: s.Caption.runs()}.name())
		case Spread:
			if s.Caption != (Caption{}) {
				out = append(out, form{runs: s.Caption.runs()}.name())
			}
		case Mark:
			if !s.Off && s.Name != "" {
				out = append(out, s.Name)
			}
		}
	}
	return out
}

// TestSVGWellFormed reads every figure as XML, looks at what it is made of, and
// that nothing is drawn outside the box it says it has.
func TestSVGWellFormed(t *testing.T) {
	elements := map[string]bool{"svg": true, "title": true, "desc": true, "rect": true, "line": true, "polyline": true, "polygon": true,
		"circle": true, "text": true, "tspan": true}
	colours := regexp.MustCompile(`(?:fill|stroke)="(#[0-9a-f]+|none)"`)
	for _, s := range figures(t) {
		p := drawProblem(t, s, 3)
		v := everything(s)
		v.Selected = firstWithArm(p, v)
		text := Build(p, v).SVG(560, 360)
		dec, inside, desc := xml.NewDecoder(strings.NewReader(text)), "", ""
		for {
			token, err := dec.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v\n%s", s.ID, err, text)
			}
			switch e := token.(type) {
			case xml.StartElement:
				inside = e.Name.Local
				if !elements[inside] {
					t.Errorf("%s: a %s element", s.ID, inside)
				}
				for _, a := range e.Attr {
					if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") || a.Name.Local == "href" {
						t.Errorf("%s: %s has %s=%q", s.ID, inside, a.Name.Local, a.Value)
					}
				}
			case xml.CharData:
				if inside == "desc" {
					desc += string(e)
				}
			case xml.EndElement:
				inside = ""
			}
		}
		if want := strings.Join(Words(p, v), " "); desc != want {
			t.Errorf("%s: told in words as %q, want %q", s.ID, desc, want)
		}
		for _, m := range colours.FindAllStringSubmatch(text, -1) {
			if !slices.Contains([]string{"#000", "#fff", "#f0f0f0", "#666", "none"}, m[1]) {
				t.Errorf("%s: drawn in %s", s.ID, m[1])
			}
		}
	}
}

// TestSVGHostile puts what would break out of an element or an attribute into
// every text of a scene.
func TestSVGHostile(t *testing.T) {
	const bad = `"><script>x</script>&]]>` + "\x1b[2J\x00"
	s := Scene{Title: bad, words: func() []string { return []string{bad} }, Shapes: []Shape{
		Line{Body, Vec{0, 0}, Vec{4, 0}},
		Arrow{Force, Vec{1, 0}, -1, false, bad}, Turn{Force, Vec{2, 0}, true, bad},
		Length{Vec{0, 0}, Vec{4, 0}, Caption{Symbol: bad, Number: bad, Unit: bad}},
		Mark{Point, Vec{4, 0}, bad, false, 0}, Mark{Pivot, Vec{0, 0}, bad, false, 1}, Word{Arm, Vec{3, 0}, bad},
		Corner{Vec{0, 0}, 0, 1, [2]bool{true, true}, Caption{Symbol: bad}},
	}}
	text := s.SVG(900, 500)
	if strings.Contains(text, "<script") || strings.ContainsAny(text, "\x1b\x00") || !utf8.ValidString(text) {
		t.Errorf("what is hostile got through:\n%s", text)
	}
	dec := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestSymbolsSet(t *testing.T) {
	for _, c := range []struct {
		text string
		want []run
	}{
		{"N_1", []run{{text: "N", slanted: true}, {text: "1", lowered: true}}},
		{"mu_A", []run{{text: "μ", slanted: true}, {text: "A", lowered: true}}},
		{"alpha", []run{{text: "α", slanted: true}}},
		{"L/2", []run{{text: "L", slanted: true}, {text: "/2"}}},
		{"2 r cos(beta)", []run{{text: "2 "}, {text: "r", slanted: true}, {text: " "}, {text: "cos"}, {text: "("}, {text: "β", slanted: true}, {text: ")"}}},
	} {
		if got := symbols(c.text); !slices.Equal(got, c.want) {
			t.Errorf("%q is set as %+v, want %+v", c.text, got, c.want)
		}
	}
	if got := (Caption{Symbol: "I_1", Number: "4", Unit: "kg m^2"}).runs(); got[len(got)-1].text != " = 4 kg m²" {
		t.Errorf("the value is set as %q", got[len(got)-1].text)
	}
}

// TestSVGToScale measures the drawn slope of a ladder.
func TestSVGToScale(t *testing.T) {
	s := scenario(t, "hull-ladder")
	for seed := range uint64(10) {
		p := drawProblem(t, s, seed)
		i, _ := p.Table.Index("alpha")
		c := Build(p, View{}).onCanvas(560, 360)
		b := &builder{p: p, values: p.Values}
		foot, top := c.at(b.at("A")), c.at(b.at("B"))
		if got := math.Atan2(foot.y-top.y, top.x-foot.x); math.Abs(got-p.Values[i]) > 1e-9 {
			t.Errorf("seed %d: the ladder stands at %v, want %v", seed, got, p.Values[i])
		}
	}
}

// TestSVGSizes draws in boxes of any size.
func TestSVGSizes(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	v := everything(p.Scenario)
	for _, size := range [][2]int{{-5, 10}, {0, 0}, {1, 1}, {40, 400}, {400, 40}, {4000, 3000}} {
		if text := Build(p, v).SVG(size[0], size[1]); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
			t.Errorf("%v: not a number in\n%s", size, text)
		}
	}
	for _, c := range [][]string{{"L=1e6", "alpha=89.9"}, {"L=0.001", "alpha=0.01"}} {
		p, err := scenario(t, "davit-arm").Enter(1, c, nil)
		if err != nil {
			t.Fatal(err)
		}
		if text := Build(p, v).SVG(560, 360); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || len(text) > 200_000 {
			t.Errorf("%v: %d bytes", c, len(text))
		}
	}
	if text := (Scene{}).SVG(100, 100); !strings.Contains(text, "<svg") {
		t.Errorf("an empty scene is drawn as %q", text)
	}
}
