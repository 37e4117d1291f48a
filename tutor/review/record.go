package review

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// record is one event as it was read. Its texts may alias the line.
type record struct {
	id, session [16]byte
	at          int64 // nanoseconds since 1970
	texts       [textFields][]byte
	slips       [][]byte
	seed        uint64
	seconds     float64
	try         int32
	kind        uint8 // index into kinds
	verdict     uint8 // into verdicts
	positive    uint8 // into turnings
	hint        uint8
	has         uint32 // bit f: field f was given
}

// The text fields of a record.
const (
	learnerText = iota
	cohortText
	setText
	problemText
	givenText
	hashText
	modeText
	stepText
	bodyText
	cellText
	pivotText
	typedText
	textFields
)

// The other fields; with the texts, bits of record.has.
const (
	vField = textFields + iota
	idField
	atField
	sessionField
	seedField
	kindField
	positiveField
	verdictField
	slipField
	tryField
	hintField
	secondsField
)

// field is the field of that name in a line. It is a switch, which the
// compiler turns into a search without an allocation.
func field(name []byte) (int, bool) {
	switch string(name) {
	case "v":
		return vField, true
	case "id":
		return idField, true
	case "at":
		return atField, true
	case "learner":
		return learnerText, true
	case "cohort":
		return cohortText, true
	case "session":
		return sessionField, true
	case "set":
		return setText, true
	case "problem":
		return problemText, true
	case "seed":
		return seedField, true
	case "given":
		return givenText, true
	case "scenario_hash":
		return hashText, true
	case "mode":
		return modeText, true
	case "kind":
		return kindField, true
	case "step":
		return stepText, true
	case "body":
		return bodyText, true
	case "cell":
		return cellText, true
	case "pivot":
		return pivotText, true
	case "positive":
		return positiveField, true
	case "typed":
		return typedText, true
	case "verdict":
		return verdictField, true
	case "slip":
		return slipField, true
	case "try":
		return tryField, true
	case "hint_depth":
		return hintField, true
	case "seconds":
		return secondsField, true
	}
	return 0, false
}

var (
	kinds    = []tutor.Kind{tutor.Began, tutor.Answered, tutor.Unread, tutor.Hinted, tutor.Moved, tutor.Undone, tutor.Left, tutor.Finished, tutor.Asked, tutor.Reasoned}
	verdicts = []grading.Outcome{"", grading.Right, grading.Remarked, grading.Wrong, grading.Unreadable}
	turnings = []string{"", "ccw", "cw"}
)

// Indexes into kinds, turnings and verdicts.
const (
	began uint8 = iota
	answered
	unread
	hinted
	moved
	undone
	left
	finished
	asked
	reasoned
)

const (
	counterclockwise uint8 = 1 + iota
	clockwise
)

const (
	noVerdict uint8 = iota
	right
	remarked
	wrong
	unreadable
)

// required are the fields that every line has, by name.
var required = []struct {
	bit  int
	name string
}{
	{vField, "v"}, {idField, "id"}, {atField, "at"}, {learnerText, "learner"}, {sessionField, "session"}, {problemText, "problem"},
	{seedField, "seed"}, {hashText, "scenario_hash"}, {modeText, "mode"}, {kindField, "kind"},
}

// Bounds on texts, in bytes. The tutor writes none that is longer.
const (
	maxText  = 4 << 10
	maxSlips = 64
)

// read reads a line into r, by the log's schema. An error says what in the
// line is not an event.
func (r *record) read(line []byte) error {
	*r = record{}
	s := scanner{line: line}
	if err := s.take('{'); err != nil {
		return err
	}
	for first := true; s.space() != '}'; first = false {
		if !first {
			if err := s.take(','); err != nil {
				return err
			}
		}
		if err := r.member(&s); err != nil {
			return err
		}
	}
	s.at++
	if s.space(); s.at < len(line) {
		return s.fail("there is more after the JSON object; put one object on a line")
	}
	for _, f := range required {
		if r.has>>f.bit&1 == 0 {
			return fmt.Errorf("field %q is missing", f.name)
		}
	}
	if len(r.texts[problemText]) == 0 {
		return errors.New(`field "problem" is empty`)
	}
	return nil
}

// member reads a name and its value.
func (r *record) member(s *scanner) error {
	name, err := s.text()
	if err != nil {
		return err
	}
	f, ok := field(name)
	if !ok {
		return s.fail("field \"%s\" is none of version %d", notation.PrintableMax(string(name), 24), tutor.Version)
	}
	if err := s.take(':'); err != nil {
		return err
	}
	if s.null() {
		return nil
	}
	if err := r.value(s, f); err != nil {
		return fmt.Errorf("field %q: %w", name, err)
	}
	r.has |= 1 << f
	return nil
}

