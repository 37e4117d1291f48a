package journal

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"steelyard/tutor"
)

// MaxText bounds the text of one event, all fields together, in bytes. It is
// such that an exported line, every character of it escaped, stays under
// [MaxLine].
const MaxText = 128 << 10

// maxCount is the largest try that every database keeps in an integer column.
const maxCount = math.MaxInt32

var (
	kinds = []tutor.Kind{
		tutor.Began, tutor.Answered, tutor.Unread, tutor.Hinted,
		tutor.Moved, tutor.Undone, tutor.Left, tutor.Finished,
		tutor.Asked, tutor.Reasoned,
	}
	verdicts = []string{"", "right", "remark", "wrong", "unreadable"}
	turnings = []string{"", "ccw", "cw"}
)

// texts lists the text fields of e, the ones that other fields do not bound.
func texts(e *tutor.Event) []*string {
	return []*string{
		&e.Learner, &e.Cohort, &e.Set, &e.Problem, &e.Given, &e.ScenarioHash, &e.Mode,
		&e.Step, &e.Body, &e.Cell, &e.Pivot, &e.Typed,
	}
}

// check says which field of e cannot be recorded, as an *[InvalidError]. It is
// the same for what this program did and for what is imported, so that all the
// journal holds can be exported and read again. An event that still awaits its
// id is checked without one.
func check(e *tutor.Event, awaitsID bool) error {
	if e.V != tutor.Version {
		return invalid("v", "get a program that reads it, or export it again from the one that wrote it",
			"is %d, and this program keeps version %d", e.V, tutor.Version)
	}
	if _, err := parseID(e.ID); err != nil && !awaitsID {
		return invalid("id", "leave it as it was exported", "%w", err)
	}
	if _, err := parseID(e.Session); err != nil {
		return invalid("session", "take one from NewSession, or leave it as it was exported", "%w", err)
	}
	if y := e.At.Year(); e.At.IsZero() || y < 1 || y > 9999 {
		return invalid("at", "give a date and time in UTC", "is in the year %d", y)
	}
	if e.Problem == "" {
		return invalid("problem", "give the id of the problem", "is empty")
	}
	if !slices.Contains(kinds, e.Kind) {
		return invalid("kind", "see the kinds of event in the log's schema", "%s is not a kind of event", quote(string(e.Kind)))
	}
	if !slices.Contains(verdicts, e.Verdict) {
		return invalid("verdict", "use right, remark, wrong or unreadable, or leave it out", "%s is not a verdict", quote(e.Verdict))
	}
	if !slices.Contains(turnings, e.Positive) {
		return invalid("positive", "use ccw or cw, or leave it out", "%s is not a sense of turning", quote(e.Positive))
	}
	if e.Try < 0 || e.Try > maxCount {
		return invalid("try", "count attempts from 1", "is %d", e.Try)
	}
	if e.HintDepth < 0 || e.HintDepth > 3 {
		return invalid("hint_depth", "use 1, 2 or 3, or leave it out", "is %d", e.HintDepth)
	}
	if !(e.Seconds >= 0) || math.IsInf(e.Seconds, 0) {
		return invalid("seconds", "give a number of seconds, zero or more", "is %v", e.Seconds)
	}
	size := 0
	for _, s := range texts(e) {
		size += len(*s)
	}
	for _, s := range e.Slip {
		size += len(s) + len(`"",`)
	}
	if size > MaxText {
		return invalid("typed", "record a shorter line", "and the other text fields hold %d bytes, and one event may hold %d", size, MaxText)
	}
	return nil
}

func invalid(field, remedy, format string, args ...any) error {
	return &InvalidError{Field: field, Problem: fmt.Errorf(format, args...).Error(), Remedy: remedy}
}

// quote shows text of unknown origin in a message: short, and with nothing in
// it that a terminal would act on.
func quote(s string) string {
	const most = 48
	if r := []rune(s[:min(len(s), 4*most)]); len(r) > most {
		return strconv.QuoteToGraphic(string(r[:most])) + "…"
	}
	return strconv.QuoteToGraphic(s)
}
