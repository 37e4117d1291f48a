package board

import (
	"context"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

func open(t *testing.T) *stand { return newStand(t, screen.BareLook(false), lab(t), 80, 24) }

// hand is the line that is marked as in hand; below the names of the parts.
func (s *stand) hand() string {
	for _, line := range strings.Split(s.frame(), "\n")[3:] {
		if rest, ok := strings.CutPrefix(line, " ▸ "); ok {
			return rest
		}
	}
	return ""
}

func (s *stand) inHand(text string) {
	s.tb.Helper()
	if !strings.HasPrefix(s.hand(), text) {
		s.tb.Errorf("in hand is %q, want %q:\n%s", s.hand(), text, s.frame())
	}
}

// The first page names three slips with learners, attempts, minutes and lines
// as typed, and leads to each part by its number and by Tab.
func TestParts(t *testing.T) {
	s := open(t)
	s.sees("1. sine and cosine swapped", "18 of 40 learners: 45 % (31-60)", "332 attempts", "172 minutes", "10 × -T_1 sin(alpha)", "3. mass used for weight", "To see: tern, osprey", "The logs are not all sound")
	titles := []string{"To reteach", "Slips, dearest first", "By problem", "no slip predicts", "By skill", "By learner", "same wrong lines", "Items of a test", "Reasons that were asked for", "The logs"}
	for i, title := range titles {
		s.press(string("1234567890"[i]))
		s.sees(title)
	}
	s.press("tab")
	s.sees(titles[0])
	s.press("back")
	s.sees(titles[9])
	s.press("q")
	if !s.quit {
		t.Error("q does not quit")
	}
}

// Rows are sorted by one column after another, turned round, and come back to
// the order as given.
func TestSort(t *testing.T) {
	s := open(t)
	s.press("3")
	s.inHand("arm-strut-below")
	s.press("s", "t")
	s.inHand("hull-ladder")
	s.sees("sorted by problem, Z to A")
	s.press("s", "s", "s", "s")
	s.sees("sorted by attempts, most first")
	s.inHand("hull-ladder")
	s.press("t")
	s.sees("sorted by attempts, least first")
	s.inHand("drum-kerb")
	s.press("s", "s", "s")
	s.missing("sorted by")
	s.inHand("arm-strut-below")
	s.press("end")
	s.inHand("hull-ladder")
	s.press("up", "up", "home", "down")
	s.inHand("boom-inclined")
}

// Typing filters at once; Enter keeps the filter, Esc lets it go, A shows all.
// What is in a column that there is no room for is not found.
func TestFilter(t *testing.T) {
	s := open(t)
	s.press("6", "f")
	s.typed("gan")
	s.inHand("gannet")
	s.sees("1 of 9 rows; filtered by gan")
	s.press("enter", "q")
	if !s.quit {
		t.Error("after Enter, letters are keys again")
	}
	s.press("a")
	s.missing("filtered")
	s.press("f")
	s.typed("lab-3")
	s.sees("No row holds that", "0 of 9 rows")
	s.resize(140, 45)
	s.sees("9 of 9 rows")
	s.press("esc")
	s.missing("filtered")
	s.press("f")
	s.typed("none such")
	s.press("enter", "enter", "down", "s")
	s.sees("No row holds that")
}

// Letters that arrive all at once, as over a slow line, are as many keys; the
// filter takes those after its own. What is pasted is no key.
func TestKeysAtOnce(t *testing.T) {
	s := open(t)
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("3st")})
	s.sees("sorted by problem, Z to A")
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("6fgan")})
	s.inHand("gannet")
	s.press("esc")
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("2")})
	s.sees("By learner")
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("3qs")})
	if !s.quit {
		t.Error("q among others does not quit")
	}
}

