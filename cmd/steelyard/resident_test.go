//go:build linux

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"steelyard/problems"
	"steelyard/tutor/journal"
)

// resident is the memory a process has, now and at its most, in MB.
func resident(tb testing.TB, pid int) (now, most float64) {
	tb.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		tb.Fatal(err)
	}
	for _, line := range strings.Split(string(status), "\n") {
		f := strings.Fields(line)
		if len(f) < 2 {
			continue
		}
		kB, _ := strconv.ParseFloat(f[1], 64)
		switch f[0] {
		case "VmRSS:":
			now = kB / 1024
		case "VmHWM:":
			most = kB / 1024
		}
	}
	return now, most
}

// BenchmarkResident plays 20,000 keys, which is an hour of five and a half a
// second, on the whole program with its journal on disk, and goes through all
// of the bank with them. It reports the memory there was after the first tenth,
// at the end, and at most. Design figure: at most 40 MB, without growth. Run it
// with -benchtime 1x.
func BenchmarkResident(b *testing.B) {
	program := build(b, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(b.TempDir(), "data")
	w := openWire(b, 0, 120, 40, program, "--data", data, "--problem", "davit-arm", "--seed", "7")
	w.see("Choose a pivot")
	lines := []string{"A", "T at B toward C; W at G down; W_c at B down", "H at A right", "V at A up", "done", "T cos(alpha)", "-T cos(alpha)", "T sin(alpha)", "T L cos(alpha)", "T L sin(alpha)", "M g", "beta"}
	moves := []string{"\t", "\t", "\x1b[A", "\x1b[B", "\x0f", "\x14", "\x13", "\x1a"}
	rng := rand.New(rand.NewPCG(1, 1))
	cards := problems.Cards()
	const keys = 20_000
	each := keys / len(cards)
	sent := 0
	key := func(k string) {
		w.send(k)
		sent++
		time.Sleep(time.Millisecond)
	}
	var early float64
	for at, card := range cards {
		for sent < each*(at+1) {
			for _, k := range lines[rng.IntN(len(lines))] {
				key(string(k))
			}
			key("\r")
			key(moves[rng.IntN(len(moves))])
		}
		w.quiet()
		if at == len(cards)/10 {
			early, _ = resident(b, w.cmd.Process.Pid)
		}
		key("\x0c") // the list
		w.see("to choose from")
		w.send(card.ID + " " + card.Title)
		w.quiet()
		key("\r")
		w.quiet()
	}
	now, most := resident(b, w.cmd.Process.Pid)
	j, err := journal.Open(filepath.Join(data, "journal.db"))
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	begun := map[string]bool{}
	all, err := j.Sessions("me")
	for _, s := range all {
		begun[s.Problem] = true
	}
	if err != nil {
		b.Fatal(err)
	}
	for _, card := range cards {
		if !begun[card.ID] {
			b.Errorf("%s was not begun", card.ID)
		}
	}
	b.ReportMetric(early, "early-MB")
	b.ReportMetric(now, "end-MB")
	b.ReportMetric(most, "most-MB")
	b.ReportMetric(0, "ns/op")
}
