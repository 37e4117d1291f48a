package plain

import (
	"strings"

	"steelyard/tutor"
)

// open reports whether the problem in hand still wants something: lines, or a
// reason that is asked for.
func (t *talk) open() bool {
	_, asking := t.desk.Asking()
	return asking || !t.desk.Finished()
}

// reason asks for a reason, as an aside. One word may be any of the vocabulary;
// of more words every line is an answer, since "pivot" may well begin one.
func (t *talk) reason(q tutor.Question) error {
	t.say("")
	t.say("An aside, which counts for nothing. %s", q.Ask)
	for i, c := range q.Choices {
		t.say("  %d %s", i+1, c)
	}
	t.say("Say a number, or a reason in your own words for your instructor; pass goes on.")
	line, err := t.read("> ")
	switch {
	case err != nil:
		return err
	case isWord(line, "hint"):
		t.say("There is no hint on a reason. Pass goes on without one.")
		return nil
	case strings.ContainsRune(line, ' '):
		return t.answer(line)
	}
	return t.obey(line)
}
