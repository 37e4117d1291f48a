package screen

import (
	"math/rand/v2"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"steelyard/tutor"
)

// hostile are texts that would act on a terminal, or upset a layout.
var hostile = []string{"\x1b[2J", "\x1b]0;title\a", "\x00\x07\x08\x7f", "\u202eabc", "\u200b\u200d", "e\u0301\u0301\u0301", "漢字漢字", "👩‍👩‍👧", "\ufeff", "\u0085", "\u2028",
	"(((((((((", "T L sin(alpha)", "-M g L/2 = 0", "T = 3 kN", "done", "W at G down; V at A up", "m g at B down", "A", "0", "3", "\xff\xfe", "αβμ√½", "\t", "1e308*1e308", "up", "right"}

// Whatever is typed, at whatever size: no frame is wider or higher than its
// window, and nothing in it acts on the terminal.
func TestFramesFitWhateverHappens(t *testing.T) {
	var keys []tea.KeyType
	for name, k := range keyNames {
		if name != "quit" {
			keys = append(keys, k)
		}
	}
	ids := []string{"step-ladder", "davit-arm", "trailer-braking", "hull-ladder-limit", "winch-bar"}
	manners := []tutor.Terms{tutor.TermsOf(tutor.Guided), {Mode: tutor.Guided, Hints: 3, Help: tutor.HelpWorked}, {Mode: tutor.Guided, Hints: 2, Help: tutor.HelpHalf},
		{Mode: tutor.Practice, Hints: 1, Limit: 20 * time.Minute}, {Mode: tutor.Exam, Limit: 30 * time.Minute}}
	rounds := 60
	if testing.Short() {
		rounds = 12
	}
	for seed := range uint64(rounds) {
		rng := rand.New(rand.NewPCG(seed, 5))
		on := []surface{bareUnicode, bareASCII, fullColour}[rng.IntN(3)]
		width, height := 1+rng.IntN(200), 1+rng.IntN(60)
		s := newStand(t, on, width, height, nil)
		if rng.IntN(4) > 0 {
			s.underOf(ids[rng.IntN(len(ids))], 7, manners[rng.IntN(len(manners))])
			if s.m.work.desk.Problem().ID == "davit-arm" {
				s.say(davitSetup[:rng.IntN(len(davitSetup)+1)]...)
			}
		}
		for range 60 {
			switch rng.IntN(8) {
			case 0:
				width, height = 1+rng.IntN(200), 1+rng.IntN(60)
				s.send(tea.WindowSizeMsg{Width: width, Height: height})
			case 1, 2, 3:
				s.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: rng.IntN(2) == 0, Runes: []rune(hostile[rng.IntN(len(hostile))])})
			case 4, 5:
				s.press("enter")
				s.clock = s.clock.Add(time.Duration(rng.IntN(90)) * time.Second)
				s.send(tickMsg{})
			default:
				s.send(tea.KeyMsg{Type: keys[rng.IntN(len(keys))]})
			}
			s.sound(width, height, on.ascii)
		}
	}
}

// Every size there is, on the busiest screen.
func TestEverySize(t *testing.T) {
	for _, on := range []surface{bareUnicode, bareASCII} {
		s := davit(t, on, 80, 24)
		s.say(davitSetup...)
		s.say("-T cos(alpha)", "T sin(alpha)", "T L cos(alpha)")
		for width := 1; width <= 200; width += 1 + width/24 {
			for height := 1; height <= 60; height += 1 + height/20 {
				s.send(tea.WindowSizeMsg{Width: width, Height: height})
				s.sound(width, height, on.ascii)
			}
		}
	}
}

// In a window that is too small for the screen the line can still be typed and
// checked.
func TestSmallWindow(t *testing.T) {
	s := davit(t, bareUnicode, 40, 8)
	s.sees("This window is small; steelyard plain suits it.", "Choose a pivot")
	s.say("A")
	s.sees("List the forces")
	s.typed("T at B")
	s.send(tea.WindowSizeMsg{Width: 12, Height: 1})
	s.sees("T at B")
}
