package journal

import (
	"testing"
	"time"

	"steelyard/tutor"
)

// A recorder fills in who, in which session, when, and how long after the
// event before; and what it fills in is what is kept.
func TestRecorder(t *testing.T) {
	j := memory(t)
	r := j.Recorder("kestrel", "")
	for range 3 {
		e := event("", tutor.Moved)
		if err := r.Record(e); err != nil {
			t.Fatal(err)
		}
		time.Sleep(15 * time.Millisecond)
	}
	got := all(t, j, Filter{Session: r.Session()})
	if len(got) != 3 {
		t.Fatalf("%d events under its session, want 3", len(got))
	}
	for i, e := range got {
		if e.Learner != "kestrel" || e.ID == "" || time.Since(e.At) > time.Minute || e.At.Location() != time.UTC {
			t.Errorf("event %d is kept as %+v", i, e)
		}
		if first := i == 0; first != (e.Seconds == 0) || e.Seconds > 10 {
			t.Errorf("event %d came %g s after the one before", i, e.Seconds)
		}
	}
	if on := j.Recorder("kestrel", r.Session()); on.Session() != r.Session() {
		t.Errorf("going on with %s records under %s", r.Session(), on.Session())
	}
}
