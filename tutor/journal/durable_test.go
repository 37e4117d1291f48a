package journal

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
)

// The test binary, started again with these in its environment, appends to the
// journal named and prints each id once it is acknowledged.
const (
	childPath  = "STEELYARD_JOURNAL_CHILD"       // the journal
	childCount = "STEELYARD_JOURNAL_CHILD_COUNT" // how many; for ever if not given
)

// killsVar gives how many times the tests of killing kill; 20 if not given:
//
//	STEELYARD_KILLS=500 go test -run Killed -v -timeout 1h ./tutor/journal
const killsVar = "STEELYARD_KILLS"

func TestMain(m *testing.M) {
	if path := os.Getenv(scriptPath); path != "" {
		fmt.Fprintln(os.Stderr, workScript(path, os.Getenv(scriptLearner)))
		os.Exit(1)
	}
	if path := os.Getenv(childPath); path != "" {
		if err := child(path, os.Getenv(childCount)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func wantedKills(t *testing.T) int {
	t.Helper()
	s := os.Getenv(killsVar)
	if s == "" {
		return 20
	}
	kills, err := strconv.Atoi(s)
	if err != nil || kills < 1 {
		t.Fatalf("%s=%q: give a number of kills", killsVar, s)
	}
	return kills
}

func child(path, count string) error {
	n, err := strconv.Atoi(count)
	if err != nil {
		n = -1
	}
	j, err := Open(path)
	if err != nil {
		return err
	}
	session := j.NewSession()
	for i := 0; i != n; i++ {
		e := answer(session)
		// Of many sizes, so that a kill falls in writes of one page and of many.
		e.Typed = strings.Repeat("T L sin(alpha) ", 1+i*i%300)
		if err := j.Append(e); err != nil {
			return err
		}
		if _, err := fmt.Println(e.ID); err != nil {
			return err
		}
	}
	return j.Close()
}

func startChild(t *testing.T, path string, count int) (*exec.Cmd, *bufio.Reader) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), childPath+"="+path)
	if count > 0 {
		cmd.Env = append(cmd.Env, childCount+"="+strconv.Itoa(count))
	}
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	return cmd, bufio.NewReader(out)
}

// acknowledged reads whole lines to the end. A line that the kill cut short
// was not seen by anybody.
func acknowledged(out *bufio.Reader) []string {
	var ids []string
	for {
		line, err := out.ReadString('\n')
		if err != nil {
			return ids
		}
		ids = append(ids, strings.TrimSpace(line))
	}
}

// A program is killed without warning at a random moment as it appends, again
// and again. All that it was told is recorded must be there, whole, every time.
func TestKilled(t *testing.T) {
	kills := wantedKills(t)
	var path string
	var want []string // acknowledged, on the file at path
	total := 0
	for kill := range kills {
		if kill%4 == 0 { // the checks below take longer the more there is
			path = filepath.Join(t.TempDir(), "journal.db")
			total += len(want)
			want = nil
		}
		// Half of the time the journal is open here too as the other dies, so
		// that nobody recovers the file from scratch.
		var j *Journal
		if rand.N(2) == 0 {
			j = open(t, path)
			e := answer(j.NewSession())
			record(t, j, e)
			want = append(want, e.ID)
		}
		victim, out := startChild(t, path, 0)
		first, err := out.ReadString('\n')
		if err != nil {
			t.Fatalf("kill %d: the child did not begin: %v", kill, err)
		}
		var rest []string
		var wg sync.WaitGroup
		wg.Go(func() { rest = acknowledged(out) })
		time.Sleep(rand.N(60 * time.Millisecond))
		if err := victim.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		wg.Wait()
		victim.Wait()
		want = append(append(want, strings.TrimSpace(first)), rest...)

		if j == nil {
			j = open(t, path)
		}
		if j.SetAside() != "" {
			t.Fatalf("kill %d: the journal was taken for damaged", kill)
		}
		have := map[string]bool{}
		for _, e := range all(t, j, Filter{}) {
			if have[e.ID] = true; !strings.HasPrefix(e.Typed, "T L sin(alpha)") || len(e.Slip) != 2 {
				t.Fatalf("kill %d: event %s is not whole: %+v", kill, e.ID, e)
			}
		}
		for _, id := range want {
			if !have[id] {
				t.Fatalf("kill %d: event %s was acknowledged and is not there", kill, id)
			}
		}
		// At most one event can have been recorded without word of it, a kill.
		if extra := len(have) - len(want); extra > kill%4+1 {
			t.Fatalf("kill %d: %d events that nobody recorded", kill, extra)
		}
		if wrong, err := inspect(j.store.db); wrong != "" || err != nil {
			t.Fatalf("kill %d: the file is damaged: %s %v", kill, wrong, err)
		}
		j.Close()
	}
	t.Logf("%d kills, %d events acknowledged, none lost", kills, total+len(want))
}

