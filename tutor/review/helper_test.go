package review

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/uuid"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// notes records events in memory, one every ten seconds; or, by lot, after any
// time, with the clock set back now and then.
type notes struct {
	learner string
	session string
	now     time.Time
	rng     *rand.Rand // nil for every ten seconds
	events  []tutor.Event
}

func (n *notes) Record(e *tutor.Event) error {
	passed := 10 * time.Second
	if n.rng != nil {
		passed = time.Duration(n.rng.IntN(25_000)) * time.Millisecond
	}
	n.now = n.now.Add(passed)
	if n.rng != nil && e.Kind != tutor.Finished && n.rng.IntN(40) == 0 {
		n.now = n.now.Add(-time.Duration(n.rng.IntN(600)) * time.Second)
	}
	e.ID, e.At, e.Learner, e.Session, e.Seconds = uuid.Must(uuid.NewV7()).String(), n.now, n.learner, n.session, passed.Seconds()
	n.events = append(n.events, *e)
	return nil
}

// sit begins a session of a learner at a problem of the bank.
func sit(t testing.TB, learner, id string, seed uint64) (*tutor.Desk, *notes) {
	t.Helper()
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := grading.Draw(sc, seed)
	if err != nil {
		t.Fatal(err)
	}
	s, err := tutor.New(p, tutor.Guided)
	if err != nil {
		t.Fatal(err)
	}
	n := &notes{learner: learner, session: uuid.Must(uuid.NewV7()).String(), now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	d, err := tutor.Sit(s, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d, n
}

// say types lines one after another.
func say(t testing.TB, d *tutor.Desk, lines ...string) {
	t.Helper()
	for _, l := range lines {
		if _, err := d.Answer(l); err != nil {
			t.Fatal(err)
		}
	}
}

// davit lists the forces of davit-arm.
var davit = []string{"A", "T at B toward C", "W at G down", "W_c at B down", "H at A right", "V at A up", "done"}

func jsonl(t testing.TB, events ...tutor.Event) string {
	t.Helper()
	var b bytes.Buffer
	for _, e := range events {
		line, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		b.Write(append(line, '\n'))
	}
	return b.String()
}
