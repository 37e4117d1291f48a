package problems

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"steelyard/problems/notation"
)

var update = flag.Bool("update", false, "write what is said into testdata/faults.txt, to be read before it is kept")

// faultCase is a part of testdata/faults.txt.
type faultCase struct {
	name    string
	changes []string // lines with their "-" or "+"
	want    []string
}

func faultCases(t *testing.T) (head string, cases []faultCase) {
	data, err := os.ReadFile("testdata/faults.txt")
	if err != nil {
		t.Fatal(err)
	}
	parts := strings.Split(string(data), "\n## ")
	for _, part := range parts[1:] {
		name, body, _ := strings.Cut(part, "\n")
		c := faultCase{name: name}
		for _, line := range strings.Split(body, "\n") {
			switch {
			case strings.HasPrefix(line, ">"):
				c.want = append(c.want, strings.TrimPrefix(line, "> "))
			case line != "":
				c.changes = append(c.changes, line)
			}
		}
		cases = append(cases, c)
	}
	return parts[0], cases
}

// apply makes the case's changes to the text.
func (c faultCase) apply(t *testing.T, text string) string {
	for i := 0; i < len(c.changes); {
		var from, to string
		for ; i < len(c.changes) && c.changes[i][0] == '-'; i++ {
			from += c.changes[i][1:] + "\n"
		}
		for ; i < len(c.changes) && c.changes[i][0] == '+'; i++ {
			to += c.changes[i][1:] + "\n"
		}
		if !strings.Contains(text, from) || from == "" {
			t.Fatalf("%s: base.toml has no %q", c.name, from)
		}
		text = strings.Replace(text, from, to, 1)
	}
	return text
}

