package journal

import (
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"steelyard/tutor"
)

// older is a copy of a journal of layout 1: nine events by two learners.
func older(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "layout-1.db"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "journal.db")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// versions are the layouts that the journal says it has had.
func versions(t *testing.T, j *Journal) []int {
	t.Helper()
	rows, err := j.store.db.Query(`SELECT "version" FROM layouts ORDER BY "version"`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var got []int
	for rows.Next() {
		var v int
		if err := rows.Scan(&v); err != nil {
			t.Fatal(err)
		}
		got = append(got, v)
	}
	return got
}

func TestNewJournalTellsItsLayouts(t *testing.T) {
	if got := versions(t, open(t, filepath.Join(t.TempDir(), "journal.db"))); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("layouts %v, want 1 and 2", got)
	}
}

// A journal of an older layout is opened with all that it holds, brought up to
// date, and goes on.
func TestOlderJournal(t *testing.T) {
	path := older(t)
	j := open(t, path)
	if j.SetAside() != "" {
		t.Fatalf("set aside as %s", j.SetAside())
	}
	var typed []string
	events := all(t, j, Filter{})
	for _, e := range events {
		if e.Kind == tutor.Answered {
			typed = append(typed, e.Typed)
		}
	}
	if want := []string{"T L sin(alpha)", "=1+1", "½ W L", "T L sin(alpha)", "=1+1", "½ W L"}; len(events) != 9 || !slices.Equal(typed, want) {
		t.Errorf("%d events, typed %q", len(events), typed)
	}
	if got := versions(t, j); !slices.Equal(got, []int{2}) {
		t.Errorf("layouts %v; only 2 was made here", got)
	}
	open, err := j.Unfinished("kestrel")
	if err != nil || len(open) != 1 {
		t.Fatalf("unfinished: %v, %v", open, err)
	}
	e := answer(open[0].Session)
	record(t, j, e)
	if got := all(t, j, Filter{Session: open[0].Session}); len(got) != 5 || got[4].ID != e.ID {
		t.Errorf("after going on: %q", ids(got))
	}
	for _, statement := range []string{`DELETE FROM events`, `UPDATE events SET "verdict" = 'right'`} {
		if _, err := j.store.db.Exec(statement); err == nil {
			t.Errorf("%s was let pass", statement)
		}
	}
	var id identity
	if id, err = identify(j.store.db); err != nil || id.version != len(layouts) {
		t.Errorf("signed as layout %d, %v", id.version, err)
	}
}

// Programs that open an older journal at the same moment bring it up to date
// once.
func TestOlderJournalOpenedByMany(t *testing.T) {
	path := older(t)
	var wg sync.WaitGroup
	for range 2 {
		cmd, out := startChild(t, path, 10)
		wg.Go(func() {
			acknowledged(out)
			if err := cmd.Wait(); err != nil {
				t.Errorf("a program failed: %v", err)
			}
		})
	}
	j := open(t, path)
	wg.Wait()
	if got := all(t, j, Filter{}); len(got) != 9+20 {
		t.Errorf("%d events, want 29", len(got))
	}
	if got := versions(t, j); !slices.Equal(got, []int{2}) {
		t.Errorf("layouts %v", got)
	}
}

// A step that fails half-way leaves the older journal as it was.
func TestLayoutsAreAllOrNothing(t *testing.T) {
	path := older(t)
	db, err := connect(path)
	if err != nil {
		t.Fatal(err)
	}
	s := &store{db: db}
	stopped := errors.New("stopped half-way")
	err = s.write(func(tx *sql.Tx) error {
		if err := bringUpToDate(tx); err != nil {
			return err
		}
		return stopped
	})
	db.Close()
	if !errors.Is(err, stopped) {
		t.Fatal(err)
	}
	db, err = connect(path)
	if err != nil {
		t.Fatal(err)
	}
	id, err := identify(db)
	db.Close()
	if err != nil || id.version != 1 {
		t.Errorf("layout %d, %v; want 1", id.version, err)
	}
	if j := open(t, path); len(all(t, j, Filter{})) != 9 || j.SetAside() != "" {
		t.Error("the older journal cannot be opened after")
	}
}
