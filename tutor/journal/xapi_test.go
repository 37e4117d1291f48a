package journal

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"steelyard/tutor"
)

func xapiSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "testdata", "xapi.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func statements(t testing.TB, x *XAPI, j *Journal) string {
	t.Helper()
	var out bytes.Buffer
	n, err := x.Export(&out, j.Events(Filter{}))
	if err != nil {
		t.Fatal(err)
	}
	var got []any
	if err := json.Unmarshal(out.Bytes(), &got); err != nil || len(got) != n {
		t.Fatalf("%d statements in the array, %d said, %v", len(got), n, err)
	}
	return out.String()
}

func newXAPI(t testing.TB, home string) *XAPI {
	t.Helper()
	x, err := NewXAPI(home)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Statements of every kind, and of what nobody should have typed, keep to the
// standard's rules.
func TestStatementsMatchTheSchema(t *testing.T) {
	schema := xapiSchema(t)
	every := memory(t)
	session := every.NewSession()
	for _, k := range kinds {
		e := event(session, k)
		e.HintDepth, e.Seconds, e.Set, e.Given = 2, 0.004, "quayside", "L=5"
		record(t, every, e)
	}
	e := answer(session)
	e.Learner, e.Problem, e.Step = "", "..", "."
	record(t, every, e)
	later := answer(session) // kept, to be judged when the paper is handed in
	later.Kind, later.Verdict, later.Slip = tutor.Moved, "", nil
	record(t, every, later)
	x := newXAPI(t, "")
	x.Scaled = func(string) (float64, bool) { return 0.825, true }
	for what, j := range map[string]*Journal{"every kind": every, "hostile lines": hostileJournal(t), "nothing": memory(t)} {
		out := statements(t, x, j)
		if err := valid(schema, out); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		for _, r := range out {
			if r != '\n' && !unicode.IsGraphic(r) {
				t.Fatalf("%s: %U raw", what, r)
			}
		}
	}
}

// The schema does refuse what the standard forbids.
func TestSchemaOfStatementsRefuses(t *testing.T) {
	schema := xapiSchema(t)
	j := memory(t)
	e := answer(j.NewSession())
	e.Set = "quayside"
	record(t, j, e)
	good := statements(t, newXAPI(t, ""), j)
	if err := valid(schema, good); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ what, from, to string }{
		{"an id that is no UUID", `"id":"0`, `"id":"x`},
		{"an old version", `"2.0.0"`, `"1.0.3"`},
		{"a verb that is no IRI", `"http://adlnet.gov/expapi/verbs/answered"`, `"answered"`},
		{"a verb that voids", `verbs/answered`, `verbs/voided`},
		{"a display in no language", `"display":{"en":"answered"}`, `"display":{"e n":"answered"}`},
		{"a display that is a text", `"display":{"en":"answered"}`, `"display":"answered"`},
		{"two identifiers", `"account":`, `"mbox":"mailto:otter@lab.example","account":`},
		{"an account without a home", `"homePage":"https://steelyard.invalid",`, ``},
		{"a home that is no address", `"homePage":"https://steelyard.invalid"`, `"homePage":"urn:steelyard"`},
		{"a null", `"success":false`, `"success":null`},
		{"success in words", `"success":false`, `"success":"no"`},
		{"a duration in seconds", `"PT14.25S"`, `"14.25"`},
		{"a duration without end", `"PT14.25S"`, `"PT"`},
		{"a score above 1", `"success":false`, `"score":{"scaled":1.1}`},
		{"an extension without an IRI", `"https://steelyard.invalid/xapi/kind"`, `"kind"`},
		{"an activity with a space in its id", `/problem/davit-arm`, `/problem/davit arm`},
		{"a property of our own", `"version"`, `"seed":7,"version"`},
		{"no time zone", `Z","version"`, `","version"`},
		{"a registration that is no UUID", `"registration":"0`, `"registration":"x`},
	} {
		bad := strings.Replace(good, c.from, c.to, 1)
		if bad == good {
			t.Errorf("%s: %q is not in the statement", c.what, c.from)
		}
		if valid(schema, bad) == nil {
			t.Errorf("%s passes", c.what)
		}
	}
}

