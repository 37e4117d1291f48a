package journal

import (
	"path/filepath"
	"slices"
	"syscall"
	"testing"
)

// TestFullDisk again, on a file system that is in truth full.
func TestFullFileSystem(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=512k"); err != nil {
		t.Skip("a small file system cannot be mounted here: ", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	path := filepath.Join(dir, "journal.db")
	j := open(t, path)
	kept := fillUntilRefused(t, j, j.NewSession())
	if got := ids(all(t, j, Filter{})); !slices.Equal(got, kept) {
		t.Errorf("%d events, %d acknowledged", len(got), len(kept))
	}
	j.Close()
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT, "size=16m"); err != nil {
		t.Fatal(err)
	}
	j = open(t, path)
	e := answer(j.NewSession())
	record(t, j, e)
	if got := ids(all(t, j, Filter{})); !slices.Equal(got, append(kept, e.ID)) || j.SetAside() != "" {
		t.Errorf("with room again: %d events, %d acknowledged, set aside %q", len(got), len(kept)+1, j.SetAside())
	}
}
