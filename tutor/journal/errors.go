package journal

import (
	"fmt"
	"strconv"
	"strings"
)

// An InvalidError says which field of an event cannot be recorded.
type InvalidError struct {
	Field   string // its name in the exported line
	Problem string
	Remedy  string
}

func (e *InvalidError) Error() string {
	return fmt.Sprintf("event not recorded: %s %s; %s", e.Field, e.Problem, e.Remedy)
}

// An UnwritableError says that a journal cannot be kept at Path: the folder or
// the disk does not allow it. Nothing is wrong with what is recorded already.
// The caller may offer the learner to go on without a record (see [OpenMemory]).
type UnwritableError struct {
	Path   string // the file or the folder
	Reason string
	Remedy string
	Err    error // what the system said; may be nil
}

func (e *UnwritableError) Error() string {
	return fmt.Sprintf("the journal cannot be written at %s: %s; %s", quotePath(e.Path), e.Reason, e.Remedy)
}

func (e *UnwritableError) Unwrap() error { return e.Err }

// A NewerError says that the journal was last written by a later version of
// this program. The file has not been touched.
type NewerError struct {
	Path string
	Have int // version of the file's layout
	Know int // latest version this program knows
}

func (e *NewerError) Error() string {
	return fmt.Sprintf("the journal %s has layout %d, and this program knows layouts up to %d; use the newer program that wrote it, or name another journal file", quotePath(e.Path), e.Have, e.Know)
}

// A ForeignError says that the file is a sound database, but not a journal.
// The file has not been touched.
type ForeignError struct {
	Path string
}

func (e *ForeignError) Error() string {
	return fmt.Sprintf("%s is a database of another program, not a journal; name another journal file", quotePath(e.Path))
}

// A DamagedError says that the file is damaged and could not be dealt with: it
// could not be renamed, or the damage was met while reading.
type DamagedError struct {
	Path   string
	Reason string
	Remedy string
	Err    error
}

func (e *DamagedError) Error() string {
	return fmt.Sprintf("the journal %s is damaged: %s; %s", quotePath(e.Path), e.Reason, e.Remedy)
}

func (e *DamagedError) Unwrap() error { return e.Err }

// remedyDamaged is for damage met while reading a file that Open did not read
// through: an Append that meets it sets the file aside.
const remedyDamaged = "copy the file to keep what can be read of it, then go on: it is set aside when that is needed"

// A BusyError says that other programs held the journal for all the time we
// were prepared to wait. Nothing was recorded.
type BusyError struct {
	Path string
	Err  error
}

func (e *BusyError) Error() string {
	return fmt.Sprintf("the journal %s is held by another program; close that program, or wait, and try again", quotePath(e.Path))
}

func (e *BusyError) Unwrap() error { return e.Err }

// quotePath shows a path plainly unless something in it would act on a
// terminal.
func quotePath(p string) string {
	if p == "" {
		return "(in memory)"
	}
	for _, r := range p {
		if risky(r) {
			return quote(p)
		}
	}
	return p
}

// explain turns an error of the database into one that names the file and says
// what to do. Errors that already do are passed on.
func explain(path, doing string, err error) error {
	switch err.(type) {
	case *InvalidError, *UnwritableError, *NewerError, *ForeignError, *DamagedError, *BusyError:
		return err
	}
	switch faultOf(err) {
	case faultBusy:
		return &BusyError{Path: path, Err: err}
	case faultDamaged:
		return &DamagedError{Path: path, Reason: plain(err.Error()), Remedy: remedyDamaged, Err: err}
	case faultFull:
		return &UnwritableError{Path: path, Reason: "the disk is full", Remedy: "free some space and try again", Err: err}
	case faultDenied:
		return &UnwritableError{Path: path, Reason: "permission denied", Remedy: "make the file and its folder writable, or name another journal file", Err: err}
	case faultDisk:
		return &UnwritableError{Path: path, Reason: plain(err.Error()), Remedy: "see that the disk is sound, or name another journal file", Err: err}
	}
	return &failure{doing: doing, path: path, err: err}
}

// A failure is any other error of the database.
type failure struct {
	doing, path string
	err         error
}

func (f *failure) Error() string {
	return fmt.Sprintf("%s failed in the journal %s: %s", f.doing, quotePath(f.path), plain(f.err.Error()))
}

func (f *failure) Unwrap() error { return f.err }

// plain is what the database says, with what a terminal would act on escaped:
// names from the file, which anybody may have written, are part of it.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		if risky(r) {
			q := strconv.QuoteRuneToASCII(r)
			b.WriteString(q[1 : len(q)-1])
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}
