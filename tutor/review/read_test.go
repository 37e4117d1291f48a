package review

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"steelyard/problems"
	"steelyard/tutor"
	"steelyard/tutor/journal"
)

// Files, folders, globs, standard input and journals make one report; what is
// in several of them counts once.
func TestPathsOfEveryKind(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		os.MkdirAll(filepath.Dir(path), 0o755)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	tern, knot, eider, heron := worked(t, "tern"), worked(t, "knot"), worked(t, "eider"), worked(t, "heron")
	write("lab/a/tern.jsonl", jsonl(t, tern.events...))
	write("lab/notes.txt", "not a log")
	write("more-1.log", jsonl(t, knot.events...))
	write("more-2.log", jsonl(t, tern.events...)) // again
	path := filepath.Join(dir, "lab", "journal.db")
	j, err := journal.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if in, err := j.ImportJSONL(strings.NewReader(jsonl(t, eider.events...))); err != nil || in.Bad > 0 {
		t.Fatal(in, err)
	}
	defer j.Close() // it is open, and in use, while it is read

	r := NewReader(problems.Builtin())
	err = r.Paths(context.Background(), strings.NewReader(jsonl(t, heron.events...)), filepath.Join(dir, "lab"), filepath.Join(dir, "more-*.log"), "-")
	if err != nil {
		t.Fatal(err)
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	want := len(tern.events) + len(knot.events) + len(eider.events) + len(heron.events)
	if rep.Learners != 4 || rep.Events != want || rep.Duplicates != len(tern.events) || rep.DamagedLines != 0 || len(rep.Altered) != 0 {
		t.Errorf("%d learners, %d events of %d, %d duplicates, damaged %+v, altered %+v", rep.Learners, rep.Events, want, rep.Duplicates, rep.Damaged, rep.Altered)
	}
	if len(rep.Sources) != 5 {
		t.Errorf("sources: %+v", rep.Sources)
	}
}

func TestPathsThatAreNotThere(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{
		filepath.Join(dir, "none.jsonl"):      "cannot be read",
		filepath.Join(dir, "*.jsonl"):         "nothing fits",
		dir:                                   "no logs in the folder",
		filepath.Join(dir, "\x1b[2Jno.jsonl"): `\x1b`,
	} {
		err := NewReader(problems.Builtin()).Paths(context.Background(), nil, path)
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q: %v; want %q", path, err, want)
		}
	}
}

// A journal is read, not touched, even where nothing can be written.
func TestJournalIsLeftAsItIs(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal.db")
	j, err := journal.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.ImportJSONL(strings.NewReader(jsonl(t, worked(t, "tern").events...))); err != nil {
		t.Fatal(err)
	}
	j.Close()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	broken := bytes.Clone(whole)
	copy(broken[len(broken)/2:], bytes.Repeat([]byte{0xa5}, len(broken)/2))
	for name, text := range map[string][]byte{"whole": whole, "broken": broken} {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		r := NewReader(problems.Builtin())
		err := r.Paths(context.Background(), nil, path)
		if (err != nil) != (name == "broken") || r.Any() != (name == "whole") {
			t.Errorf("%s: %v, any: %v", name, err, r.Any())
		}
		now, _ := os.ReadFile(path)
		files, _ := os.ReadDir(filepath.Dir(path))
		if !bytes.Equal(now, text) || len(files) != 1 {
			t.Errorf("%s: the journal was changed, or there are files beside it: %v", name, files)
		}
	}
}

func TestSameIDOtherEvent(t *testing.T) {
	n := worked(t, "tern")
	forged := n.events[len(n.events)-1]
	forged.Learner = "knot"
	rep := reviewed(t, jsonl(t, n.events...)+jsonl(t, forged))
	if rep.Events != len(n.events) || rep.Learners != 1 || rep.DamagedLines != 1 || !strings.Contains(rep.Damaged[0].Reason, "another event") {
		t.Errorf("%d events, %d learners, damaged %+v", rep.Events, rep.Learners, rep.Damaged)
	}
}

// The order in which events are read does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	n := worked(t, "tern")
	back := make([]tutor.Event, 0, len(n.events))
	for i := len(n.events) - 1; i >= 0; i-- {
		back = append(back, n.events[i])
	}
	one, _ := json.Marshal(reviewed(t, jsonl(t, n.events...)))
	two, _ := json.Marshal(reviewed(t, jsonl(t, back...)))
	if !bytes.Equal(one, two) {
		t.Errorf("forwards:\n%s\nbackwards:\n%s", one, two)
	}
}

func TestReadingStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(20*time.Millisecond, cancel)
	in, _ := io.Pipe() // from which nothing comes
	if err := NewReader(problems.Builtin()).Read(ctx, "-", in); !errors.Is(err, context.Canceled) {
		t.Errorf("reading stopped with %v", err)
	}
	r := NewReader(problems.Builtin())
	gone := errors.New("the stick was pulled out")
	err := r.Read(context.Background(), "log", io.MultiReader(strings.NewReader(jsonl(t, worked(t, "tern").events...)), iotest.ErrReader(gone)))
	if !errors.Is(err, gone) || !r.Any() {
		t.Errorf("%v; any: %v", err, r.Any())
	}
}

// Where blocks end does not matter: lines are whole, and numbered from 1.
func TestSplitKeepsLines(t *testing.T) {
	lines := []string{"", "a", strings.Repeat("b", 100_000), "", "c", strings.Repeat("d", blockSize), "e", strings.Repeat("f", maxLine+1), "g", strings.Repeat("h", maxLine), "i"}
	for range 3 {
		lines = append(lines, lines...)
	}
	text := strings.Join(lines, "\n")
	for name, in := range map[string]io.Reader{"whole": strings.NewReader(text), "halves": iotest.HalfReader(strings.NewReader(text)), "with the end": iotest.DataErrReader(strings.NewReader(text)),
		"the end all at once": iotest.DataErrReader(io.MultiReader(strings.NewReader(text[:len(text)-9]), strings.NewReader(text[len(text)-9:])))} {
		got := map[int]string{}
		if err := split(context.Background(), in, func(b *block) {
			for _, d := range b.damage {
				got[d.Line] = "damaged"
			}
			at := b.first + len(b.damage)
			for _, l := range strings.Split(strings.TrimSuffix(string(b.data), "\n"), "\n") {
				if len(b.data) > 0 {
					got[at] = l
					at++
				}
			}
		}); err != nil {
			t.Fatal(err)
		}
		for i, want := range lines {
			if len(want) > maxLine {
				continue
			}
			if got[i+1] != want {
				t.Fatalf("%s: line %d is %.20q (%d bytes), want %.20q (%d bytes)", name, i+1, got[i+1], len(got[i+1]), want, len(want))
			}
		}
	}
}
