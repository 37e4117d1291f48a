package practice

import (
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/tutor"
)

// problemsWith is the bank with one title changed.
func problemsWith(title string) *problems.Bank {
	b := &problems.Bank{Scenarios: append([]*problems.Scenario{}, problems.Builtin().Scenarios...)}
	s := *b.Scenarios[0]
	s.Title = title
	b.Scenarios[0] = &s
	return b
}

// worked is a model of a learner half way through a course.
func worked() *Model {
	m := NewModel(testCourse(), time.UTC)
	for day := range 15 {
		for range perDay {
			c, _ := m.Next(day)
			m.suppose(c.situation, day)
		}
	}
	for k := range m.known {
		m.known[k] = 0.5 + 0.03*float64(k)
	}
	return m
}

func BenchmarkUpdate(b *testing.B) {
	m := NewModel(testCourse(), time.UTC)
	e := tutor.Event{Kind: tutor.Answered, Session: "s", Problem: "davit-arm", Body: "arm", Step: "moment", Cell: "T", Pivot: "A", Verdict: "wrong"}
	here := at{"arm", "moment", "T", ""}
	for b.Loop() {
		m.Update(&e)
		delete(m.sessions["s"].tried, here) // so that each is a first attempt
	}
}

func BenchmarkNext(b *testing.B) {
	m := worked()
	for b.Loop() {
		m.Next(15)
	}
}

func BenchmarkPlan(b *testing.B) {
	m := worked()
	for b.Loop() {
		if _, err := m.Plan(Ask{Today: 15, Exam: 34, Minutes: 30}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCourse(b *testing.B) {
	bank := problems.Builtin()
	for b.Loop() {
		NewCourse(bank)
	}
}

// Choosing among the whole bank takes less than a millisecond.
func TestNextIsQuick(t *testing.T) {
	m := worked()
	best := time.Hour
	for range 20 { // the best of several, for a machine that is busy
		began := time.Now()
		m.Next(15)
		best = min(best, time.Since(began))
	}
	if best > time.Millisecond {
		t.Errorf("choosing the next problem takes %v, want less than 1 ms", best)
	}
}
