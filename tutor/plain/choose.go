package plain

import (
	"fmt"
	"strconv"
	"strings"

	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// fewEnough is how many problems are told one by one without being asked for.
const fewEnough = 12

// choosing is what may be said to choose a problem.
const choosing = "Say a number or a problem's name to begin it; a family or other words, like level 2, to hear those that match; all, for all; tour, for how a problem is worked; speak, for signs in words; or quit."

// list is what may be chosen by number: what was left unfinished, then the
// problems told last.
type list struct {
	left []tutor.Unfinished
	told []*problems.Scenario
	done map[string]int // how often each was finished
}

// choose offers what was left unfinished, then the bank: all of it if it is
// small, else its families, of which the learner asks for more.
func (t *talk) choose() error {
	t.progress()
	l, err := t.offers()
	if err != nil {
		return err
	}
	bank := t.o.House.Bank.Scenarios
	if len(bank) <= fewEnough {
		t.tell(l, bank)
	} else {
		t.families(l)
	}
	for {
		line, err := t.read("Which problem? ")
		if err != nil {
			return err
		}
		if n, err := strconv.Atoi(line); err == nil && n >= 1 && n <= len(l.left)+len(l.told) {
			if t.desk, err = t.take(l, n-1); t.refused(err) {
				continue
			}
			return err
		}
		if s, err := t.o.House.Bank.Scenario(line); err == nil {
			if t.desk, err = t.o.House.Begin(s.ID, t.o.House.NewSeed()); t.refused(err) {
				continue
			}
			return err
		}
		switch {
		case isWord(line, "quit", "exit"):
			return errQuit
		case isWord(line, "tour"):
			if err := t.tour(""); err != nil {
				return err
			}
			continue
		case isWord(line, "speak"):
			if err := t.speak(""); err != nil {
				return err
			}
			continue
		case isWord(line, "help"):
			t.say("%s", choosing)
			continue
		}
		found := bank
		if !isWord(line, "all") {
			found = matching(bank, line)
		}
		if len(found) > 0 {
			t.tell(l, found)
			continue
		}
		t.say("Nothing found. %s", choosing)
	}
}

// offers tells what was left unfinished, five at most.
func (t *talk) offers() (*list, error) {
	l := &list{}
	var err error
	if l.left, err = t.o.House.Unfinished(); err != nil {
		return nil, err
	}
	if t.o.House.Done != nil {
		if l.done, err = t.o.House.Done(); err != nil {
			return nil, err
		}
	}
	l.left = l.left[:min(len(l.left), 5)]
	for i, u := range l.left {
		t.say("%d. Go on with %s, seed %d, left on %s.", i+1, notation.Printable(u.Title), u.Seed, u.At.Local().Format("2 January at 15:04"))
	}
	if len(l.left) == 0 && len(l.done) == 0 {
		t.say("If you are new here, say tour.")
	}
	return l, nil
}

// take sits down to the offer at an index.
func (t *talk) take(l *list, at int) (*tutor.Desk, error) {
	if at < len(l.left) {
		return t.o.House.Resume(l.left[at].Session)
	}
	return t.o.House.Begin(l.told[at-len(l.left)].ID, t.o.House.NewSeed())
}

// tell tells problems, with the numbers by which they may be chosen.
func (t *talk) tell(l *list, these []*problems.Scenario) {
	l.told = these
	for i, s := range these {
		before := ""
		switch n := l.done[s.ID]; {
		case n == 1:
			before = " Done before."
		case n > 1:
			before = fmt.Sprintf(" Done %d times.", n)
		}
		t.say("%d. %s, of the family %s, level %d. Its name is %s.%s", len(l.left)+i+1, notation.Printable(s.Title), notation.Printable(s.Family), s.Level, s.ID, before)
	}
}

// families tells the families of the bank, and how to hear more of one.
func (t *talk) families(l *list) {
	bank := t.o.House.Bank.Scenarios // in order of family
	for i := 0; i < len(bank); {
		name, all, done := bank[i].Family, 0, 0
		low, high := bank[i].Level, bank[i].Level
		for ; i < len(bank) && bank[i].Family == name; i++ {
			all++
			low, high = min(low, bank[i].Level), max(high, bank[i].Level)
			if l.done[bank[i].ID] > 0 {
				done++
			}
		}
		levels := fmt.Sprintf("level %d", low)
		if high > low {
			levels = fmt.Sprintf("levels %d to %d", low, high)
		}
		many := "1 problem"
		if all > 1 {
			many = fmt.Sprintf("%d problems", all)
		}
		t.say("%s: %s, %s, %d done.", notation.Printable(name), many, levels, done)
	}
	t.say("There are %d problems. Say a family, or other words like level 2, to hear those that match; say all for all.", len(bank))
}

// matching are the scenarios in which all words of a line occur.
func matching(bank []*problems.Scenario, line string) []*problems.Scenario {
	words := strings.Fields(strings.ToLower(line))
	if len(words) == 0 {
		return nil
	}
	var out []*problems.Scenario
scenarios:
	for _, s := range bank {
		text := strings.ToLower(fmt.Sprintf("%s %s %s level %d %s", s.Family, s.Title, s.ID, s.Level, strings.Join(s.Skills, " ")))
		for _, w := range words {
			if !strings.Contains(text, w) {
				continue scenarios
			}
		}
		out = append(out, s)
	}
	return out
}
