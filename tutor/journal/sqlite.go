package journal

// All that is SQLite's own: how to open a file, which errors it gives, how it
// keeps a version, and how it guards a table. Another database would replace
// this file.

import (
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"modernc.org/sqlite"
)

const (
	// applicationID, "Stlj" in the file's header, tells a journal from the
	// database of another program.
	applicationID = 0x53746c6a

	// One call waits busyWait for another program's write, and is tried
	// busyTries times. A write takes milliseconds; this is for a laptop that
	// slept in the middle of one.
	busyWait  = 5 * time.Second
	busyTries = 3

	// Open reads every page of a file up to checkLimit bytes. Above that it
	// would keep the learner waiting; damage is then found when it is met.
	checkLimit = 16 << 20
	everyPage  = math.MaxInt64
)

// settings apply to every connection.
//
//   - synchronous EXTRA: a commit has reached the disk when it returns, in
//     write-ahead mode as FULL, and in the older mode with the folder too.
//   - fullfsync: where the system's flush stops at the drive's cache, ask for
//     the one that does not.
//   - txlock immediate: a transaction takes the write lock when it begins, so
//     it can wait for it, and never fails half way.
//   - the rest: the schema of a file we did not write is not to be trusted.
var settings = url.Values{
	"_busy_timeout": {fmt.Sprint(busyWait.Milliseconds())},
	"_txlock":       {"immediate"},
	"_synchronous":  {"EXTRA"},
	"_defensive":    {"1"},
	"_dqs":          {"0"},
	"_error_rc":     {"1"},
	"_pragma":       {"fullfsync(1)", "checkpoint_fullfsync(1)", "trusted_schema(0)", "cell_size_check(1)"},
}

// connect opens the database file at path, which must exist, or one in memory.
// Nothing is read yet. One connection serves the whole program: the journal
// takes turns by itself, and a database in memory lives in its connection.
func connect(path string) (*sql.DB, error) {
	name := "file::memory:?" + settings.Encode()
	if path != "" {
		slashed := filepath.ToSlash(path)
		if !strings.HasPrefix(slashed, "/") {
			slashed = "/" + slashed // a drive letter
		}
		file := url.URL{Scheme: "file", Path: slashed, RawQuery: "mode=rw&" + settings.Encode()}
		name = file.String()
	}
	db, err := sql.Open("sqlite", name)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	db.SetMaxIdleConns(1)
	return db, nil
}

// identity is what a database file says of itself.
type identity struct {
	application int64
	version     int
	empty       bool // it has no tables
}

// queryer is a database or a transaction on it.
type queryer interface {
	QueryRow(query string, args ...any) *sql.Row
}

// identify asks in one statement, so that all of the answer is from one moment:
// another program may be making the journal.
func identify(q queryer) (id identity, err error) {
	var tables int
	err = q.QueryRow(`SELECT
		(SELECT COUNT(*) FROM sqlite_schema),
		(SELECT application_id FROM pragma_application_id),
		(SELECT user_version FROM pragma_user_version)`).Scan(&tables, &id.application, &id.version)
	id.empty = tables == 0
	return id, err
}

// sign marks the database as a journal of the given version.
func sign(tx *sql.Tx, version int) error {
	_, err := tx.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, version))
	return err
}

// logAhead puts the file in write-ahead mode: one flush an event, and a reader
// does not hold up a writer. Where the file system cannot (it has no shared
// memory), the file stays as it is, which is slower and as durable.
func logAhead(db *sql.DB) error {
	var mode string
	return db.QueryRow("PRAGMA journal_mode = WAL").Scan(&mode)
}

// inspect reads every page and says what is wrong with them, or "".
func inspect(db *sql.DB) (string, error) {
	var verdict string
	if err := db.QueryRow("PRAGMA quick_check(1)").Scan(&verdict); err != nil {
		return "", err
	}
	if verdict == "ok" {
		return "", nil
	}
	return strings.ReplaceAll(strings.TrimPrefix(verdict, "*** in database main ***\n"), "\n", ", "), nil
}

// guards forbid changing what is recorded to every program that opens the
// file, this one included.
const guards = `
CREATE TRIGGER events_never_change BEFORE UPDATE ON events
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: an event cannot be changed'); END;
CREATE TRIGGER events_never_go BEFORE DELETE ON events
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: an event cannot be deleted'); END;
`

// companions are the files SQLite may keep beside a database, by suffix.
var companions = []string{"-wal", "-shm", "-journal"}

// soundLog says whether the write-ahead file at path begins as one must. A log
// that was made but not written when the power went begins with nothing or
// zeros, and holds nothing.
func soundLog(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return true // not there, or not ours to judge
	}
	defer f.Close()
	var magic [4]byte
	if _, err := io.ReadFull(f, magic[:]); err != nil {
		return true
	}
	switch binary.BigEndian.Uint32(magic[:]) {
	case 0, 0x377f0682, 0x377f0683: // "WAL file format", sqlite.org/walformat.html
		return true
	}
	return false
}

// soundHeader says whether the file's header asks for what SQLite can do. A
// spoilt version byte there reads as "read only" or "unsupported", which would
// pass for a matter of permissions.
//
// It opens and closes the file, which lets go of this process's locks on it:
// only for a file that could not be opened as a database.
func soundHeader(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return true // not ours to judge
	}
	defer f.Close()
	var header [100]byte
	if _, err := io.ReadFull(f, header[:]); err != nil {
		return errors.Is(err, io.EOF)
	}
	write, read, schema := header[18], header[19], binary.BigEndian.Uint32(header[44:])
	return 1 <= write && write <= 2 && 1 <= read && read <= 2 && schema <= 4
}

// fault is a kind of error, as far as it matters to what is done next.
type fault int

const (
	faultNone fault = iota
	faultOther
	faultSQL // the statement does not fit the tables, or the file's format
	faultBusy
	faultDamaged
	faultFull
	faultDenied
	faultDisk
)

// faults maps SQLite's primary result codes (sqlite.org/rescode.html).
var faults = map[int]fault{
	1:  faultSQL,     // ERROR
	3:  faultDenied,  // PERM
	5:  faultBusy,    // BUSY
	6:  faultBusy,    // LOCKED
	8:  faultDenied,  // READONLY
	10: faultDisk,    // IOERR
	11: faultDamaged, // CORRUPT
	13: faultFull,    // FULL
	14: faultDenied,  // CANTOPEN
	26: faultDamaged, // NOTADB
}

func faultOf(err error) fault {
	if err == nil {
		return faultNone
	}
	var e *sqlite.Error
	if errors.As(err, &e) {
		if f, ok := faults[e.Code()&0xff]; ok {
			return f
		}
	}
	return faultOther
}

// patiently runs do until it does not find the file held by another program.
func patiently(do func() error) error {
	var err error
	for range busyTries {
		if err = do(); faultOf(err) != faultBusy {
			return err
		}
		time.Sleep(20 * time.Millisecond) // some locks are refused at once
	}
	return err
}
