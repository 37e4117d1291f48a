package grading

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// referee asks SymPy again and stores what it says:
//
//	go test ./grading -run Referee -referee -timeout 30m
//
// It needs python3 with sympy (Debian: python3-sympy).
var referee = flag.Bool("referee", false, "ask SymPy again which typed lines are the same, and store its answers")

const storedAnswers = "../testdata/answers/referee.tsv"

// question is one line as the referee reads it.
type question struct {
	Place       string      `json:"place"`
	Kind        string      `json:"kind"`
	Reference   string      `json:"reference"`
	Typed       string      `json:"typed"`
	Symbols     []string    `json:"symbols"`
	Angles      []string    `json:"angles"`
	Unknowns    []string    `json:"unknowns"`
	Definitions [][2]string `json:"definitions"`

	c typedAnswer
}

// questions are the cells and equations of the corpus that are in symbols. The
// reference is the first right answer to the same question in the corpus, so
// that the referee takes no word of the solver's.
func questions(t *testing.T) []question {
	t.Helper()
	s := NewService(problems.Builtin())
	references := map[string]string{}
	var out []question
	for _, c := range corpus(t) {
		r := c.request
		p, err := s.problem(r)
		if err != nil {
			t.Fatal(err)
		}
		q := question{Place: c.place, Kind: "cell", c: c}
		var nodes []notation.Node
		switch r.Step {
		case "x", "y", "moment":
			n, err := p.Table.Parse(r.Answer)
			if err != nil {
				continue
			}
			nodes, q.Typed = []notation.Node{n}, notation.ReadBack(n, true)
		case "equation":
			l, rt, err := p.Table.ParseEquation(r.Answer)
			if err != nil {
				continue
			}
			nodes, q.Kind, q.Typed = []notation.Node{l, rt}, "equation", notation.ReadBackEquation(l, rt, true)
		default:
			continue
		}
		r.Answer = ""
		key, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := references[string(key)]; !ok && c.verdict == Right {
			references[string(key)] = q.Typed
		}
		inNumbers := c.verdict == Remarked || c.verdict == Unreadable || slices.ContainsFunc(nodes, notation.Decimals)
		q.Reference = references[string(key)]
		if q.Reference == "" || inNumbers || strings.Contains(q.Typed, "rad") || slices.Contains(c.slips, "mixed-rows") {
			continue
		}
		for i := range p.Table.Len() {
			q.Symbols = append(q.Symbols, p.Table.Name(i))
			if p.Table.IsAngle(i) {
				q.Angles = append(q.Angles, p.Table.Name(i))
			}
		}
		for _, i := range p.LinearUnknowns() {
			q.Unknowns = append(q.Unknowns, p.Table.Name(i))
		}
		for _, u := range p.Unknowns {
			if !slices.Contains(q.Unknowns, u.Symbol) {
				q.Unknowns = append(q.Unknowns, u.Symbol)
			}
		}
		for _, d := range p.Definitions() {
			q.Definitions = append(q.Definitions, [2]string{p.Table.Name(d.Index), notation.ReadBack(d.Is, true)})
		}
		out = append(out, q)
	}
	return out
}

// SymPy's stored answers cover the corpus, and never disagree with the
// verdicts: a line is right exactly where SymPy finds it the same.
func TestReferee(t *testing.T) {
	qs := questions(t)
	if *referee {
		ask(t, qs)
	}
	data, err := os.ReadFile(storedAnswers)
	if err != nil {
		t.Fatal(err)
	}
	stored := map[string]string{} // kind, reference, typed -> same or different
	for line := range strings.Lines(string(data)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(f) != 5 {
			t.Fatalf("%s: %q has %d fields, not 5", storedAnswers, line, len(f))
		}
		stored[strings.Join(f[1:4], "\t")+"\t"+strings.SplitN(f[0], ".", 2)[0]] = f[4]
	}
	s := NewService(problems.Builtin())
	unasked := 0
	for _, q := range qs {
		said, ok := stored[strings.Join([]string{q.Kind, q.Reference, q.Typed}, "\t")+"\t"+strings.SplitN(q.Place, ".", 2)[0]]
		if !ok {
			unasked++
			t.Logf("%s: SymPy has not been asked of %q", q.Place, q.Typed)
			continue
		}
		v, err := s.Grade(q.c.request)
		if err != nil {
			t.Fatal(err)
		}
		if same := said == "same"; same != (v.Outcome == Right) {
			t.Errorf("%s: %q against %q is %s to SymPy, and %s", q.Place, q.Typed, q.Reference, said, v.Outcome)
		}
	}
	t.Logf("%d lines refereed", len(qs)-unasked)
	if unasked*20 > len(qs) {
		t.Errorf("%d of %d lines are new to SymPy; ask it: go test ./grading -run Referee -referee -timeout 30m", unasked, len(qs))
	}
}

// ask puts every question to SymPy and stores what it says.
func ask(t *testing.T, qs []question) {
	t.Helper()
	if err := exec.Command("python3", "-c", "import sympy").Run(); err != nil {
		t.Skipf("python3 with sympy is not here: %v", err)
	}
	var in bytes.Buffer
	enc := json.NewEncoder(&in)
	for _, q := range qs {
		if err := enc.Encode(q); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("python3", "../testdata/answers/referee.py")
	cmd.Stdin, cmd.Stderr = &in, os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var took []time.Duration
	var b strings.Builder
	b.WriteString("# What SymPy says of the corpus: where, kind, reference, typed, same or different. Written by referee.py.\n")
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(qs) {
		t.Fatalf("asked %d, answered %d", len(qs), len(lines))
	}
	for i, q := range qs {
		f := strings.Split(lines[i], "\t")
		if len(f) != 3 {
			t.Fatalf("%q is no answer", lines[i])
		}
		seconds, err := strconv.ParseFloat(f[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		took = append(took, time.Duration(seconds*1e9))
		b.WriteString(strings.Join([]string{q.Place, q.Kind, q.Reference, q.Typed, f[1]}, "\t") + "\n")
	}
	race(t, qs, took)
	if err := os.WriteFile(storedAnswers, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// race times verdicts, with their diagnosis, on the lines that SymPy has just
// been timed on, and wants them a thousand times faster over the whole.
func race(t *testing.T, qs []question, sympy []time.Duration) {
	t.Helper()
	s := NewService(problems.Builtin())
	var ours, theirs time.Duration
	for i, q := range qs {
		p, err := s.problem(q.c.request)
		if err != nil {
			t.Fatal(err)
		}
		g, err := s.grader(p, q.c.request)
		if err != nil {
			t.Fatal(err)
		}
		j := job{g, q.c}
		j.run(t) // what is worked out once for a problem is not the verdict's
		least := time.Hour
		for range 5 {
			start := time.Now()
			j.run(t)
			least = min(least, time.Since(start))
		}
		ours, theirs = ours+least, theirs+sympy[i]
	}
	n := time.Duration(len(qs))
	t.Logf("%d lines: SymPy's equals %v a line, a verdict with diagnosis %v: %.0f times faster", n, theirs/n, ours/n, float64(theirs)/float64(ours))
	if theirs < 1000*ours {
		t.Errorf("verdicts are %.0f times faster than SymPy's equals, want 1000", float64(theirs)/float64(ours))
	}
}