// A group opens to its lines and the slip it could be, which is written to a
// file; one that is there is added to when Enter is pressed again.
func TestOffer(t *testing.T) {
	s := open(t)
	offer := s.m.data.rep.Unpredicted[0].Offer
	if offer == "" {
		t.Fatal("the first group has no offer")
	}
	s.press("4", "enter")
	s.sees("davit-arm, moment of W on the arm about A", "10 × -W L/3 by 8 learners", "[[slips]]", "O write the slip")
	s.press("o", "enter")
	s.sees("Name a file")
	s.typed("nowhere/w.toml")
	s.press("enter")
	s.sees("Not written: open nowhere/w.toml: permission denied")
	s.press("ctrl+u")
	s.typed("own.toml")
	s.press("enter")
	s.sees("own.toml holds the slip now")
	if s.files["own.toml"] != offer {
		t.Errorf("the file holds %q", s.files["own.toml"])
	}
	s.files["davit-arm.toml"] = "id = \"davit-arm\"\n"
	s.press("o")
	s.typed("davit-arm.toml")
	s.press("enter")
	s.sees("davit-arm.toml is there already. Enter again adds the slip at its end")
	s.press("enter")
	if s.files["davit-arm.toml"] != "id = \"davit-arm\"\n"+offer {
		t.Errorf("the file holds %q", s.files["davit-arm.toml"])
	}
	s.press("esc")
	s.sees("Wrong answers that no slip predicts")
	s.press("end", "enter")
	s.sees("No slip is offered")
	s.missing("O write the slip")
	s.press("o")
	s.missing("which file")
}

// The page is written from any part; a file that is there is written over only
// when Enter is pressed again on the same name.
func TestWritePage(t *testing.T) {
	s := open(t)
	s.press("w", "enter")
	s.sees("review.html is written; open it in a browser")
	if s.files["review.html"] != "a page of 40 learners" {
		t.Errorf("the file holds %q", s.files["review.html"])
	}
	s.files["review.html"] = "another"
	s.press("8", "w", "enter")
	s.sees("review.html is there already. Enter again writes over it")
	s.typed("x")
	s.press("enter")
	if s.files["review.html"] != "another" || s.files["x"] == "" {
		t.Errorf("another name was not taken: %v", s.files)
	}
	s.press("w", "enter", "enter")
	if s.files["review.html"] != "a page of 40 learners" {
		t.Errorf("the file holds %q", s.files["review.html"])
	}
	s.press("w")
	s.typed("own.html") // in place of the name that is offered
	s.press("enter")
	s.sees("own.html is written")
	s.press("w", "esc", "2")
	s.sees("Slips, dearest first")
}

// A learner opens to what they typed, and a line of it to the whole of it.
func TestLearner(t *testing.T) {
	s := open(t)
	s.press("6", "enter")
	s.sees("tern", "7 of 9 sessions finished", "▄▇ right first: 42 %, at last 75 %", "to see 1.6 attempts a line", "9 rows")
	s.press("end", "up", "up", "enter")
	s.sees("moment of W on the arm about A", "-W L/3", "wrong, no known slip", "steelyard show davit-arm --seed 7 --answers")
	s.press("esc", "up", "up", "up", "up", "enter")
	s.sees("T L cos(alpha)", "sine and cosine swapped")
	s.press("esc", "esc", "7", "enter")
	s.sees("13 of 13 wrong lines, to the letter")
}

// What the verdicts were, and marks beside them, in a column that has room.
func TestBecame(t *testing.T) {
	s := newStand(t, screen.BareLook(false), lab(t), 140, 45)
	s.press("6", "enter")
	s.sees("✓ right", "! sine and cosine swapped", "hint 1", "could not be read", "◇ shown", "✓ right, with a remark")
}

// What is wrong with the logs is counted, placed and opened.
func TestLogs(t *testing.T) {
	s := open(t)
	s.press("0")
	s.sees("not read whole", "lab-3/bench-1.jsonl:17", "and 1 more", "mooring-cleat", "12 events, counted once", "grebe at davit-arm")
	s.press("down", "enter")
	s.sees("the log was changed", "2 of 21 differ", "is right in the log, and wrong (sine-cosine) by grading")
	sound := lab(t)
	sound.Sources, sound.Damaged, sound.DamagedLines, sound.Altered, sound.NotInBank = sound.Sources[1:2], nil, 0, nil, nil
	s = newStand(t, screen.BareLook(false), sound, 80, 24)
	s.missing("Logs !", "not all sound")
	s.press("0")
	s.sees("Nothing is wrong with the logs")
}

