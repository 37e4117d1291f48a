package review

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode"

	"steelyard/problems"
	"steelyard/tutor"
)

// repeated is a reader of so many bytes of a pattern.
type repeated struct {
	pattern string
	left    int64
	at      int
}

func (r *repeated) Read(b []byte) (int, error) {
	if r.left <= 0 {
		return 0, io.EOF
	}
	n := int(min(int64(len(b)), r.left))
	for i := range n {
		b[i] = r.pattern[r.at]
		r.at = (r.at + 1) % len(r.pattern)
	}
	r.left -= int64(n)
	return n, nil
}

// A line of 100 MB is one damaged line, in the room of any other, and what
// comes after it is read.
func TestLineOf100MB(t *testing.T) {
	good := jsonl(t, worked(t, "tern").events...)
	for _, pattern := range []string{"x", "[", `{"a":`, `{"typed":"`, "\\", `"`, "\xff"} {
		r := NewReader(problems.Builtin())
		runtime.GC()
		var before, now runtime.MemStats
		runtime.ReadMemStats(&before)
		most := uint64(0)
		stop, done := make(chan bool), make(chan bool)
		go func() {
			defer close(done)
			tick := time.NewTicker(5 * time.Millisecond)
			for {
				runtime.ReadMemStats(&now)
				most = max(most, now.HeapAlloc)
				select {
				case <-stop:
					return
				case <-tick.C:
				}
			}
		}()
		in := io.MultiReader(&repeated{pattern: pattern, left: 100 << 20}, strings.NewReader("\n"+good))
		err := r.Read(context.Background(), "log", in)
		close(stop)
		<-done
		if err != nil {
			t.Fatal(err)
		}
		if grew := int64(most) - int64(before.HeapAlloc); grew > 48<<20 {
			t.Errorf("%q: a line of 100 MB took %d MB", pattern, grew>>20)
		}
		rep, err := r.Report(context.Background())
		if err != nil || rep.DamagedLines != 1 || rep.Damaged[0].Line != 1 || rep.Events != strings.Count(good, "\n") || len(rep.Altered) > 0 {
			t.Errorf("%q: %v, %+v, %d events", pattern, err, rep.Damaged, rep.Events)
		}
	}
}

func TestDamagedLinesAreSkippedAndPlaced(t *testing.T) {
	n := worked(t, "tern")
	lines := strings.Split(strings.TrimSuffix(jsonl(t, n.events...), "\n"), "\n")
	for _, c := range []struct{ name, bad, reason string }{
		{"not JSON", "hello", "is expected"},
		{"an array", `[1,2]`, "is expected"},
		{"nesting", strings.Repeat("[", 500_000), "is expected"},
		{"nesting in a field", `{"v":1,"typed":` + strings.Repeat("[", 500_000), `"typed"`},
		{"objects nested", `{"v":` + strings.Repeat(`{"v":`, 100_000), `"v"`},
		{"cut short", lines[3][:len(lines[3])/2], "cut short"},
		{"another version", strings.Replace(lines[3], `"v":1`, `"v":2`, 1), "version 2"},
		{"an unknown field", strings.Replace(lines[3], `"v":1`, `"v":1,"grade":"A"`, 1), `"grade"`},
		{"no id", strings.Replace(lines[3], `"id"`, `"cohort"`, 1), `"id" is missing`},
		{"a bad id", strings.Replace(lines[3], `"id":"`, `"id":"x`, 1), "UUIDv7"},
		{"two objects", lines[3] + lines[4], "more after"},
		{"a fraction of a try", strings.Replace(lines[3], `"try":`, `"try":0.`, 1), "whole number"},
		{"endless seconds", strings.Replace(lines[3], `"seconds":`, `"seconds":1e999`, 1), "seconds"},
		{"a kind that is none", strings.Replace(lines[3], `"kind":"`, `"kind":"re`, 1), "kind"},
		{"a long alias", strings.Replace(lines[3], `"learner":"`, `"learner":"`+strings.Repeat("k", 5000), 1), "5004 bytes"},
	} {
		if c.bad == lines[3] {
			t.Fatalf("%s: the line is not spoilt", c.name)
		}
		log := "\ufeff" + strings.Join(lines[:3], "\r\n") + "\n\n" + c.bad + "\n" + strings.Join(lines[3:], "\n") // without a newline at the end
		rep := reviewed(t, log)
		if rep.Events != len(lines) || rep.DamagedLines != 1 || rep.Damaged[0].Line != 5 || !strings.Contains(rep.Damaged[0].Reason, c.reason) {
			t.Errorf("%s: %d of %d events; damaged: %.300v", c.name, rep.Events, len(lines), fmt.Sprint(rep.Damaged))
		}
	}
}

// nasty is put into every field that takes any text.
var nasty = []string{
	"\x1b[2J\x1b]0;owned\x07", "=HYPERLINK(\"http://example.invalid\")", "+1+1", "@SUM(1)", "<script>alert(1)</script>", "\u202eevil\u2066", "a\r\nb\tc",
	"{{.}}", "%s%n", strings.Repeat("W", 3000), "\x00", "\"\\\"", "\ufeff\u200b",
}

// Whatever is typed or claimed, nothing in a report acts on a terminal, and
// every line fits.
func TestHostileTextIsInert(t *testing.T) {
	var log strings.Builder
	for i, text := range nasty {
		for _, spoil := range []func(*tutor.Event){
			func(e *tutor.Event) { e.Typed = text },
			func(e *tutor.Event) { e.Learner, e.Cohort, e.Set = text, text, text },
			func(e *tutor.Event) { e.Cell = text },
			func(e *tutor.Event) { e.Step = text },
			func(e *tutor.Event) { e.Body, e.Pivot = text, text },
			func(e *tutor.Event) { e.Problem = text },
			func(e *tutor.Event) { e.Slip = []string{text} },
			func(e *tutor.Event) { e.Given, e.Mode, e.ScenarioHash = text, text, text },
		} {
			n := worked(t, fmt.Sprintf("tern%d", i))
			for k := range n.events {
				if n.events[k].Kind == tutor.Answered {
					spoil(&n.events[k])
				}
			}
			log.WriteString(jsonl(t, n.events...))
		}
		fmt.Fprintf(&log, "{%q:\x1b[31m}\n%s\n\xff\xfe\n", text, text)
	}
	rep := reviewed(t, log.String())
	for _, look := range []Look{{}, {Plain: true, ASCII: true, Width: 60}, {Width: 100}} {
		var out bytes.Buffer
		if err := WriteText(&out, rep, look); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(out.String()) {
			line = strings.TrimSuffix(line, "\n")
			if n := len([]rune(line)); n > max(look.Width, 60) && n > 80 && look.Width < 100 || n > 100 {
				t.Errorf("%d columns: %q", n, line)
			}
			for _, r := range line {
				if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar || look.ASCII && r > '~' {
					t.Fatalf("%U in %q", r, line)
				}
			}
		}
	}
	text, err := json.Marshal(rep)
	if err != nil || !json.Valid(text) || bytes.ContainsAny(text, "<>\x1b\x00") {
		t.Errorf("the JSON is not inert: %v", err)
	}
}
