// Package grading says of one typed answer whether it is right, and if not,
// which slip it is.
//
// Two expressions are the same if they agree at random states of the
// problem's symbols; a slip is named only if what it would have written
// agrees with what was typed at every one of them.
package grading

import "slices"

// Outcome is the verdict in a word.
type Outcome string

// The outcomes.
const (
	Right      Outcome = "right"
	Remarked   Outcome = "remark" // right, with a remark
	Wrong      Outcome = "wrong"
	Unreadable Outcome = "unreadable" // not an attempt
)

// Verdict is what grading says of one typed answer.
type Verdict struct {
	Outcome Outcome
	Slips   []string // the slips made; two when only a pair explains it
	Also    []string // other single slips that would have written the same
	Message string
	ReadsAs string
	At      int // for an unreadable answer, the 1-based column; else 0
}

// addAlso lists a slip that would have written the same as those named.
func (v *Verdict) addAlso(code string) {
	if !slices.Contains(v.Slips, code) && !slices.Contains(v.Also, code) {
		v.Also = append(v.Also, code)
	}
}

// Earned reports whether the answer is right, with or without a remark.
func (v Verdict) Earned() bool { return v.Outcome == Right || v.Outcome == Remarked }

func right(reads string) Verdict {
	return Verdict{Outcome: Right, ReadsAs: reads}
}

func remark(reads, message string) Verdict {
	return Verdict{Outcome: Remarked, ReadsAs: reads, Message: message}
}
