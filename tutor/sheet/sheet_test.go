package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func written(tb testing.TB, o Options, variants ...Variant) string {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, o, variants); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

func one(p *problems.Problem) Variant { return Variant{Problems: []*problems.Problem{p}} }

var both = Options{Sheet: true, Key: true}

func scenario(t *testing.T, file string) *problems.Scenario {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := problems.Read(file, data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var (
	drawn  = regexp.MustCompile(`(?s)<svg.*?</svg>`)
	styled = regexp.MustCompile(`(?s)<style>.*?</style>`)
	hashed = regexp.MustCompile(`scenario [0-9a-f]{16}`)
)

// The documents word for word, but for the figure, which has golden files of
// its own, and the style.
func TestGolden(t *testing.T) {
	for name, s := range map[string]*problems.Scenario{
		"davit-arm":   scenario(t, "../../problems/bank/davit-arm.toml"),
		"step-ladder": scenario(t, "../../problems/testdata/step-ladder.toml"),
	} {
		p, err := grading.Draw(s, 7)
		if err != nil {
			t.Fatal(err)
		}
		got := written(t, both, one(p))
		got = hashed.ReplaceAllString(styled.ReplaceAllString(drawn.ReplaceAllString(got, "<svg/>"), "<style/>"), "scenario ...")
		file := "testdata/" + name + ".html"
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
			t.Errorf("%s is not as it was; read the difference, and run with -update:\n%s", file, firstDifference(got, string(want)))
		}
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + w[i]
		}
	}
	return "one is longer"
}

