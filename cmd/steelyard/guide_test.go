package main

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// guide is the section of DEVELOPERS.md that tells how to write a scenario, as
// the blocks in it: toml to write at the end of the file, diff to change it by,
// console to run.
func guide(t *testing.T) (file string, blocks []block) {
	t.Helper()
	data, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(data), "\n## How to write a scenario\n")
	if !found {
		t.Fatal("DEVELOPERS.md has no section How to write a scenario")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	name := regexp.MustCompile("Write `([a-z-]+\\.toml)`:").FindStringSubmatch(section)
	if name == nil {
		t.Fatal("the guide does not say which file to write")
	}
	for _, m := range regexp.MustCompile("(?s)```([a-z]+)\n(.*?)```").FindAllStringSubmatch(section, -1) {
		blocks = append(blocks, block{m[1], m[2]})
	}
	return name[1], blocks
}

type block struct{ kind, text string }

// The guide does what it says, from an empty folder.
func TestGuide(t *testing.T) {
	file, blocks := guide(t)
	if len(blocks) < 15 {
		t.Fatalf("only %d blocks", len(blocks))
	}
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_DATA_HOME", home)
	t.Chdir(t.TempDir())
	text := ""
	for _, b := range blocks {
		switch b.kind {
		case "toml":
			text += b.text
		case "diff":
			text = changed(t, text, b.text)
		case "console":
			for _, run := range strings.Split(b.text, "$ ")[1:] {
				follow(t, run)
			}
			continue
		default:
			t.Fatalf("a block of %s", b.kind)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// changed puts the lines after "+" in the place of the lines after "-" before
// them.
func changed(t *testing.T, text, diff string) string {
	t.Helper()
	var old, put string
	apply := func() {
		if old == "" || strings.Count(text, old) != 1 {
			t.Fatalf("the file has not just one\n%s", old)
		}
		text = strings.Replace(text, old, put, 1)
		old, put = "", ""
	}
	for line := range strings.Lines(diff) {
		switch {
		case line[0] == '-' && put != "":
			apply()
			fallthrough
		case line[0] == '-':
			old += line[1:]
		case line[0] == '+':
			put += line[1:]
		}
	}
	apply()
	return text
}

// follow runs a command of the guide, types what stands after "> ", and
// compares what is said with the rest; "..." stands for any lines. The exit
// code is 1 where a fault, or a problem unread, is said.
func follow(t *testing.T, run string) {
	t.Helper()
	command, rest, _ := strings.Cut(run, "\n")
	words := strings.Fields(command)
	if words[0] != "steelyard" {
		t.Fatalf("the guide runs %s", command)
	}
	var typed strings.Builder
	var want []string
	for line := range strings.Lines(rest) {
		if answer, ok := strings.CutPrefix(line, "> "); ok {
			typed.WriteString(answer)
			continue
		}
		want = append(want, strings.TrimSuffix(line, "\n"))
	}
	var out strings.Builder
	code := runAs(words[1:], typed.String(), &out)
	if wantCode := map[bool]int{true: exitShort, false: exitDone}[strings.Contains(rest, ": fault: ")]; code != wantCode {
		t.Errorf("$ %s: exit code %d, want %d", command, code, wantCode)
	}
	var got []string
	for line := range strings.Lines(out.String()) {
		line = strings.TrimSuffix(line, "\n")
		if typed.Len() > 0 {
			line = strings.TrimPrefix(line, "> ") // the prompt, before what was typed
		}
		got = append(got, line)
	}
	if at, ok := matches(got, want); !ok {
		t.Errorf("$ %s\n%s\nthe guide has, where that has no such line: %q", command, out.String(), at)
	}
}

func runAs(args []string, typed string, out *strings.Builder) int {
	return run(args, strings.NewReader(typed), out, out)
}

// matches compares lines with a pattern in which "..." stands for any lines;
// at is the first line of the pattern that is not there.
func matches(got, want []string) (at string, ok bool) {
	skip := false
	for _, w := range want {
		if w == "..." {
			skip = true
			continue
		}
		i := slices.Index(got, w)
		if i < 0 || i > 0 && !skip {
			return w, false
		}
		got, skip = got[i+1:], false
	}
	if len(got) > 0 && !skip && !slices.Equal(got, []string{""}) {
		return "(the end)", false
	}
	return "", true
}

func TestMatches(t *testing.T) {
	for _, c := range []struct {
		got, want string
		ok        bool
	}{
		{"a b", "a b", true}, {"a b", "a", false}, {"a b", "b", false}, {"a b c", "a ... c", true}, {"a b c", "... b ...", true},
		{"a b c", "... c ... b", false}, {"a", "a b", false}, {"", "", true},
	} {
		if _, ok := matches(strings.Fields(c.got), strings.Fields(c.want)); ok != c.ok {
			t.Errorf("%q, %q: %v", c.got, c.want, ok)
		}
	}
}
