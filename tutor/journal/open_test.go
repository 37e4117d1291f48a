package journal

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"steelyard/tutor"
)

func TestOpenMakesFolderAndFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "folder", "journal.db")
	j := open(t, path)
	if j.SetAside() != "" || j.Path() != path {
		t.Errorf("SetAside %q, Path %q", j.SetAside(), j.Path())
	}
	record(t, j, answer(j.NewSession()))
	if runtime.GOOS == "windows" {
		return // no permission bits there
	}
	for name, want := range map[string]fs.FileMode{path: 0o600, path + "-wal": 0o600, filepath.Dir(path): 0o700} {
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v; want it for the user alone", name, info.Mode(), err)
		}
	}
}

func TestOpenOddPaths(t *testing.T) {
	for _, name := range []string{"a?mode=memory&b#c%41 d.db", "λ μ.db", "-x", "a&_pragma=query_only(1)", "new\nline.db", ":memory:"} {
		if runtime.GOOS == "windows" && strings.ContainsAny(name, "?\n:") {
			continue
		}
		path := filepath.Join(t.TempDir(), name)
		j := open(t, path)
		record(t, j, answer(j.NewSession()))
		j.Close()
		if got := files(t, path); !slices.Equal(got, []string{name}) {
			t.Errorf("%q: files %q", name, got)
		}
		if got := all(t, open(t, path), Filter{}); len(got) != 1 {
			t.Errorf("%q: %d events after opening again", name, len(got))
		}
	}
}

func TestOpenThroughLink(t *testing.T) {
	path := journalOf(t, 3)
	link := filepath.Join(t.TempDir(), "link.db")
	if err := os.Symlink(path, link); err != nil {
		t.Skip("links cannot be made here: ", err)
	}
	if got := all(t, open(t, link), Filter{}); len(got) != 3 {
		t.Errorf("%d events through a link, want 3", len(got))
	}

	os.Remove(link)
	if err := os.Symlink(filepath.Join(t.TempDir(), "gone", "x.db"), link); err != nil {
		t.Fatal(err)
	}
	_, err := Open(link)
	var unwritable *UnwritableError
	if !errors.As(err, &unwritable) || !strings.Contains(err.Error(), "link") {
		t.Errorf("a link to nothing: %v", err)
	}
}

func TestEmptyFileIsANewJournal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal.db")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	j := open(t, path)
	record(t, j, answer(j.NewSession()))
	if j.SetAside() != "" {
		t.Errorf("an empty file was set aside as %s", j.SetAside())
	}
}

// spoil changes the bytes of a file.
func spoil(t *testing.T, path string, change func([]byte) []byte) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, change(b), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestDamagedFileIsSetAside(t *testing.T) {
	random := make([]byte, 10_000)
	rng := rand.NewChaCha8([32]byte{1})
	rng.Read(random)
	for what, change := range map[string]func([]byte) []byte{
		"random bytes":       func([]byte) []byte { return random },
		"a few bytes":        func([]byte) []byte { return []byte("not a journal") },
		"zeros":              func(b []byte) []byte { return make([]byte, len(b)) },
		"a log":              func([]byte) []byte { return bytes.Repeat([]byte("{\"v\":1}\n"), 1000) },
		"header gone":        func(b []byte) []byte { copy(b, make([]byte, 100)); return b },
		"first page gone":    func(b []byte) []byte { copy(b[100:4096], random); return b },
		"write version":      func(b []byte) []byte { b[18] = 9; return b },
		"schema format":      func(b []byte) []byte { b[47] = 9; return b },
		"cut to half":        func(b []byte) []byte { return b[:len(b)/2/4096*4096] },
		"cut inside a page":  func(b []byte) []byte { return b[:len(b)-1000] },
		"cut in the header":  func(b []byte) []byte { return b[:50] },
		"page in the middle": func(b []byte) []byte { copy(b[len(b)/2/4096*4096:], random[:4096]); return b },
		"zeros in the middle": func(b []byte) []byte {
			copy(b[len(b)/2/4096*4096:], make([]byte, 4096))
			return b
		},
	} {
		t.Run(what, func(t *testing.T) {
			path := journalOf(t, 200)
			spoil(t, path, change)
			spoilt, _ := os.ReadFile(path)

			j := open(t, path)
			aside := j.SetAside()
			if !regexp.MustCompile(`journal\.db\.damaged-\d{8}-\d{6}$`).MatchString(aside) {
				t.Fatalf("set aside as %q", aside)
			}
			if kept, err := os.ReadFile(aside); err != nil || !bytes.Equal(kept, spoilt) {
				t.Errorf("what was set aside is not what was damaged: %v", err)
			}
			record(t, j, answer(j.NewSession()))
			j.Close()
			again := open(t, path)
			if got := all(t, again, Filter{}); len(got) != 1 || again.SetAside() != "" {
				t.Errorf("the new journal holds %d events, set aside %q", len(got), again.SetAside())
			}
			if got := files(t, path); slices.ContainsFunc(got, func(f string) bool { return strings.HasSuffix(f, ".moving") }) {
				t.Errorf("left behind: %q", got)
			}
		})
	}
}

