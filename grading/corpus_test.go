package grading

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
)

// typedAnswer is one line of the corpus in testdata/answers, whose README says
// how the files are read.
type typedAnswer struct {
	place   string // file:line
	request Request
	verdict Outcome
	slips   []string // exactly these, in any order
	also    []string // at least these beside them
}

// anySlip stands for whatever is named, or nothing.
const anySlip = "*"

// corpus reads every file of typed answers.
func corpus(tb testing.TB) []typedAnswer {
	tb.Helper()
	files, err := filepath.Glob("../testdata/answers/*.txt")
	if err != nil || len(files) == 0 {
		tb.Fatalf("no corpus in testdata/answers (%v)", err)
	}
	var all []typedAnswer
	for _, name := range files {
		cases, err := readAnswers(name)
		if err != nil {
			tb.Fatal(err)
		}
		all = append(all, cases...)
	}
	return all
}

func readAnswers(name string) ([]typedAnswer, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []typedAnswer
	var now Request
	scan := bufio.NewScanner(f)
	for n := 1; scan.Scan(); n++ {
		line := scan.Text()
		place := fmt.Sprintf("%s:%d", filepath.Base(name), n)
		switch {
		case strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, " ") || strings.HasPrefix(line, "\t"):
			c, err := readAnswer(line)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", place, err)
			}
			answer := c.request.Answer
			c.place = place
			c.request = now
			c.request.Answer = answer
			out = append(out, c)
		default:
			if err := setting(&now, line); err != nil {
				return nil, fmt.Errorf("%s: %w", place, err)
			}
		}
	}
	return out, scan.Err()
}

// readAnswer reads "  wrong sine-cosine also other-angle : T L cos(alpha)".
func readAnswer(line string) (typedAnswer, error) {
	head, typed, ok := strings.Cut(line, ": ")
	if !ok {
		head, typed, ok = strings.Cut(line, ":")
	}
	words := strings.Fields(head)
	if !ok || len(words) == 0 {
		return typedAnswer{}, fmt.Errorf("an answer is \"VERDICT SLIP... : what is typed\", not %q", line)
	}
	c := typedAnswer{verdict: Outcome(words[0])}
	if !slices.Contains([]Outcome{Right, Remarked, Wrong, Unreadable}, c.verdict) {
		return c, fmt.Errorf("no verdict %q", words[0])
	}
	to := &c.slips
	for _, w := range words[1:] {
		if w == "also" {
			to = &c.also
			continue
		}
		if _, ok := slip.Of(w); !ok && w != anySlip {
			return c, fmt.Errorf("no slip %q", w)
		}
		*to = append(*to, w)
	}
	if unquoted, err := strconv.Unquote(strings.TrimSpace(typed)); err == nil && strings.HasPrefix(strings.TrimSpace(typed), `"`) {
		typed = unquoted
	}
	c.request.Answer = typed
	return c, nil
}

// setting reads a line that says what the answers below it are answers to.
func setting(now *Request, line string) error {
	key, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
	rest = strings.TrimSpace(rest)
	words := strings.Fields(rest)
	switch key {
	case "problem":
		if len(words) < 2 {
			return fmt.Errorf("problem ID SEED, then perhaps SYMBOL=VALUE")
		}
		seed, err := strconv.ParseUint(words[1], 10, 64)
		if err != nil {
			return err
		}
		*now = Request{Problem: words[0], Seed: seed, Given: words[2:]}
	case "body":
		now.Body = rest
	case "settled":
		now.Settled = words
	case "pivot":
		now.Pivot = rest
	case "positive":
		now.Positive = rest
	case "tilt":
		now.Tilt = Tilt(rest)
	case "senses":
		now.Senses = map[string]string{}
		for _, w := range words {
			force, way, ok := strings.Cut(w, "=")
			if !ok {
				return fmt.Errorf("senses FORCE=WAY, not %q", w)
			}
			now.Senses[force] = way
		}
		if len(words) == 0 {
			now.Senses = nil
		}
	case "equations":
		now.Equations = nil
		for _, e := range strings.Split(rest, ";") {
			if e = strings.TrimSpace(e); e != "" {
				now.Equations = append(now.Equations, e)
			}
		}
	case "step":
		now.Step, now.Force, now.Row, now.Symbol = "", "", "", ""
		if len(words) == 0 {
			return fmt.Errorf("step WHICH")
		}
		now.Step = words[0]
		about := strings.TrimSpace(strings.TrimPrefix(rest, words[0]))
		switch words[0] {
		case "x", "y", "moment":
			now.Force = about
		case "equation":
			now.Row = about
		case "value":
			now.Symbol = about
		}
	default:
		return fmt.Errorf("no setting %q", key)
	}
	return nil
}

