package class

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"strings"
	"time"

	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// Write invents a class, lets it work, and writes its log as JSON Lines,
// version 1, in order of id. The class returned says what was planted and what
// came of it.
func Write(w io.Writer, seed uint64, learners int, ids ...string) (*Class, error) {
	c, err := New(seed, learners, ids...)
	if err != nil {
		return nil, err
	}
	events, err := c.Play()
	if err != nil {
		return nil, err
	}
	_, err = journal.ExportJSONL(w, each(events))
	return c, err
}

func each(events []tutor.Event) iter.Seq2[tutor.Event, error] {
	return func(yield func(tutor.Event, error) bool) {
		for _, e := range events {
			if !yield(e, nil) {
				return
			}
		}
	}
}

// between is the time from one class of [Repeat] to the next: classes are
// shorter, so that order of id is order of writing.
const between = 28 * 24 * time.Hour

// Repeat writes a log of n events, for measuring what reads logs: a class of 40
// works [Lab] once, and its log is written over and over, each time some weeks
// later, under new ids, sessions and aliases. Sessions are whole but for those
// that the end cuts. It makes hundreds of thousands of events a second.
func Repeat(w io.Writer, seed uint64, n int) error {
	c, err := New(seed, 40)
	if err != nil {
		return err
	}
	events, err := c.Play()
	if err != nil {
		return err
	}
	moulds := make([]mould, len(events))
	for i := range events {
		if moulds[i], err = mouldOf(&events[i]); err != nil {
			return err
		}
	}
	out := bufio.NewWriterSize(w, 1<<20)
	var line []byte
	for i := range n {
		round, k := i/len(events), i%len(events)
		e, by := &events[k], time.Duration(round)*between
		line = moulds[k].cast(line[:0], later(e.ID, by), e.At.Add(by), round, later(e.Session, by))
		if _, err := out.Write(line); err != nil {
			return fmt.Errorf("the log stopped at event %d of %d: %w", i+1, n, err)
		}
	}
	return out.Flush()
}

// mould is an exported line with places left for what differs each time.
type mould [5]string

// The marks stand in an event for what is filled in later; no field holds them.
const (
	idMark      = "<id>"
	learnerMark = "<learner>"
	sessionMark = "<session>"
)

var noTime = time.Date(1, 1, 1, 0, 0, 0, 1, time.UTC)

func mouldOf(e *tutor.Event) (m mould, err error) {
	blank := *e
	blank.ID, blank.At, blank.Learner, blank.Session = idMark, noTime, learnerMark, sessionMark
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(blank); err != nil {
		return m, err
	}
	rest, ok := b.String(), true
	for i, mark := range []string{idMark, noTime.Format(time.RFC3339Nano), learnerMark, sessionMark} {
		if m[i], rest, ok = strings.Cut(rest, mark); !ok {
			return m, fmt.Errorf("no %s in the line of event %s", mark, e.ID)
		}
		if mark == learnerMark {
			m[i] += e.Learner
		}
	}
	m[4] = rest
	return m, nil
}

// cast appends the line, filled in.
func (m *mould) cast(line []byte, id string, at time.Time, round int, session string) []byte {
	line = append(append(line, m[0]...), id...)
	line = at.AppendFormat(append(line, m[1]...), time.RFC3339Nano)
	line = append(line, m[2]...)
	if round > 0 {
		line = fmt.Appendf(line, ".%d", round+1)
	}
	line = append(append(line, m[3]...), session...)
	return append(line, m[4]...)
}
