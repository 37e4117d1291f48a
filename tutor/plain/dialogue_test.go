package plain

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

var update = flag.Bool("update", false, "rewrite the dialogues; read them before they are committed")

// A dialogue is a file of what is said and typed, as on a terminal. A typed line
// follows "> " or "Which problem? "; \x1b and the like in it are control
// characters. "> ^D" is the end of the input, after which the tutor is begun
// again by the same learner. Lines before the first that is empty are a comment;
// "spoken" or "ascii" among its first words sets that way of writing, "reasons"
// that reasons are asked for.
func TestDialogues(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no dialogues: %v", err)
	}
	for _, path := range files {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			comment, want, _ := strings.Cut(string(data), "\n\n")
			got := retold(t, comment, want)
			if *update {
				if err := os.WriteFile(path, []byte(comment+"\n\n"+got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if got != want {
				t.Errorf("%s goes otherwise; if it is better so, go test -update\n%s", path, firstDifference(got, want))
			}
		})
	}
}

// retold is the dialogue as it goes when its typed lines are typed again.
func retold(t *testing.T, comment, dialogue string) string {
	t.Helper()
	sittings := [][]string{nil}
	for line := range strings.Lines(dialogue) {
		line = strings.TrimSuffix(line, "\n")
		typed, ok := strings.CutPrefix(line, "> ")
		if !ok {
			typed, ok = strings.CutPrefix(line, "Which problem? ")
		}
		switch {
		case ok && typed == "^D":
			sittings = append(sittings, nil)
		case ok:
			last := len(sittings) - 1
			sittings[last] = append(sittings[last], typed)
		}
	}
	first, _, _ := strings.Cut(comment, ".")
	terms := tutor.TermsOf(tutor.Guided)
	terms.Reasons = strings.Contains(first, "reasons")
	o := Options{House: rememberingHouse(terms), Spoken: strings.Contains(first, "spoken"), ASCII: strings.Contains(first, "ascii")}
	var out bytes.Buffer
	for i, lines := range sittings {
		if err := Run(o, &typist{lines: lines, echo: &out, last: i == len(sittings)-1}, &out); err != nil {
			t.Fatal(err)
		}
	}
	return out.String()
}

// typist types lines one by one, and shows them where they are asked for.
type typist struct {
	lines []string
	echo  io.Writer
	last  bool
}

func (p *typist) Read(b []byte) (int, error) {
	if len(p.lines) == 0 {
		if !p.last {
			fmt.Fprint(p.echo, "^D")
		}
		return 0, io.EOF
	}
	line := p.lines[0]
	p.lines = p.lines[1:]
	fmt.Fprintln(p.echo, line)
	if raw, err := strconv.Unquote(`"` + strings.ReplaceAll(line, `"`, `\"`) + `"`); err == nil {
		line = raw
	}
	return copy(b, line+"\n"), nil
}

func firstDifference(got, want string) string {
	g, w := bufio.NewScanner(strings.NewReader(got)), bufio.NewScanner(strings.NewReader(want))
	for n := 1; ; n++ {
		more, wanted := g.Scan(), w.Scan()
		if g.Text() != w.Text() || !more || !wanted {
			return fmt.Sprintf("line %d\n--- got\n%s\n--- want\n%s", n, g.Text(), w.Text())
		}
	}
}

// record keeps the events of one session.
type record struct {
	problem string
	seed    uint64
	events  []tutor.Event
}

func (r *record) Record(e *tutor.Event) error { r.events = append(r.events, *e); return nil }

// rememberingHouse begins on terms; it has three problems, and keeps what was done, so that it can be
// gone on with.
func rememberingHouse(terms tutor.Terms) tutor.House {
	h := house()
	h.Bank = &problems.Bank{Scenarios: slices.DeleteFunc(slices.Clone(h.Bank.Scenarios), func(s *problems.Scenario) bool {
		return s.ID != "davit-arm" && s.ID != "hull-ladder" && s.ID != "step-ladder-tie"
	})}
	var kept []*record
	at := time.Date(2026, 3, 4, 9, 30, 0, 0, time.Local)
	sit := func(r *record, events []tutor.Event) (*tutor.Desk, error) {
		sc, err := h.Bank.Scenario(r.problem)
		if err != nil {
			return nil, err
		}
		p, err := grading.Draw(sc, r.seed)
		if err != nil {
			return nil, err
		}
		s, err := tutor.Resume(p, events)
		if len(events) == 0 {
			s, err = tutor.Start(p, terms)
		}
		if err != nil {
			return nil, err
		}
		return tutor.Sit(s, r, events)
	}
	h.Begin = func(id string, seed uint64) (*tutor.Desk, error) {
		r := &record{problem: id, seed: seed}
		kept = append(kept, r)
		return sit(r, nil)
	}
	over := func(r *record) bool {
		return len(r.events) > 0 && r.events[len(r.events)-1].Kind == tutor.Finished
	}
	h.Unfinished = func() ([]tutor.Unfinished, error) {
		var out []tutor.Unfinished
		for i := len(kept) - 1; i >= 0; i-- {
			if r := kept[i]; !over(r) {
				sc, err := h.Bank.Scenario(r.problem)
				if err != nil {
					return nil, err
				}
				out = append(out, tutor.Unfinished{Session: strconv.Itoa(i), Problem: r.problem, Title: sc.Title, Seed: r.seed, At: at})
			}
		}
		return out, nil
	}
	h.Resume = func(session string) (*tutor.Desk, error) {
		i, err := strconv.Atoi(session)
		if err != nil {
			return nil, err
		}
		return sit(kept[i], kept[i].events)
	}
	h.Done = func() (map[string]int, error) {
		out := map[string]int{}
		for _, r := range kept {
			if over(r) {
				out[r.problem]++
			}
		}
		return out, nil
	}
	return h
}