// Every typed answer of the corpus gets the verdict, and is told the slips,
// that it was written for.
func TestCorpus(t *testing.T) {
	s := NewService(problems.Builtin())
	for _, c := range corpus(t) {
		v, err := s.Grade(c.request)
		if err != nil {
			t.Errorf("%s: %v", c.place, err)
			continue
		}
		ok := v.Outcome == c.verdict
		if (c.verdict == Wrong || c.verdict == Remarked) && !slices.Contains(c.slips, anySlip) {
			want, got := slices.Sorted(slices.Values(c.slips)), slices.Sorted(slices.Values(v.Slips))
			ok = ok && slices.Equal(slices.Compact(want), slices.Compact(got))
		}
		for _, a := range c.also {
			ok = ok && slices.Contains(v.Also, a)
		}
		if !ok {
			t.Errorf("%s: %s %s%s%s: %q is %s %v also %v (%s)\n\twant %s %v also %v", c.place, c.request.Problem, c.request.Step, c.request.Force+c.request.Row+c.request.Symbol, pivotOf(c.request),
				c.request.Answer, v.Outcome, v.Slips, v.Also, v.Message, c.verdict, c.slips, c.also)
		}
	}
}

// What is said of any answer of the corpus can be read aloud: short, printable,
// filled in; two slips take two sentences.
func TestCorpusMessages(t *testing.T) {
	s := NewService(problems.Builtin())
	for _, c := range corpus(t) {
		v, err := s.Grade(c.request)
		if err != nil {
			t.Fatal(err)
		}
		most := 200
		if len(v.Slips) > 1 || c.request.Step == "forces" || strings.Contains(v.Message, " Also: ") {
			most = 400
		}
		if n := len([]rune(v.Message)); n >= most || strings.ContainsAny(v.Message, "{}") || notation.Printable(v.Message) != v.Message {
			t.Errorf("%s: %q: %d characters of message: %q", c.place, c.request.Answer, n, v.Message)
		}
		if v.Outcome == Unreadable && (v.At < 1 || v.Message == "") || v.Outcome == Wrong && v.Message == "" {
			t.Errorf("%s: %q is %s at %d, and told %q", c.place, c.request.Answer, v.Outcome, v.At, v.Message)
		}
	}
}

// The corpus is as broad as it is meant to be: right forms, unreadable ones,
// and five answers at least for every slip.
func TestCorpusIsBroad(t *testing.T) {
	verdicts, slips := map[Outcome]int{}, map[string]int{}
	for _, c := range corpus(t) {
		verdicts[c.verdict]++
		for _, code := range slices.Concat(c.slips, c.also) {
			slips[code]++
		}
	}
	if verdicts[Right] < 300 || verdicts[Wrong] < 300 || verdicts[Unreadable] < 100 {
		t.Errorf("answers by verdict: %v", verdicts)
	}
	for _, sl := range slip.Catalogue {
		if slips[sl.Code] < 5 {
			t.Errorf("%s has %d answers, want 5", sl.Code, slips[sl.Code])
		}
	}
}

// Graders of one scenario share what they have worked out; several may be used
// at once.
func TestManyAtOnce(t *testing.T) {
	cases := corpus(t)
	var wg sync.WaitGroup
	for n := range 4 {
		wg.Go(func() {
			s := NewService(problems.Builtin())
			for i := n; i < len(cases); i += 3 {
				if v, err := s.Grade(cases[i].request); err != nil || v.Outcome != cases[i].verdict {
					t.Errorf("%s: %v, %v", cases[i].place, v.Outcome, err)
				}
			}
		})
	}
	wg.Wait()
}

func pivotOf(r Request) string {
	if r.Pivot == "" {
		return ""
	}
	return " about " + r.Pivot
}
