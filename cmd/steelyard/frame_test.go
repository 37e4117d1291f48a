package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/creack/pty"
)

// build compiles a package of this module, once a run, without a C compiler.
func build(tb testing.TB, pkg, name string) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), name)
	cmd := exec.Command("go", "build", "-o", path, pkg)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := cmd.CombinedOutput(); err != nil {
		tb.Fatalf("building %s: %v\n%s", pkg, err, out)
	}
	return path
}

// firstFrame is the time from starting a program in a 120x40 terminal to the
// frame that holds text.
func firstFrame(tb testing.TB, text string, name string, args ...string) time.Duration {
	tb.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "COLORTERM=truecolor", "COLORFGBG=15;0")
	begin := time.Now()
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 40, Cols: 120})
	if err != nil {
		tb.Fatal(err)
	}
	defer func() {
		cmd.Process.Kill()
		cmd.Wait()
		tty.Close()
	}()
	late := time.AfterFunc(10*time.Second, func() { cmd.Process.Kill() })
	defer late.Stop()
	var seen []byte
	buf := make([]byte, 64<<10)
	for {
		n, err := tty.Read(buf)
		seen = append(seen, buf[:n]...)
		replyTo(tty, buf[:n])
		if bytes.Contains(seen, []byte(text)) {
			return time.Since(begin)
		}
		if err != nil {
			tb.Fatalf("%s ended before it showed %q: %v\n%q", filepath.Base(name), text, err, seen)
		}
	}
}

// replyTo answers what a program asks its terminal, as one does: the colour of
// its ground and text, and where its cursor is.
func replyTo(tty io.Writer, asked []byte) {
	for _, q := range [][2]string{
		{"\x1b]11;?", "\x1b]11;rgb:0000/0000/0000\x1b\\"},
		{"\x1b]10;?", "\x1b]10;rgb:ffff/ffff/ffff\x1b\\"},
		{"\x1b[6n", "\x1b[1;1R"},
	} {
		if bytes.Contains(asked, []byte(q[0])) {
			io.WriteString(tty, q[1])
		}
	}
}

// firstWords stand on the screen that offers the problems.
const firstWords = "davit"

// BenchmarkFirstFrameRatio starts the tutor, on a journal that holds work, and
// the smallest program on the same library, in turn, and reports the medians
// and their ratio; design figure: at most 1.5.
func BenchmarkFirstFrameRatio(b *testing.B) {
	tutor := build(b, "steelyard/cmd/steelyard", "steelyard")
	smallest := build(b, "steelyard/cmd/steelyard/testdata/smallest", "smallest")
	data := b.TempDir()
	begin := exec.Command(tutor, "plain", "--data", data, "--problem", "davit-arm")
	begin.Stdin = bytes.NewBufferString("A\nT at B toward C\nquit\n")
	if out, err := begin.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	var ours, theirs []time.Duration
	for range max(b.N, 15) {
		ours = append(ours, firstFrame(b, firstWords, tutor, "--data", data))
		theirs = append(theirs, firstFrame(b, "Which problem", smallest))
	}
	mid := func(d []time.Duration) float64 {
		slices.Sort(d)
		return d[len(d)/2].Seconds() * 1000
	}
	b.ReportMetric(mid(ours), "tutor-ms")
	b.ReportMetric(mid(theirs), "smallest-ms")
	b.ReportMetric(mid(ours)/mid(theirs), "ratio")
	b.ReportMetric(0, "ns/op")
}
