package journal

import (
	"math/rand/v2"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/tutor"
)

// acked is one line of a script's output: an event that was acknowledged, and
// where the learner then was.
type acked struct{ session, id, kind, where string }

func parseAcked(t *testing.T, lines []string) []acked {
	t.Helper()
	var out []acked
	for _, l := range lines {
		f := strings.Fields(l)
		if len(f) != 4 {
			t.Fatalf("a script printed %q", l)
		}
		out = append(out, acked{f[0], f[1], f[2], f[3]})
	}
	return out
}

// Two learners work by a script, each in a program of its own, on one journal,
// and both programs are killed without warning at random moments, again and
// again; begun again, they go on. After each kill every event acknowledged is
// there, whole and in order, and each learner is where they were told to be, or
// one event further.
func TestKilledAtASession(t *testing.T) {
	kills := wantedKills(t)
	path := filepath.Join(t.TempDir(), "journal.db")
	learners := []string{"kestrel", "otter"}
	order := map[string][]acked{} // by session
	total, finished, killed := 0, 0, 0
	for done := 0; done < kills; done += len(learners) {
		if len(order) > 40 { // the checks take longer the more there is
			path = filepath.Join(t.TempDir(), "journal.db")
			order = map[string][]acked{}
		}
		outs := make([][]string, len(learners))
		var wg sync.WaitGroup
		for i, who := range learners {
			wg.Go(func() {
				cmd, out := startScript(t, path, who)
				slow := time.AfterFunc(time.Minute, func() { cmd.Process.Kill() })
				defer slow.Stop()
				first := ""
				if rand.N(4) > 0 { // else it may not have opened the journal yet
					first, _ = out.ReadString('\n')
				}
				time.AfterFunc(rand.N(400*time.Millisecond), func() { cmd.Process.Kill() })
				outs[i] = acknowledged(out)
				if first != "" {
					outs[i] = append([]string{first}, outs[i]...)
				}
				if err := cmd.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
					t.Errorf("kill %d: the program was not killed: %v", done, err)
				}
			})
		}
		wg.Wait()
		for _, lines := range outs {
			for _, a := range parseAcked(t, lines) {
				order[a.session] = append(order[a.session], a)
				total++
			}
			killed++
		}
		if t.Failed() {
			return
		}
		j := open(t, path)
		if j.SetAside() != "" {
			t.Fatalf("kill %d: the journal was taken for damaged", done)
		}
		finished = checkSessions(t, j, order)
		if wrong, err := inspect(j.store.db); wrong != "" || err != nil {
			t.Fatalf("kill %d: the file is damaged: %s %v", done, wrong, err)
		}
		j.Close()
		if t.Failed() {
			t.Fatalf("after kill %d", done)
		}
	}
	if total == 0 {
		t.Error("nothing was acknowledged between the kills")
	}
	t.Logf("%d kills, %d events acknowledged, none lost; %d sessions finished on the last file", killed, total, finished)
}

// checkSessions holds the sessions of a journal against what was acknowledged,
// and says how many are finished.
func checkSessions(t *testing.T, j *Journal, order map[string][]acked) (finished int) {
	t.Helper()
	p, err := scripted()
	if err != nil {
		t.Fatal(err)
	}
	for session, acks := range order {
		s, err := tutor.New(p, tutor.Guided)
		if err != nil {
			t.Fatal(err)
		}
		k := 0
		for _, e := range all(t, j, Filter{Session: session}) {
			s.Apply(e)
			if k < len(acks) && acks[k].id == e.ID {
				// The end of the session comes with the line that ends it.
				if string(e.Kind) != acks[k].kind || where(s) != acks[k].where {
					t.Errorf("session %s, event %s: %s at %s; the learner was told %s at %s", session, e.ID, e.Kind, where(s), acks[k].kind, acks[k].where)
				}
				k++
			}
		}
		if k < len(acks) {
			t.Errorf("session %s: event %s was acknowledged and is not there", session, acks[k].id)
		}
		if s.Finished() {
			finished++
		}
	}
	return finished
}

// resumed is the learner's open session as a new program would find it.
func resumed(t *testing.T, path, learner string) (*Journal, *tutor.Desk) {
	t.Helper()
	j := open(t, path)
	if j.SetAside() != "" {
		t.Fatalf("set aside as %s", j.SetAside())
	}
	d, err := sitDown(j, learner)
	if err != nil {
		t.Fatal(err)
	}
	return j, d
}

// Two windows on one session: both record, and what was acknowledged in either
// is there, in the order in which it was recorded.
func TestOneSessionInTwoPrograms(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal.db")
	a, b := open(t, path), open(t, path)
	left, err := sitDown(a, "kestrel")
	if err != nil {
		t.Fatal(err)
	}
	right, err := sitDown(b, "kestrel")
	if err != nil {
		t.Fatal(err)
	}
	if left.Events()[0].ID != right.Events()[0].ID {
		t.Fatal("the second program did not go on with the first one's session")
	}
	order := ids(left.Events())
	for range 8 {
		for _, d := range []*tutor.Desk{left, right} {
			if err := next(d); err != nil {
				t.Fatal(err)
			}
			events := d.Events()
			order = append(order, events[len(events)-1].ID)
		}
	}
	a.Close()
	b.Close()
	_, again := resumed(t, path, "kestrel")
	if got := ids(again.Events()); strings.Join(got, " ") != strings.Join(order, " ") {
		t.Errorf("resumed with %q; acknowledged %q", got, order)
	}
}
