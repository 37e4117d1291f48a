package problems

import (
	"os"
	"reflect"
	"strings"
	"testing"
)

// The built-in bank: every file loads, and says what a learner needs in few
// words.
func TestBankTexts(t *testing.T) {
	b := Builtin()
	if len(b.Faults) > 0 {
		t.Fatal(b.Faults)
	}
	entries, err := os.ReadDir("bank")
	if err != nil || len(entries) != len(b.Scenarios) {
		t.Fatalf("%d files, %d scenarios, %v", len(entries), len(b.Scenarios), err)
	}
	for _, s := range b.Scenarios {
		if n := len(strings.Fields(s.Statement)); n >= 90 {
			t.Errorf("%s: the statement has %d words", s.ID, n)
		}
		words := strings.FieldsFunc(s.Statement, func(r rune) bool { return strings.ContainsRune(" ,.:;()=", r) })
		said := map[string]bool{}
		for _, w := range words {
			said[w] = true
		}
		for _, g := range s.Givens {
			if !said[g.Symbol] && g.Symbol != "g" || g.Meaning == "" {
				t.Errorf("%s: the given %s is not in the statement, or means nothing", s.ID, g.Symbol)
			}
		}
		for _, u := range s.Unknowns {
			if !said[u.Symbol] || u.Meaning == "" {
				t.Errorf("%s: the unknown %s is not in the statement, or means nothing", s.ID, u.Symbol)
			}
		}
		for _, p := range s.Bodies[0].Points {
			if p.Meaning == "" {
				t.Errorf("%s: point %s means nothing", s.ID, p.Name)
			}
		}
		if !strings.HasPrefix(s.Caution, "Coursework: ") || s.Limit == nil || !strings.HasSuffix(s.Limit.Question, ":") || len(s.Figure) == 0 {
			t.Errorf("%s: caution, question of limits or figure is missing", s.ID)
		}
		// Some point is worth choosing as the pivot.
		best := 0
		for _, a := range s.Bodies[0].Advise() {
			best = max(best, len(a.Vanish))
		}
		if best == 0 {
			t.Errorf("%s: no point takes an unknown out of the moment row", s.ID)
		}
	}
}

// TestCards holds what the heads of the files say against the bank.
func TestCards(t *testing.T) {
	if got, want := Cards(), Builtin().Cards(); !reflect.DeepEqual(got, want) {
		t.Errorf("the heads of the files give %d cards that differ from the bank's %d", len(got), len(want))
	}
	for _, s := range Builtin().Scenarios {
		if got := Edition(s.ID); got != s.Hash {
			t.Errorf("Edition(%s) = %q, want %q: the file goes by the id", s.ID, got, s.Hash)
		}
	}
	if got := Edition("../bank/davit-arm"); got != "" {
		t.Errorf("there is an edition %s of no scenario", got)
	}
}
