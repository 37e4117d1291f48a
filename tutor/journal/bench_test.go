package journal

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"steelyard/tutor"
)

// fill puts n events of a learner's ordinary work into the journal at path.
func fill(b *testing.B, path string, n int) {
	b.Helper()
	j, err := Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	session := ""
	for i := 0; i < n; {
		var lot []numbered
		for range min(importEvents, n-i) {
			if i%60 == 0 {
				session = j.NewSession()
			}
			e := answer(session)
			e.ID = j.ids.next(floor(session)).String()
			e.V, e.At = tutor.Version, time.Now().UTC()
			e.Typed = fmt.Sprintf("T L sin(alpha) - %d", i)
			switch i % 60 {
			case 0:
				e.Kind, e.Verdict = tutor.Began, ""
			case 59:
				e.Kind, e.Verdict = tutor.Finished, ""
			}
			lot = append(lot, numbered{0, e})
			i++
		}
		if _, _, bad, err := j.importLot(lot); err != nil || len(bad) > 0 {
			b.Fatal(err, bad)
		}
	}
}

// BenchmarkAppend is one typed line to the disk, flushed.
func BenchmarkAppend(b *testing.B) {
	for _, n := range []int{0, 10_000} {
		b.Run(fmt.Sprintf("after=%d", n), func(b *testing.B) {
			path := filepath.Join(b.TempDir(), "journal.db")
			fill(b, path, n)
			j, err := Open(path)
			if err != nil {
				b.Fatal(err)
			}
			defer j.Close()
			session := j.NewSession()
			for b.Loop() {
				if err := j.Append(answer(session)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("memory", func(b *testing.B) {
		j, err := OpenMemory()
		if err != nil {
			b.Fatal(err)
		}
		defer j.Close()
		session := j.NewSession()
		for b.Loop() {
			if err := j.Append(answer(session)); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkOpen is what opening adds to the program's start.
func BenchmarkOpen(b *testing.B) {
	for _, n := range []int{0, 1000, 10_000, 20_000, 100_000} {
		b.Run(fmt.Sprintf("events=%d", n), func(b *testing.B) {
			path := filepath.Join(b.TempDir(), "journal.db")
			fill(b, path, n)
			for b.Loop() {
				j, err := Open(path)
				if err != nil {
					b.Fatal(err)
				}
				b.StopTimer()
				b.ReportMetric(float64(j.store.file.Size())/(1<<20), "MiB")
				if err := j.Close(); err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
			}
		})
	}
}

// BenchmarkUnfinished is the list a learner sees at the start.
func BenchmarkUnfinished(b *testing.B) {
	path := filepath.Join(b.TempDir(), "journal.db")
	fill(b, path, 10_000)
	j, err := Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	for b.Loop() {
		if _, err := j.Unfinished("otter"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkEvents is reading, by the event.
func BenchmarkEvents(b *testing.B) {
	path := filepath.Join(b.TempDir(), "journal.db")
	const n = 10_000
	fill(b, path, n)
	j, err := Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	for b.Loop() {
		got := 0
		for _, err := range j.Events(Filter{}) {
			if err != nil {
				b.Fatal(err)
			}
			got++
		}
		if got != n {
			b.Fatalf("%d events, want %d", got, n)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/event")
}
