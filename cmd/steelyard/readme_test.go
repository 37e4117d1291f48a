package main

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// largestPicture is what a picture in README may weigh, so that the page loads
// over a slow line.
const largestPicture = 150_000

var linked = regexp.MustCompile(`(!?)\[[^\]]+\]\(([^)#]+)(?:#[^)]*)?\)`)

// What README links to is there, and its pictures can be read.
func TestReadmeLinks(t *testing.T) {
	pictures := 0
	for _, m := range linked.FindAllStringSubmatch(readme(t), -1) {
		path := filepath.Join("..", "..", m[2])
		if m[1] == "" {
			if _, err := os.Stat(path); err != nil {
				t.Errorf("README links to %s: %v", m[2], err)
			}
			continue
		}
		pictures++
		data, err := os.ReadFile(path)
		if err != nil {
			t.Errorf("README shows %s: %v; make it with: go run ./testdata/pictures", m[2], err)
			continue
		}
		if len(data) > largestPicture {
			t.Errorf("%s has %d bytes; keep it to %d", m[2], len(data), largestPicture)
		}
		if err := canBeRead(m[2], data); err != nil {
			t.Errorf("%s: %v", m[2], err)
		}
	}
	if pictures == 0 {
		t.Error("README shows no picture")
	}
}

func canBeRead(name string, data []byte) error {
	if strings.HasSuffix(name, ".png") {
		_, err := png.DecodeConfig(bytes.NewReader(data))
		return err
	}
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		if _, err := d.Token(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// The requests in README are answered as it says.
func TestReadmeGrades(t *testing.T) {
	var requests, answers []string
	for line := range strings.Lines(readme(t)) {
		switch line = strings.TrimSpace(line); {
		case strings.HasPrefix(line, `{"problem"`):
			requests = append(requests, line)
		case strings.HasPrefix(line, `{"verdict"`):
			answers = append(answers, line)
		}
	}
	var out, words bytes.Buffer
	a := &app{in: strings.NewReader(strings.Join(requests, "\n") + "\n"), out: &out, words: &words}
	c := a.command()
	c.SetArgs([]string{"grade"})
	if err := c.Execute(); err != nil {
		t.Fatalf("%v\n%s", err, words.String())
	}
	if got, want := strings.TrimSpace(out.String()), strings.Join(answers, "\n"); got != want || len(requests) == 0 {
		t.Errorf("grade answers\n%s\nREADME says\n%s", got, want)
	}
}

func readme(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
