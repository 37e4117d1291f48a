package review

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"steelyard/problems"
	simulated "steelyard/tutor/class"
)

// BenchmarkReview reviews logs of growing length, made of a class of 40 at
// twelve problems over and over. It reports what a review takes of memory, as
// the system sees it: the most that was resident at any time of it.
//
//	go test ./tutor/review -run '^$' -bench Review -benchtime 1x
func BenchmarkReview(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchReview(b, n) })
	}
}

// BenchmarkReviewTenMillion is apart, for it takes long and much.
func BenchmarkReviewTenMillion(b *testing.B) {
	if os.Getenv("STEELYARD_TEN_MILLION") == "" {
		b.Skip("set STEELYARD_TEN_MILLION=1: it takes minutes, gigabytes of disk and of memory")
	}
	benchReview(b, 10_000_000)
}

func benchReview(b *testing.B, n int) {
	path := filepath.Join(b.TempDir(), "log.jsonl")
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	if err := simulated.Repeat(f, 3, n); err != nil {
		b.Fatal(err)
	}
	f.Close()
	bank := problems.Builtin()
	for b.Loop() {
		peak := watch()
		r := NewReader(bank)
		start, busy := time.Now(), processorSeconds()
		if err := r.Paths(context.Background(), nil, path); err != nil {
			b.Fatal(err)
		}
		read := time.Since(start)
		rep, err := r.Report(context.Background())
		if err != nil {
			b.Fatal(err)
		}
		if rep.Events != n || len(rep.Altered) > 1 { // the end cuts a session
			b.Fatalf("%d events of %d, %d altered", rep.Events, n, len(rep.Altered))
		}
		b.ReportMetric(read.Seconds(), "s-reading")
		b.ReportMetric(processorSeconds()-busy, "s-processor")
		b.ReportMetric(float64(peak())/(1<<20), "MB-resident")
		b.ReportMetric(float64(n)/time.Since(start).Seconds(), "events/s")
	}
}

// watch looks at the memory that is resident, until the function it gives is
// called, which says the most there was. Where the system does not tell, it is
// what the runtime holds.
func watch() func() uint64 {
	runtime.GC()
	stop, most := make(chan struct{}), make(chan uint64)
	go func() {
		var peak uint64
		tick := time.NewTicker(20 * time.Millisecond)
		defer tick.Stop()
		for {
			peak = max(peak, resident())
			select {
			case <-stop:
				most <- peak
				return
			case <-tick.C:
			}
		}
	}()
	return func() uint64 {
		close(stop)
		return <-most
	}
}

func resident() uint64 {
	f, err := os.Open("/proc/self/status")
	if err != nil {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.Sys
	}
	defer f.Close()
	for in := bufio.NewScanner(io.LimitReader(f, 64<<10)); in.Scan(); {
		var kb uint64
		if strings.HasPrefix(in.Text(), "VmRSS:") {
			fmt.Sscanf(in.Text(), "VmRSS: %d kB", &kb)
			return kb << 10
		}
	}
	return 0
}

// processorSeconds is the time this process has had of the processors: on a
// busy machine it says more than the clock. 0 where the system does not tell.
func processorSeconds() float64 {
	text, err := os.ReadFile("/proc/self/stat")
	if err != nil {
		return 0
	}
	fields := strings.Fields(string(text[strings.LastIndexByte(string(text), ')')+1:]))
	var user, system float64
	fmt.Sscan(fields[11], &user)
	fmt.Sscan(fields[12], &system)
	return (user + system) / 100 // ticks a second, on Linux
}

// BenchmarkOwnNumbers reviews sessions each of which has numbers of its own:
// the most work that grading again can be, as little of it serves twice.
func BenchmarkOwnNumbers(b *testing.B) {
	var log strings.Builder
	const sessions = 500
	events := 0
	for seed := range uint64(sessions) {
		d, n := sit(b, fmt.Sprint("tern", seed), "davit-arm", seed)
		say(b, d, davit...)
		say(b, d, "T sin(alpha)", "-T cos(alpha)", "T sin(alpha)", "T L cos(alpha)", "T L sin(alpha)", "0", "-M g", "-M g L", "-M g L/2",
			"0", "-m g", "-m g L", "H", "0", "0", "0", "V", "0")
		for _, u := range d.Problem().Unknowns {
			say(b, d, problems.Figures(d.Problem().Values[u.Index], 4)+" N")
		}
		say(b, d, "B", "1", "2", "3")
		events += len(n.events)
		log.WriteString(jsonl(b, n.events...))
	}
	bank := problems.Builtin()
	b.ResetTimer()
	for b.Loop() {
		r := NewReader(bank)
		if err := r.Read(context.Background(), "log", strings.NewReader(log.String())); err != nil {
			b.Fatal(err)
		}
		busy := processorSeconds()
		if rep, err := r.Report(context.Background()); err != nil || len(rep.Altered) > 0 {
			b.Fatal(err, rep.Altered)
		}
		b.ReportMetric(1e6*(processorSeconds()-busy)/float64(events), "µs-processor/event")
	}
}
