package page

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/lucasb-eyer/go-colorful"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor/review"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func written(tb testing.TB, rep *review.Report) string {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, rep); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

// small is a made-up review of a few learners.
func small(tb testing.TB) *review.Report {
	tb.Helper()
	data, err := os.ReadFile("testdata/small.json")
	if err != nil {
		tb.Fatal(err)
	}
	rep := &review.Report{}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(rep); err != nil {
		tb.Fatal(err)
	}
	return rep
}

// class is the review of the simulated class of 40 learners and 12 problems.
func class(tb testing.TB) *review.Report {
	tb.Helper()
	packed, err := os.Open("../../../testdata/class/class.jsonl.gz")
	if err != nil {
		tb.Fatal(err)
	}
	defer packed.Close()
	log, err := gzip.NewReader(packed)
	if err != nil {
		tb.Fatal(err)
	}
	r := review.NewReader(problems.Builtin())
	if err := r.Paths(context.Background(), log, "-"); err != nil {
		tb.Fatal(err)
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		tb.Fatal(err)
	}
	return rep
}

var (
	drawing = regexp.MustCompile(`(?s)(<svg[^>]*>\n<title.*?</desc>\n).*?</svg>`)
	styled  = regexp.MustCompile(`(?s)<style>.*?</style>`)
)

// The page of a small review, word for word but for the charts' insides and
// the style.
func TestGolden(t *testing.T) {
	got := styled.ReplaceAllString(drawing.ReplaceAllString(written(t, small(t)), "$1...</svg>"), "<style/>")
	const file = "testdata/small.html"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
		for i := range min(len(g), len(w)) {
			if g[i] != w[i] {
				t.Fatalf("%s:%d is not as it was; read the difference, and run with -update:\ngot  %s\nwant %s", file, i+1, g[i], w[i])
			}
		}
		t.Fatalf("%s has %d lines, want %d", file, len(g), len(w))
	}
}

// elements reads a page as XML, which it also is.
func elements(t *testing.T, page string) []xml.StartElement {
	t.Helper()
	var out []xml.StartElement
	d := xml.NewDecoder(strings.NewReader(page))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			at := d.InputOffset()
			t.Fatalf("%v, at byte %d: %s", err, at, page[max(0, at-120):min(int64(len(page)), at+40)])
		}
		if e, ok := token.(xml.StartElement); ok {
			out = append(out, e.Copy())
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// check finds fault with a page that fetches, runs or hides something, or that
// one who cannot see it could not find a way in.
func check(t *testing.T, page string) {
	t.Helper()
	ids, refs := map[string]bool{}, map[string]bool{}
	svgs, labelled := 0, 0
	for _, e := range elements(t, page) {
		for _, a := range e.Attr {
			name := a.Name.Local
			if strings.HasPrefix(name, "on") || name == "style" || slices.Contains([]string{"src", "href", "srcset", "action", "data", "poster"}, name) && !strings.HasPrefix(a.Value, "#") {
				t.Errorf("%s has %s=%q", e.Name.Local, name, a.Value)
			}
			if name == "href" {
				refs[a.Value[1:]] = true
			}
			if name == "aria-labelledby" {
				labelled++
				for id := range strings.FieldsSeq(a.Value) {
					refs[id] = true
				}
			}
			if name == "id" {
				if ids[a.Value] {
					t.Errorf("two elements are named %s", a.Value)
				}
				ids[a.Value] = true
			}
		}
		switch e.Name.Local {
		case "html":
			if attribute(e, "lang") != "en" {
				t.Error("the language is not told")
			}
		case "th":
			if attribute(e, "scope") == "" {
				t.Error("a table head without its scope")
			}
		case "svg":
			svgs++
			if attribute(e, "role") != "img" {
				t.Error("a chart that is no image to a reader of screens")
			}
		case "script", "link", "iframe", "object", "embed", "img", "foreignObject", "form", "base":
			t.Errorf("holds a %s", e.Name.Local)
		}
	}
	if svgs != labelled {
		t.Errorf("%d charts, %d with a name", svgs, labelled)
	}
	for id := range refs {
		if !ids[id] {
			t.Errorf("#%s leads nowhere", id)
		}
	}
	if !strings.Contains(page, "default-src 'none'") {
		t.Error("no policy")
	}
}

func TestClass(t *testing.T) {
	rep := class(t)
	page := written(t, rep)
	check(t, page)
	if n := strings.Count(page, "<svg"); n < 4+len(rep.Problems) {
		t.Errorf("%d charts", n)
	}
	for _, s := range rep.Headline {
		if len(s.Evidence) == 0 || !strings.Contains(page, ">"+s.Evidence[0].Typed+"</code>") {
			t.Errorf("%s is without its evidence", s.Code)
		}
	}
}

// A report of nothing makes a page that says so.
func TestNothing(t *testing.T) {
	page := written(t, &review.Report{})
	check(t, page)
	if !strings.Contains(page, "There is nothing in these logs") {
		t.Error("that there is nothing is not said")
	}
}

// Where there are fewer than five, no rate is told, and no chart drawn.
func TestSilence(t *testing.T) {
	few := review.Rate{Count: 2, N: 4, Rate: 0.5, Low: 0.15, High: 0.85}
	rep := &review.Report{Events: 1,
		Slips:    []review.SlipCost{{Name: "sense reversed", Learners: few, First: few}},
		Problems: []review.ProblemReport{{Problem: "davit-arm", RightFirst: few, Finished: few, Cells: []review.CellReport{{Step: "moment", Cell: "W", RightFirst: few}}}},
		Skills:   []review.SkillCurve{{Skill: "arm", Verdict: review.TooFew}},
		Students: []review.LearnerReport{{Learner: "heron", RightFirst: few}},
		Items:    []review.ItemSet{{Name: "problems", Silence: "4 learners met every item; at least 20 are needed", Items: []review.ItemStat{{Item: "davit-arm", N: 4}}}},
	}
	rep.Headline = rep.Slips
	page := written(t, rep)
	check(t, page)
	if strings.Contains(page, "<svg") || strings.Contains(page, "50\u202f%") {
		t.Error("something is told of four")
	}
	if !strings.Contains(page, "2 of 4 learners") || !strings.Contains(page, "at least 20 are needed") || strings.Count(page, silent) < 6 {
		t.Error("the silence is not told")
	}
}

// hostile is text that would do something if it got through.
const hostile = "</title></desc></svg></style></pre><script>alert('x')</script><img src=x onerror=\"alert(1)\">&amp;{{.}} \"q\" 'q' javascript:alert(1)" +
	"\x1b[31m\x00\u202e\u2028\x7f\xff ]]> --> =cmd|' /C calc'!A0"

// poison puts hostile text into every text of a value, and fills empty lists.
func poison(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(v.String() + hostile)
	case reflect.Pointer:
		if !v.IsNil() {
			poison(v.Elem())
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			return
		}
		for i := range v.NumField() {
			poison(v.Field(i))
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		}
		for i := range v.Len() {
			poison(v.Index(i))
		}
	case reflect.Array:
		for i := range v.Len() {
			poison(v.Index(i))
		}
	}
}

