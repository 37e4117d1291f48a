// Package journal is the durable, append-only record of all that a learner
// did: one table of [tutor.Event], keyed by UUIDv7, in a single SQLite file.
// A session is the fold of its events in order of id.
//
// What the package promises:
//
//   - An event is on the disk when [Journal.Append] returns, whole or not at
//     all, and nothing recorded is changed or removed afterwards.
//   - Ids made in one process rise strictly, and within a session they rise
//     whatever process makes them, even if the clock is set back. Order of id
//     is order of events.
//   - Several programs may have one file open at once.
//   - A damaged file is never written to and never deleted: it is renamed and
//     a new journal begun (see [Journal.SetAside]).
//
// Text is kept as it was typed, control characters and all; the exports escape
// whatever could act on a terminal or in a spreadsheet. The one change made is
// to bytes that are not UTF-8, which become U+FFFD: neither JSON nor another
// database could hold them.
//
// The SQL in schema.go and read.go is what SQLite and PostgreSQL both take;
// what is SQLite's alone is in sqlite.go.
package journal

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/adrg/xdg"
	"github.com/google/uuid"

	"steelyard/tutor"
)

// ErrClosed is returned by every method of a journal that has been closed.
var ErrClosed = errors.New("the journal is closed: open it again to go on")

// A Journal is an open record. Its methods may be called from any goroutine,
// and from inside a loop over [Journal.Events].
type Journal struct {
	path string // "" when the journal is in memory
	ids  *sequence
	now  func() time.Time

	mu       sync.Mutex // guards what follows
	store    *store
	setAside string
	closed   bool
}

// DefaultPath is the journal's place when none is named: steelyard/journal.db
// in the user's data folder. It makes nothing on the disk.
func DefaultPath() (string, error) {
	xdg.Reload() // the environment may have changed since the program began
	if !filepath.IsAbs(xdg.DataHome) {
		return "", fmt.Errorf("no place for the journal: the user's data folder is %q, which is not an absolute path; set HOME or XDG_DATA_HOME, or name a journal file", xdg.DataHome)
	}
	return filepath.Join(xdg.DataHome, "steelyard", "journal.db"), nil
}

// Path is the file the journal is in, or "" when it is in memory.
func (j *Journal) Path() string { return j.path }

// SetAside is the path to which a damaged file was moved so that this journal
// could be begun, or "". The caller says so to the learner; what the file
// holds may still be recovered from it.
func (j *Journal) SetAside() string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.setAside
}

// NewSession makes the id of a new session, a UUIDv7. Nothing is recorded.
func (j *Journal) NewSession() string { return j.ids.next(uuid.Nil).String() }

// Append records e. It fills V, ID and At where they are empty, and puts At in
// UTC. When it returns nil the event is on the disk; when it returns an error
// nothing was recorded and e is as it was.
//
// An *[InvalidError] says which field cannot be recorded; an
// *[UnwritableError], that the file no longer takes writes (a full disk, say).
// If the file was moved or found damaged since it was opened, the journal is
// begun again in its place first.
func (j *Journal) Append(e *tutor.Event) error {
	rec := *e
	rec.Slip = append([]string(nil), e.Slip...)
	if err := j.complete(&rec); err != nil {
		return err
	}

	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.follow(); err != nil {
		return err
	}
	err := j.append(&rec)
	if faultOf(err) == faultDamaged && j.path != "" {
		// Open may have trusted a large file that it had no time to read
		// through. Look at all of it now, and move it out of the way if bad.
		if err := j.reopen(everyPage); err != nil {
			return err
		}
		err = j.append(&rec)
	}
	if err != nil {
		return explain(j.path, "recording an event", err)
	}
	*e = rec
	return nil
}

// complete fills what the caller left empty, but for the id, which must wait
// for the write lock, and checks the rest.
func (j *Journal) complete(e *tutor.Event) error {
	if e.V == 0 {
		e.V = tutor.Version
	}
	if e.At.IsZero() {
		e.At = j.now().Truncate(time.Microsecond) // as fine as any database keeps
	}
	e.At = e.At.UTC().Round(0)
	if !(e.Seconds > 0) { // a clock set back, or NaN: no reason to lose a line
		e.Seconds = 0
	}
	for _, s := range texts(e) {
		*s = strings.ToValidUTF8(*s, "\uFFFD")
	}
	for i := range e.Slip {
		e.Slip[i] = strings.ToValidUTF8(e.Slip[i], "\uFFFD")
	}
	return check(e, e.ID == "")
}

// append writes e in one transaction, giving it an id above every other in its
// session. The write lock is held from before the highest id is read, so two
// programs on one session still take turns.
func (j *Journal) append(e *tutor.Event) error {
	fresh := e.ID == ""
	err := patiently(func() error {
		return j.store.write(func(tx *sql.Tx) error {
			if fresh {
				var last sql.NullString
				row := tx.Stmt(j.store.lastID).QueryRow(e.Session)
				if err := row.Scan(&last); err != nil {
					return err
				}
				e.ID = j.ids.next(floor(last.String)).String()
			}
			added, err := insert(tx.Stmt(j.store.insert), e)
			if err == nil && !added {
				err = &InvalidError{Field: "id", Problem: fmt.Sprintf("%s is already in the journal", e.ID), Remedy: "leave id empty and one is made"}
			}
			return err
		})
	})
	return err
}

// follow begins the journal anew when its file is no longer at its path: moved
// aside by another program that found it damaged, or deleted. Without this,
// what is typed next would go to a file that nobody finds.
func (j *Journal) follow() error {
	if j.closed {
		return ErrClosed
	}
	if j.path == "" {
		return nil
	}
	if j.store != nil {
		if here, err := os.Stat(j.path); err == nil && os.SameFile(here, j.store.file) {
			return nil
		}
	}
	return j.reopen(checkLimit)
}

// reopen closes the store and opens what is now at the journal's path. If that
// fails the journal stays without a store until a later call succeeds.
func (j *Journal) reopen(limit int64) error {
	if j.store != nil {
		j.store.close()
		j.store = nil
	}
	s, aside, err := openStore(j.path, limit)
	if err != nil {
		return err
	}
	j.store = s
	if aside != "" {
		j.setAside = aside
	}
	return nil
}

// Close lets go of the file. Closing twice does no harm.
func (j *Journal) Close() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return nil
	}
	j.closed = true
	if j.store == nil {
		return nil
	}
	if err := j.store.close(); err != nil {
		return explain(j.path, "closing", err)
	}
	return nil
}

// A store is one open database and the statements used on every event.
type store struct {
	db             *sql.DB
	insert, lastID *sql.Stmt
	file           os.FileInfo // nil when in memory
}

// write runs do in one transaction that holds the write lock from its start.
func (s *store) write(do func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(context.Background(), nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after Commit
	if err := do(tx); err != nil {
		return err
	}
	return tx.Commit()
}

func (s *store) close() error {
	return errors.Join(s.insert.Close(), s.lastID.Close(), s.db.Close())
}
