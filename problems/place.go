package problems

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"steelyard/problems/notation"
)

// places maps a value's path ("bodies.0.forces.2.angle") to where it stands in
// the file.
type places struct {
	data    []byte
	found   map[string]span
	unknown []unknownKey // the first of them
	keys    int          // how many there are, up to maxKeys + 1
}

// maxKeys is how many keys a file may have; one of the bank has about 120. The
// decoder's time grows with the square of them.
const maxKeys = 2000

// unknownKey is a key that no scenario has, with the byte where it stands.
type unknownKey struct {
	table, key string
	at         int
}

func (u unknownKey) where() string {
	if u.table == "" {
		return ""
	}
	return " in [[" + notation.PrintableMax(u.table, 40) + "]]"
}

// knownKeys are the keys of a scenario file, "givens.symbol" and the like, read
// off the file's shape. (The decoder's own strict mode hides the other faults,
// and is slow where there are many.)
var knownKeys = sync.OnceValue(func() map[string]bool {
	known := map[string]bool{}
	var walk func(prefix string, t reflect.Type)
	walk = func(prefix string, t reflect.Type) {
		for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		for i := 0; t.Kind() == reflect.Struct && i < t.NumField(); i++ {
			key := join(prefix, t.Field(i).Tag.Get("toml"))
			known[key] = true
			walk(key, t.Field(i).Type)
		}
	}
	walk("", reflect.TypeFor[file]())
	return known
})

// span is a stretch of the file: a value as written, or a key.
type span struct {
	from, to int // bytes
	value    bool
}

// at is the line and column of the value at path, or of the nearest thing that
// holds it. column is the 1-based character inside a quoted value, or 0 for
// the value as a whole.
func (p *places) at(path string, column int) (line, col int) {
	s, ok := p.found[path]
	for !ok && path != "" {
		path = path[:max(strings.LastIndexByte(path, '.'), 0)]
		column = 0
		s, ok = p.found[path]
	}
	if !ok {
		return 0, 0
	}
	offset := s.from
	if s.value && column > 0 {
		offset += inside(string(p.data[s.from:s.to]), column)
	}
	return position(p.data, offset)
}

func position(data []byte, offset int) (line, col int) {
	before := string(data[:offset])
	start := strings.LastIndexByte(before, '\n') + 1
	return strings.Count(before, "\n") + 1, utf8.RuneCountInString(before[start:]) + 1
}

// inside is the byte of a quoted value, as written, at which the column-th
// character of what it means stands (TOML 1.0, "String").
func inside(raw string, column int) int {
	i, escapes, long := 0, strings.HasPrefix(raw, `"`), false
	switch {
	case strings.HasPrefix(raw, `"""`), strings.HasPrefix(raw, `'''`):
		i, long = 3, true
		if rest := strings.TrimPrefix(raw[i:], "\r"); strings.HasPrefix(rest, "\n") {
			i = len(raw) - len(rest) + 1 // a newline right after the quotes is not of the value
		}
	case escapes, strings.HasPrefix(raw, `'`):
		i = 1
	}
	for column > 1 && i < len(raw) {
		_, width := utf8.DecodeRuneInString(raw[i:])
		if escapes && raw[i] == '\\' && i+1 < len(raw) {
			if blank := len(raw[i+1:]) - len(strings.TrimLeft(raw[i+1:], " \t\r\n")); long && blank > 0 {
				i += 1 + blank // a line that goes on: no character of the value
				continue
			}
			width = map[byte]int{'x': 4, 'u': 6, 'U': 10}[raw[i+1]]
			width = max(width, 2)
		}
		i += width
		column--
	}
	return min(i, len(raw))
}

// locate finds every value of the file, up to the first that is no TOML or to
// one key more than there may be.
func locate(data []byte) *places {
	p := &unstable.Parser{}
	p.Reset(data)
	l := locator{p: p, places: places{data: data, found: map[string]span{}}, arrays: map[string]int{}, known: knownKeys(), seen: map[string]bool{}}
	prefix, table := "", ""
	for l.keys <= maxKeys && p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			prefix = l.resolve(keyParts(e.Key()), e.Kind == unstable.ArrayTable)
			table = l.check("", e)
			l.mark(prefix, e)
		case unstable.KeyValue:
			l.keyValue(prefix, table, e)
		}
	}
	return &l.places
}

type locator struct {
	places
	p      *unstable.Parser
	arrays map[string]int // path of an array of tables -> index of its last element
	known  map[string]bool
	seen   map[string]bool // unknown keys that have been noted
}

// check notes a key that is not known, the first time it is met; what stands
// under an unknown key is not noted again. It returns the whole key, without
// the indexes of arrays.
func (l *locator) check(table string, e *unstable.Node) string {
	it := e.Key()
	l.keys++
	for it.Next() {
		part := string(it.Node().Data)
		key := join(table, part)
		if !l.known[key] && (table == "" || l.known[table]) && len(l.unknown) <= maxFaults && !l.seen[key] {
			l.seen[key] = true
			l.unknown = append(l.unknown, unknownKey{table, part, int(it.Node().Raw.Offset)})
		}
		table = key
	}
	return table
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
		last := array && i == len(parts)-1
		n, seen := l.arrays[path]
		if !seen && !last {
			continue
		}
		if last {
			if seen {
				n++
			}
			l.arrays[path] = n
		}
		path = fmt.Sprintf("%s.%d", path, n)
	}
	return path
}

func join(path, part string) string {
	if path == "" {
		return part
	}
	return path + "." + part
}

func (l *locator) keyValue(prefix, table string, e *unstable.Node) {
	table = l.check(table, e)
	for _, part := range keyParts(e.Key()) {
		prefix = join(prefix, part)
	}
	l.value(prefix, table, e.Value(), e)
}

func (l *locator) value(path, table string, v, near *unstable.Node) {
	if v.Raw.Length == 0 {
		l.mark(path, near)
	} else {
		from := int(v.Raw.Offset)
		l.found[path] = span{from, from + int(v.Raw.Length), true}
	}
	if strings.Count(path, ".") > 12 {
		return // deeper than any key of ours
	}
	it := v.Children()
	switch v.Kind {
	case unstable.Array:
		for i := 0; l.keys <= maxKeys && it.Next(); i++ {
			l.value(fmt.Sprintf("%s.%d", path, i), table, it.Node(), near)
		}
	case unstable.InlineTable:
		for l.keys <= maxKeys && it.Next() {
			l.keyValue(path, table, it.Node())
		}
	}
}

// mark records a header or pair by its first key.
func (l *locator) mark(path string, e *unstable.Node) {
	it := e.Key()
	if it.Next() {
		from := int(it.Node().Raw.Offset)
		l.found[path] = span{from: from, to: from}
	}
}
