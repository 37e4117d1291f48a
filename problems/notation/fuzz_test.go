package notation

import (
	"errors"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// seeds gives a fuzzer everything that is typed in the dialogue, and the
// shapes that have hurt parsers before.
func seeds(f *testing.F) {
	text, err := os.ReadFile("testdata/dialogue.txt")
	if err != nil {
		f.Fatal(err)
	}
	for _, line := range strings.Split(string(text), "\n") {
		switch word, rest, _ := strings.Cut(line, " "); word {
		case "line", "equation", "value":
			f.Add(unescape(strings.TrimSpace(rest)))
		}
	}
	for _, shape := range []string{"-", "(", "√", "2^", "sin ", "T", "T+", "1 ", "½", "²", "α", "W1", "asin", "5 000 ", "deg"} {
		f.Add(strings.Repeat(shape, MaxBytes/len(shape)))
	}
}

// slow is the bound on reading one text. A fuzzer's worker may be taken off its
// processor, so a text is slow only if it is slow twenty times running.
const slow = 5 * time.Millisecond

func checkQuick(t *testing.T, text string, read func()) {
	t.Helper()
	var took time.Duration
	for range 20 {
		start := time.Now()
		read()
		if took = time.Since(start); took < slow {
			return
		}
		time.Sleep(slow)
	}
	t.Errorf("%q takes %v", text, took)
}

// checkError holds an error to its contract: a place within the text, words on
// every part, and nothing that acts on a terminal.
func checkError(t *testing.T, text string, err error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%q: a %T, want an *Error", text, err)
	}
	if e.At < 1 || e.At > utf8.RuneCountInString(text)+1 {
		t.Errorf("%q: column %d of %d", text, e.At, utf8.RuneCountInString(text))
	}
	if e.Reason == "" || e.Suggestion == "" {
		t.Errorf("%q: no reason or no suggestion: %v", text, e)
	}
	checkPrintable(t, text, e.Error())
	if len(e.Error()) > 400 {
		t.Errorf("%q: an error of %d bytes: %v", text, len(e.Error()), e)
	}
}

func checkPrintable(t *testing.T, text, shown string) {
	t.Helper()
	if Printable(shown) != shown || !utf8.ValidString(shown) {
		t.Errorf("%q: shown as %q, which is not printable", text, shown)
	}
}

// checkTree holds a tree to its contract: it reads back printably, and every
// form of it parses to a tree that reads back alike and has the same value.
func checkTree(t *testing.T, table *Table, text string, n Node) {
	t.Helper()
	want := Value(n, benchValues)
	source := n.String()
	for i, form := range []string{source, ReadBack(n, true), ReadBack(n, false)} {
		checkPrintable(t, text, form)
		// Spaces and brackets are added: the forms may be longer and deeper than what was typed.
		again, err := table.parse(form, 16*MaxBytes, 4*MaxBytes)
		if err != nil {
			t.Fatalf("%q: its form %q does not parse: %v", text, form, err)
		}
		if i == 0 && again.String() != source {
			t.Errorf("%q: %q comes back as %q", text, source, again)
		}
		if got := Value(again, benchValues); !same(got, want) {
			t.Errorf("%q = %v, but its form %q = %v", text, want, form, got)
		}
	}
	if s := ReadBack(n, true); strings.ContainsFunc(s+source, func(r rune) bool { return r >= 0x7f }) {
		t.Errorf("%q: the ASCII form is %q", text, s)
	}
	visit(n, func(n Node) {
		if c := n.Column(); c < 1 || c > utf8.RuneCountInString(text) {
			t.Errorf("%q: %s is at column %d", text, n, c)
		}
	})
	p, err := Compile(n)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	if got, err := p.Eval(benchValues); !agree(want, got, err, 0) {
		t.Errorf("%q: Value = %v, Eval = %v, %v", text, want, got, err)
	}
}

func FuzzParse(f *testing.F) {
	seeds(f)
	table := bench(f)
	f.Fuzz(func(t *testing.T, text string) {
		checkQuick(t, text, func() { _, _ = table.Parse(text) })
		n, err := table.Parse(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		if len(text) > MaxBytes {
			t.Fatalf("%d bytes are read", len(text))
		}
		checkTree(t, table, text, n)
	})
}

func FuzzEquation(f *testing.F) {
	seeds(f)
	table := bench(f)
	f.Fuzz(func(t *testing.T, text string) {
		checkQuick(t, text, func() { _, _, _ = table.ParseEquation(text) })
		l, r, err := table.ParseEquation(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		if strings.Count(text, "=") != 1 {
			t.Fatalf("%q is read as an equation", text)
		}
		checkTree(t, table, text, l)
		checkTree(t, table, text, r)
		if l2, r2, err := table.parseEquation(ReadBackEquation(l, r, false), 16*MaxBytes, 4*MaxBytes); err != nil {
			t.Errorf("%q reads back as %q: %v", text, ReadBackEquation(l, r, false), err)
		} else if !same(Value(l, benchValues), Value(l2, benchValues)) || !same(Value(r, benchValues), Value(r2, benchValues)) {
			t.Errorf("%q reads back as %q, which differs", text, ReadBackEquation(l, r, false))
		}
	})
}

func FuzzValue(f *testing.F) {
	seeds(f)
	table := bench(f)
	f.Fuzz(func(t *testing.T, text string) {
		checkQuick(t, text, func() { _, _ = table.ParseValue(text) })
		q, err := table.ParseValue(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		checkTree(t, table, text, q.Expr)
		if q.Product != nil {
			checkTree(t, table, text, q.Product)
		}
		if q.Unit.Factor <= 0 || q.HasUnit && q.Unit.DimName() == "" || !q.HasUnit && q.Unit.Name != "" {
			t.Errorf("%q has the unit %+v, written %v", text, q.Unit, q.HasUnit)
		}
		if _, ok := table.Index(q.Symbol); q.Symbol != "" && !ok {
			t.Errorf("%q gives the unknown symbol %q a value", text, q.Symbol)
		}
	})
}

// Printable text is fixed, free of anything invisible, and no longer than asked.
func FuzzPrintable(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string) {
		checkPrintable(t, text, Printable(text))
		for _, r := range Printable(text) {
			if !visible(r) {
				t.Errorf("%q: %U is shown", text, r)
			}
		}
		for _, limit := range []int{0, 2, 3, 10, 24} {
			short := PrintableMax(text, limit)
			checkPrintable(t, text, short)
			if n := utf8.RuneCountInString(short); n > limit {
				t.Errorf("%q: %d characters for a limit of %d", text, n, limit)
			}
		}
	})
}
