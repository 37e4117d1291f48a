package journal

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Open opens the journal at path, making its folder and the file where there
// are none. A file of no length is a new journal.
//
// A damaged file is renamed, not written to, and a new one begun in its place;
// [Journal.SetAside] then says where it went. The errors that a caller may
// want to tell apart are *[UnwritableError], *[NewerError], *[ForeignError],
// *[BusyError], and *[DamagedError] when a damaged file could not be renamed.
//
// Files up to 16 MiB, tens of thousands of events, are read through for
// damage. Damage deep in a larger one is found when it is met; an Append that
// meets it sets the file aside then.
func Open(path string) (*Journal, error) {
	path, err := resolve(path)
	if err != nil {
		return nil, err
	}
	s, aside, err := openStore(path, checkLimit)
	if err != nil {
		return nil, err
	}
	return &Journal{path: path, store: s, setAside: aside, ids: process, now: time.Now}, nil
}

// OpenMemory opens a journal that ends with the program. It is for a learner
// who was told that nothing can be kept and agreed to go on.
func OpenMemory() (*Journal, error) {
	db, err := connect("")
	if err != nil {
		return nil, err
	}
	s, err := settle(db, "", 0)
	if err != nil {
		db.Close()
		return nil, explain("", "opening", err)
	}
	return &Journal{store: s, ids: process, now: time.Now}, nil
}

// resolve makes path absolute and follows links, so that the file, its
// companions and anything set aside are in one folder.
func resolve(path string) (string, error) {
	if path == "" {
		return "", errors.New("no path was given for the journal: name a file, or use DefaultPath")
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("the journal's path %s cannot be made absolute: %w; name it from the root", quote(path), err)
	}
	real, err := filepath.EvalSymlinks(abs)
	if err == nil {
		return real, nil
	}
	if target, linkErr := os.Readlink(abs); linkErr == nil {
		return "", &UnwritableError{Path: abs, Reason: "it is a link to " + quotePath(target) + ", which cannot be reached", Remedy: "mend or remove the link", Err: err}
	}
	return abs, nil // not there yet; openStore says if it cannot be made
}

// openStore opens what is at path, setting damaged files aside as it meets
// them. Files above limit bytes are not read through.
func openStore(path string, limit int64) (s *store, aside string, err error) {
	opening.Lock()
	defer opening.Unlock()
	for range 8 { // a spoilt log, then a spoilt file, then lost races
		s, err = attempt(path, limit)
		if err == errMoved {
			continue
		}
		var d *damage
		if !errors.As(err, &d) {
			return s, aside, err
		}
		moved, err := d.moveAside(path)
		if err != nil {
			return nil, aside, &DamagedError{Path: path, Reason: plain(d.reason), Remedy: "it could not be renamed out of the way (" + reason(err) + "), so rename it yourself, or name another journal file", Err: err}
		}
		if moved != "" {
			aside = moved
		}
	}
	return nil, aside, explain(path, "opening", fmt.Errorf("it changed each time it was looked at (%w); see what other program writes there, or name another journal file", err))
}

// opening lets one goroutine at a time open, check and move journals: the
// locks between programs do not hold between goroutines of one.
var opening sync.Mutex

// errMoved says that the file was moved while it was being opened.
var errMoved = errors.New("the file was moved while it was being opened")

// attempt opens the file at path once, making it if need be. What it finds
// damaged it reports as a *damage.
func attempt(path string, limit int64) (*store, error) {
	if err := makeFolder(filepath.Dir(path)); err != nil {
		return nil, err
	}
	if err := orphanLog(path); err != nil {
		return nil, err
	}
	info, err := makeFile(path)
	if err != nil {
		return nil, err
	}
	if info.Size() > limit {
		limit = 0
	}

	db, err := connect(path)
	if err != nil {
		return nil, explain(path, "opening", err)
	}
	s, err := settle(db, path, limit)
	if err == nil {
		s.file = info
		return s, nil
	}
	db.Close()
	if now, err := os.Stat(path); err != nil || !os.SameFile(now, info) {
		return nil, errMoved
	}
	var d *damage
	switch {
	case errors.As(err, &d):
		d.witness, d.seen = path, info
		return nil, d
	case faultOf(err) == faultDamaged:
		return nil, &damage{reason: err.Error(), witness: path, seen: info}
	case (faultOf(err) == faultDenied || faultOf(err) == faultSQL) && !soundHeader(path):
		return nil, &damage{reason: "its header is spoilt", witness: path, seen: info}
	}
	return nil, explain(path, "opening", err)
}

