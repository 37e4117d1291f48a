package set

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// MaxFile is the largest set file that is read, in bytes; MaxItems the most
// problems in one.
const (
	MaxFile  = 1 << 16
	MaxItems = 200
)

// EachTheirOwn is the seed that is made from the alias.
const EachTheirOwn = "each their own"

// Is reports whether a file is meant for a set, by its keys: a list of problems
// and no bodies.
func Is(data []byte) bool {
	if len(data) > MaxFile {
		return false
	}
	var keys struct{ Problems, Bodies any }
	return toml.Unmarshal(data, &keys) == nil && keys.Problems != nil && keys.Bodies == nil
}

// Read reads a set file. The error is a [problems.Faults] that lists all that is
// wrong, each with its line and column. Problems must be in the bank, and such
// that they can be drawn; a nil bank is not asked.
func Read(name string, data []byte, bank *problems.Bank) (*Set, error) {
	r := &reader{name: notation.Printable(name), bank: bank, set: &Set{Mode: tutor.Guided, File: baseOf(name), Hash: hashOf(data)}}
	if len(data) > MaxFile {
		return nil, problems.Faults{{File: r.name, Message: fmt.Sprintf("%d bytes is too large for a set; keep it under %d", len(data), MaxFile)}}
	}
	var top map[string]any
	if err := toml.Unmarshal(data, &top); err != nil {
		return nil, problems.Faults{decodeFault(r.name, data, err)}
	}
	r.source = problems.NewSource(data)
	r.table("", top, setKeys)
	r.whole(top)
	if len(r.faults) > 0 {
		slices.SortStableFunc(r.faults, func(a, b *problems.Fault) int {
			return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
		})
		return nil, r.faults[:min(len(r.faults), 50)]
	}
	return r.set, nil
}

// decodeFault is what is no TOML.
func decodeFault(name string, data []byte, err error) *problems.Fault {
	var bad *toml.DecodeError
	if !errors.As(err, &bad) {
		return &problems.Fault{File: name, Message: notation.Printable(err.Error())}
	}
	row, col := bad.Position()
	line := data
	for range row - 1 {
		_, line, _ = bytes.Cut(line, []byte("\n"))
	}
	col = utf8.RuneCount(line[:max(0, min(col-1, len(line)))]) + 1
	return &problems.Fault{File: name, Line: row, Column: col, Message: notation.Printable(strings.TrimPrefix(bad.Error(), "toml: "))}
}

type reader struct {
	name   string
	source *problems.Source
	bank   *problems.Bank
	set    *Set
	item   *Item
	faults problems.Faults
}

func (r *reader) fault(path, format string, args ...any) {
	at := r.source.At(path)
	r.faults = append(r.faults, &problems.Fault{File: r.name, Line: at.Line, Column: at.Column, Message: notation.Printable(fmt.Sprintf(format, args...))})
}

// key is a key of the file: what it is to be, and what is done with it. take
// returns what is wrong with the value, or "".
type key struct {
	name, is string
	take     func(r *reader, path string, v any) string
}

var setKeys, itemKeys []key

