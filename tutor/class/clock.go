package class

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"

	"steelyard/tutor"
)

// monday is when the lab begins.
var monday = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// recorder records one learner's session on a clock of its own, filling in
// what the journal's recorder fills in. It is a [tutor.Recorder].
type recorder struct {
	rng     *rand.Rand
	learner string
	session string
	now     time.Time
	last    time.Time // of the event before, in this sitting
	events  []tutor.Event
}

// wait lets time pass, to the millisecond.
func (r *recorder) wait(seconds float64) {
	r.now = r.now.Add(time.Duration(math.Round(1000*seconds)) * time.Millisecond)
}

// Record keeps an event. Events are at least a millisecond apart, so that
// order of id is order of events.
func (r *recorder) Record(e *tutor.Event) error {
	r.now = r.now.Add(time.Millisecond)
	if r.session == "" {
		r.session = newID(r.now, r.rng)
	}
	e.ID, e.At, e.Learner, e.Cohort, e.Session = newID(r.now, r.rng), r.now, r.learner, Cohort, r.session
	e.Set = Set
	if !r.last.IsZero() {
		e.Seconds = r.now.Sub(r.last).Seconds()
	}
	r.last = r.now
	r.events = append(r.events, *e)
	return nil
}

// newID is a UUIDv7 (RFC 9562, section 5.7) of a moment, its random bits from
// rng.
func newID(t time.Time, rng *rand.Rand) string {
	var id uuid.UUID
	binary.BigEndian.PutUint64(id[:8], uint64(t.UnixMilli())<<16|0x7000|rng.Uint64N(1<<12))
	binary.BigEndian.PutUint64(id[8:], 1<<63|rng.Uint64N(1<<62))
	return id.String()
}

// later is an id as it would be had its moment been so much later.
func later(id string, by time.Duration) string {
	u := uuid.MustParse(id)
	ms := binary.BigEndian.Uint64(u[:8])>>16 + uint64(by.Milliseconds())
	binary.BigEndian.PutUint64(u[:8], ms<<16|uint64(binary.BigEndian.Uint16(u[6:8])))
	return u.String()
}