// value reads the value of field f.
func (r *record) value(s *scanner, f int) (err error) {
	var n uint64
	switch f {
	case vField:
		if n, err = s.whole(32); err == nil && n != tutor.Version {
			return fmt.Errorf("it is version %d, and this program reads version %d", n, tutor.Version)
		}
	case seedField:
		r.seed, err = s.whole(64)
	case tryField:
		n, err = s.whole(31)
		r.try = int32(n)
	case hintField:
		if n, err = s.whole(8); err == nil && n > 3 {
			return fmt.Errorf("%d is no depth of hint; there are 3", n)
		}
		r.hint = uint8(n)
	case secondsField:
		return r.readSeconds(s)
	case slipField:
		if r.slips, err = s.list(); err == nil && len(r.slips) > maxSlips {
			return fmt.Errorf("%d slips are more than one line can have", len(r.slips))
		}
	default:
		return r.readText(s, f)
	}
	return err
}

func (r *record) readSeconds(s *scanner) error {
	text, err := s.number()
	if err != nil {
		return err
	}
	r.seconds, err = strconv.ParseFloat(string(text), 64)
	if err != nil || !(r.seconds >= 0) || math.IsInf(r.seconds, 0) {
		return fmt.Errorf("%s is no number of seconds", notation.PrintableMax(string(text), 24))
	}
	return nil
}

// readText reads a field that is a string in JSON.
func (r *record) readText(s *scanner, f int) error {
	text, err := s.text()
	if err != nil {
		return err
	}
	show := func() string { return notation.PrintableMax(string(text[:min(len(text), 64)]), 24) }
	ok := true
	switch f {
	case idField:
		if r.id, ok = uuid7(text); !ok {
			return fmt.Errorf("\"%s\" is no UUIDv7", show())
		}
	case sessionField:
		if r.session, ok = uuid7(text); !ok {
			return fmt.Errorf("\"%s\" is no UUIDv7", show())
		}
	case atField:
		at, err := time.Parse(time.RFC3339Nano, string(text))
		if err != nil || at.Year() < 1700 || at.Year() > 2200 {
			return fmt.Errorf("\"%s\" is no date and time, like 2026-11-25T07:44:12Z", show())
		}
		r.at = at.UnixNano()
	case kindField:
		if r.kind, ok = index(kinds, text); !ok {
			return fmt.Errorf("\"%s\" is no kind of event", show())
		}
	case verdictField:
		if r.verdict, ok = index(verdicts, text); !ok {
			return fmt.Errorf("\"%s\" is no verdict", show())
		}
	case positiveField:
		if r.positive, ok = index(turnings, text); !ok {
			return fmt.Errorf("\"%s\" is no sense of turning", show())
		}
	default:
		if len(text) > maxText {
			return fmt.Errorf("it holds %d bytes, and %d is the most the tutor writes", len(text), maxText)
		}
		r.texts[f] = text
	}
	return nil
}

func index[T ~string](list []T, text []byte) (uint8, bool) {
	for i, s := range list {
		if string(s) == string(text) {
			return uint8(i), true
		}
	}
	return 0, false
}

// uuidPairs are where the digits of each byte of a UUID stand.
var uuidPairs = [16]int{0, 2, 4, 6, 9, 11, 14, 16, 19, 21, 24, 26, 28, 30, 32, 34}

// uuid7 reads a UUID of version 7 as the journal writes it (RFC 9562, section
// 5.7).
func uuid7(text []byte) (id [16]byte, ok bool) {
	if len(text) != 36 || text[8] != '-' || text[13] != '-' || text[18] != '-' || text[23] != '-' {
		return id, false
	}
	for k, i := range uuidPairs {
		hi, ok1 := hex(text[i])
		lo, ok2 := hex(text[i+1])
		if !ok1 || !ok2 || text[i] >= 'A' && text[i] <= 'F' || text[i+1] >= 'A' && text[i+1] <= 'F' {
			return id, false
		}
		id[k] = hi<<4 | lo
	}
	return id, id[6]>>4 == 7 && id[8]>>6 == 2
}

// of fills r from an event of a journal, which has checked it already.
func (r *record) of(e *tutor.Event) error {
	*r = record{at: e.At.UnixNano(), seed: e.Seed, seconds: e.Seconds, try: int32(e.Try), hint: uint8(e.HintDepth)}
	var ok [2]bool
	r.id, ok[0] = uuid7([]byte(e.ID))
	r.session, ok[1] = uuid7([]byte(e.Session))
	k, known := index(kinds, []byte(e.Kind))
	if !ok[0] || !ok[1] || !known {
		return fmt.Errorf("event \"%s\" is not one of version %d", notation.PrintableMax(e.ID, 40), tutor.Version)
	}
	r.kind = k
	r.verdict, _ = index(verdicts, []byte(e.Verdict))
	r.positive = uint8(max(slices.Index(turnings, e.Positive), 0))
	for f, text := range [textFields]string{e.Learner, e.Cohort, e.Set, e.Problem, e.Given, e.ScenarioHash, e.Mode, e.Step, e.Body, e.Cell, e.Pivot, e.Typed} {
		r.texts[f] = []byte(text[:min(len(text), maxText)])
	}
	for _, code := range e.Slip {
		r.slips = append(r.slips, []byte(code))
	}
	return nil
}