func init() {
	setKeys = []key{
		{"title", "a text of one line", func(r *reader, _ string, v any) string { return line(v, &r.set.Title, 120) }},
		{"mode", strings.Join(quoted(tutor.Modes), ", "), func(r *reader, _ string, v any) string { return oneOf(v, &r.set.Mode, tutor.Modes) }},
		{"order", `"fixed", "shuffled"`, func(r *reader, _ string, v any) string {
			order := ""
			wrong := oneOf(v, &order, []string{"fixed", "shuffled"})
			r.set.Shuffled = order == "shuffled"
			return wrong
		}},
		{"hints", "a whole number from 0 to 3", func(r *reader, _ string, v any) string {
			n, ok := v.(int64)
			if !ok || n < 0 || n > tutor.MaxHints {
				return "not"
			}
			r.set.Hints = int(n)
			return ""
		}},
		{"tolerance", fmt.Sprintf("a number above 0 and at most %v", grading.MaxTolerance), func(r *reader, _ string, v any) string {
			f, ok := v.(float64)
			if !ok || !(f > 0 && f <= grading.MaxTolerance) {
				return "not"
			}
			r.set.Tolerance = f
			return ""
		}},
		{"limit", `a time like "45m" or "1h30m", at least a minute`, func(r *reader, _ string, v any) string {
			text, _ := v.(string)
			d, err := time.ParseDuration(strings.ReplaceAll(text, " ", ""))
			if err != nil || d < time.Minute || d > tutor.MaxLimit {
				return "not"
			}
			r.set.Limit = d
			return ""
		}},
		{"opens", moment, func(r *reader, _ string, v any) string { return at(v, &r.set.Opens) }},
		{"closes", moment, func(r *reader, _ string, v any) string { return at(v, &r.set.Closes) }},
		{"worked", "true or false", func(r *reader, _ string, v any) string { return yesNo(v, &r.set.Worked) }},
		{"reasons", "true or false", func(r *reader, _ string, v any) string { return yesNo(v, &r.set.Reasons) }},
		{"problems", "tables headed [[problems]]", (*reader).items},
	}
	itemKeys = []key{
		{"id", "the id of a problem in the bank", func(r *reader, _ string, v any) string { return line(v, &r.item.ID, 64) }},
		{"seed", `a whole number from 0, or "` + EachTheirOwn + `"`, func(r *reader, _ string, v any) string {
			n, ok := v.(int64)
			r.item.Seed, r.item.Each = uint64(max(n, 0)), v == EachTheirOwn
			if !r.item.Each && (!ok || n < 0) {
				return "not"
			}
			return ""
		}},
		{"given", `a list of values like ["L = 5", "alpha = 53 deg"]`, func(r *reader, _ string, v any) string {
			list, ok := v.([]any)
			for _, x := range list {
				text, is := x.(string)
				ok = ok && is
				r.item.Given = append(r.item.Given, text)
			}
			if !ok || len(list) == 0 {
				return "not"
			}
			return ""
		}},
	}
}

const moment = "a date and time with its zone, like 2026-11-26T09:00:00Z or 2026-11-26T10:00:00+01:00"

// table takes the keys of a table, and names those that are not known.
func (r *reader) table(path string, table map[string]any, keys []key) {
	for name, v := range table {
		at := joined(path, name)
		i := slices.IndexFunc(keys, func(k key) bool { return k.name == name })
		if i < 0 {
			var known []string
			for _, k := range keys {
				known = append(known, k.name)
			}
			r.fault(at, "no key \"%s\" is known here; keys are %s", notation.PrintableMax(name, 40), strings.Join(known, ", "))
			continue
		}
		switch wrong := keys[i].take(r, at, v); wrong {
		case "":
		case "not":
			r.fault(at, "%s is to be %s, not %s", name, keys[i].is, shown(v))
		default:
			r.fault(at, "%s", wrong)
		}
	}
}

// items reads the list of problems.
func (r *reader) items(path string, v any) string {
	list, ok := v.([]any)
	if !ok {
		return "not"
	}
	if len(list) > MaxItems {
		return fmt.Sprintf("%d problems are too many for a set; keep it under %d", len(list), MaxItems)
	}
	for i, x := range list {
		at := fmt.Sprintf("%s.%d", path, i)
		table, ok := x.(map[string]any)
		if !ok {
			return "not"
		}
		r.item = &Item{place: i + 1}
		before := len(r.faults)
		r.table(at, table, itemKeys)
		if _, named := table["id"]; !named {
			r.fault(at, "which problem? give its id, like id = \"davit-arm\"")
		}
		if _, seeded := table["seed"]; !seeded && r.item.Given == nil && table["given"] == nil {
			r.fault(at, "give a seed, like seed = 7 or seed = \"%s\", or given = [...]", EachTheirOwn)
		}
		if len(r.faults) == before {
			r.drawn(at)
		}
		if same := r.sameAs(*r.item); same > 0 && len(r.faults) == before {
			r.fault(joined(at, "id"), "this is problem %d again; give it another seed or other values", same)
		}
		r.set.Items = append(r.set.Items, *r.item)
	}
	return ""
}

