package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"
)

// A damage is why a file has to be set aside. It is an error only inside this
// package.
type damage struct {
	reason  string
	witness string      // the file found damaged
	seen    os.FileInfo // and which it was, so that no other is moved for it
	logOnly bool        // the database is sound, the log beside it is not
}

func (d *damage) Error() string { return d.reason }

// orphanLog looks for a write-ahead log that does not go with its database:
// SQLite would throw it away without a word.
func orphanLog(path string) error {
	// The log is looked at first: it is made after the database, so a journal
	// that another program is just making cannot look like an orphan.
	log, err := os.Stat(path + "-wal")
	if err != nil || log.Size() == 0 || !log.Mode().IsRegular() {
		return nil
	}
	d := &damage{witness: path + "-wal", seen: log}
	main, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		d.reason = "the file is gone, and the log beside it is not"
	case err == nil && main.Size() == 0:
		d.reason = "the file is empty, and the log beside it is not"
	case !soundLog(path + "-wal"):
		d.reason = "the log beside the file is spoilt"
		d.logOnly = true
	default:
		return nil
	}
	return d
}

// moveAside renames the damaged file and its companions and returns the new
// path, or "" when another program has dealt with it already. Nothing is
// overwritten.
func (d *damage) moveAside(path string) (string, error) {
	// Two programs may find the same damage. Without taking turns the slower
	// could move aside the new journal that the faster has begun.
	giveUp, err := takeTurn(path)
	if err != nil {
		return "", err
	}
	defer giveUp()
	if now, err := os.Stat(d.witness); err != nil || !os.SameFile(now, d.seen) {
		return "", nil
	}

	suffixes := append([]string{""}, companions...)
	if d.logOnly {
		suffixes = []string{"-wal", "-shm"}
	}
	aside := vacant(path+".damaged-"+time.Now().UTC().Format("20060102-150405"), suffixes)
	moved := ""
	for _, suffix := range suffixes {
		err := os.Rename(path+suffix, aside+suffix)
		switch {
		case err == nil && moved == "":
			moved = aside + suffix
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return moved, err
		}
	}
	return moved, nil
}

// vacant is name, or name with a number, such that neither it nor it with any
// of the suffixes is the name of a file.
func vacant(name string, suffixes []string) string {
	try := name
	for n := 2; taken(try, suffixes); n++ {
		try = fmt.Sprintf("%s-%d", name, n)
	}
	return try
}

func taken(name string, suffixes []string) bool {
	for _, suffix := range suffixes {
		if _, err := os.Lstat(name + suffix); err == nil {
			return true
		}
	}
	return false
}

const (
	turnStale = 3 * time.Second // after which the program whose turn it was has died
	turnWait  = 6 * time.Second
)

// takeTurn waits until no other program is making or moving the file at path,
// and keeps others from it until giveUp is called. A turn takes milliseconds.
func takeTurn(path string) (giveUp func(), err error) {
	turn := path + ".moving"
	for deadline := time.Now().Add(turnWait); ; time.Sleep(10 * time.Millisecond) {
		f, err := os.OpenFile(turn, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err == nil {
			f.Close()
			return func() { os.Remove(turn) }, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		if info, err := os.Stat(turn); err == nil && time.Since(info.ModTime()) > turnStale {
			os.Remove(turn)
		} else if time.Now().After(deadline) {
			return nil, fmt.Errorf("another program is at work on it; if there is none, remove %s", quotePath(turn))
		}
	}
}