// tags reads a document as XML, which it also is, and gives its elements; it
// fails on one that is not closed, or on what HTML would have to guess at.
func tags(t *testing.T, document string) []xml.StartElement {
	t.Helper()
	var out []xml.StartElement
	d := xml.NewDecoder(strings.NewReader(document))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("%v, at byte %d: %s", err, d.InputOffset(), document[max(0, d.InputOffset()-80):min(int64(len(document)), d.InputOffset()+40)])
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

// Every problem there is makes a document that is well formed, needs nothing
// from elsewhere, and can be found one's way in without seeing it.
func TestWholeBank(t *testing.T) {
	for _, s := range scenarios(t) {
		p := draw(t, s, 3)
		text := written(t, Options{Sheet: true, Key: true, Paper: Letter}, Variant{"A", []*problems.Problem{p}}, Variant{"B", []*problems.Problem{p}})
		ids := map[string]bool{}
		svgs, names := 0, 0
		for _, e := range tags(t, text) {
			for _, a := range e.Attr {
				if strings.HasPrefix(a.Name.Local, "on") || slices.Contains([]string{"src", "href", "srcset", "action", "data"}, a.Name.Local) && !strings.HasPrefix(a.Value, "#") {
					t.Errorf("%s: %s has %s=%q", p.ID, e.Name.Local, a.Name.Local, a.Value)
				}
			}
			if id := attribute(e, "id"); id != "" {
				if ids[id] {
					t.Errorf("%s: two elements are named %s", p.ID, id)
				}
				ids[id] = true
			}
			switch e.Name.Local {
			case "html":
				if attribute(e, "lang") != "en" {
					t.Errorf("%s: the language is not told", p.ID)
				}
			case "th":
				if attribute(e, "scope") == "" {
					t.Errorf("%s: a table head without its scope", p.ID)
				}
			case "svg":
				svgs++
			case "title", "desc":
				names++
			case "script", "link", "iframe", "object", "embed", "img", "foreignObject":
				t.Errorf("%s: holds a %s", p.ID, e.Name.Local)
			}
		}
		want := 2 + 2*len(p.Bodies)
		if svgs != want || names != 2*svgs+1 {
			t.Errorf("%s: %d figures and %d names for them, want %d", p.ID, svgs, names, want)
		}
		for _, outside := range []string{"@import", "url(http", "//fonts"} {
			if strings.Contains(text, outside) {
				t.Errorf("%s: holds %s", p.ID, outside)
			}
		}
		if p.Caution != "" && strings.Count(text, `class="caution"`) != 4 {
			t.Errorf("%s: the caution is not on every sheet and in every key", p.ID)
		}
	}
}

// hostile is text that would do something if it got through.
const hostile = `</title></desc></svg></style><script>alert('x')</script><img src=x onerror="alert(1)">&amp;&lt;{{.}} "q" 'q'`

// Whatever a scenario file says, the document has the same elements as before:
// text stays text, and nothing in it is a control character.
func TestHostileText(t *testing.T) {
	data, err := os.ReadFile("../../problems/bank/davit-arm.toml")
	if err != nil {
		t.Fatal(err)
	}
	quoted := "'''" + hostile + "'''"
	file := string(data)
	for old, new := range map[string]string{
		`"A davit's arm and its stay"`: "'''" + hostile[:40] + "'''",
		`"length of the arm"`:          quoted,
		`"tension in the stay"`:        quoted,
		`"weight of the arm"`:          quoted,
		`"hinge"`:                      quoted,
		`"tip"`:                        quoted,
		`A uniform level arm AB`:       hostile + ` A uniform level arm AB`,
		"name = \"arm\"":               "name = " + quoted,
		`"As the stay is led ever flatter (alpha falls toward 0), the tension T:"`: quoted,
	} {
		if !strings.Contains(file, old) {
			t.Fatalf("%s is not in the file", old)
		}
		file = strings.Replace(file, old, new, 1)
	}
	file = strings.Replace(file, `"Coursework: real lifting gear is rigged by local codes, the gear's rating and licensed practice."`, quoted, 1)
	file = strings.Replace(file, "[limit]", "[[asks]]\nquestion = "+quoted+"\n[[asks.answers]]\ntext = "+quoted+"\nwhen = \"T > 0\"\n[[asks.answers]]\ntext = \"no\"\nwhen = \"T < 0\"\n\n[limit]", 1)
	bad, err := problems.Read("hostile.toml", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	// The reader refuses control characters; the page does not count on it.
	const control = "\x1b[31m\x00\u202e\u2028\x7f"
	bad.Title += control
	bad.Statement += control
	bad.Caution += control
	bad.Limit.Question += control
	bad.Givens[0].Meaning += control
	bad.Unknowns[0].Meaning += control
	bad.Bodies[0].Points[0].Meaning += control
	bad.Bodies[0].Forces[0].Meaning += control
	p := draw(t, bad, 7)
	o := Options{Sheet: true, Key: true, Title: hostile + control}
	text := written(t, o, Variant{"A", []*problems.Problem{p}}, Variant{"B", []*problems.Problem{p}})

	inert := map[string]bool{"html": true, "head": true, "body": true, "main": true, "meta": true, "title": true, "style": true}
	benign := draw(t, scenario(t, "../../problems/bank/davit-arm.toml"), 7)
	for _, e := range tags(t, written(t, both, Variant{"A", []*problems.Problem{benign}}, Variant{"B", []*problems.Problem{benign}})) {
		inert[e.Name.Local] = true
	}
	for _, e := range tags(t, text) {
		if !inert[e.Name.Local] {
			t.Errorf("the text made an element: %s", e.Name.Local)
		}
	}
	if n := strings.Count(text, "</style>"); n != 1 {
		t.Errorf("%d ends of the style", n)
	}
	for i, r := range text {
		if r != '\n' && r != '\u00a0' && r != '\u202f' && notation.Printable(string(r)) != string(r) {
			t.Fatalf("holds %q: %.80q", r, text[max(0, i-60):])
		}
	}
	if !strings.Contains(text, "&lt;script&gt;alert(") || !strings.Contains(text, `\x1b[31m`) {
		t.Error("the text is not shown as it is")
	}
}

// What tells the answer is in the key alone.
func TestSheetTellsNoAnswer(t *testing.T) {
	for _, s := range scenarios(t) {
		p := draw(t, s, 3)
		text := written(t, Options{Sheet: true}, one(p))
		if strings.Contains(text, "class=\"came\"") || strings.Contains(text, "answer key") {
			t.Errorf("%s: the key is on the sheet", p.ID)
		}
		for _, u := range p.Unknowns {
			value := number(p.In(u.Index, u.Unit), 0)
			if len(strings.Trim(value, "0.−")) >= 4 && strings.Contains(anyTag.ReplaceAllString(text, " "), value) {
				t.Errorf("%s: the sheet says %s, the value of %s", p.ID, value, u.Symbol)
			}
		}
	}
}

// The key's table of variants has every answer of every variant.
func TestVariantTable(t *testing.T) {
	s := scenario(t, "../../problems/bank/hull-ladder.toml")
	var all []Variant
	for i := range 3 {
		all = append(all, Variant{string(rune('A' + i)), []*problems.Problem{draw(t, s, uint64(10+i))}})
	}
	text := written(t, both, all...)
	_, table, _ := strings.Cut(text, `<table class="variants">`)
	table, _, _ = strings.Cut(table, "</table>")
	for _, v := range all {
		p := v.Problems[0]
		_, row, ok := strings.Cut(table, `<th scope="row">`+v.Label+`</th>`)
		if !ok {
			t.Fatalf("no row for variant %s", v.Label)
		}
		row, _, _ = strings.Cut(row, "</tr>")
		for _, u := range p.Unknowns {
			if value := withUnit(number(p.In(u.Index, u.Unit), 0), u.Unit.Name); !strings.Contains(row, "<td>"+value+"</td>") {
				t.Errorf("variant %s: %s is not in its row: %s", v.Label, value, row)
			}
		}
		if trend, err := p.Trend(); err != nil || !strings.Contains(row, string(trend)) {
			t.Errorf("variant %s: %s, %v is not in its row", v.Label, trend, err)
		}
	}
}

// BenchmarkWrite writes one problem's sheet and key; design figure: under 20 ms.
func BenchmarkWrite(b *testing.B) {
	var all []*problems.Problem
	for _, s := range scenarios(b) {
		all = append(all, draw(b, s, 1))
	}
	i := 0
	for b.Loop() {
		if err := Write(io.Discard, both, []Variant{one(all[i%len(all)])}); err != nil {
			b.Fatal(err)
		}
		i++
	}
}
