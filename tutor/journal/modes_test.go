package journal_test

import (
	"bytes"
	"maps"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// bench records in a journal by a clock that now and then is set back.
type bench struct {
	*journal.Journal
	session string
	now     time.Time
	rng     *rand.Rand
}

func (b *bench) Record(e *tutor.Event) error {
	b.now = b.now.Add(time.Duration(b.rng.IntN(30_000)) * time.Millisecond)
	if e.Kind != tutor.Finished && b.rng.IntN(30) == 0 {
		b.now = b.now.Add(-10 * time.Minute)
	}
	e.Learner, e.Session, e.At, e.Seconds = "otter", b.session, b.now, 1
	return b.Append(e)
}

// worked works a problem on terms, at random: right lines, wrong ones, ones that
// cannot be read, moves, hints, and the words of each mode.
func worked(t *testing.T, j *journal.Journal, id string, on tutor.Terms, rng *rand.Rand) {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	sc, err := problems.Builtin().Scenario(id)
	must(err)
	p, err := grading.Draw(sc, rng.Uint64N(50))
	must(err)
	s, err := tutor.Start(p, on)
	must(err)
	d, err := tutor.Sit(s, &bench{j, j.NewSession(), time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC), rng}, nil)
	must(err)
	for range 70 {
		task := d.Current()
		if task == nil {
			return
		}
		line := []string{"A", "done", "check", "own", "0", "))", "T at B toward C; W at G down", "1", "2.5 kN", "drop W", "", "go on"}[rng.IntN(12)]
		switch rng.IntN(9) {
		case 0:
			_, err = d.Hint()
		case 1:
			_, err = d.Undo()
		case 2:
			to := d.Tasks()[rng.IntN(len(d.Tasks()))]
			_, err = d.Go(to.Step, to.Cell)
		case 3:
			err = d.Choose(tutor.StepPositive, []string{"cw", "ccw"}[rng.IntN(2)])
		case 4:
			_, err = d.Answer(line)
		default:
			if task.Hints = 2; len(d.Lines()) > 0 && task.Step == tutor.StepForces {
				line = "done"
			} else if e, _, ok := d.Session.Hint(); ok {
				line = e.Typed
			}
			task.Hints = 0
			_, err = d.Answer(line)
		}
		must(err)
	}
	must(d.Leave())
	for on.Mode == tutor.Exam && !d.HandedIn() {
		_, err := d.Answer("hand in")
		must(err)
	}
}

// The schema describes what sessions of every mode write, kept lines, lines
// worked for the learner and the clock's notes among it.
func TestSchemaDescribesEveryMode(t *testing.T) {
	j, err := journal.OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	for i, on := range []tutor.Terms{
		{Mode: tutor.Guided, Hints: tutor.MaxHints},
		{Mode: tutor.Guided, Hints: tutor.MaxHints, Help: tutor.HelpWorked, Set: "tides"},
		{Mode: tutor.Guided, Hints: 1, Help: tutor.HelpHalf, Tolerance: 0.02, Set: "tides", Limit: 10 * time.Minute},
		{Mode: tutor.Practice, Hints: 2, Set: "tides", Limit: 20 * time.Minute, Used: time.Minute},
		{Mode: tutor.Exam},
		{Mode: tutor.Exam, Hints: 1, Tolerance: 0.05, Set: "tides", Limit: 8 * time.Minute},
	} {
		for k, id := range []string{"davit-arm", "two-bar-bracket", "trailer-braking"} {
			for n := range uint64(3) {
				worked(t, j, id, on, rand.New(rand.NewPCG(n, uint64(10*i+k))))
			}
		}
	}
	var log bytes.Buffer
	if _, err := journal.ExportJSONL(&log, j.Events(journal.Filter{})); err != nil {
		t.Fatal(err)
	}
	line, written := schema(t, ""), schema(t, "#/$defs/written")
	met := map[string]int{}
	for text := range strings.Lines(log.String()) {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []*jsonschema.Schema{line, written} {
			if err := s.Validate(v); err != nil {
				t.Fatalf("%s%v", text, err)
			}
		}
		e := v.(map[string]any)
		met[strings.TrimSpace(strings.Join([]string{e["mode"].(string), e["kind"].(string), what(e)}, " "))]++
	}
	for _, want := range []string{
		"guided hinted shown", "guided moved own", "guided moved time is up", "guided answered", "guided answered choice", "guided unread",
		"practice moved kept", "practice moved check", "practice answered", "practice unread", "practice moved set back", "practice hinted",
		"exam moved kept", "exam moved hand in", "exam moved time is up", "exam answered", "exam moved set back", "exam finished", "exam undone",
	} {
		if met[want] == 0 {
			t.Errorf("none of the logs has \"%s\"; they have %q", want, slices.Sorted(maps.Keys(met)))
		}
	}
}