// A report of nothing has every part, each saying that there is nothing.
func TestNothing(t *testing.T) {
	s := newStand(t, screen.BareLook(false), &review.Report{}, 80, 24)
	s.sees("There is nothing in these logs to review")
	for _, k := range "234567890" {
		s.press(string(k), "enter", "s", "t", "down", "end", "pgdn", "o", "f", "x", "esc")
		s.sound()
	}
	s.sees("Nothing was read")
}

// While logs are read the screen says how far it is, and only leaving works.
func TestReading(t *testing.T) {
	s := newStand(t, screen.BareLook(true), nil, 80, 24)
	s.sees("Reading the logs", "Ctrl+C stops. Nothing is written.")
	s.m.reading.progress(review.Grading, 30, 40)
	s.send(tickMsg{})
	s.sees("Grading every line again", "##############################.......... 75 %")
	s.press("2", "w", "enter")
	s.sees("Grading every line again")
	s.sound()
	s.press("ctrl+c")
	if !s.quit {
		t.Error("Ctrl+C does not leave")
	}
	// What could be read is shown, with a word that not all could be.
	s = newStand(t, screen.BareLook(false), nil, 80, 24)
	s.send(readMsg{lab(t), errors.New("bench-3: cut short")})
	s.sees("Not all could be read", "To reteach")
	s.press("down")
	s.missing("Not all could be read")
	s = newStand(t, screen.BareLook(false), nil, 80, 24)
	s.send(readMsg{nil, errors.New("none can be read")})
	if !s.quit || s.m.err == nil {
		t.Error("the board stays where there is nothing to show")
	}
}

// Leaving ends the reading before Run returns, so that nothing it has laid
// aside stays behind.
func TestLeavingEndsReading(t *testing.T) {
	ended := make(chan bool, 1)
	r := Options{Read: func(ctx context.Context, _ func(review.Stage, int64, int64)) (*review.Report, error) {
		<-ctx.Done()
		time.Sleep(20 * time.Millisecond) // takes away what it laid aside
		ended <- true
		return nil, ctx.Err()
	}}
	err := Run(t.Context(), r, strings.NewReader("\x03"), discard{})
	if !errors.Is(err, ErrStopped) {
		t.Errorf("the error is %v, want that it was stopped", err)
	}
	select {
	case <-ended:
	default:
		t.Error("Run has returned while the logs are still being read")
	}
}

type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }

// Every key that the foot shows does something where it is shown, and every
// key of the board is in the help.
func TestKeysAreShown(t *testing.T) {
	for _, sc := range scenes {
		s := open(t)
		s.press(sc.keys...)
		for _, k := range s.m.shown() {
			if h := k.Help(); h.Key == "" || h.Desc == "" || len(k.Keys()) == 0 && h.Desc != "scroll" {
				t.Errorf("%s shows a key without a name: %+v", sc.name, h)
			}
		}
	}
	help := map[string]bool{}
	k := newKeys(false)
	for _, row := range k.longHelp() {
		help[row[0]] = true
	}
	// Second names of what is shown, those of a line that is typed, which are
	// shown there, and the one that works at any time.
	also := map[string]bool{"Down": true, "PageUp": true, "PageDown": true, "Top": true, "Done": true, "Cancel": true, "Leave": true}
	keys := reflect.ValueOf(k)
	for i := range keys.NumField() {
		b := keys.Field(i).Interface().(key.Binding)
		if name := keys.Type().Field(i).Name; !also[name] && !help[b.Help().Key] {
			t.Errorf("the key %s (%s) is not in the help", b.Help().Key, name)
		}
	}
}

var _ tea.Model = Model{}