// Every fault is said with its place and its remedy, in the words of
// testdata/faults.txt.
func TestFaults(t *testing.T) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	head, cases := faultCases(t)
	var out strings.Builder
	out.WriteString(head + "\n")
	for _, c := range cases {
		got := said(Read("", []byte(c.apply(t, string(base)))))
		if strings.Join(got, "\n") != strings.Join(c.want, "\n") && !*update {
			t.Errorf("%s: said\n\t%s\nwant\n\t%s", c.name, strings.Join(got, "\n\t"), strings.Join(c.want, "\n\t"))
		}
		fmt.Fprintf(&out, "## %s\n", c.name)
		for _, line := range append(c.changes, got...) {
			if !strings.HasPrefix(line, "-") && !strings.HasPrefix(line, "+") {
				line = "> " + line
			}
			out.WriteString(line + "\n")
		}
		out.WriteString("\n")
	}
	if *update {
		if err := os.WriteFile("testdata/faults.txt", []byte(strings.TrimSuffix(out.String(), "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func said(_ *Scenario, err error) []string {
	var faults Faults
	errors.As(err, &faults)
	var out []string
	for _, f := range faults {
		out = append(out, strings.TrimPrefix(strings.TrimPrefix(f.Error(), ": "), ":"))
	}
	return out
}

// hostile are files with more in them than a problem could mean, and what is
// said of each.
func hostile(t testing.TB) []hostileFile {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	many := func(table string, n int, line string) []byte {
		var b strings.Builder
		b.Write(base)
		for i := range n {
			b.WriteString(strings.ReplaceAll(fmt.Sprintf("\n[[%s]]\n%s\n", table, line), "#", fmt.Sprint(i)))
		}
		return []byte(b.String())
	}
	chain := func(n int) []byte {
		return []byte(strings.Replace(string(base), `at = "A + L @ 0"`, `at = "A`+strings.Repeat(" + L @ 0", n)+`"`, 1))
	}
	return []hostileFile{
		{"bodies", many("bodies", 400, "name = \"b#\""), "bodies holds 401; the most that a problem needs is 6"},
		{"points", many("bodies.points", 400, "name = \"P\"\nat = \"0\""), "points holds 402; "},
		{"givens", many("givens", 400, "symbol = \"x_#\"\nvalue = 1"), "givens holds 404; "},
		{"symbols", many("givens", 60, "symbol = \"x_#\"\nvalue = 1"), "a problem may have at most 64"},
		{"defined", many("defined", 400, "symbol = \"x_#\"\nis = \"L\""), "defined holds 401; "},
		{"figure", many("figure", 400, "draw = \"bar\""), "figure holds 401; "},
		{"forces", many("bodies.forces", 400, "symbol = \"W\""), "forces holds 400; "},
		{"a long chain", chain(40), "40 offsets from the origin are too many"},
		{"unknown keys", many("x#", 400, "y = 1"), "and more; mend these first"},
		{"keys", many("x#", 3500, "y = 1"), "more than 2000 keys"},
		{"keys in a line", []byte("x = {" + strings.Repeat("a.b=1,", 10000) + "}"), "more than 2000 keys"},
		{"tables", many("bodies.points", 1400, "name = \"P\"\nat = \"0\""), "more than 2000 keys"},
		{"deep arrays", []byte("id = " + strings.Repeat("[", 60000)), "nested"},
		{"deep arrays, closed", []byte("x = " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000)), "no key"},
		{"a long file", []byte("# " + strings.Repeat("x", MaxFile)), "too large for a scenario"},
		{"a long statement", []byte(strings.Replace(string(base), "A shelf of", strings.Repeat("word ", 200), 1)), "words; keep it to 90"},
		{"a long expression", []byte(strings.Replace(string(base), `"q L"`, `"q L`+strings.Repeat("+ L", 400)+`"`, 1)), "512"},
		{"no text at all", []byte("\x00\xff\xfe"), "1:1"},
		{"nothing", nil, "id is small letters"},
	}
}

type hostileFile struct {
	name string
	data []byte
	want string
}

// A file with more in it than a problem could mean is refused, and soon.
func TestReadIsBounded(t *testing.T) {
	for _, c := range hostile(t) {
		start := time.Now()
		_, err := Read("f.toml", c.data)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %.300v, want %q", c.name, err, c.want)
		}
		if d := time.Since(start); d > 10*time.Second { // a hang, not a slow machine: BenchmarkHostile has the figures
			t.Errorf("%s: takes %v", c.name, d)
		}
		if err != nil && notation.Printable(strings.ReplaceAll(err.Error(), "\n", " ")) != strings.ReplaceAll(err.Error(), "\n", " ") {
			t.Errorf("%s: the message does not print: %q", c.name, err)
		}
	}
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	// Definitions may build on each other as far as there are symbols.
	var b strings.Builder
	for i := range 50 {
		fmt.Fprintf(&b, "\n[[defined]]\nsymbol = \"x_%d\"\nunit = \"m\"\nis = \"%s\"\n", i, map[bool]string{true: "L", false: fmt.Sprintf("x_%d/2 + d", i-1)}[i == 0])
	}
	s, err := Read("f.toml", []byte(strings.Replace(string(base), "\n[[bodies]]", b.String()+"\n[[bodies]]", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Draw(1, nil); err != nil {
		t.Error(err)
	}
}

// A folder's good files load, whatever stands beside them.
func TestOpenFolder(t *testing.T) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name string, data []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("good.toml", base)
	write("again.toml", []byte(strings.Replace(string(base), `"base"`, `"davit-arm"`, 1)))
	write("broken.toml", []byte("level = "))
	write("huge.toml", make([]byte, MaxFile+1))
	write("esc\x1b[2J.toml", []byte("level = 1"))
	write("notes.txt", []byte("not a scenario"))
	for _, step := range []error{
		os.Mkdir(filepath.Join(dir, "folder.toml"), 0o755),
		os.Symlink("loop.toml", filepath.Join(dir, "loop.toml")),
		os.Symlink("/dev/zero", filepath.Join(dir, "zero.toml")),
	} {
		if step != nil {
			t.Fatal(step)
		}
	}
	b, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Scenario("base"); err != nil {
		t.Error(err)
	}
	if len(b.Scenarios) != len(Builtin().Scenarios)+1 {
		t.Errorf("%d scenarios, want the built-in ones and one more", len(b.Scenarios))
	}
	text := b.Faults.Error()
	for _, want := range []string{
		`again.toml: id "davit-arm" is taken by "A davit's arm and its stay"; give this scenario its own`,
		"broken.toml:1:8: ", "folder.toml: is no plain file", "huge.toml: is too large for a scenario", "loop.toml: ", "zero.toml: is no plain file",
		`esc\x1b[2J.toml`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q in\n%s", want, text)
		}
	}
	if strings.ContainsRune(text, '\x1b') {
		t.Errorf("a control character gets out: %q", text)
	}
	for path, want := range map[string]string{
		filepath.Join(dir, "none"): "no such file", filepath.Join(dir, "good.toml"): "is a file; the bank is a folder", "\x1b\x00": "cannot read the bank folder",
	} {
		if _, err := Open(path); err == nil || !strings.Contains(err.Error(), want) || strings.ContainsRune(err.Error(), '\x1b') {
			t.Errorf("Open(%q): %v, want %q", path, err, want)
		}
	}
	if _, err := b.Scenario("da\x1bvit"); err == nil || !strings.Contains(err.Error(), `no problem "da\x1bvit" in the bank; there are `) {
		t.Errorf("%v", err)
	}
}
