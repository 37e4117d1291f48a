package notation

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
)

// TestDialogue plays testdata/dialogue.txt: what is typed, then what comes
// back. The file says itself how it is written.
func TestDialogue(t *testing.T) {
	text, err := os.ReadFile("testdata/dialogue.txt")
	if err != nil {
		t.Fatal(err)
	}
	var table *Table
	var typed, kind string
	var replies, waiting int
	for i, line := range strings.Split(string(text), "\n") {
		word, rest, _ := strings.Cut(line, " ")
		rest = strings.TrimSpace(rest)
		fail := func(format string, args ...any) {
			t.Helper()
			t.Errorf("dialogue.txt:%d: %s %s: %s", i+1, kind, typed, fmt.Sprintf(format, args...))
		}
		switch word {
		case "", "#":
		case "symbols":
			if table, err = readSymbols(rest); err != nil {
				t.Fatalf("dialogue.txt:%d: %v", i+1, err)
			}
		case "line", "equation", "value":
			if waiting > 0 {
				fail("no reply is given before line %d", i+1)
			}
			kind, typed, waiting = word, rest, 1
		case "reads", "ascii", "refused":
			if kind == "" {
				t.Fatalf("dialogue.txt:%d: a reply to nothing", i+1)
			}
			waiting = 0
			replies++
			read, err := reply(table, kind, unescape(typed), word == "ascii")
			switch {
			case word == "refused" && err == nil:
				fail("reads as %q, want it refused: %s", read, rest)
			case word == "refused" && err.Error() != rest:
				fail("is refused\n  with %s\n  want %s", err, rest)
			case word != "refused" && err != nil:
				fail("is refused: %v\n  want it read as %s", err, rest)
			case word != "refused" && read != rest:
				fail("reads as %s\n  want %s", read, rest)
			}
		default:
			t.Errorf("dialogue.txt:%d: begins with %q, which means nothing here", i+1, word)
		}
	}
	if replies < 100 {
		t.Errorf("only %d replies were checked: the file is not the whole one", replies)
	}
}

// readSymbols makes the table of "degrees T L alpha*": a star marks an angle.
func readSymbols(line string) (*Table, error) {
	words := strings.Fields(line)
	if len(words) == 0 || words[0] != "degrees" && words[0] != "radians" {
		return nil, fmt.Errorf("symbols are given as: symbols degrees T L alpha*")
	}
	var specs []Spec
	for _, w := range words[1:] {
		name, isAngle := strings.CutSuffix(w, "*")
		specs = append(specs, Spec{name, isAngle})
	}
	return NewTable(words[0] == "degrees", specs...)
}

// reply is what comes back for a text typed where kind is wanted.
func reply(table *Table, kind, typed string, ascii bool) (string, error) {
	switch kind {
	case "line":
		n, err := table.Parse(typed)
		if err != nil {
			return "", err
		}
		return ReadBack(n, ascii), nil
	case "equation":
		l, r, err := table.ParseEquation(typed)
		if err != nil {
			return "", err
		}
		return ReadBackEquation(l, r, ascii), nil
	}
	q, err := table.ParseValue(typed)
	if err != nil {
		return "", err
	}
	s := ReadBack(q.Expr, ascii)
	if q.Symbol != "" {
		s = Display(q.Symbol, ascii) + " = " + s
	}
	if !q.HasUnit {
		s += ", no unit"
	} else {
		s += fmt.Sprintf(" [%s, %s]", q.Unit.Name, q.Unit.DimName())
	}
	if constant(q.Expr) {
		s += " is " + strconv.FormatFloat(q.SI(nil), 'g', 6, 64)
	}
	if q.Product != nil {
		s += ", or " + ReadBack(q.Product, ascii)
	}
	return s, nil
}

// unescape turns \x1b and \u202e into the characters, so that the file itself
// holds nothing invisible.
func unescape(s string) string {
	var b strings.Builder
	for len(s) > 0 {
		for _, form := range []struct {
			prefix string
			digits int
		}{{`\x`, 2}, {`\u`, 4}} {
			if strings.HasPrefix(s, form.prefix) && len(s) >= 2+form.digits {
				if n, err := strconv.ParseUint(s[2:2+form.digits], 16, 32); err == nil {
					if form.digits == 2 {
						b.WriteByte(byte(n))
					} else {
						b.WriteRune(rune(n))
					}
					s = s[2+form.digits:]
				}
			}
		}
		if len(s) > 0 {
			b.WriteByte(s[0])
			s = s[1:]
		}
	}
	return b.String()
}
