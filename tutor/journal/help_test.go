package journal

import (
	"os"
	"path/filepath"
	"testing"

	"steelyard/tutor"
)

// answer is a graded line, in session.
func answer(session string) *tutor.Event {
	return &tutor.Event{
		Learner: "otter", Cohort: "lab-3", Session: session, Problem: "davit-arm", Seed: 7,
		ScenarioHash: "9f2c41d07a", Mode: "guided", Kind: tutor.Answered, Step: "moment",
		Body: "arm", Cell: "T", Pivot: "A", Positive: "ccw", Typed: "T L sin(alpha)",
		Verdict: "wrong", Slip: []string{"sine-cosine", "sense"}, Try: 2, Seconds: 14.25,
	}
}

// event is an event of a kind that has no verdict.
func event(session string, kind tutor.Kind) *tutor.Event {
	return &tutor.Event{
		Learner: "otter", Session: session, Problem: "davit-arm", Seed: 7,
		ScenarioHash: "9f2c41d07a", Mode: "guided", Kind: kind,
	}
}

func open(t testing.TB, path string) *Journal {
	t.Helper()
	j, err := Open(path)
	if err != nil {
		t.Fatalf("Open(%s): %v", path, err)
	}
	t.Cleanup(func() { j.Close() })
	return j
}

func memory(t testing.TB) *Journal {
	t.Helper()
	j, err := OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { j.Close() })
	return j
}

func record(t testing.TB, j *Journal, events ...*tutor.Event) {
	t.Helper()
	for _, e := range events {
		if err := j.Append(e); err != nil {
			t.Fatalf("Append: %v", err)
		}
	}
}

// all reads every event that filter chooses, in the order given.
func all(t testing.TB, j *Journal, filter Filter) []tutor.Event {
	t.Helper()
	var got []tutor.Event
	for e, err := range j.Events(filter) {
		if err != nil {
			t.Fatalf("Events(%+v): %v", filter, err)
		}
		got = append(got, e)
	}
	return got
}

func ids(events []tutor.Event) []string {
	var ids []string
	for _, e := range events {
		ids = append(ids, e.ID)
	}
	return ids
}

// journalOf makes a journal with n answers, closes it, and gives its path.
func journalOf(t testing.TB, n int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "journal.db")
	j := open(t, path)
	session := j.NewSession()
	for range n {
		record(t, j, answer(session))
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// files are the names in the folder of path.
func files(t testing.TB, path string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
