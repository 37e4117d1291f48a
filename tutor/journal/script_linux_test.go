package journal

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"steelyard/tutor"
)

// small mounts a file system of so many kilobytes, or skips.
func small(t *testing.T, kilobytes int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%dk", kilobytes)); err != nil {
		t.Skip("a small file system cannot be mounted here, which takes root: ", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

func remount(t *testing.T, dir string, flags uintptr, data string) {
	t.Helper()
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|flags, data); err != nil {
		t.Fatal(err)
	}
}

// workUntilRefused works by the script, from one problem to the next, until an
// event is refused. It gives the desk, what was acknowledged of its session,
// and what was said.
func workUntilRefused(t *testing.T, j *Journal, learner string) (*tutor.Desk, []string, error) {
	t.Helper()
	for range 1000 {
		d, err := sitDown(j, learner)
		if err != nil { // refused between two problems
			return nil, nil, err
		}
		for d.Current() != nil {
			before, at := ids(d.Events()), where(d.Session)
			if err := next(d); err != nil {
				if now := ids(d.Events()); len(now) == len(before) && where(d.Session) != at {
					t.Errorf("nothing was recorded, and the learner went from %s to %s", at, where(d.Session))
				}
				return d, ids(d.Events()), err
			}
		}
	}
	t.Fatal("the disk never filled")
	return nil, nil, nil
}

// The disk fills up in the middle of a session. It is said, with the place and
// what to do; the learner stays at the entry; all that was acknowledged is
// there; and with room again, the same program goes on, and so does a new one.
func TestDiskFillsUpInASession(t *testing.T) {
	dir := small(t, 700)
	path := filepath.Join(dir, "journal.db")
	j := open(t, path)
	d, kept, err := workUntilRefused(t, j, "kestrel")
	var unwritable *UnwritableError
	if !errors.As(err, &unwritable) || !strings.Contains(err.Error(), path) ||
		!strings.Contains(err.Error(), "the disk is full; free some space and try again") {
		t.Fatalf("said: %v", err)
	}
	remount(t, dir, 0, "size=16m")
	if d == nil {
		if d, err = sitDown(j, "kestrel"); err != nil {
			t.Fatal(err)
		}
		kept = ids(d.Events())
	}
	if now := ids(d.Events()); len(now) == 0 || strings.Join(now, " ") != strings.Join(kept, " ") {
		t.Fatalf("%d events acknowledged, now %d", len(kept), len(now))
	}
	if err := next(d); err != nil {
		t.Fatalf("with room again: %v", err)
	}
	kept = ids(d.Events())
	at := where(d.Session)
	j.Close()
	_, again := resumed(t, path, "kestrel")
	if got := ids(again.Events()); strings.Join(got, " ") != strings.Join(kept, " ") || where(again.Session) != at {
		t.Errorf("resumed with %d events at %s; %d were acknowledged, at %s", len(got), where(again.Session), len(kept), at)
	}
}

// The folder becomes read-only in the middle of a session: nothing is said to
// be kept that is not. A new program says that it cannot be written, and where.
func TestFolderBecomesReadOnly(t *testing.T) {
	dir := small(t, 16<<10)
	path := filepath.Join(dir, "journal.db")
	j := open(t, path)
	d, err := sitDown(j, "kestrel")
	if err != nil {
		t.Fatal(err)
	}
	for range 12 {
		if err := next(d); err != nil {
			t.Fatal(err)
		}
	}
	kept, at := ids(d.Events()), where(d.Session)
	j.Close()
	remount(t, dir, syscall.MS_RDONLY, "")
	_, err = Open(path)
	var unwritable *UnwritableError
	if !errors.As(err, &unwritable) || !strings.Contains(err.Error(), path) || unwritable.Remedy == "" {
		t.Errorf("said: %v", err)
	}
	remount(t, dir, 0, "")
	_, again := resumed(t, path, "kestrel")
	if got := ids(again.Events()); strings.Join(got, " ") != strings.Join(kept, " ") || where(again.Session) != at {
		t.Errorf("resumed with %d events at %s; %d were acknowledged, at %s", len(got), where(again.Session), len(kept), at)
	}
}
