package tutor

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems/notation"
)

// How much of a problem is worked for the learner, as the terms say.
const (
	HelpWorked = "worked"      // each line is shown with its reason, one at a time
	HelpHalf   = "half-worked" // pivot, forces and every second entry are filled in
)

// StepHelp is no task: the learner goes on alone.
const StepHelp Step = "help"

// ownWords end a problem that is being worked for the learner.
var ownWords = []string{"own", "alone", "mine"}

// watched handles a line typed while the problem is being worked: one of the
// words for going on alone, or anything else for the next line.
func (s *Session) watched(text string) (Event, Reply) {
	t := s.Current()
	if slices.Contains(ownWords, strings.ToLower(strings.TrimSpace(text))) {
		e := s.event(Moved, &Task{Step: StepHelp})
		e.Typed = "own"
		return e, Reply{Step: StepHelp, Verdict: grading.Verdict{Outcome: NotJudged, Message: "From here on the lines are yours."}}
	}
	e, line, err := s.show(t)
	if err != nil {
		return s.event(Unread, t), unreadable(err.Error())
	}
	message := fmt.Sprintf("%s %s", capital(s.Title(t))+":", ended(line))
	return e, Reply{Step: t.Step, Cell: t.Cell, Note: "Why: " + s.Reason(t),
		Verdict: grading.Verdict{Outcome: NotJudged, Message: message}}
}

// show is the event of a line that is shown without being asked for, and the
// line as it reads.
func (s *Session) show(t *Task) (Event, string, error) {
	defer func(was *page) { s.page = was }(s.page)
	if t.Body != "" {
		s.page = s.pageOf(t.Body)
	}
	line, err := s.line(t)
	if err != nil {
		return Event{}, "", err
	}
	e := s.event(Hinted, t)
	e.HintDepth, e.Typed = MaxHints, line
	return e, s.pretty(t, line), nil
}

// Reason says why the right line for a task is what it is.
func (s *Session) Reason(t *Task) string {
	if t.Step == StepPivot {
		best := s.page.body.Advise()[0]
		for _, a := range s.page.body.Advise() {
			if len(a.Vanish) > len(best.Vanish) {
				best = a
			}
		}
		var names []string
		for _, v := range best.Vanish {
			names = append(names, notation.Display(v, s.ASCII))
		}
		if len(names) > 0 {
			return fmt.Sprintf("no arm about it: %s. So the moment row is rid of as many unknowns as can be.", strings.Join(names, ", "))
		}
	}
	return s.hintText(t, 2)
}

// toFill is the next line of a half-worked problem that is filled in, or nil.
func (s *Session) toFill() *Task {
	if s.terms.Help != HelpHalf {
		return nil
	}
	entry := 0
	for _, t := range s.tasks {
		fill := t.Step == StepPivot || t.Step == StepForces
		if t.IsCell() {
			fill = entry%2 == 0
			entry++
		}
		if fill && t.Status == Open {
			return t
		}
	}
	return nil
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
