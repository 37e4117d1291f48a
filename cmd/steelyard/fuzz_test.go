package main

import (
	"bytes"
	"encoding/json"
	"io"
	"testing"
	"time"
	"unicode"

	"steelyard/grading"
	"steelyard/problems"
)

// Whatever is fed to grade, each line that is not blank gets one answer, in
// JSON, of which nothing could act on a terminal, and soon.
func FuzzGradeInput(f *testing.F) {
	f.Add([]byte(`{"problem":"davit-arm","seed":7,"pivot":"A","positive":"ccw","step":"moment","force":"T","answer":"T L sin(alpha)"}`))
	f.Add([]byte(`{"problem":"hull-ladder","seed":7,"step":"forces","answer":"N at A up; f at A right"}` + "\n" + `{"problem":"drum-kerb","step":"equation","row":"moment","answer":"P (R - h) = M g a"}`))
	f.Add([]byte(`{"problem":"winch-bar","step":"value","symbol":"F","answer":"359 N","equations":["F L = C","S_x = 0"]}` + "\n\n[]\nnull\n\"\x1b[2J\""))
	f.Add([]byte(`{"problem":"quay-plank","seed":3,"pivot":"E + 0.5 @ 0","tilt":20,"senses":{"N":"up"},"step":"y","force":"W","answer":"-W cos 20"}`))
	f.Add([]byte(`{"problem":"trailer-braking","given":["M=1000","a=3"],"step":"pivot","answer":"G"}`))
	f.Fuzz(func(t *testing.T, input []byte) {
		if len(input) > 1<<16 {
			return
		}
		var out bytes.Buffer
		a := &app{in: bytes.NewReader(input), out: &out, words: io.Discard}
		begin := time.Now()
		if err := a.grade(grading.NewService(problems.Builtin())); err != nil && err != errShort {
			t.Fatal(err)
		}
		lines := bytes.Count(input, []byte("\n")) + 1
		if spent := time.Since(begin); spent > 5*time.Second+time.Duration(lines)*100*time.Millisecond {
			t.Errorf("%d lines took %v", lines, spent)
		}
		want := 0
		for _, line := range bytes.Split(input, []byte("\n")) {
			if len(bytes.TrimSpace(line)) > 0 {
				want++
			}
		}
		dec := json.NewDecoder(&out)
		got := 0
		for {
			var r grading.Response
			err := dec.Decode(&r)
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			got++
			for _, text := range []string{r.Message, r.ReadsAs} {
				fit(t, text)
			}
		}
		if got != want {
			t.Errorf("%d answers to %d lines of %q", got, want, input)
		}
	})
}

// fit reports text that could act on a terminal, or hide in it.
func fit(t *testing.T, text string) {
	t.Helper()
	for _, r := range text {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			t.Errorf("%q holds %U", text, r)
			return
		}
	}
}
