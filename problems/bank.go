package problems

import (
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"steelyard/problems/notation"
)

//go:embed bank/*.toml
var builtin embed.FS

// Bank is a collection of scenarios, in order of family, level and id, and
// what could not be read.
type Bank struct {
	Scenarios []*Scenario
	Faults    Faults
}

// Builtin is the bank that comes with the program. It is read once.
var Builtin = sync.OnceValue(func() *Bank {
	b := &Bank{}
	sub, _ := fs.Sub(builtin, "bank")
	b.load(sub, "bank", readOwn)
	return b
})

// Open is the built-in bank with the scenario files of a folder beside it. A
// file that cannot be read is in Faults; the rest still load. A scenario whose
// id is in the bank already is a fault, so that a log names one thing.
func Open(dir string) (*Bank, error) {
	b := &Bank{Scenarios: slices.Clone(Builtin().Scenarios), Faults: slices.Clone(Builtin().Faults)}
	if dir == "" {
		return b, nil
	}
	info, err := os.Stat(dir)
	if err != nil {
		if at := (*fs.PathError)(nil); errors.As(err, &at) {
			err = at.Err // the path is in the message already, and only there made printable
		}
		return nil, fmt.Errorf("cannot read the bank folder %s: %w", notation.Printable(dir), err)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s is a file; the bank is a folder of scenario files", notation.Printable(dir))
	}
	b.load(os.DirFS(dir), dir, Read)
	return b, nil
}

// load reads the scenario files of a folder, several at once; what is said of
// them comes in order of their names.
func (b *Bank) load(files fs.FS, dir string, read func(name string, data []byte) (*Scenario, error)) {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		b.fault(dir, notation.Printable(err.Error()))
	}
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return !strings.HasSuffix(e.Name(), ".toml") })
	scenarios, errs := make([]*Scenario, len(entries)), make([]error, len(entries))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(len(entries), runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(entries)); i = next.Add(1) - 1 {
				data, err := readCapped(files, entries[i].Name())
				if err == nil {
					scenarios[i], err = read(filepath.Join(dir, entries[i].Name()), data)
				}
				errs[i] = err
			}
		})
	}
	wg.Wait()
	for i, entry := range entries {
		path, s, err := filepath.Join(dir, entry.Name()), scenarios[i], errs[i]
		if faults := (Faults)(nil); errors.As(err, &faults) {
			b.Faults = append(b.Faults, faults...)
			continue
		}
		if err != nil {
			b.fault(path, notation.Printable(err.Error()))
			continue
		}
		if other, err := b.Scenario(s.ID); err == nil {
			b.fault(path, fmt.Sprintf("id \"%s\" is taken by \"%s\"; give this scenario its own", s.ID, other.Title))
			continue
		}
		b.Scenarios = append(b.Scenarios, s)
	}
	arrange(b.Scenarios, func(s *Scenario) *Card { return &s.Card })
}

// arrange sorts by family, level and id.
func arrange[T any](all []T, card func(T) *Card) {
	slices.SortStableFunc(all, func(a, b T) int {
		x, y := card(a), card(b)
		return cmp.Or(strings.Compare(x.Family, y.Family), cmp.Compare(x.Level, y.Level), strings.Compare(x.ID, y.ID))
	})
}

func (b *Bank) fault(path, message string) {
	b.Faults = append(b.Faults, &Fault{File: notation.Printable(path), Message: message})
}

// readCapped reads a plain file of no more than MaxFile bytes; a pipe or device
// is not opened, for it may never end.
func readCapped(files fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(files, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("is no plain file; a scenario is a text file")
	}
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxFile+1))
	if err == nil && len(data) > MaxFile {
		err = fmt.Errorf("is too large for a scenario (%d bytes); keep it under %d", max(info.Size(), MaxFile+1), MaxFile)
	}
	return data, err
}

// Scenario finds a scenario by id, or says what ids come near.
func (b *Bank) Scenario(id string) (*Scenario, error) {
	var all []string
	for _, s := range b.Scenarios {
		if s.ID == id {
			return s, nil
		}
		all = append(all, s.ID)
	}
	return nil, &UnknownError{id, all}
}

// UnknownError reports an id that is not in the bank.
type UnknownError struct {
	ID    string
	Known []string
}

func (e *UnknownError) Error() string {
	return fmt.Sprintf("no problem %s in the bank; there are %s", quote(e.ID), strings.Join(e.Known, ", "))
}