// drawn tries whether the problem of an item can be had.
func (r *reader) drawn(at string) {
	if r.bank == nil {
		return
	}
	sc, err := r.bank.Scenario(r.item.ID)
	if err != nil {
		r.fault(joined(at, "id"), "no problem \"%s\" is in the bank; %s", notation.PrintableMax(r.item.ID, 40), r.near(r.item.ID))
		return
	}
	if _, err := sc.Enter(r.item.Seed, r.item.Given, grading.Discriminates); err != nil {
		where := "seed"
		if r.item.Given != nil {
			where = "given"
		}
		r.fault(joined(at, where), "%v", err)
	}
}

// near tells ids that share a word with one.
func (r *reader) near(id string) string {
	var out []string
	for _, sc := range r.bank.Scenarios {
		if slices.ContainsFunc(strings.Split(id, "-"), func(word string) bool { return len(word) > 2 && strings.Contains(sc.ID, word) }) {
			out = append(out, sc.ID)
		}
	}
	if len(out) == 0 || len(out) > 8 {
		return "steelyard list tells what there is"
	}
	return "near it are " + strings.Join(out, ", ")
}

// sameAs is the place of an item that is the same problem, or 0.
func (r *reader) sameAs(it Item) int {
	for _, o := range r.set.Items {
		if o.ID == it.ID && o.Each == it.Each && !o.Each && o.Seed == it.Seed && slices.Equal(o.Given, it.Given) {
			return o.place
		}
	}
	return 0
}

// whole looks at what keys must be together.
func (r *reader) whole(top map[string]any) {
	s := r.set
	if _, ok := top["title"]; !ok {
		r.fault("", "the set has no title; give it one, like title = \"Lab 3\"")
	}
	if _, ok := top["problems"]; !ok {
		r.fault("", "the set has no problems; head each with [[problems]]")
	}
	if _, ok := top["hints"]; !ok {
		s.Hints = tutor.TermsOf(s.Mode).Hints
	} else if s.Mode == tutor.Exam && s.Hints > 0 {
		r.fault("hints", "an exam gives no hints; take this out, or make it a practice")
	}
	if s.Worked && s.Mode != tutor.Guided {
		r.fault("worked", "only a guided set has worked problems; take this out, or the mode")
	}
	if s.Reasons && s.Mode == tutor.Exam {
		r.fault("reasons", "an exam asks for no reasons; take this out, or make it a practice")
	}
	if !s.Opens.IsZero() && !s.Closes.IsZero() && !s.Closes.After(s.Opens) {
		r.fault("closes", "the set closes before it opens; mend one of the two")
	}
}

func line(v any, into *string, most int) string {
	text, ok := v.(string)
	text = strings.TrimSpace(text)
	if !ok || text == "" || len(text) > most || notation.Printable(text) != text {
		return "not"
	}
	*into = text
	return ""
}

func oneOf(v any, into *string, of []string) string {
	text, ok := v.(string)
	if !ok || !slices.Contains(of, text) {
		return "not"
	}
	*into = text
	return ""
}

func yesNo(v any, into *bool) string {
	yes, ok := v.(bool)
	if *into = yes; !ok {
		return "not"
	}
	return ""
}

func at(v any, into *time.Time) string {
	switch v := v.(type) {
	case time.Time:
		*into = v
		return ""
	case string:
		t, err := time.Parse(time.RFC3339, v)
		if err == nil {
			*into = t
			return ""
		}
	}
	return "not"
}

// shown is a value as a fault repeats it.
func shown(v any) string {
	switch v := v.(type) {
	case string:
		return "\"" + notation.PrintableMax(v, 40) + "\""
	case []any:
		return "this list"
	case map[string]any:
		return "a table"
	case float64:
		if math.IsNaN(v) {
			return "no number at all"
		}
	}
	return notation.PrintableMax(fmt.Sprint(v), 40)
}

func quoted(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = `"` + w + `"`
	}
	return out
}

func joined(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
