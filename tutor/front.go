package tutor

import (
	"time"

	"steelyard/problems"
)

// Unfinished is a problem that was left before its end.
type Unfinished struct {
	Session string
	Problem string
	Title   string
	Seed    uint64
	At      time.Time // of its last event
}

// House is what a front (the screen, the plain lines) asks of the rest of the
// program: the bank, and the means to begin a problem or go on with one.
type House struct {
	Bank       *problems.Bank
	Begin      func(id string, seed uint64) (*Desk, error)
	Resume     func(session string) (*Desk, error)
	Unfinished func() ([]Unfinished, error)   // newest first
	Done       func() (map[string]int, error) // how often each problem was finished before, by id; may be nil
	NewSeed    func() uint64
	Progress   func() []string // over a set, said before problems are offered; may be nil
	Notices    []string        // said at once: a journal set aside, a scenario that could not be read
}

// Refusal is an error that is said to the learner, who may then do something
// else: a problem that the set does not have, or one that is handed in.
type Refusal struct{ Message string }

func (r *Refusal) Error() string { return r.Message }
