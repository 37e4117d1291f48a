//go:build unix

package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
)

// plainly takes off what moves the cursor and colours.
var plainly = regexp.MustCompile("\x1b\\[[0-9;]*[A-Za-z]")

// wire is a program at the end of a line of so many bytes a second; 0 for one
// without a limit.
type wire struct {
	t    testing.TB
	tty  *os.File
	cmd  *exec.Cmd
	mu   sync.Mutex
	seen bytes.Buffer
	last time.Time // when something came
}

func openWire(t testing.TB, rate, width, height int, name string, args ...string) *wire {
	t.Helper()
	w := &wire{t: t, cmd: exec.Command(name, args...)}
	w.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "COLORTERM=truecolor", "COLORFGBG=15;0", "LANG=C.UTF-8", "LC_ALL=")
	var err error
	if w.tty, err = pty.StartWithSize(w.cmd, &pty.Winsize{Rows: uint16(height), Cols: uint16(width)}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		w.cmd.Process.Kill()
		w.cmd.Wait()
		w.tty.Close()
	})
	go w.listen(rate)
	return w
}

// listen takes what the program sends, a tenth of a second's worth at a time.
func (w *wire) listen(rate int) {
	buf := make([]byte, 64<<10)
	if rate > 0 {
		buf = buf[:rate/10]
	}
	for {
		n, err := w.tty.Read(buf)
		w.mu.Lock()
		w.seen.Write(buf[:n])
		w.last = time.Now()
		w.mu.Unlock()
		replyTo(w.tty, buf[:n])
		if err != nil {
			return
		}
		if rate > 0 {
			time.Sleep(time.Duration(n) * time.Second / time.Duration(rate))
		}
	}
}

func (w *wire) text() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.seen.String()
}

func (w *wire) send(keys string) {
	w.t.Helper()
	if _, err := io.WriteString(w.tty, keys); err != nil {
		w.t.Fatal(err)
	}
}

// see waits until the program has sent a text, whatever colours are in it.
func (w *wire) see(text string) {
	w.t.Helper()
	for end := time.Now().Add(60 * time.Second); !strings.Contains(flat(plainly.ReplaceAllString(w.text(), "")), text); {
		if time.Now().After(end) {
			w.t.Fatalf("never sent %q, but %q", text, w.text())
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// quiet waits until nothing more comes, and tells how many bytes have.
func (w *wire) quiet() int {
	for {
		w.mu.Lock()
		still, n := time.Since(w.last) > 250*time.Millisecond, w.seen.Len()
		w.mu.Unlock()
		if still {
			return n
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// toLedger are the lines by which the davit's arm comes to its ledger.
var toLedger = [][2]string{{"A", "List the forces"}, {"T at B toward C; W at G down; W_c at B down; H at A right; V at A up", "V at A up"}, {"done", "Part of T along x"}}

// A key costs few bytes, so that a line of 9,600 baud (960 bytes a second)
// keeps up with typing: what is said is the most and the mean of typing a line,
// of moving from entry to entry, and of a whole frame, in 24-bit colour.
func TestBytesOfAKey(t *testing.T) {
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	for _, size := range [][2]int{{80, 24}, {120, 40}} {
		w := openWire(t, 0, size[0], size[1], program, "--data", filepath.Join(t.TempDir(), "data"), "--problem", "davit-arm", "--seed", "7")
		w.see("Choose a pivot")
		first := w.quiet()
		for _, l := range toLedger {
			w.send(l[0] + "\r")
			w.see(l[1])
		}
		cost := func(keys []string) (most, mean int) {
			var all []int
			for _, k := range keys {
				before := w.quiet()
				w.send(k)
				time.Sleep(300 * time.Millisecond)
				all = append(all, w.quiet()-before)
			}
			t.Log(all)
			sum := 0
			for _, n := range all {
				sum += n
			}
			return slices.Max(all), sum / len(all)
		}
		typing, typed := cost(strings.Split("-T cos(alpha) - M g", ""))
		moving, moved := cost([]string{"\t", "\t", "\t", "\x1b[A", "\x1b[B"})
		t.Logf("%dx%d: a typed key costs %d bytes at most, %d in the mean; a move %d and %d; the first frame %d", size[0], size[1], typing, typed, moving, moved, first)
		if typing >= 400 {
			t.Errorf("%v: a typed key costs %d bytes; at 9,600 baud that is %.1f s", size, typing, float64(typing)/960)
		}
	}
}

// Over a line of 9,600 baud a problem is set up and left; what was typed is in
// the log as it was typed.
func TestTerminalSlowLine(t *testing.T) {
	program := build(t, "steelyard/cmd/steelyard", "steelyard")
	data := filepath.Join(t.TempDir(), "data")
	w := openWire(t, 960, 80, 24, program, "--data", data, "--problem", "davit-arm", "--seed", "7")
	w.see("Choose a pivot")
	lines := append(slices.Clone(toLedger), [2]string{"-T cos(alpha)", "Part of T along y"}, [2]string{"T sin(alpha)", "Moment of T about A"})
	for _, l := range lines {
		for _, k := range strings.Split(l[0], "") { // at the pace of somebody who types
			w.send(k)
			time.Sleep(60 * time.Millisecond)
		}
		w.send("\r")
		w.see(l[1])
	}
	w.send("\x11")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the program ended with %v", err)
	}
	got := typed(t, program, data)
	for i, l := range lines {
		if i >= len(got) || !strings.Contains(got[i], ": "+l[0]+": right") {
			t.Fatalf("the log holds %q; line %d should be %q", got, i+1, l[0])
		}
	}
}
