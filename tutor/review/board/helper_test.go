package board

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

var update = flag.Bool("update", false, "write the golden frames anew; read them before storing them")

// lab is a report as it once was: the frames kept under testdata are of it,
// and stay as they are while grading and the bank grow.
func lab(tb testing.TB) *review.Report {
	tb.Helper()
	text, err := os.ReadFile("testdata/report.json")
	if err != nil {
		tb.Fatal(err)
	}
	var rep review.Report
	if err := json.Unmarshal(text, &rep); err != nil {
		tb.Fatal(err)
	}
	return &rep
}

var monday = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// typedBy is what every learner typed, as far as frames are concerned.
func typedBy(string) []review.TypedLine {
	line := func(minute int, step, cell, typed string, verdict grading.Outcome, hint int, slips ...string) review.TypedLine {
		return review.TypedLine{At: monday.Add(time.Duration(minute) * time.Minute), Problem: "davit-arm", Seed: 7, Body: "arm", Step: step, Cell: cell, Pivot: "A",
			Typed: typed, Verdict: verdict, Hint: hint, Slips: slips, Seconds: float64(7 * minute)}
	}
	return []review.TypedLine{
		line(1, "pivot", "", "A", grading.Right, 0),
		line(2, "forces", "", "T at B toward C", grading.Right, 0),
		line(3, "moment", "T", "T L cos(alpha)", grading.Wrong, 0, "sine-cosine"),
		line(4, "moment", "T", "", "", 1),
		line(5, "moment", "T", "T L sin(alhpa)", grading.Unreadable, 0),
		line(6, "moment", "T", "T L sin(alpha)", grading.Right, 0),
		line(8, "moment", "W", "-W L/3", grading.Wrong, 0),
		line(9, "moment", "W", "-M g L/2", "", 3),
		line(10, "value", "T", "3.123 kN", grading.Remarked, 0),
	}
}

func sessionsOf(string) []review.SessionOf {
	return []review.SessionOf{{At: monday, Problem: "davit-arm", Finished: true, RightFirst: review.Wilson(5, 12), Minutes: 14},
		{At: monday.Add(time.Hour), Problem: "quay-plank", RightFirst: review.Wilson(9, 12), Minutes: 9}}
}

// stand is a board that a test drives.
type stand struct {
	tb    testing.TB
	m     Model
	files map[string]string // what was written
	quit  bool
}

func newStand(tb testing.TB, l *screen.Look, rep *review.Report, width, height int) *stand {
	s := &stand{tb: tb, files: map[string]string{}}
	s.m = newModel(Options{
		Lines: typedBy, Sessions: sessionsOf, Save: s.save,
		Page: func(w io.Writer, rep *review.Report) error {
			_, err := fmt.Fprintf(w, "a page of %d learners", rep.Learners)
			return err
		},
	}, l, read(context.Background(), func(context.Context, func(review.Stage, int64, int64)) (*review.Report, error) { return rep, nil }))
	s.send(tea.WindowSizeMsg{Width: width, Height: height})
	if rep != nil {
		s.send(readMsg{rep, nil})
	}
	return s
}

// save keeps files in memory.
func (s *stand) save(file string, how How, write func(io.Writer) error) error {
	if strings.HasPrefix(file, "nowhere/") {
		return fmt.Errorf("open %s: %w", file, fs.ErrPermission)
	}
	var b bytes.Buffer
	if before, there := s.files[file]; there && how == New {
		return fs.ErrExist
	} else if how == AtEnd {
		b.WriteString(before)
	}
	if err := write(&b); err != nil {
		return err
	}
	s.files[file] = b.String()
	return nil
}

func (s *stand) send(msg tea.Msg) {
	next, cmd := s.m.Update(msg)
	s.m = next.(Model)
	if cmd != nil {
		if _, tick := msg.(tickMsg); !tick {
			if _, quit := cmd().(tea.QuitMsg); quit {
				s.quit = true
			}
		}
	}
}

var keyNames = map[string]tea.KeyType{"enter": tea.KeyEnter, "up": tea.KeyUp, "down": tea.KeyDown, "tab": tea.KeyTab, "back": tea.KeyShiftTab, "esc": tea.KeyEsc,
	"pgup": tea.KeyPgUp, "pgdn": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "f1": tea.KeyF1, "ctrl+c": tea.KeyCtrlC, "ctrl+u": tea.KeyCtrlU}

// press presses keys: names, or letters.
func (s *stand) press(names ...string) {
	s.tb.Helper()
	for _, n := range names {
		if t, ok := keyNames[n]; ok {
			s.send(tea.KeyMsg{Type: t})
			continue
		}
		if len(n) != 1 {
			s.tb.Fatalf("no key %q", n)
		}
		s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(n)})
	}
}

func (s *stand) typed(text string) {
	for _, r := range text {
		s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
}

func (s *stand) frame() string { return s.m.View() }

func flat(frame string) string { return strings.Join(strings.Fields(ansi.Strip(frame)), " ") }

// sees checks that the frame says something, wherever its lines break.
func (s *stand) sees(words ...string) {
	s.tb.Helper()
	for _, w := range words {
		if !strings.Contains(flat(s.frame()), w) {
			s.tb.Errorf("the frame does not say %q:\n%s", w, ansi.Strip(s.frame()))
		}
	}
}

func (s *stand) missing(words ...string) {
	s.tb.Helper()
	for _, w := range words {
		if strings.Contains(flat(s.frame()), w) {
			s.tb.Errorf("the frame says %q:\n%s", w, ansi.Strip(s.frame()))
		}
	}
}

var styling = regexp.MustCompile("\x1b\\[[0-9;]*m")

// sound checks what must hold of every frame.
func (s *stand) sound() {
	s.tb.Helper()
	frame := styling.ReplaceAllString(s.frame(), "")
	lines := strings.Split(frame, "\n")
	if len(lines) > s.m.height {
		s.tb.Fatalf("%d lines in a window of %dx%d:\n%s", len(lines), s.m.width, s.m.height, frame)
	}
	for i, line := range lines {
		if w := ansi.StringWidth(line); w > s.m.width {
			s.tb.Fatalf("line %d is %d wide in a window of %dx%d: %q", i+1, w, s.m.width, s.m.height, line)
		}
		if notation.Printable(line) != line {
			s.tb.Fatalf("line %d holds what acts on a terminal: %q", i+1, line)
		}
		if s.m.look.ASCII() && strings.ContainsFunc(line, func(r rune) bool { return r >= 0x80 }) {
			s.tb.Fatalf("line %d is not ASCII: %q", i+1, line)
		}
	}
}

// golden compares what was got with a file of testdata, or writes it there.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	a, b := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Fatalf("%s has changed at line %d; look at it (go test -update, git diff)", path, i+1)
		}
	}
}

func (s *stand) resize(width, height int) { s.send(tea.WindowSizeMsg{Width: width, Height: height}) }
