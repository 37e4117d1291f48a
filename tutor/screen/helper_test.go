package screen

import (
	"errors"
	"flag"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

var update = flag.Bool("update", false, "write the golden frames anew; read them before storing them")

// memory records events in memory, or fails when told to.
type memory struct {
	events []tutor.Event
	fail   error
	now    func() time.Time // nil where no time matters
}

func (m *memory) Record(e *tutor.Event) error {
	if m.fail != nil {
		return m.fail
	}
	e.Session = "session-1"
	if m.now != nil {
		e.At = m.now()
	}
	m.events = append(m.events, *e)
	return nil
}

var morning = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// Times are shown by the learner's clock; here it is everywhere the same.
func init() { time.Local = time.UTC }

var errDisk = errors.New("disk full")

var (
	bareUnicode = surface{profile: termenv.Ascii, bare: true}
	bareASCII   = surface{profile: termenv.Ascii, bare: true, ascii: true}
	fullColour  = surface{profile: termenv.TrueColor, dark: true}
)

// stand is a screen that a test drives, with what it records.
type stand struct {
	tb    testing.TB
	m     Model
	rec   *memory
	seeds []uint64
	quit  bool
	clock time.Time // what the screen and the recorder take for now
	ticks int       // seconds waited for
}

// few is a small bank that stays as it is while the built-in one grows: the
// frames kept under testdata are of it.
var few = sync.OnceValue(func() *problems.Bank {
	b := &problems.Bank{}
	for _, s := range problems.Builtin().Scenarios {
		switch s.ID {
		case "davit-arm", "drum-kerb", "hull-ladder", "hull-ladder-limit", "plank-balance", "quay-plank", "trailer-braking", "winch-bar":
			b.Scenarios = append(b.Scenarios, s)
		}
	}
	return b
})

// stepLadder is two legs, the ladder as a whole, and a closing question.
var stepLadder = sync.OnceValue(func() *problems.Scenario {
	const path = "../../problems/testdata/step-ladder.toml"
	data, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	s, err := problems.Read(path, data)
	if err != nil {
		panic(err)
	}
	return s
})

// scenario finds a scenario of the built-in bank, or the step-ladder.
func scenario(tb testing.TB, id string) *problems.Scenario {
	tb.Helper()
	if id == "step-ladder" {
		return stepLadder()
	}
	sc, err := problems.Builtin().Scenario(id)
	if err != nil {
		tb.Fatal(err)
	}
	return sc
}

func sit(tb testing.TB, id string, seed uint64, rec tutor.Recorder) *tutor.Desk {
	tb.Helper()
	return sitAt(tb, scenario(tb, id), seed, rec)
}

// sitAt begins a problem of a scenario.
func sitAt(tb testing.TB, sc *problems.Scenario, seed uint64, rec tutor.Recorder) *tutor.Desk {
	tb.Helper()
	p, err := grading.Draw(sc, seed)
	if err != nil {
		tb.Fatal(err)
	}
	return sitOn(tb, p, tutor.TermsOf(tutor.Guided), rec)
}

// sitOn begins a problem on terms.
func sitOn(tb testing.TB, p *problems.Problem, terms tutor.Terms, rec tutor.Recorder) *tutor.Desk {
	tb.Helper()
	s, err := tutor.Start(p, terms)
	if err != nil {
		tb.Fatal(err)
	}
	d, err := tutor.Sit(s, rec, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

// options are those of a small house whose seeds count up from 7.
func (s *stand) options() Options {
	next := uint64(6)
	return Options{
		Cards: few().Cards(), Learner: "me",
		Start: func(id string, seed uint64) (*tutor.Desk, error) {
			s.seeds = append(s.seeds, seed)
			if s.rec.fail != nil {
				return nil, s.rec.fail
			}
			return sit(s.tb, id, seed, s.rec), nil
		},
		Resume: func(session string) (*tutor.Desk, error) {
			if session != "session-1" {
				return nil, errors.New("no such session")
			}
			return sit(s.tb, "hull-ladder", 3, s.rec), nil
		},
		Done:       map[string]int{"davit-arm": 1, "hull-ladder": 3},
		Unfinished: []Unfinished{{Session: "session-1", Problem: "hull-ladder", Title: "A painter on a ladder", When: "yesterday"}},
		NewSeed:    func() uint64 { next++; return next },
		now:        func() time.Time { return s.clock },
		tick:       func() tea.Cmd { s.ticks++; return nil },
	}
}

func newStand(tb testing.TB, on surface, width, height int, with func(*Options)) *stand {
	s := &stand{tb: tb, rec: &memory{}, clock: morning}
	o := s.options()
	if with != nil {
		with(&o)
	}
	s.m = newModel(o, on)
	s.send(tea.WindowSizeMsg{Width: width, Height: height})
	return s
}

// davit is a stand with the davit's arm open.
func davit(tb testing.TB, on surface, width, height int) *stand {
	s := newStand(tb, on, width, height, nil)
	s.send(beginMsg{"davit-arm"})
	return s
}

// send hands over a message, and whatever comes of it.
func (s *stand) send(msg tea.Msg) {
	next, cmd := s.m.Update(msg)
	s.m = next.(Model)
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.QuitMsg:
		s.quit = true
	default:
		s.send(msg)
	}
}

var keyNames = map[string]tea.KeyType{"enter": tea.KeyEnter, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"tab": tea.KeyTab, "back": tea.KeyShiftTab, "hint": tea.KeyCtrlT, "undo": tea.KeyCtrlZ, "clear": tea.KeyCtrlU, "pivot": tea.KeyCtrlP,
	"signs": tea.KeyCtrlS, "view": tea.KeyCtrlO, "list": tea.KeyCtrlL, "quit": tea.KeyCtrlQ, "help": tea.KeyF1, "ready": tea.KeyCtrlR, "body": tea.KeyF9, "axes": tea.KeyF10, "mouse": tea.KeyF12, "esc": tea.KeyEsc,
	"pgup": tea.KeyPgUp, "pgdn": tea.KeyPgDown, "backspace": tea.KeyBackspace, "home": tea.KeyHome, "end": tea.KeyEnd, "delete": tea.KeyDelete}

func (s *stand) press(names ...string) {
	s.tb.Helper()
	for _, n := range names {
		t, ok := keyNames[n]
		if !ok {
			s.tb.Fatalf("no key %q", n)
		}
		s.send(tea.KeyMsg{Type: t})
	}
}

// typed types text as a terminal sends it: words, and the spaces between.
func (s *stand) typed(text string) {
	for i, word := range strings.Split(text, " ") {
		if i > 0 {
			s.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		}
		if word != "" {
			s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
		}
	}
}

// say types lines, each sent with Enter.
func (s *stand) say(lines ...string) {
	for _, l := range lines {
		s.typed(l)
		s.press("enter")
	}
}

func (s *stand) frame() string { return s.m.View() }

// sees checks that the frame says something, wherever its lines break.
func (s *stand) sees(words ...string) {
	s.tb.Helper()
	frame := strings.Join(strings.Fields(ansi.Strip(s.frame())), " ")
	for _, w := range words {
		if !strings.Contains(frame, w) {
			s.tb.Errorf("the frame does not say %q:\n%s", w, ansi.Strip(s.frame()))
		}
	}
}

var styling = regexp.MustCompile("\x1b\\[[0-9;]*m")

// sound checks what must hold of every frame.
func (s *stand) sound(width, height int, ascii bool) {
	s.tb.Helper()
	frame := styling.ReplaceAllString(s.frame(), "")
	lines := strings.Split(frame, "\n")
	if len(lines) > height {
		s.tb.Fatalf("%d lines in a window of %dx%d:\n%s", len(lines), width, height, frame)
	}
	for i, line := range lines {
		if w := ansi.StringWidth(line); w > width {
			s.tb.Fatalf("line %d is %d wide in a window of %dx%d: %q", i+1, w, width, height, line)
		}
		if notation.Printable(line) != line {
			s.tb.Fatalf("line %d holds what acts on a terminal: %q", i+1, line)
		}
		if ascii && !isASCII(line) {
			s.tb.Fatalf("line %d is not ASCII: %q", i+1, line)
		}
	}
}

// The lines by which the davit's arm is set up: the pivot and the forces.
var davitSetup = []string{"A", "T at B toward C", "W at G down", "m g at B down; H at A right", "V at A up", "done"}

// davitRest are the right lines from there to the end.
func davitRest(d *tutor.Desk) []string {
	lines := []string{"-T cos(alpha)", "T sin(alpha)", "T L sin(alpha)", "0", "-M g", "-M g L/2", "0", "-m g", "-m g L", "H", "0", "0", "0", "V", "0"}
	p := d.Problem()
	for _, u := range p.Unknowns {
		lines = append(lines, problems.Figures(p.Values[u.Index], 4)+" N")
	}
	return append(lines, "B", "3")
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}
