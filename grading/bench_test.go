package grading

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// job is one corpus answer with its grader made beforehand.
type job struct {
	g *Grader
	c typedAnswer
}

func (j job) run(tb testing.TB) {
	var err error
	switch r := j.c.request; r.Step {
	case "x", "y", "moment":
		_, err = j.g.Cell(statics.RowKind(r.Step), r.Force, r.Answer)
	case "equation":
		_, err = j.g.Equation(statics.RowKind(r.Row), r.Answer)
	case "value":
		_, err = j.g.Value(r.Symbol, r.Answer, r.Equations)
	case "forces":
		j.g.Forces(r.Answer)
	case "pivot":
		j.g.Pivot(r.Answer)
	}
	if err != nil {
		tb.Fatal(err)
	}
}

// jobs are the corpus in an order that mixes problems and steps.
func jobs(tb testing.TB) []job {
	s := NewService(problems.Builtin())
	var out []job
	for _, c := range corpus(tb) {
		p, err := s.problem(c.request)
		if err != nil {
			tb.Fatal(err)
		}
		g, err := s.grader(p, c.request)
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, job{g, c})
	}
	rng := rand.New(rand.NewPCG(1, 2))
	rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// BenchmarkVerdict grades the whole corpus over and over with graders that
// have graded it once, and reports the median and the 99th percentile of one
// verdict. Each answer counts once, at the least of its times, so that what
// the machine does meanwhile is not counted.
func BenchmarkVerdict(b *testing.B) {
	list := jobs(b)
	for _, j := range list {
		j.run(b)
	}
	least := make([]time.Duration, len(list))
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		k := n % len(list)
		start := time.Now()
		list[k].run(b)
		if d := time.Since(start); n < len(list) || d < least[k] {
			least[k] = d
		}
		n++
	}
	least = slices.Sorted(slices.Values(least[:min(n, len(list))]))
	b.ReportMetric(float64(least[len(least)/2].Nanoseconds())/1e3, "µs-median")
	b.ReportMetric(float64(least[len(least)*99/100].Nanoseconds())/1e3, "µs-p99")
}

// BenchmarkVerdictEvery is BenchmarkVerdict with every single time counted.
func BenchmarkVerdictEvery(b *testing.B) {
	list := jobs(b)
	for _, j := range list {
		j.run(b)
	}
	var took []time.Duration
	n := 0
	for b.Loop() {
		start := time.Now()
		list[n%len(list)].run(b)
		took = append(took, time.Since(start))
		n++
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Nanoseconds())/1e3, "µs-median")
	b.ReportMetric(float64(took[len(took)*99/100].Nanoseconds())/1e3, "µs-p99")
}

// BenchmarkColdVerdict is the first verdict on a right cell of a problem whose
// scenario has just been read: reading the file is not counted, all else is.
func BenchmarkColdVerdict(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		s, err := problems.Builtin().Scenario("davit-arm")
		if err != nil {
			b.Fatal(err)
		}
		fresh := *s
		b.StartTimer()
		p, err := fresh.Draw(7, nil)
		if err != nil {
			b.Fatal(err)
		}
		g, err := New(p, Choice{Pivot: "A"})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := g.Cell(statics.RowMoment, "T", "T L cos(alpha)"); err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		shelves.Delete(&fresh)
		b.StartTimer()
	}
}

// BenchmarkLedger builds a body's three reference rows about a point, and
// solves the problem.
func BenchmarkLedger(b *testing.B) {
	for _, s := range problems.Builtin().Scenarios {
		b.Run(s.ID, func(b *testing.B) {
			p, err := s.Draw(1, nil)
			if err != nil {
				b.Fatal(err)
			}
			values := slices.Clone(p.Values)
			body := &p.Bodies[0]
			b.ReportAllocs()
			for b.Loop() {
				body.Ledger(statics.Frame{Pivot: body.Points[0]})
				if _, err := p.Solve(values); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkDraw draws problems in which slips can be told apart.
func BenchmarkDraw(b *testing.B) {
	scenarios := problems.Builtin().Scenarios
	for _, s := range scenarios { // what slips write is worked out once for a scenario
		if _, err := Draw(s, 0); err != nil {
			b.Fatal(err)
		}
	}
	b.ResetTimer()
	for i := range b.N {
		if _, err := Draw(scenarios[i%len(scenarios)], uint64(i)); err != nil {
			b.Fatal(err)
		}
	}
}
