package problems

import (
	"fmt"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
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

func (fs Faults) sorted() Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		if fs[i].Line != fs[j].Line {
			return fs[i].Line < fs[j].Line
		}
		return fs[i].Column < fs[j].Column
	})
	return fs
}

// place is where a value stands in a file.
type place struct {
	line, column int
	quoted       int // width of the opening quote, so that columns inside can be counted
}

// places maps a value's path ("bodies.0.forces.2.angle") to where it stands.
// The file must have been accepted by the TOML decoder first.
func places(data []byte) map[string]place {
	p := &unstable.Parser{}
	p.Reset(data)
	l := locator{p: p, data: data, found: map[string]place{}, arrays: map[string]int{}}
	prefix := ""
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table:
			prefix = l.resolve(keyParts(e.Key()), false)
			l.mark(prefix, e)
		case unstable.ArrayTable:
			prefix = l.resolve(keyParts(e.Key()), true)
			l.mark(prefix, e)
		case unstable.KeyValue:
			l.keyValue(prefix, e)
		}
	}
	return l.found
}

type locator struct {
	p      *unstable.Parser
	data   []byte
	found  map[string]place
	arrays map[string]int // path of an array of tables -> index of its last element
}

func keyParts(it unstable.Iterator) []string {
	var parts []string
	for it.Next() {
		parts = append(parts, string(it.Node().Data))
	}
	return parts
}

// resolve turns a table's header into a path, with the index of the element
// of each array of tables it passes through. An inner array's path holds its
// parent's index, so each parent counts its own.
func (l *locator) resolve(parts []string, array bool) string {
	path := ""
	for i, part := range parts {
		path = join(path, part)
		if n, ok := l.arrays[path]; ok || (array && i == len(parts)-1) {
			if array && i == len(parts)-1 {
				if ok {
					n++
				}
				l.arrays[path] = n
			}
			path = fmt.Sprintf("%s.%d", path, n)
		}
	}
	return path
}

func join(path, part string) string {
	if path == "" {
		return part
	}
	return path + "." + part
}

func (l *locator) keyValue(prefix string, e *unstable.Node) {
	for _, part := range keyParts(e.Key()) {
		prefix = join(prefix, part)
	}
	l.value(prefix, e.Value(), e)
}

func (l *locator) value(path string, v, near *unstable.Node) {
	l.markValue(path, v, near)
	it := v.Children()
	switch v.Kind {
	case unstable.Array:
		for i := 0; it.Next(); i++ {
			l.value(fmt.Sprintf("%s.%d", path, i), it.Node(), near)
		}
	case unstable.InlineTable:
		for it.Next() {
			l.keyValue(path, it.Node())
		}
	}
}

func (l *locator) markValue(path string, v, near *unstable.Node) {
	if v.Raw.Length == 0 {
		l.mark(path, near)
		return
	}
	at := l.at(int(v.Raw.Offset))
	raw := l.p.Raw(v.Raw)
	switch {
	case strings.HasPrefix(string(raw), `"""`), strings.HasPrefix(string(raw), `'''`):
		at.quoted = 3
	case strings.HasPrefix(string(raw), `"`), strings.HasPrefix(string(raw), `'`):
		at.quoted = 1
	}
	l.found[path] = at
}

// mark records a header or pair by its first key.
func (l *locator) mark(path string, e *unstable.Node) {
	it := e.Key()
	if it.Next() {
		l.found[path] = l.at(int(it.Node().Raw.Offset))
	}
}

func (l *locator) at(offset int) place {
	before := string(l.data[:offset])
	line := strings.Count(before, "\n") + 1
	start := strings.LastIndexByte(before, '\n') + 1
	return place{line: line, column: len([]rune(before[start:])) + 1}
}