// Programs and goroutines on one file, which they also race to make.
func TestManyWriters(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "journal.db")
	const programs, journals, goroutines, each = 2, 2, 2, 40
	var mu sync.Mutex
	var want []string
	var wg sync.WaitGroup
	add := func(ids []string) {
		mu.Lock()
		defer mu.Unlock()
		want = append(want, ids...)
	}
	for range programs {
		cmd, out := startChild(t, path, each)
		wg.Go(func() {
			add(acknowledged(out))
			if err := cmd.Wait(); err != nil {
				t.Errorf("a program failed: %v", err)
			}
		})
	}
	session := process.next(uuid.Nil).String()
	for range journals {
		wg.Go(func() {
			j, err := Open(path)
			if err != nil {
				t.Error(err)
				return
			}
			defer j.Close()
			var inner sync.WaitGroup
			for range goroutines {
				inner.Go(func() {
					var ids []string
					for range each {
						e := answer(session)
						if err := j.Append(e); err != nil {
							t.Error(err)
							return
						}
						ids = append(ids, e.ID)
					}
					if !slices.IsSorted(ids) {
						t.Error("ids of one goroutine do not rise")
					}
					add(ids)
				})
			}
			inner.Wait()
		})
	}
	wg.Wait()
	slices.Sort(want)
	if n := (programs + journals*goroutines) * each; len(want) != n {
		t.Errorf("%d events acknowledged, want %d", len(want), n)
	}
	if got := ids(all(t, open(t, path), Filter{})); !slices.Equal(got, want) {
		t.Errorf("%d events in the journal, %d acknowledged", len(got), len(want))
	}
}

// One session taken up in two programs whose clocks disagree still reads in
// the order in which it was recorded.
func TestOneSessionTwoClocks(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal.db")
	hour := func(h int) func() time.Time {
		return func() time.Time { return time.Date(2026, 3, 9, h, 0, 0, 0, time.UTC) }
	}
	a, b := open(t, path), open(t, path)
	a.ids, b.ids = &sequence{now: hour(12)}, &sequence{now: hour(9)}
	session := a.NewSession()
	var want []string
	for range 10 {
		for _, j := range []*Journal{a, b} {
			e := answer(session)
			record(t, j, e)
			want = append(want, e.ID)
		}
	}
	if got := ids(all(t, a, Filter{Session: session})); !slices.Equal(got, want) {
		t.Errorf("recorded\n%q\nread\n%q", want, got)
	}
}

// A program that holds the file for longer than we wait is named as the
// reason, and the event is recorded once it lets go.
func TestBusy(t *testing.T) {
	path := journalOf(t, 1)
	holder, j := open(t, path), open(t, path)
	if _, err := j.store.db.Exec("PRAGMA busy_timeout = 10"); err != nil {
		t.Fatal(err)
	}
	tx, err := holder.store.db.Begin()
	if err != nil {
		t.Fatal(err)
	}
	e := answer(j.NewSession())
	err = j.Append(e)
	if _, busy := err.(*BusyError); !busy || !strings.Contains(err.Error(), path) {
		t.Errorf("while it was held: %v", err)
	}
	tx.Rollback()
	record(t, j, e)
	if got := all(t, j, Filter{}); len(got) != 2 {
		t.Errorf("%d events, want 2", len(got))
	}
}

// A kill leaves what the system has buffered; a power cut does not, and cannot
// be tried here. That a commit is flushed is the database's promise when it is
// set so; this is that it is.
func TestCommitsAreFlushed(t *testing.T) {
	j := open(t, filepath.Join(t.TempDir(), "journal.db"))
	for _, c := range []struct{ pragma, want string }{
		{"journal_mode", "wal"},
		{"synchronous", "3"}, // EXTRA
		{"fullfsync", "1"},
		{"checkpoint_fullfsync", "1"},
		{"trusted_schema", "0"},
	} {
		var got string
		if err := j.store.db.QueryRow("PRAGMA " + c.pragma).Scan(&got); err != nil || got != c.want {
			t.Errorf("%s is %s, %v; want %s", c.pragma, got, err, c.want)
		}
	}
}