// settle makes sure of what db is, reads it through if limit is not zero,
// brings its layout up to date, readies the statements, and sees that it can
// be written.
func settle(db *sql.DB, path string, limit int64) (*store, error) {
	var id identity
	err := patiently(func() (err error) { id, err = identify(db); return err })
	if err != nil {
		return nil, err
	}
	latest := len(layouts)
	switch fresh := id == (identity{empty: true}); {
	case !fresh && id.application != applicationID:
		return nil, &ForeignError{Path: path}
	case id.version > latest:
		return nil, &NewerError{Path: path, Have: id.version, Know: latest}
	case !fresh && (id.version < 1 || id.empty):
		return nil, &damage{reason: "it is marked as a journal but has no layout"}
	}
	if limit > 0 {
		wrong, err := inspect(db)
		if err != nil {
			return nil, err
		}
		if wrong != "" {
			return nil, &damage{reason: wrong}
		}
	}
	if path != "" {
		if err := patiently(func() error { return logAhead(db) }); err != nil {
			return nil, err
		}
	}

	s := &store{db: db}
	if id.version < latest {
		if err := patiently(func() error { return s.write(bringUpToDate) }); err != nil {
			return nil, err
		}
	}
	if s.insert, err = db.Prepare(insertSQL); err == nil {
		s.lastID, err = db.Prepare(lastIDSQL)
	}
	if faultOf(err) == faultSQL {
		return nil, &damage{reason: "its table of events is not as this program makes it (" + err.Error() + ")"}
	}
	if err != nil {
		return nil, err
	}
	return s, patiently(func() error { return s.write(writeNothing) })
}

// makeFolder makes dir and the folders above it, for the user alone.
func makeFolder(dir string) error {
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return &UnwritableError{Path: dir, Reason: "the folder cannot be made (" + reason(err) + ")", Remedy: "make it, or name a journal file in another folder", Err: err}
	}
	syncFolder(filepath.Dir(dir))
	return nil
}

// makeFile makes sure of a plain file at path, readable by the user alone if
// it has to be made.
func makeFile(path string) (os.FileInfo, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if err := create(path); err != nil {
			return nil, &UnwritableError{Path: path, Reason: "the file cannot be made (" + reason(err) + ")", Remedy: "make the folder writable, or name a journal file in another folder", Err: err}
		}
		info, err = os.Stat(path)
	}
	switch {
	case err != nil:
		return nil, &UnwritableError{Path: path, Reason: "the file cannot be reached (" + reason(err) + ")", Remedy: "see to the permissions of the folder, or name another journal file", Err: err}
	case info.IsDir():
		return nil, &UnwritableError{Path: path, Reason: "there is a folder of that name", Remedy: "move the folder away, or name another journal file"}
	case !info.Mode().IsRegular():
		return nil, &UnwritableError{Path: path, Reason: "it is a device or a pipe, not a file", Remedy: "name another journal file"}
	}
	return info, nil
}

// create makes an empty file, unless another program just did. It takes its
// turn with programs that set files aside: one must not take the new file's
// log for that of the damaged one.
func create(path string) error {
	giveUp, err := takeTurn(path)
	if err != nil {
		return err
	}
	defer giveUp()
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	if err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return f.Close()
}

// syncFolder makes a new name in dir outlast a power cut. Not every system can
// flush a folder; there the name is as safe as that system makes it.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}

// reason is what the system said, without the path that it said it of.
func reason(err error) string {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	return err.Error()
}