// Whatever byte of the header is spoilt, Open gives a journal or an error of
// its own; it never misreads the file for one it may not write.
func TestEveryHeaderByteSpoilt(t *testing.T) {
	path := journalOf(t, 3)
	sound, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 100 {
		dir := t.TempDir()
		path := filepath.Join(dir, "journal.db")
		b := bytes.Clone(sound)
		b[i] ^= 0xff
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		j, err := Open(path)
		var newer *NewerError
		var foreign *ForeignError
		switch {
		case err == nil:
			if j.SetAside() == "" && len(all(t, j, Filter{})) != 3 {
				t.Errorf("byte %d: events lost without a word", i)
			}
			record(t, j, answer(j.NewSession()))
			j.Close()
		case 60 <= i && i < 64 && errors.As(err, &newer): // user_version
		case 68 <= i && i < 72 && errors.As(err, &foreign): // application_id
		default:
			t.Errorf("byte %d: %v", i, err)
		}
	}
}

func TestSetAsideOverwritesNothing(t *testing.T) {
	path := journalOf(t, 1)
	seen := map[string]bool{}
	for i := range 4 {
		content := fmt.Sprintf("damaged in way %d", i)
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		j := open(t, path)
		j.Close()
		seen[j.SetAside()] = true
		if b, err := os.ReadFile(j.SetAside()); err != nil || string(b) != content {
			t.Errorf("%s holds %q, %v", j.SetAside(), b, err)
		}
	}
	if len(seen) != 4 {
		t.Errorf("set aside as %v, want 4 names", seen)
	}
}

