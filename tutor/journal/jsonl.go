package journal

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/tutor"
)

// ExportJSONL writes the events of seq as JSON Lines, version 1: one object a
// line, as testdata/log.schema.json has it, and says how many. Every character
// that is not a letter, mark, number, punctuation, symbol or space is escaped,
// so that a log shown raw does nothing to a terminal and reads in the order it
// was written. The same events always give the same bytes.
//
// An event that comes with an error is left out; the error returned, after all
// others are written, is a *[LeftOutError].
func ExportJSONL(w io.Writer, seq iter.Seq2[tutor.Event, error]) (int, error) {
	var line bytes.Buffer
	enc := json.NewEncoder(&line)
	enc.SetEscapeHTML(false)
	var safe []byte
	out := bufio.NewWriterSize(w, 64<<10)
	n, err := export(seq, func(e *tutor.Event) error {
		line.Reset()
		if err := enc.Encode(e); err != nil {
			return fmt.Errorf("event %s cannot be written as JSON: %w", quote(e.ID), err)
		}
		safe = appendHarmless(safe[:0], line.Bytes())
		_, err := out.Write(safe)
		return err
	})
	if flushErr := out.Flush(); flushErr != nil {
		return n, fmt.Errorf("the log could not be written to its end: %w", flushErr)
	}
	return n, err
}

// export runs write over seq, leaving out what could not be read.
func export(seq iter.Seq2[tutor.Event, error], write func(*tutor.Event) error) (n int, err error) {
	var first error
	unread := 0
	for e, err := range seq {
		if err != nil {
			unread++
			if first == nil {
				first = err
			}
			continue
		}
		if err := write(&e); err != nil {
			return n, fmt.Errorf("export stopped after %d events: %w", n, err)
		}
		n++
	}
	if unread > 0 {
		return n, &LeftOutError{Written: n, LeftOut: unread, Err: first}
	}
	return n, nil
}

// A LeftOutError says that an export is whole but for events that could not be
// read.
type LeftOutError struct {
	Written, LeftOut int
	Err              error // why the first could not be read
}

func (e *LeftOutError) Error() string {
	return fmt.Sprintf("%d events exported, %d could not be read; the first: %v", e.Written, e.LeftOut, e.Err)
}

func (e *LeftOutError) Unwrap() error { return e.Err }

// risky tells the characters that can act on a terminal, reorder a line or
// hide: controls, format characters such as those of bidirectional text, line
// and paragraph separators, and what no font has. U+FFFD is among them because
// encoding/json escapes it when it stands for a bad byte.
func risky(r rune) bool {
	return r == utf8.RuneError || !unicode.IsGraphic(r)
}

// appendHarmless appends a line of JSON with risky characters escaped. They
// can only be inside strings, as encoding/json leaves none elsewhere but the
// newline at the end.
func appendHarmless(dst, line []byte) []byte {
	for i := 0; i < len(line); {
		r, size := rune(line[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRune(line[i:])
		}
		switch {
		case r == '\n' || !risky(r):
			dst = append(dst, line[i:i+size]...)
		case r > 0xffff:
			r -= 0x10000
			dst = fmt.Appendf(dst, `\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
		default:
			dst = fmt.Appendf(dst, `\u%04x`, r)
		}
		i += size
	}
	return dst
}

// required are the fields of an exported line that may not be missing or null;
// in an Event they cannot be told from empty.
type required struct {
	tutor.Event
	V            *int    `json:"v"`
	Learner      *string `json:"learner"`
	Seed         *uint64 `json:"seed"`
	ScenarioHash *string `json:"scenario_hash"`
	Mode         *string `json:"mode"`
}

// parseLine reads one exported line. A field it does not know is an error: it
// would be lost.
func parseLine(line []byte) (*tutor.Event, error) {
	var in required
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return nil, jsonProblem(err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("there is more after the JSON object, at column %d; put one object on a line", dec.InputOffset()+1)
	}
	for _, field := range []struct {
		name    string
		missing bool
	}{
		{"v", in.V == nil},
		{"learner", in.Learner == nil},
		{"seed", in.Seed == nil},
		{"scenario_hash", in.ScenarioHash == nil},
		{"mode", in.Mode == nil},
	} {
		if field.missing {
			return nil, invalid(field.name, "give it, even if it is empty", "is missing")
		}
	}
	e := &in.Event
	e.V, e.Learner, e.Seed, e.ScenarioHash, e.Mode = *in.V, *in.Learner, *in.Seed, *in.ScenarioHash, *in.Mode
	e.At = e.At.UTC()
	e.Seconds += 0 // no minus zero
	return e, check(e, false)
}

// jsonProblem puts an error of encoding/json in this package's words.
func jsonProblem(err error) error {
	var syntax *json.SyntaxError
	var mismatch *json.UnmarshalTypeError
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF):
		return errors.New("the JSON object has no end; was the log cut short?")
	case errors.As(err, &syntax):
		return fmt.Errorf("it is not JSON: %w, at column %d", err, syntax.Offset)
	case errors.As(err, &mismatch) && mismatch.Field != "":
		field := mismatch.Field[strings.LastIndex(mismatch.Field, ".")+1:]
		return fmt.Errorf("field %s holds a JSON %s, which is not what belongs there, at column %d", quote(field), mismatch.Value, mismatch.Offset)
	case errors.As(err, &mismatch):
		return fmt.Errorf("it is a JSON %s, not an object", mismatch.Value)
	}
	return fmt.Errorf("it is not an event: %w", err)
}
