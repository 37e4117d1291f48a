package tutor

import "time"

// Version of the event record, written as "v" in every exported line.
const Version = 1

// Kind says what an event records.
type Kind string

// The kinds of event. A session is the fold of these, in order.
const (
	Began    Kind = "began"    // a problem was opened
	Answered Kind = "answered" // something was typed and graded
	Unread   Kind = "unread"   // something was typed that could not be read; not an attempt
	Hinted   Kind = "hinted"   // a hint was asked for and shown
	Moved    Kind = "moved"    // the learner went to another cell or step
	Undone   Kind = "undone"   // the last earned line was taken back
	Left     Kind = "left"     // the learner left; the problem may be resumed
	Finished Kind = "finished" // the last step was earned
	Asked    Kind = "asked"    // a reason was asked for, as an aside
	Reasoned Kind = "reasoned" // it was answered, by choice or in the learner's own words, or passed over
)

// Event is one thing a learner did and what the tutor said to it. Events are
// append-only: nothing in one is changed after it is recorded.
//
// The session fills every field but ID, At, Learner, Cohort and Session, which
// belong to whoever records it.
type Event struct {
	V            int       `json:"v"`
	ID           string    `json:"id"` // UUIDv7
	At           time.Time `json:"at"` // UTC
	Learner      string    `json:"learner"`
	Cohort       string    `json:"cohort,omitempty"`
	Session      string    `json:"session"` // UUIDv7 of the began event's session
	Set          string    `json:"set,omitempty"`
	Problem      string    `json:"problem"`
	Seed         uint64    `json:"seed"`
	Given        string    `json:"given,omitempty"` // "L=5 M=40" when drawn from given values
	ScenarioHash string    `json:"scenario_hash"`
	Mode         string    `json:"mode"`
	Kind         Kind      `json:"kind"`
	Step         string    `json:"step,omitempty"`
	Body         string    `json:"body,omitempty"`
	Cell         string    `json:"cell,omitempty"` // force, row or symbol that the step is about
	Pivot        string    `json:"pivot,omitempty"`
	Positive     string    `json:"positive,omitempty"` // "ccw" or "cw"
	Typed        string    `json:"typed,omitempty"`
	Verdict      string    `json:"verdict,omitempty"` // right, remark, wrong, unreadable
	Slip         []string  `json:"slip,omitempty"`
	Try          int       `json:"try,omitempty"`        // 1 for the first attempt at this cell
	HintDepth    int       `json:"hint_depth,omitempty"` // 1 question, 2 principle, 3 the line itself
	Seconds      float64   `json:"seconds,omitempty"`    // since the event before it
}
