package problems

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Fault is something wrong in a scenario file, at a place.
type Fault struct {
	File         string
	Line, Column int // 1-based, in characters; 0 when the fault has no one place
	Message      string
}

func (f *Fault) Error() string {
	if f.Line == 0 {
		return fmt.Sprintf("%s: %s", f.File, f.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", f.File, f.Line, f.Column, f.Message)
}

// Faults is everything wrong with one file, in order of place.
type Faults []*Fault

func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// maxFaults is how many faults of one file are listed.
const maxFaults = 50

func (fs Faults) sorted() Faults {
	slices.SortStableFunc(fs, func(a, b *Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(fs, func(a, b *Fault) bool { return *a == *b })
}
