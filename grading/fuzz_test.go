package grading

import (
	"encoding/json"
	"flag"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// slow is above what any verdict needs, and far below what a learner would
// notice. What a fuzzer runs is instrumented, and has ten times as long.
var slow = sync.OnceValue(func() time.Duration {
	limit := 5 * time.Millisecond * slowBy
	for _, name := range []string{"test.fuzz", "test.fuzzworker"} {
		if f := flag.Lookup(name); f != nil && f.Value.String() != "" && f.Value.String() != "false" {
			return 10 * limit
		}
	}
	return limit
})

// quickest is the least time that f takes, tried again while it is slow: a
// fuzzer's worker may be taken off its processor.
func quickest(f func()) time.Duration {
	least := time.Hour
	for range 5 {
		start := time.Now()
		f()
		if least = min(least, time.Since(start)); least < slow() {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	return least
}

// sound checks what must hold of every verdict.
func sound(t *testing.T, v Verdict, took time.Duration, of string) {
	t.Helper()
	switch v.Outcome {
	case Right, Remarked, Wrong, Unreadable:
	default:
		t.Errorf("%q: outcome %q", of, v.Outcome)
	}
	if took > slow() {
		t.Errorf("%q: took %v", of, took)
	}
	for _, text := range append([]string{v.Message, v.ReadsAs}, v.Slips...) {
		if notation.Printable(text) != text {
			t.Errorf("%q: does not print: %q", of, text)
		}
	}
	if v.Outcome == Unreadable && (v.At < 1 || v.Message == "") {
		t.Errorf("%q: unreadable, at %d, %q", of, v.At, v.Message)
	}
	if v.Earned() && v.Outcome == Right && len(v.Slips) > 0 {
		t.Errorf("%q: right, with %v", of, v.Slips)
	}
	if len([]rune(v.Message)) > 600 {
		t.Errorf("%q: %d characters of message", of, len([]rune(v.Message)))
	}
}

// No request, whatever is in its fields, may panic, hang, or be answered with
// what acts on a terminal.
func FuzzRequest(f *testing.F) {
	for i, c := range corpus(f) {
		if i%9 == 0 {
			line, err := json.Marshal(c.request)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(line)
		}
	}
	for _, line := range []string{
		`{"problem":"davit-arm","seed":7,"pivot":"A + 1e300 @ 0","step":"moment","force":"T","answer":"T"}`,
		`{"problem":"davit-arm","tilt":1e308,"step":"x","force":"T","answer":"-T cos(alpha)"}`,
		`{"problem":"davit-arm","given":["L=0"],"step":"value","symbol":"T","answer":"1 N"}`,
		`{"problem":"davit-arm","given":["L=1e-300","M=1e300"],"step":"equation","row":"moment","answer":"T=M"}`,
		`{"problem":"drum-kerb","senses":{"P":"up","H":"\u202e"},"step":"forces","answer":"P at O \u001b[2J"}`,
		`{"problem":"hull-ladder","step":"value","symbol":"f","answer":"1 N","equations":["f=N","f=N","f=2N","0=0","="]}`,
		`{"problem":"davit-arm","seed":7,"pivot":"A","step":"system","answer":"H = T cos(alpha); V = W/2\n\u202e","equations":["0=0","1/T = 0","T^64 = H"]}`,
		`{"problem":"davit-arm","given":["L=1e-300","M=1e300"],"step":"system","answer":"T=M; H=1e300 T; V=V^-64"}`,
		`{"problem":"hull-ladder-limit","senses":{"f":"left","N":"down"},"step":"system","answer":"f = -N_w; d = 1e308 f; sqrt(d) = N"}`,
		`{"problem":"hull-ladder","seed":3,"step":"system","answer":"` + strings.Repeat("1.37 N_w L sin(alpha) - 1.1 W L cos(alpha) + 2.2 f = 12.5 N d;", 32) + `"}`,
		`{"problem":"winch-bar","positive":"cw","step":"moment","force":"C","answer":"C^64^64"}`,
		`{"problem":"winch-bar","pivot":"S + (L - L, 0)","step":"pivot","answer":"S + (1/0, 0)"}`,
	} {
		f.Add([]byte(line))
	}
	s := NewService(problems.Builtin())
	f.Fuzz(func(t *testing.T, line []byte) {
		var r Request
		if len(line) > 4096 || json.Unmarshal(line, &r) != nil {
			return
		}
		var v Verdict
		var err error
		took := quickest(func() { v, err = s.Grade(r) })
		if lines := 1 + len(r.Equations) + strings.Count(r.Answer, ";") + strings.Count(r.Answer, "\n"); r.Step == "system" || r.Step == "value" {
			took /= time.Duration(min(lines, 2*MaxListed)) // a line is an input
		}
		switch {
		case err == nil:
			sound(t, v, took, string(line))
		case notation.Printable(err.Error()) != err.Error():
			t.Errorf("%q: error does not print: %q", line, err)
		case took > slow() && !strings.HasPrefix(err.Error(), r.Problem): // a scenario is drawn again and again before it is said that it cannot be
			t.Errorf("%q: took %v to refuse: %v", line, took, err)
		}
	})
}

// No list of forces may panic, hang, or be answered with what acts on a
// terminal, on any body.
func FuzzForces(f *testing.F) {
	for _, c := range corpus(f) {
		if c.request.Step == "forces" {
			f.Add(c.request.Answer)
		}
	}
	for _, text := range []string{"W at G down\nT at B toward C", "W\tat\tG\tdown", "W at G \u2193", "- W at G down", "1. W at G at 270 deg",
		"W down at", "at at at", strings.Repeat("W at G down;", 40), strings.Repeat("W ", 3000) + "at G down", "W at G " + strings.Repeat("(", 200), "C anti-clockwise", "\xff at \xfe up"} {
		f.Add(text)
	}
	var graders []*Grader
	for i, s := range problems.Builtin().Scenarios {
		if i%7 != 0 {
			continue
		}
		p, err := Draw(s, 5)
		if err != nil {
			f.Fatal(err)
		}
		g, err := New(p, Choice{})
		if err != nil {
			f.Fatal(err)
		}
		graders = append(graders, g)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, g := range graders {
			var v, line Verdict
			var list []Listed
			took := quickest(func() { v, list = g.Forces(text) })
			sound(t, v, took, text)
			took = quickest(func() { line, _ = g.ForceLine(text) })
			sound(t, line, took, text)
			if v.Outcome == Right && len(list) != g.count() {
				t.Errorf("%q: right, with %d of %d forces", text, len(list), g.count())
			}
			for _, l := range list {
				if _, err := g.entry(l.Symbol); err != nil {
					t.Errorf("%q: lists %v: %v", text, l, err)
				}
			}
			took = quickest(func() { v, _ = g.Pivot(text) })
			sound(t, v, took, text)
		}
	})
}
