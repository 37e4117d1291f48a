package review

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/tutor"
)

// A line that is read as an event is one to encoding/json too, and the same.
func FuzzRecord(f *testing.F) {
	for _, line := range strings.Split(jsonl(f, worked(f, "tern").events...), "\n") {
		f.Add([]byte(line))
	}
	for _, text := range nasty {
		f.Add([]byte(`{"typed":"` + text + `"}`))
	}
	f.Add([]byte(`{"v":1,"typed":"\ud83d\ude00\ud800\u0000","seconds":-1e-5,"slip":["a",""]}`))
	f.Fuzz(func(t *testing.T, line []byte) {
		var r record
		if r.read(line) != nil {
			return
		}
		var e tutor.Event
		dec := json.NewDecoder(bytes.NewReader(line))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&e); err != nil {
			t.Fatalf("read, but no event to encoding/json: %v\n%q", err, line)
		}
		for f, want := range [textFields]string{e.Learner, e.Cohort, e.Set, e.Problem, e.Given, e.ScenarioHash, e.Mode, e.Step, e.Body, e.Cell, e.Pivot, e.Typed} {
			if string(r.texts[f]) != want {
				t.Fatalf("field %d is %q, encoding/json has %q", f, r.texts[f], want)
			}
		}
		if r.seed != e.Seed || r.seconds != e.Seconds || int(r.try) != e.Try || int(r.hint) != e.HintDepth || string(kinds[r.kind]) != string(e.Kind) || r.at != e.At.UnixNano() || len(r.slips) != len(e.Slip) {
			t.Fatalf("%+v differs from %+v", r, e)
		}
	})
}

// Whatever a log holds, there is a report of it, and it can be shown.
func FuzzReview(f *testing.F) {
	n := worked(f, "tern")
	f.Add([]byte(jsonl(f, n.events...)))
	f.Add([]byte(strings.ReplaceAll(jsonl(f, n.events...), `"wrong"`, `"right"`)))
	f.Add([]byte(strings.ReplaceAll(jsonl(f, n.events...), `"moment"`, `"doubt"`)))
	f.Add([]byte(strings.ReplaceAll(jsonl(f, n.events...), `"guided"`, `"exam"`)))
	f.Add([]byte(strings.ReplaceAll(jsonl(f, n.events...), `"answered"`, `"undone"`)))
	bank := problems.Builtin()
	f.Fuzz(func(t *testing.T, log []byte) {
		r := NewReader(bank)
		if err := r.Read(context.Background(), "log", bytes.NewReader(log)); err != nil {
			t.Fatal(err)
		}
		rep, err := r.Report(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if rep.Events+rep.Duplicates+rep.DamagedLines < bytes.Count(bytes.TrimSpace(log), []byte("\n")) && !bytes.Contains(log, []byte("\n\n")) && !bytes.Contains(log, []byte("\n ")) && !bytes.Contains(log, []byte("\n\r")) && !bytes.Contains(log, []byte("\n\t")) {
			t.Fatalf("%d events, %d duplicates and %d damaged lines of %q", rep.Events, rep.Duplicates, rep.DamagedLines, log)
		}
		var out bytes.Buffer
		if err := WriteText(&out, rep, Look{}); err != nil || bytes.ContainsAny(out.Bytes(), "\x1b\x00\x07\r") {
			t.Fatalf("%v: %q", err, out.Bytes())
		}
		if _, err := json.Marshal(rep); err != nil {
			t.Fatal(err)
		}
	})
}
