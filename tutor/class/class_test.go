package class

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
	"steelyard/tutor"
	"steelyard/tutor/journal"
)

var update = flag.Bool("update", false, "make the class in testdata again")

const testdata = "../../testdata/class"

// The class kept in testdata.
const (
	labSeed     = 3
	labLearners = 40
)

type work struct {
	class  *Class
	events []tutor.Event
	log    []byte
}

// lab lets the class of testdata work, once for all tests.
var lab = sync.OnceValues(func() (work, error) {
	c, err := New(labSeed, labLearners)
	if err != nil {
		return work{}, err
	}
	events, err := c.Play()
	if err != nil {
		return work{}, err
	}
	var b bytes.Buffer
	_, err = journal.ExportJSONL(&b, each(events))
	return work{c, events, b.Bytes()}, err
})

func labWork(t *testing.T) work {
	t.Helper()
	w, err := lab()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The log in testdata is what the class does with today's scenarios and
// grading: else a review of it would find edited logs where there are none.
func TestTestdata(t *testing.T) {
	w := labWork(t)
	truth, err := json.MarshalIndent(w.class, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	truth = append(truth, '\n')
	logFile, truthFile := filepath.Join(testdata, "class.jsonl.gz"), filepath.Join(testdata, "planted.json")
	if *update {
		var b bytes.Buffer
		z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
		z.Write(w.log)
		z.Close()
		if err := os.WriteFile(logFile, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(truthFile, truth, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const again = "the scenarios, the grading or the class have changed; make it again with: go test ./tutor/class -run Testdata -update"
	f, err := os.Open(logFile)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(kept, w.log) {
		t.Errorf("%s: %s", logFile, again)
	}
	if kept, err = os.ReadFile(truthFile); err != nil || !bytes.Equal(kept, truth) {
		t.Errorf("%s: %v %s", truthFile, err, again)
	}
}

// The log is one that a journal takes, and holds 40 learners at 12 problems.
func TestLogIsARealLog(t *testing.T) {
	w := labWork(t)
	j, err := journal.OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	in, err := j.ImportJSONL(bytes.NewReader(w.log))
	if err != nil || in.Bad > 0 || in.Added != len(w.events) {
		t.Fatalf("%+v, %v; want %d events", in, err, len(w.events))
	}
	learners, problems := map[string]bool{}, map[string]bool{}
	last := map[string]string{}
	for _, e := range w.events {
		learners[e.Learner], problems[e.Problem] = true, true
		if e.ID <= last[e.Session] {
			t.Fatalf("event %s comes after %s", e.ID, last[e.Session])
		}
		last[e.Session] = e.ID
		if e.Seconds < 0 || e.Seconds > 1000 {
			t.Errorf("event %s took %v s", e.ID, e.Seconds)
		}
	}
	if len(learners) != labLearners || len(problems) != len(Lab) {
		t.Errorf("%d learners at %d problems", len(learners), len(problems))
	}
}

// Every session folds to where its log says it ended.
func TestSessionsResume(t *testing.T) {
	w := labWork(t)
	sessions := map[string][]tutor.Event{}
	for _, e := range w.events {
		if e.Learner == w.class.Learners[0].Alias || e.Learner == w.class.Alike[0].To {
			sessions[e.Session] = append(sessions[e.Session], e)
		}
	}
	for id, events := range sessions {
		var p *Problem
		for i := range w.class.Problems {
			if w.class.Problems[i].ID == events[0].Problem {
				p = &w.class.Problems[i]
			}
		}
		s, err := tutor.Resume(p.drawn[slices.Index(p.Seeds, events[0].Seed)], events)
		if err != nil {
			t.Fatal(err)
		}
		if ended := events[len(events)-1].Kind == tutor.Finished; s.Finished() != ended {
			t.Errorf("session %s: finished %v, its log says %v", id, s.Finished(), ended)
		}
	}
}

// What was planted is there at the rates stated, and is what a review cannot
// mistake: the code of its slip is written by nobody else, and the forms of an
// unpredicted line are explained by no slip and mean the same.
func TestPlanted(t *testing.T) {
	w := labWork(t)
	slips := map[string]int{}
	for _, e := range w.events {
		for _, code := range e.Slip {
			slips[code]++
		}
	}
	copiers := map[string]bool{}
	for _, a := range w.class.Alike {
		copiers[a.To] = true
	}
	most := 0 // attempts of a slip that was not planted
	for code, n := range slips {
		if !w.class.plants(code) {
			most = max(most, n)
		}
	}
	for _, p := range w.class.Planted {
		if p.Attempts == 0 || p.Applied == 0 || len(p.Writers) < 3 {
			t.Errorf("%s: %d attempts by %d learners at %d entries", p.Name, p.Attempts, len(p.Writers), p.Applied)
		}
		for _, who := range p.Writers {
			if !slices.Contains(p.Holders, who) && !copiers[who] {
				t.Errorf("%s was written by %s, who does not hold it", p.Name, who)
			}
		}
		if p.Slip != "" && 2*most > 3*p.Attempts {
			t.Errorf("%s: %d attempts, and a slip that was not planted has %d", p.Name, p.Attempts, most)
		}
		// Four standard deviations of a count of learners.
		n := float64(labLearners)
		if got := float64(len(p.Writers)); math.Abs(got-p.Rate*n) > 4*math.Sqrt(n*p.Rate*(1-p.Rate)) {
			t.Errorf("%s: written by %v of %v learners, planted at a rate of %v", p.Name, got, n, p.Rate)
		}
	}
}

func TestUnpredictedFormsMeanTheSame(t *testing.T) {
	c := labWork(t).class
	for _, p := range c.Planted {
		if p.Slip != "" {
			continue
		}
		at := slices.IndexFunc(c.Problems, func(q Problem) bool { return q.ID == p.Problem })
		for _, problem := range c.Problems[at].drawn {
			s, err := tutor.New(problem, tutor.Guided)
			if err != nil {
				t.Fatal(err)
			}
			g, value := s.Grader(), math.NaN()
			if p.Pivot != "" && g.Frame().Pivot.Name != p.Pivot {
				t.Fatalf("%s: %s opens at pivot %s", p.Name, p.Problem, g.Frame().Pivot.Name)
			}
			for _, form := range p.Forms {
				v, err := g.Cell(statics.RowKind(p.Step), p.Cell, form)
				if err != nil || v.Outcome != grading.Wrong || len(v.Slips)+len(v.Also) > 0 {
					t.Errorf("%s: %q is %s %v, %v; want wrong, and no slip named", p.Name, form, v.Outcome, v.Slips, err)
				}
				n, err := problem.Table.Parse(form)
				if err != nil {
					t.Fatal(err)
				}
				got := notation.Value(n, problem.Values)
				if !math.IsNaN(value) && math.Abs(got-value) > 1e-9*math.Abs(value) {
					t.Errorf("%s: %q comes to %v, the form before it to %v", p.Name, form, got, value)
				}
				value = got
			}
		}
	}
}

// Lines that nobody foresaw and that were not planted are each written by one
// learner: chance makes no groups.
func TestNothingElseIsAlike(t *testing.T) {
	w := labWork(t)
	type line struct{ problem, step, cell, typed string }
	who := map[line]map[string]bool{}
	for i := range w.events {
		e := &w.events[i]
		cell := slices.Contains([]string{"x", "y", "moment", "value"}, e.Step)
		if e.Verdict != "wrong" || len(e.Slip) > 0 || !cell || slices.ContainsFunc(w.class.Planted, func(p *Planted) bool { return p.is(e) }) {
			continue
		}
		if slices.ContainsFunc(w.class.Alike, func(a Alike) bool { return a.To == e.Learner }) {
			continue
		}
		k := line{e.Problem, e.Step, e.Cell, e.Typed}
		if who[k] == nil {
			who[k] = map[string]bool{}
		}
		who[k][e.Learner] = true
	}
	for k, learners := range who {
		if len(learners) > 1 {
			t.Errorf("%+v: written by %d learners, and not planted", k, len(learners))
		}
	}
}

func TestSameSeedSameLog(t *testing.T) {
	var a, b, other bytes.Buffer
	for w, seed := range map[*bytes.Buffer]uint64{&a: 9, &b: 9, &other: 10} {
		if _, err := Write(w, seed, 4, "davit-arm", "two-bar-bracket"); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same seed gave two logs")
	}
	if bytes.Equal(a.Bytes(), other.Bytes()) {
		t.Error("two seeds gave the same log")
	}
	if _, err := New(1, 3, "no-such"); err == nil || !strings.Contains(err.Error(), "no-such") {
		t.Errorf("a problem that is not in the bank: %v", err)
	}
	if _, err := New(1, 0); err == nil {
		t.Error("a class of nobody")
	}
}

// A log that repeats a class is a log: every line is taken, none twice, and
// each round has its own learners and sessions.
func TestRepeat(t *testing.T) {
	w := labWork(t)
	n := 2*len(w.events) + 100
	var b bytes.Buffer
	if err := Repeat(&b, labSeed, n); err != nil {
		t.Fatal(err)
	}
	j, err := journal.OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	in, err := j.ImportJSONL(&b)
	if err != nil || in.Bad > 0 || in.Added != n {
		t.Fatalf("%d added, %d bad (%v), %v; want %d", in.Added, in.Bad, in.BadLines, err, n)
	}
	last, i := "", 0
	learners := map[string]bool{}
	for e, err := range j.Events(journal.Filter{}) {
		if err != nil {
			t.Fatal(err)
		}
		want := w.events[i%len(w.events)]
		round := time.Duration(i/len(w.events)) * between
		if e.ID <= last || e.Typed != want.Typed || !e.At.Equal(want.At.Add(round)) || e.Seconds != want.Seconds {
			t.Fatalf("event %d is %+v, a repeat of %+v", i, e, want)
		}
		last, i = e.ID, i+1
		learners[e.Learner] = true
	}
	if len(learners) < 2*labLearners {
		t.Errorf("%d learners", len(learners))
	}
}

func BenchmarkRepeat(b *testing.B) {
	if err := Repeat(io.Discard, labSeed, b.N); err != nil {
		b.Fatal(err)
	}
}
