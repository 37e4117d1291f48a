package problems

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

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
	b.load(sub, "bank")
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
		return nil, fmt.Errorf("cannot read the bank folder: %w", err)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s is a file; the bank is a folder of scenario files", dir)
	}
	b.load(os.DirFS(dir), dir)
	return b, nil
}

func (b *Bank) load(files fs.FS, dir string) {
	names, _ := fs.Glob(files, "*.toml")
	for _, name := range names {
		path := filepath.Join(dir, name)
		data, err := readCapped(files, name)
		if err != nil {
			b.Faults = append(b.Faults, &Fault{File: path, Message: err.Error()})
			continue
		}
		s, err := Read(path, data)
		if err != nil {
			var fs Faults
			if errors.As(err, &fs) {
				b.Faults = append(b.Faults, fs...)
			}
			continue
		}
		if other, err := b.Scenario(s.ID); err == nil {
			b.Faults = append(b.Faults, &Fault{File: path, Message: fmt.Sprintf("id %q is taken by %q; give this scenario its own", s.ID, other.Title)})
			continue
		}
		b.Scenarios = append(b.Scenarios, s)
	}
	slices.SortStableFunc(b.Scenarios, func(a, c *Scenario) int {
		if d := strings.Compare(a.Family, c.Family); d != 0 {
			return d
		}
		if a.Level != c.Level {
			return a.Level - c.Level
		}
		return strings.Compare(a.ID, c.ID)
	})
}

func readCapped(files fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(files, name)
	if err != nil {
		return nil, err
	}
	if info.Size() > MaxFile {
		return nil, fmt.Errorf("%d bytes is too large for a scenario; keep it under %d", info.Size(), MaxFile)
	}
	return fs.ReadFile(files, name)
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
	return fmt.Sprintf("no problem \"%s\" in the bank; there are %s", notation.Printable(e.ID), strings.Join(e.Known, ", "))
}