// crashed makes a journal as a killed program leaves it, with the events still
// in the log, and gives its path.
func crashed(t *testing.T, n int) string {
	t.Helper()
	live := filepath.Join(t.TempDir(), "journal.db")
	j := open(t, live)
	session := j.NewSession()
	for range n {
		record(t, j, answer(session))
	}
	dead := filepath.Join(t.TempDir(), "journal.db")
	for _, suffix := range []string{"", "-wal"} {
		b, err := os.ReadFile(live + suffix)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(dead+suffix, b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dead
}

func TestDamageAroundTheLog(t *testing.T) {
	t.Run("sound", func(t *testing.T) {
		j := open(t, crashed(t, 5))
		if got := all(t, j, Filter{}); len(got) != 5 || j.SetAside() != "" {
			t.Errorf("%d events, set aside %q", len(got), j.SetAside())
		}
	})
	t.Run("last write torn", func(t *testing.T) {
		path := crashed(t, 5)
		spoil(t, path+"-wal", func(b []byte) []byte { return b[:len(b)-100] })
		j := open(t, path)
		if got := all(t, j, Filter{}); len(got) != 4 || j.SetAside() != "" {
			t.Errorf("%d events, set aside %q; want all but the torn one", len(got), j.SetAside())
		}
	})
	t.Run("log is zeros", func(t *testing.T) { // made, and the power went
		path := journalOf(t, 5)
		os.WriteFile(path+"-wal", make([]byte, 8192), 0o600)
		j := open(t, path)
		if got := all(t, j, Filter{}); len(got) != 5 || j.SetAside() != "" {
			t.Errorf("%d events, set aside %q", len(got), j.SetAside())
		}
	})
	t.Run("log spoilt", func(t *testing.T) {
		path := journalOf(t, 5)
		os.WriteFile(path+"-wal", []byte("what is this doing here"), 0o600)
		j := open(t, path)
		if got := all(t, j, Filter{}); len(got) != 5 {
			t.Errorf("%d events, want those in the sound file", len(got))
		}
		if b, err := os.ReadFile(j.SetAside()); err != nil || string(b) != "what is this doing here" {
			t.Errorf("set aside %q: %q, %v", j.SetAside(), b, err)
		}
	})
	for what, lose := range map[string]func(string) error{
		"file gone":  os.Remove,
		"file empty": func(path string) error { return os.Truncate(path, 0) },
	} {
		t.Run(what, func(t *testing.T) {
			path := crashed(t, 5)
			want, _ := os.ReadFile(path + "-wal")
			if err := lose(path); err != nil {
				t.Fatal(err)
			}
			j := open(t, path)
			record(t, j, answer(j.NewSession()))
			aside := strings.TrimSuffix(j.SetAside(), "-wal")
			if got, err := os.ReadFile(aside + "-wal"); err != nil || !bytes.Equal(got, want) || j.SetAside() == "" {
				t.Errorf("set aside %q: the log is not there: %v", j.SetAside(), err)
			}
		})
	}
}

// Two programs start on one damaged file. Neither may move the other's new
// journal away.
func TestDamagedFileOpenedByManyAtOnce(t *testing.T) {
	for range 5 {
		path := journalOf(t, 1)
		if err := os.WriteFile(path, []byte("not a journal"), 0o600); err != nil {
			t.Fatal(err)
		}
		var wg sync.WaitGroup
		var mu sync.Mutex
		aside := 0
		for range 4 {
			wg.Go(func() {
				j, err := Open(path)
				if err != nil {
					t.Error(err)
					return
				}
				defer j.Close()
				if err := j.Append(answer(j.NewSession())); err != nil {
					t.Error(err)
				}
				mu.Lock()
				defer mu.Unlock()
				if j.SetAside() != "" {
					aside++
				}
			})
		}
		wg.Wait()
		if got := all(t, open(t, path), Filter{}); len(got) != 4 || aside != 1 {
			t.Errorf("%d events of 4, set aside by %d of 4", len(got), aside)
		}
	}
}

// The same with programs, which have less in common than goroutines.
func TestDamagedFileOpenedByManyPrograms(t *testing.T) {
	for range 3 {
		path := journalOf(t, 100)
		spoil(t, path, func(b []byte) []byte { // found only when read through
			copy(b[len(b)/2/4096*4096:], make([]byte, 4096))
			return b
		})
		var want []string
		var mu sync.Mutex
		var wg sync.WaitGroup
		for range 3 {
			cmd, out := startChild(t, path, 20)
			wg.Go(func() {
				got := acknowledged(out)
				if err := cmd.Wait(); err != nil {
					t.Errorf("a program failed: %v", err)
				}
				mu.Lock()
				defer mu.Unlock()
				want = append(want, got...)
			})
		}
		wg.Wait()
		slices.Sort(want)
		if got := ids(all(t, open(t, path), Filter{})); len(want) != 60 || !slices.Equal(got, want) {
			t.Errorf("%d events in the new journal, %d acknowledged, want 60", len(got), len(want))
		}
		aside := 0
		for _, name := range files(t, path) {
			if regexp.MustCompile(`damaged-[-0-9]+$`).MatchString(name) {
				aside++
			}
		}
		if aside != 1 {
			t.Errorf("%d set aside, want the damaged one alone: %q", aside, files(t, path))
		}
	}
}

// A program that died while renaming must not stop the next one for ever.
func TestStaleTurn(t *testing.T) {
	path := journalOf(t, 1)
	turn := path + ".moving"
	os.WriteFile(path, []byte("not a journal"), 0o600)
	os.WriteFile(turn, nil, 0o600)
	old := time.Now().Add(-time.Minute)
	if err := os.Chtimes(turn, old, old); err != nil {
		t.Fatal(err)
	}
	if j := open(t, path); j.SetAside() == "" {
		t.Error("not set aside")
	}
}

func TestNewerJournalIsLeftAlone(t *testing.T) {
	path := journalOf(t, 2)
	tamper(t, path, "PRAGMA user_version = 7")
	before, _ := os.ReadFile(path)
	_, err := Open(path)
	var newer *NewerError
	if !errors.As(err, &newer) || newer.Have != 7 || newer.Know != len(layouts) || !strings.Contains(err.Error(), path) {
		t.Errorf("Open: %v", err)
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(before, after) || !slices.Equal(files(t, path), []string{"journal.db"}) {
		t.Errorf("the newer journal was touched: %q", files(t, path))
	}
}

func TestForeignDatabaseIsLeftAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "photos.db")
	os.WriteFile(path, nil, 0o600)
	tamper(t, path, "CREATE TABLE photos (name TEXT); INSERT INTO photos VALUES ('cat')")
	before, _ := os.ReadFile(path)
	_, err := Open(path)
	var foreign *ForeignError
	if !errors.As(err, &foreign) || !strings.Contains(err.Error(), path) {
		t.Errorf("Open: %v", err)
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(before, after) || !slices.Equal(files(t, path), []string{"photos.db"}) {
		t.Errorf("another program's database was touched: %q", files(t, path))
	}
}

func TestJournalWithoutItsTableIsDamaged(t *testing.T) {
	for _, statement := range []string{"DROP TABLE events", "ALTER TABLE events RENAME TO events_old", `ALTER TABLE events RENAME COLUMN "typed" TO "text"`} {
		path := journalOf(t, 2)
		tamper(t, path, statement)
		if j := open(t, path); j.SetAside() == "" {
			t.Errorf("%s: not set aside", statement)
		}
	}
}

// What a file says of itself reaches a message only with its claws drawn.
func TestMessagesFromHostileFiles(t *testing.T) {
	path := journalOf(t, 1)
	tamper(t, path, "CREATE TRIGGER bite BEFORE INSERT ON events BEGIN SELECT RAISE(ABORT, 'x\x1b[2J\u202e'); END")
	j := open(t, path)
	err := j.Append(answer(j.NewSession()))
	if err == nil || strings.ContainsFunc(err.Error(), risky) || !strings.Contains(err.Error(), `x\x1b[2J\u202e`) || !strings.Contains(err.Error(), path) {
		t.Errorf("Append: %q", err)
	}
}

// tamper runs a statement on the file as another program would.
func tamper(t *testing.T, path, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(statement); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestUnwritablePlaces(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	os.WriteFile(file, nil, 0o600)
	folder := filepath.Join(dir, "folder.db")
	os.MkdirAll(filepath.Join(folder, "inner"), 0o700)
	places := map[string]string{
		"a folder in its place": folder,
		"a file for a folder":   filepath.Join(file, "journal.db"),
	}
	if runtime.GOOS == "linux" {
		places["a device"] = "/dev/null"
		places["a folder that nobody may write"] = "/proc/steelyard/journal.db"
	}
	for what, path := range places {
		_, err := Open(path)
		var unwritable *UnwritableError
		if !errors.As(err, &unwritable) || !strings.Contains(err.Error(), path) && !strings.Contains(err.Error(), filepath.Dir(path)) {
			t.Errorf("%s: %v", what, err)
		}
	}
	if _, err := Open(""); err == nil {
		t.Error("Open of no path gave a journal")
	}
	if got := files(t, filepath.Join(folder, "x")); !slices.Equal(got, []string{"inner"}) {
		t.Errorf("the folder now holds %q", got)
	}
}

func TestReadOnlyFolderAndFile(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write anywhere; TestUnwritablePlaces has the places where even root may not")
	}
	for what, protect := range map[string]func(path string) error{
		"folder":      func(path string) error { os.Remove(path); return os.Chmod(filepath.Dir(path), 0o500) },
		"folder only": func(path string) error { return os.Chmod(filepath.Dir(path), 0o500) },
		"file":        func(path string) error { return os.Chmod(path, 0o400) },
	} {
		path := journalOf(t, 1)
		if err := protect(path); err != nil {
			t.Fatal(err)
		}
		_, err := Open(path)
		os.Chmod(filepath.Dir(path), 0o700)
		var unwritable *UnwritableError
		if !errors.As(err, &unwritable) {
			t.Errorf("read-only %s: %v", what, err)
		}
	}
}

// A full disk, made by forbidding the file to grow.
func TestFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal.db")
	j := open(t, path)
	session := j.NewSession()
	if _, err := j.store.db.Exec("PRAGMA max_page_count = 30"); err != nil {
		t.Fatal(err)
	}
	kept := fillUntilRefused(t, j, session)
	if _, err := j.store.db.Exec("PRAGMA max_page_count = 1000000"); err != nil {
		t.Fatal(err)
	}
	e := answer(session)
	record(t, j, e)
	if got := ids(all(t, j, Filter{})); !slices.Equal(got, append(kept, e.ID)) {
		t.Errorf("%d events, want %d: those that were acknowledged", len(got), len(kept)+1)
	}
}

// fillUntilRefused appends until Append says that there is no room, and gives
// the ids acknowledged before.
func fillUntilRefused(t *testing.T, j *Journal, session string) (kept []string) {
	t.Helper()
	for range 10_000 {
		e := answer(session)
		err := j.Append(e)
		if err == nil {
			kept = append(kept, e.ID)
			continue
		}
		var unwritable *UnwritableError
		if !errors.As(err, &unwritable) || !strings.Contains(err.Error(), "full") {
			t.Fatalf("no room: %v", err)
		}
		if e.ID != "" || !e.At.IsZero() || e.V != 0 {
			t.Fatalf("Append failed and yet filled %+v", e)
		}
		if len(kept) == 0 {
			t.Fatal("nothing fitted at all")
		}
		return kept
	}
	t.Fatal("10,000 events fitted")
	return nil
}

// The file is moved or deleted while the program runs; what is typed next must
// be found at the path.
func TestFileGoneWhileOpen(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file cannot be moved there")
	}
	for what, lose := range map[string]func(string) error{
		"moved":          func(path string) error { return os.Rename(path, path+".elsewhere") },
		"deleted":        os.Remove,
		"folder deleted": func(path string) error { return os.RemoveAll(filepath.Dir(path)) },
		"replaced": func(path string) error {
			os.Remove(path)
			os.Remove(path + "-wal")
			os.Remove(path + "-shm")
			return os.WriteFile(path, nil, 0o600)
		},
	} {
		t.Run(what, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "in", "journal.db")
			j := open(t, path)
			session := j.NewSession()
			record(t, j, answer(session))
			if err := lose(path); err != nil {
				t.Fatal(err)
			}
			e := answer(session)
			record(t, j, e)
			j.Close()
			if got := ids(all(t, open(t, path), Filter{})); !slices.Equal(got, []string{e.ID}) {
				t.Errorf("at the path: %q, want %q", got, e.ID)
			}
		})
	}
}