// what tells events of a kind apart.
func what(e map[string]any) string {
	typed, _ := e["typed"].(string)
	step, _ := e["step"].(string)
	switch {
	case e["kind"] == "hinted" && typed != "":
		return "shown"
	case e["kind"] == "answered" && (step == "positive" || step == "axes"):
		return "choice"
	case e["kind"] != "moved" || typed == "":
	case step == "clock":
		return "set back"
	case step == "checking" || step == "hand-in" || step == "help":
		return typed
	default:
		return "kept"
	}
	return ""
}

func schema(t *testing.T, part string) *jsonschema.Schema {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "testdata", "log.schema.json") + part)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What the tutor never writes, the schema's description of it does not take.
func TestSchemaTellsModesApart(t *testing.T) {
	written := schema(t, "#/$defs/written")
	for _, c := range []struct {
		fields string
		takes  bool
	}{
		{`"mode":"exam","kind":"moved","step":"moment","cell":"T","typed":"T L"`, true},
		{`"mode":"guided","kind":"moved","step":"moment","cell":"T","typed":"T L"`, false}, // judged at once
		{`"mode":"exam","kind":"moved","step":"moment","typed":"T L","verdict":"right"`, false},
		{`"mode":"practice","kind":"moved","step":"checking","typed":"check"`, true},
		{`"mode":"exam","kind":"moved","step":"checking","typed":"check"`, false},
		{`"mode":"practice","kind":"moved","step":"hand-in","typed":"hand in"`, false},
		{`"mode":"practice","kind":"moved","step":"hand-in","typed":"time is up"`, true},
		{`"mode":"exam","kind":"moved","step":"clock","typed":"set back by 2m0s"`, true},
		{`"mode":"exam","kind":"moved","step":"clock","typed":"set on"`, false},
		{`"mode":"guided","kind":"hinted","step":"forces","hint_depth":3,"typed":"W at G down"`, true},
		{`"mode":"guided","kind":"hinted","step":"forces","hint_depth":3`, false},
		{`"mode":"guided","kind":"hinted","step":"forces","hint_depth":1,"typed":"W at G down"`, false},
		{`"mode":"exam","kind":"answered","step":"moment","typed":"T L","verdict":"wrong","try":1`, true},
		{`"mode":"exam","kind":"answered","step":"moment","typed":"T L","verdict":"wrong"`, false},
		{`"mode":"exam","kind":"answered","step":"moment","typed":"T L","verdict":"taken","try":1`, false},
		{`"mode":"guided","kind":"answered","step":"positive","typed":"cw","verdict":"right"`, true},
		{`"mode":"guided","kind":"began","typed":"hints=1 help=half-worked"`, true},
		{`"mode":"guided","kind":"began","typed":"as you like it"`, false},
		{`"mode":"free","kind":"began"`, false},
	} {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader("{" + c.fields + "}"))
		if err != nil {
			t.Fatal(err)
		}
		if err := written.Validate(v); (err == nil) != c.takes {
			t.Errorf("%s: %v", c.fields, err)
		}
	}
}