// Whatever the logs say, the page has no element that it would not have
// otherwise, and holds no control character.
func TestHostileText(t *testing.T) {
	inert := map[string]bool{}
	for _, e := range elements(t, written(t, small(t))) {
		inert[e.Name.Local] = true
	}
	rep := small(t)
	poison(reflect.ValueOf(rep).Elem())
	page := written(t, rep)
	check(t, page)
	for _, e := range elements(t, page) {
		if !inert[e.Name.Local] {
			t.Errorf("the text made an element: %s", e.Name.Local)
		}
	}
	for i, r := range page {
		if r != '\n' && r != '\u202f' && notation.Printable(string(r)) != string(r) {
			t.Fatalf("holds %q: %.80q", r, page[max(0, i-80):])
		}
	}
	if n := strings.Count(page, "</style>"); n != 1 {
		t.Errorf("%d ends of the style", n)
	}
	if !strings.Contains(page, "&lt;script&gt;alert(") || !strings.Contains(page, `\x1b[31m`) || !strings.Contains(page, `\xff`) {
		t.Error("the text is not shown as it is")
	}
}

// A report as large as may be makes a page that a browser can hold.
func TestLong(t *testing.T) {
	rep := small(t)
	long := strings.Repeat("x", 1<<20)
	for range 5000 {
		rep.Students = append(rep.Students, rep.Students[0])
		rep.Unpredicted = append(rep.Unpredicted, rep.Unpredicted[0])
		rep.Problems = append(rep.Problems, rep.Problems[0])
		rep.Damaged = append(rep.Damaged, rep.Damaged...)[:min(100, 2*len(rep.Damaged))]
	}
	rep.Students[0].Learner, rep.Unpredicted[0].Lines[0].Typed, rep.Damaged[0].Reason = long, long, long
	if page := written(t, rep); len(page) > 4<<20 {
		t.Errorf("%d bytes", len(page))
	} else if !strings.Contains(page, "more, which the page leaves out") {
		t.Error("what is left out is not told")
	}
}

var custom = regexp.MustCompile(`--(\w+): #([0-9a-f]{6});`)

// Text stands out from its ground by 4.5 to 1 or more, light and dark, by the
// formula of WCAG 2.1; marks do by 3 to 1.
func TestContrast(t *testing.T) {
	modes := strings.SplitN(style, "@media screen and (prefers-color-scheme: dark)", 2)
	if len(modes) != 2 {
		t.Fatal("there is no dark style")
	}
	for i, css := range modes {
		css, _, _ = strings.Cut(css, "}")
		light := map[string]float64{}
		for _, m := range custom.FindAllStringSubmatch(css, -1) {
			light[m[1]] = luminance(t, m[2])
		}
		if len(light) != 8 {
			t.Fatalf("mode %d has %d colours", i, len(light))
		}
		for _, ground := range []string{"ground", "panel"} {
			for ink, least := range map[string]float64{"strong": 4.5, "soft": 4.5, "fitted": 4.5, "faint": 3} {
				a, b := light[ink], light[ground]
				if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); ratio < least {
					t.Errorf("mode %d: %s on %s: %.2f, want %.1f", i, ink, ground, ratio, least)
				}
			}
		}
	}
}

// luminance is the relative luminance of a colour of six hexadecimal digits.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	c, err := colorful.Hex("#" + hex)
	if err != nil {
		t.Fatal(err)
	}
	r, g, b := c.LinearRgb()
	return 0.2126*r + 0.7152*g + 0.0722*b
}

// BenchmarkWrite writes the page of 40 learners and 12 problems; design
// figure: under 1 s.
func BenchmarkWrite(b *testing.B) {
	rep := class(b)
	for b.Loop() {
		if err := Write(io.Discard, rep); err != nil {
			b.Fatal(err)
		}
	}
}