// One answer as a statement, whole.
func TestStatement(t *testing.T) {
	j := memory(t)
	e := answer("019cadc7-7541-7446-934f-a3b1a466f71f")
	e.ID, e.At = "019cadc9-70d9-7204-a29b-8e1345efef55", time.Date(2026, 3, 2, 9, 3, 5, 945e6, time.UTC)
	e.Learner, e.Set = "ötter", "quay side"
	record(t, j, e)
	const want = `[
{"id":"019cadc9-70d9-7204-a29b-8e1345efef55",` +
		`"actor":{"objectType":"Agent","account":{"homePage":"https://lab.example/statics","name":"ötter"}},` +
		`"verb":{"id":"http://adlnet.gov/expapi/verbs/answered","display":{"en":"answered"}},` +
		`"object":{"objectType":"Activity","id":"https://lab.example/statics/problem/davit-arm/7/line/moment/arm/T",` +
		`"definition":{"name":{"en":"davit-arm, arm, moment, T"},"type":"http://adlnet.gov/expapi/activities/question"}},` +
		`"result":{"success":false,"response":"T L sin(alpha)","duration":"PT14.25S"},` +
		`"context":{"registration":"019cadc7-7541-7446-934f-a3b1a466f71f","platform":"Steelyard","language":"en",` +
		`"contextActivities":{"parent":[{"objectType":"Activity","id":"https://lab.example/statics/problem/davit-arm/7",` +
		`"definition":{"name":{"en":"davit-arm"},"type":"http://adlnet.gov/expapi/activities/assessment"}}],` +
		`"grouping":[{"objectType":"Activity","id":"https://lab.example/statics/set/quay%20side"}]},` +
		`"extensions":{"https://steelyard.invalid/xapi/body":"arm","https://steelyard.invalid/xapi/cell":"T",` +
		`"https://steelyard.invalid/xapi/cohort":"lab-3","https://steelyard.invalid/xapi/kind":"answered",` +
		`"https://steelyard.invalid/xapi/mode":"guided","https://steelyard.invalid/xapi/pivot":"A",` +
		`"https://steelyard.invalid/xapi/positive":"ccw","https://steelyard.invalid/xapi/scenario_hash":"9f2c41d07a",` +
		`"https://steelyard.invalid/xapi/seed":"7","https://steelyard.invalid/xapi/slip":["sine-cosine","sense"],` +
		`"https://steelyard.invalid/xapi/step":"moment","https://steelyard.invalid/xapi/try":2,` +
		`"https://steelyard.invalid/xapi/verdict":"wrong"}},` +
		`"timestamp":"2026-03-02T09:03:05.945Z","version":"2.0.0"}
]
`
	if got := statements(t, newXAPI(t, "https://lab.example/statics/"), j); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestXAPIHome(t *testing.T) {
	for _, bad := range []string{"lab.example", "mailto:otter@lab.example", "https://", "/lab", "https://lab.example?x", "https://me:it@lab.example", "\x1b[2J"} {
		if _, err := NewXAPI(bad); err == nil || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q as the home of accounts: %v", bad, err)
		}
	}
}

func TestDurations(t *testing.T) {
	for seconds, want := range map[float64]string{0: "", 0.004: "", 0.005: "PT0.01S", 14.25: "PT14.25S", 3600: "PT3600S", 1e7: "PT10000000S"} {
		if got := duration(seconds); got != want {
			t.Errorf("%v s is %q, want %q", seconds, got, want)
		}
	}
}

// Only what was right is a success, and a line that could not be read is
// neither.
func TestResults(t *testing.T) {
	x := newXAPI(t, "")
	for verdict, want := range map[string]bool{"right": true, "remark": true, "wrong": false} {
		if r := x.result(&tutor.Event{Kind: tutor.Answered, Verdict: verdict}); *r.Success != want || r.Score != nil {
			t.Errorf("%s: %+v", verdict, r)
		}
	}
	if r := x.result(&tutor.Event{Kind: tutor.Unread, Typed: "T L ("}); r.Success != nil || r.Response != "T L (" {
		t.Errorf("unread: %+v", r)
	}
	if r := x.result(&tutor.Event{Kind: tutor.Left}); *r.Completion {
		t.Errorf("left: %+v", r)
	}
	x.Scaled = func(s string) (float64, bool) { return 0.5, s == "mine" }
	if r := x.result(&tutor.Event{Kind: tutor.Finished, Session: "mine"}); !*r.Completion || r.Score.Scaled != 0.5 {
		t.Errorf("finished: %+v", r)
	}
	if r := x.result(&tutor.Event{Kind: tutor.Finished, Session: "other"}); !*r.Completion || r.Score != nil {
		t.Errorf("finished, without a score: %+v", r)
	}
	if r := x.result(&tutor.Event{Kind: tutor.Moved}); r != nil {
		t.Errorf("moved: %+v", r)
	}
	r := x.result(&tutor.Event{Kind: tutor.Moved, Step: "moment", Typed: "T L"})
	if r == nil || r.Response != "T L" || r.Success != nil {
		t.Errorf("kept for later: %+v", r)
	}
	if r := x.result(&tutor.Event{Kind: tutor.Moved, Step: string(tutor.StepHandIn), Typed: "hand in"}); r != nil {
		t.Errorf("handed in: %+v", r)
	}
}