// Damage that Open had no time to look for is dealt with when an Append meets
// it, and the line is kept.
func TestDamageMetWhileAppending(t *testing.T) {
	path := journalOf(t, 400)
	spoil(t, path, func(b []byte) []byte {
		for page := len(b) / 2 / 4096 * 4096; page < len(b); page += 4096 {
			copy(b[page:], bytes.Repeat([]byte{0xff}, 4096))
		}
		return b
	})
	s, aside, err := openStore(path, 0) // as a file above the limit
	if err != nil || aside != "" {
		t.Fatalf("set aside %q, %v", aside, err)
	}
	j := &Journal{path: path, store: s, ids: process, now: time.Now}
	defer j.Close()
	_, err = j.Sessions("")
	var damaged *DamagedError
	if !errors.As(err, &damaged) {
		t.Errorf("Sessions on a damaged file: %v", err)
	}
	e := answer(j.NewSession())
	record(t, j, e)
	if j.SetAside() == "" {
		t.Error("the damaged file was not set aside")
	}
	if got := ids(all(t, j, Filter{})); !slices.Equal(got, []string{e.ID}) {
		t.Errorf("the new journal holds %q, want %q", got, e.ID)
	}
}

func TestOpenMemoryLeavesNoFile(t *testing.T) {
	t.Chdir(t.TempDir())
	j := memory(t)
	record(t, j, event(j.NewSession(), tutor.Began))
	if got := all(t, j, Filter{}); len(got) != 1 || j.Path() != "" || j.SetAside() != "" {
		t.Errorf("%d events, path %q, set aside %q", len(got), j.Path(), j.SetAside())
	}
	if got := files(t, "x"); len(got) != 0 {
		t.Errorf("files %q", got)
	}
}
