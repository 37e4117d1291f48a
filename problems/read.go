package problems

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"steelyard/problems/notation"
)

// MaxFile is the largest scenario file that is read, in bytes.
const MaxFile = 1 << 16

// Read reads a scenario file. The error is a [Faults] that lists all that is
// wrong, each with its line and column. name is only used to say where.
func Read(name string, data []byte) (*Scenario, error) {
	name = notation.Printable(name)
	if len(data) > MaxFile {
		return nil, Faults{{File: name, Message: fmt.Sprintf("%d bytes is too large for a scenario; keep it under %d", len(data), MaxFile)}}
	}
	var f file
	r := &reader{name: name, file: &f, places: locate(data)}
	if r.places.keys > maxKeys {
		return nil, Faults{{File: name, Message: fmt.Sprintf("more than %d keys are no problem; take some out", maxKeys)}}
	}
	if err := toml.Unmarshal(data, &f); err != nil {
		return nil, Faults{tomlFault(name, data, err)}
	}
	for _, u := range r.places.unknown {
		line, col := position(data, u.at)
		r.note(&Fault{name, line, col, fmt.Sprintf("no key %s is known here%s; mend the spelling or take it out", quote(u.key), u.where())})
	}
	s := r.build()
	if faults := r.faults.sorted(); len(faults) > maxFaults {
		return nil, append(faults[:maxFaults], &Fault{File: name, Message: "and more; mend these first"})
	} else if len(faults) > 0 {
		return nil, faults
	}
	s.Hash = hashOf(data)
	return s, nil
}

// readOwn reads a file of the built-in bank, which has no unknown keys (the
// tests see to it), so that where each value stands is only found if something
// is wrong after all.
func readOwn(name string, data []byte) (*Scenario, error) {
	var f file
	r := &reader{name: name, file: &f}
	if err := toml.Unmarshal(data, &f); err == nil {
		if s := r.build(); len(r.faults) == 0 {
			s.Hash = hashOf(data)
			return s, nil
		}
	}
	return Read(name, data)
}

// hashOf tells editions of a file apart.
func hashOf(data []byte) string {
	hash := sha256.Sum256(data)
	return hex.EncodeToString(hash[:8])
}

// tomlFault is what the decoder could not take: the form, or the type of a
// value.
func tomlFault(name string, data []byte, err error) *Fault {
	var bad *toml.DecodeError
	if !errors.As(err, &bad) {
		return &Fault{File: name, Message: notation.Printable(err.Error())}
	}
	row, col := bad.Position()
	message := strings.TrimPrefix(bad.Error(), "toml: ")
	if m := mismatch().FindStringSubmatch(message); m != nil {
		key := "this"
		if k := bad.Key(); len(k) > 0 {
			key = k[len(k)-1]
		}
		message = fmt.Sprintf("%s is to be %s, not %s", key, goTypes.word(m[2]), tomlTypes.word(m[1]))
	} else if m := misplaced().FindStringSubmatch(message); m != nil {
		message = fmt.Sprintf("a table headed so cannot stand here; what is wanted is %s", goTypes.word(m[1]))
	}
	return &Fault{name, row, characters(data, row, col), notation.Printable(message)}
}

// mismatch and misplaced are how the decoder words a value of the wrong type.
var (
	mismatch = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^cannot decode TOML ([a-z ]+) into (?:struct field \S+ of type |a Go value of type )?(\S+)$`)
	})
	misplaced = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^cannot store an? (?:array )?table in an? (\S+)$`)
	})
)

// vocabulary names types for people who write neither Go nor much TOML; the
// first row that the type begins with counts.
type vocabulary []struct{ begins, word string }

var goTypes = vocabulary{
	{"*float64", "a number"}, {"float64", "a number"}, {"int", "a whole number"}, {"string", "a text in quotes"}, {"bool", "true or false"},
	{"[]string", "a list of texts, [\"...\"]"}, {"[]", "a list of tables, headed [[...]]"}, {"", "one table, headed [...]"},
}

var tomlTypes = vocabulary{
	{"integer", "a number"}, {"float", "a decimal number"}, {"string", "a text"}, {"boolean", "true or false"}, {"array", "a list"},
	{"inline table", "a table"}, {"table", "a table"}, {"", "a date or time"},
}

func (v vocabulary) word(name string) string {
	for _, row := range v {
		if strings.HasPrefix(name, row.begins) {
			return row.word
		}
	}
	return name
}

// characters turns the decoder's column, in bytes, into one in characters.
func characters(data []byte, row, col int) int {
	for range row - 1 {
		_, data, _ = bytes.Cut(data, []byte("\n"))
	}
	return utf8.RuneCount(data[:max(0, min(col-1, len(data)))]) + 1
}
