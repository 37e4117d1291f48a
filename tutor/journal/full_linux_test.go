package journal

import (
	"path/filepath"
	"slices"
	"testing"
)

// TestFullDisk again, on a file system that is in truth full.
func TestFullFileSystem(t *testing.T) {
	dir := small(t, 512)
	path := filepath.Join(dir, "journal.db")
	j := open(t, path)
	kept := fillUntilRefused(t, j, j.NewSession())
	if got := ids(all(t, j, Filter{})); !slices.Equal(got, kept) {
		t.Errorf("%d events, %d acknowledged", len(got), len(kept))
	}
	j.Close()
	remount(t, dir, 0, "size=16m")
	j = open(t, path)
	e := answer(j.NewSession())
	record(t, j, e)
	if got := ids(all(t, j, Filter{})); !slices.Equal(got, append(kept, e.ID)) || j.SetAside() != "" {
		t.Errorf("with room again: %d events, %d acknowledged, set aside %q", len(got), len(kept)+1, j.SetAside())
	}
}
