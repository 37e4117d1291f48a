package journal

import (
	"bufio"
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"slices"

	"steelyard/tutor"
)

// MaxLine bounds a line that ImportJSONL reads, in bytes.
const MaxLine = 1 << 20

// Bounds on what an import holds at one time.
const (
	importEvents = 1000    // events to a transaction
	importBytes  = 4 << 20 // bytes of lines to a transaction
	maxBadLines  = 100     // bad lines kept to be shown; all are counted
)

// Imported says what became of the lines of a log. Blank lines are not counted
// in any but Lines.
type Imported struct {
	Lines    int
	Added    int       // events that are now in the journal and were not before
	Known    int       // events that were there already, the same in all fields
	Bad      int       // lines skipped
	BadLines []BadLine // the first hundred of them
}

// A BadLine is a line that was skipped, and why.
type BadLine struct {
	Line int // from 1
	Err  error
}

func (b BadLine) Error() string { return fmt.Sprintf("line %d: %v", b.Line, b.Err) }

func (b BadLine) Unwrap() error { return b.Err }

// ImportJSONL records the events of an exported log that the journal does not
// have yet. An event is known by its id; when the journal has another event
// under the same id it keeps its own, and the line is bad. Bad lines are
// skipped and counted.
//
// Lines are recorded some hundreds at a time, each lot whole or not at all. An
// error means that reading r or writing the journal failed; what Imported
// counts is on the disk all the same, and the import may be run again.
func (j *Journal) ImportJSONL(r io.Reader) (Imported, error) {
	var done Imported
	var lot []numbered
	size := 0
	flush := func() error {
		added, known, bad, err := j.importLot(lot)
		if err != nil {
			return err
		}
		done.Added += added
		done.Known += known
		for _, b := range bad {
			done.skip(b.Line, b.Err)
		}
		lot, size = lot[:0], 0
		return nil
	}

	in := bufio.NewReaderSize(r, 64<<10)
	var buf []byte
	for {
		line, tooLong, readErr := readLine(in, buf[:0])
		buf = line
		if len(line) > 0 || readErr == nil {
			done.Lines++
		}
		if done.Lines == 1 {
			line = bytes.TrimPrefix(line, []byte("\ufeff")) // as some editors begin a file
		}
		switch cut := readErr != nil && readErr != io.EOF; {
		case cut: // the line has lost its end: not its own fault
		case tooLong:
			done.skip(done.Lines, fmt.Errorf("it is longer than %d bytes; no event is", MaxLine))
		case len(bytes.TrimSpace(line)) > 0:
			if e, err := parseLine(line); err != nil {
				done.skip(done.Lines, err)
			} else {
				lot = append(lot, numbered{done.Lines, e})
				size += len(line)
			}
		}
		if readErr != nil || len(lot) >= importEvents || size >= importBytes {
			if err := flush(); err != nil {
				return done.sorted(), err
			}
		}
		if readErr == io.EOF {
			return done.sorted(), nil
		}
		if readErr != nil {
			return done.sorted(), fmt.Errorf("reading the log stopped at line %d: %w; import it again when it can be read", done.Lines, readErr)
		}
	}
}

// skip notes a bad line.
func (i *Imported) skip(line int, err error) {
	i.Bad++
	if len(i.BadLines) < maxBadLines {
		i.BadLines = append(i.BadLines, BadLine{line, err})
	}
}

// sorted puts the bad lines in order: those found while parsing are noted
// before those found while recording the lot they were read with.
func (i *Imported) sorted() Imported {
	slices.SortFunc(i.BadLines, func(a, b BadLine) int { return a.Line - b.Line })
	return *i
}

// numbered is an event and the line it was read from.
type numbered struct {
	line  int
	event *tutor.Event
}

var errOtherEvent = errors.New("the journal has another event with this id, and keeps it")

// importLot records a lot of events in one transaction.
func (j *Journal) importLot(lot []numbered) (added, known int, bad []BadLine, err error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.follow(); err != nil {
		return 0, 0, nil, err
	}
	if len(lot) == 0 {
		return 0, 0, nil, nil
	}
	err = patiently(func() error {
		added, known, bad = 0, 0, nil
		return j.store.write(func(tx *sql.Tx) error {
			stmt := tx.Stmt(j.store.insert)
			for _, n := range lot {
				fresh, err := insert(stmt, n.event)
				if err != nil {
					return err
				}
				if fresh {
					added++
					continue
				}
				same, err := recorded(tx, n.event)
				if err != nil {
					return err
				}
				if same {
					known++
				} else {
					bad = append(bad, BadLine{n.line, errOtherEvent})
				}
			}
			return nil
		})
	})
	if err != nil {
		return 0, 0, nil, explain(j.path, "importing", err)
	}
	return added, known, bad, nil
}

// recorded says whether the event that has e's id is e in all fields.
func recorded(tx *sql.Tx, e *tutor.Event) (bool, error) {
	row := tx.QueryRow("SELECT "+columnList+` FROM events WHERE "id" = $1`, e.ID)
	var scanned error
	have, err := newScanner().event(func(into ...any) error {
		scanned = row.Scan(into...)
		return scanned
	})
	if scanned != nil {
		return false, scanned
	}
	return err == nil && slices.Equal(values(&have), values(e)), nil
}

// readLine appends the next line to buf, without its newline. Of a line longer
// than MaxLine it keeps the beginning and reads past the rest. The last line
// comes with io.EOF.
func readLine(r *bufio.Reader, buf []byte) (line []byte, tooLong bool, err error) {
	for {
		part, err := r.ReadSlice('\n')
		if err == nil {
			part = part[:len(part)-1]
		}
		if room := MaxLine - len(buf); len(part) > room {
			part, tooLong = part[:room], true
		}
		buf = append(buf, part...)
		if err != bufio.ErrBufferFull {
			return buf, tooLong, err
		}
	}
}
