package review

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"steelyard/problems"
)

func packed(t *testing.T, text io.Reader) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := io.Copy(z, text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A compressed log says what the same log says as text: in a folder, by a
// glob, by name, and from standard input.
func TestCompressedLogsAreRead(t *testing.T) {
	text := jsonl(t, worked(t, "tern").events...)
	dir := t.TempDir()
	zip := packed(t, strings.NewReader(text))
	for name, data := range map[string][]byte{"folder/deep/lab.jsonl.gz": zip, "folder/OLD.NDJSON.GZ": zip, "folder/picture.gz": []byte("not a log"), "any-name": zip} {
		path := filepath.Join(dir, name)
		os.MkdirAll(filepath.Dir(path), 0o755)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want := reviewed(t, text)
	for _, c := range []struct {
		path    string
		sources int
	}{{"folder", 2}, {"folder/*/*.gz", 1}, {"any-name", 1}, {"-", 1}} {
		path := c.path
		if path != "-" {
			path = filepath.Join(dir, path)
		}
		r := NewReader(problems.Builtin())
		var stages []int64
		r.Progress = func(_ Stage, done, of int64) {
			if done > of {
				t.Errorf("%s: %d of %d", c.path, done, of)
			}
			stages = append(stages, done)
		}
		if err := r.Paths(context.Background(), bytes.NewReader(zip), path); err != nil {
			t.Fatal(err)
		}
		rep, err := r.Report(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if len(rep.Sources) != c.sources || len(stages) == 0 {
			t.Errorf("%s: read %+v, told %v", c.path, rep.Sources, stages)
		}
		rep.Sources, rep.Duplicates = want.Sources, want.Duplicates
		a, _ := json.Marshal(rep)
		b, _ := json.Marshal(want)
		if !bytes.Equal(a, b) {
			t.Errorf("%s: %s\nwant %s", c.path, a, b)
		}
	}
}

// A line of 100 MB is one damaged line, compressed or not; what comes to
// thousands of megabytes is refused, with the line and what to do.
func TestGzipBombIsRefused(t *testing.T) {
	good := jsonl(t, worked(t, "tern").events...)
	read := func(in io.Reader) (*Report, error) {
		path := filepath.Join(t.TempDir(), "lab.jsonl.gz")
		if err := os.WriteFile(path, packed(t, in), 0o644); err != nil {
			t.Fatal(err)
		}
		r := NewReader(problems.Builtin())
		failed := r.Paths(context.Background(), nil, path)
		rep, err := r.Report(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		return rep, failed
	}
	rep, err := read(io.MultiReader(strings.NewReader(strings.Repeat("x", 100<<20)), strings.NewReader("\n"+good)))
	if err != nil || rep.DamagedLines != 1 || rep.Events != strings.Count(good, "\n") {
		t.Errorf("%v, %d damaged, %d events", err, rep.DamagedLines, rep.Events)
	}
	for _, pattern := range []string{"x", "\n", strings.Repeat("no log\t", 40) + "\n"} {
		rep, err = read(io.MultiReader(strings.NewReader(good), strings.NewReader(strings.Repeat(pattern, 192<<20/len(pattern)))))
		if err == nil || !strings.Contains(err.Error(), "lab.jsonl.gz: at line ") || !strings.Contains(err.Error(), "ask for the log as text") {
			t.Errorf("%q: %v", pattern, err)
		}
		if rep.Events != strings.Count(good, "\n") || len(rep.Sources) != 1 || rep.Sources[0].Failed == "" {
			t.Errorf("%q: %d events, %+v", pattern, rep.Events, rep.Sources)
		}
	}
}
