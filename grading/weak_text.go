package grading

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"steelyard/problems/notation"
)

// Widths that texts are kept to, in characters: a screen is 80 wide, and each
// of them shares it.
const (
	wideTitle    = 48  // stands in one line with the seed and the progress
	wideFamily   = 40  // a heading of the list
	wideMeaning  = 72  // stands behind a symbol and its value
	wideQuestion = 160 // two lines
	wideAnswer   = 60  // stands in one line behind its number
)

// texts finds what a screen has no room for, and meanings that are missing.
func (l *look) texts() {
	l.width("title", "title", l.s.Title, wideTitle)
	l.width("family", "family", l.s.Family, wideFamily)
	l.width("caution", "caution", l.s.Caution, wideQuestion)
	for _, g := range l.s.Givens {
		l.meaning(l.src.Given(g.Symbol), "given "+g.Symbol, g.Meaning)
	}
	for _, u := range l.s.Unknowns {
		l.meaning(l.src.Unknown(u.Symbol), "unknown "+u.Symbol, u.Meaning)
	}
	for _, d := range l.s.Defined {
		if _, unknown := l.s.Unknown(d.Symbol); !unknown {
			l.meaning(l.src.Defined(d.Symbol), "defined symbol "+d.Symbol, d.Meaning)
		}
	}
	for _, b := range l.s.Bodies {
		for _, p := range b.Points {
			if path := l.src.Point(b.Name, p.Name); path != "" {
				l.meaning(path, "point "+p.Name, p.Meaning)
			}
		}
	}
	if l.s.Limit != nil {
		l.width("limit.question", "question", l.s.Limit.Question, wideQuestion)
	}
	for i, a := range l.s.Asks {
		path := indexed("asks", i)
		l.width(path+".question", "question", a.Question, wideQuestion)
		for k, answer := range a.Answers {
			l.width(indexed(path+".answers", k)+".text", "answer", answer.Text, wideAnswer)
		}
	}
	for i, h := range l.s.Hints {
		l.width(indexed("hints", i)+".ask", "ask", h.Ask, wideQuestion)
		l.width(indexed("hints", i)+".recall", "recall", h.Recall, wideQuestion)
	}
	for i, o := range l.s.Slips {
		l.width(indexed("slips", i)+".message", "message", o.Message, wideQuestion)
		l.width(indexed("slips", i)+".hint", "hint", o.Hint, wideQuestion)
	}
}

func (l *look) meaning(path, what, text string) {
	if strings.TrimSpace(text) == "" {
		l.find(path, Weak, "text", "%s has no meaning; say what it is in a few words: meaning = \"...\"", what)
	}
	l.width(path+".meaning", "meaning", text, wideMeaning)
}

func (l *look) width(path, what, text string, most int) {
	if n := utf8.RuneCountInString(text); n > most {
		l.find(path, Weak, "text", "the %s is %d characters; a screen has room for %d: shorten it", what, n, most)
	}
}

// named finds the symbols that the statement does not name, so that a reader
// could not tell what they are; g needs no words.
func (l *look) named() {
	said := map[string]bool{}
	for _, w := range words(l.s.Statement) {
		said[w] = true
	}
	for _, g := range l.s.Givens {
		if !said[g.Symbol] && g.Symbol != "g" {
			l.find(l.src.Given(g.Symbol), Weak, "unsaid", "the statement does not name the given %s; say where it is", g.Symbol)
		}
	}
	for _, u := range l.s.Unknowns {
		if !said[u.Symbol] {
			l.find(l.src.Unknown(u.Symbol), Weak, "unsaid", "the statement does not name the unknown %s; say what is to be found", u.Symbol)
		}
	}
}

func words(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// dangers are words of work that can hurt someone, so that a scenario with one
// of them carries a caution. The endings of one word are left off.
var dangers = []string{
	"ladder", "stepladder", "scaffold", "gangway", "gangplank",
	"crane", "hoist", "lift", "davit", "derrick", "winch", "capstan", "windlass", "sling", "tackle", "jack", "forklift",
	"overhang", "overhung", "tipping", "topple",
	"vehicle", "trailer", "truck", "lorry", "car", "van", "tow", "brake",
	"gate", "sluice", "water", "diver", "swimmer", "boat", "drown",
}

// caution finds a scenario of dangerous work with no line of caution.
func (l *look) caution() {
	if l.s.Caution != "" {
		return
	}
	for _, w := range words(l.s.Title + " " + l.s.Family + " " + l.s.Statement) {
		if danger(strings.ToLower(w)) {
			l.find("statement", Weak, "caution",
				"no caution, though the text says \"%s\"; add one line: caution = \"Coursework: real ... follows local codes, the equipment's rating and licensed practice.\"",
				notation.PrintableMax(w, 40))
			return
		}
	}
}

func danger(word string) bool {
	for _, e := range endings {
		if stem, ok := strings.CutSuffix(word, e.written); ok && slices.Contains(dangers, stem+e.instead) {
			return true
		}
	}
	return false
}

// endings are what a word may end in, and what the word by itself has there.
var endings = []struct{ written, instead string }{
	{"", ""}, {"s", ""}, {"es", ""}, {"ed", ""}, {"ed", "e"}, {"ing", ""}, {"ing", "e"},
}

// parts finds what a scenario can be read without, and a learner misses.
func (l *look) parts() {
	if l.s.Limit == nil {
		l.find("", Weak, "part", "no [limit]; ask what happens to an unknown as a given nears a value, so that the answer can be doubted")
	} else if !strings.HasSuffix(l.s.Limit.Question, ":") {
		l.find("limit.question", Weak, "limit", "the answers to choose from follow the question of limits; let it end with a colon: \"As ..., the tension T:\"")
	}
	if len(l.s.Figure) == 0 {
		l.find("", Weak, "part", "no [[figure]]; draw at least the bodies, with draw = \"bar\" and the like")
	}
	if len(l.s.Skills) == 0 {
		l.find("", Weak, "part", "no skills; say what it exercises: skills = [\"forces\", \"arm\", \"value\"]")
	}
}
