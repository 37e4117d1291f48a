package tutor

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"steelyard/grading"
)

// Due is the event that follows from what is recorded without the learner
// doing anything: a clock set back is noted, a paper is handed in when its time
// is up, the next line of those to be judged gets its verdict, and the session
// goes on, or is finished, when all have theirs. Record and apply it, and ask
// again. A session that was cut off anywhere among these goes on with them.
func (s *Session) Due() (Event, Reply, bool) {
	switch {
	case s.over:
		return Event{}, Reply{}, false
	case s.clock.back > 0 && (s.terms.Limit > 0 || s.mode == Exam):
		e := s.event(Moved, &Task{Step: StepClock})
		e.Typed = "set back by " + s.clock.back.Round(time.Second).String()
		return e, Reply{Step: StepClock}, true
	case s.late() && !s.handed && !s.judging && !s.Finished():
		e := s.event(Moved, &Task{Step: StepHandIn})
		e.Typed = timeIsUp
		return e, Reply{Step: StepHandIn}, true
	case !s.judging:
		if t := s.toFill(); t != nil {
			if e, _, err := s.show(t); err == nil {
				return e, Reply{}, true
			}
		}
		e, ask := s.reasonDue()
		return e, Reply{}, ask
	}
	if t := s.Current(); t != nil && t.Status == Taken {
		e, r := s.judgement(s.toJudge(t))
		return e, r, true
	}
	if i := s.nextOpen(0); !s.handed && i < len(s.tasks) && !s.allEarned() {
		return s.event(Moved, s.tasks[i]), Reply{}, true
	}
	return s.Finish(), Reply{}, true
}

// timeIsUp marks a paper that was handed in by the clock.
const timeIsUp = "time is up"

// toJudge is what of a taken task is judged next: of a list of forces each
// line, and then the list as a whole.
func (s *Session) toJudge(t *Task) string {
	if t.Step != StepForces {
		return t.Typed
	}
	if s.judgedLines < len(s.page.lines) {
		return s.page.lines[s.judgedLines]
	}
	return "done"
}

// judgement gives a line of the current task its verdict.
func (s *Session) judgement(text string) (Event, Reply) {
	t := s.Current()
	if t == nil {
		return s.event(Unread, nil), unreadable("Every line is done.")
	}
	r := s.verdict(t, text)
	return s.graded(t, text, r), r
}

// verdict judges a taken line. A list of forces is as whole as its right lines
// make it.
func (s *Session) verdict(t *Task, text string) Reply {
	if t.Step != StepForces {
		return s.grade(t, text)
	}
	r := Reply{Step: t.Step, Cell: t.Cell}
	if !ListDone(text) {
		r.Verdict, _ = s.page.grader.ForceLine(text)
		return r
	}
	r.Verdict, _ = s.page.grader.Forces(strings.Join(s.rightLines(), "; "))
	return r
}

func (s *Session) rightLines() []string {
	var out []string
	for _, line := range s.page.lines {
		if v, _ := s.page.grader.ForceLine(line); v.Earned() {
			out = append(out, line)
		}
	}
	return out
}

// beginJudging begins the judging of what was taken.
func (s *Session) beginJudging(e Event) {
	s.judging, s.judgedLines = true, 0
	s.handed = s.handed || Step(e.Step) == StepHandIn
	s.nextTaken()
}

func (s *Session) nextTaken() {
	s.at = slices.IndexFunc(s.tasks, func(t *Task) bool { return t.Status == Taken })
	if s.at < 0 {
		s.at = len(s.tasks)
	}
}

// judged folds a verdict in. In practice a wrong line is open again, and a
// wrong line of the list is off it; a paper that is handed in stays as it is.
func (s *Session) judged(t *Task, e Event) {
	if t == nil || t.Status != Taken {
		return
	}
	earned := e.Verdict == string(grading.Right) || e.Verdict == string(grading.Remarked)
	t.Last = grading.Verdict{Outcome: grading.Outcome(e.Verdict), Slips: e.Slip}
	if t.Step == StepForces && !ListDone(e.Typed) {
		s.judgedLines++
		if earned {
			return
		}
		t.Tries++
		if i := slices.Index(s.page.lines, e.Typed); !s.handed && i >= 0 {
			s.page.list, s.page.lines = slices.Delete(s.page.list, i, i+1), slices.Delete(s.page.lines, i, i+1)
			s.judgedLines--
		}
		return
	}
	s.judgedLines = 0
	t.Tries++
	s.earned = slices.DeleteFunc(s.earned, func(k key) bool { return k == t.key() })
	switch {
	case earned:
		t.Status = Earned
		s.earned = append(s.earned, t.key())
	case s.handed:
		t.Status = Open // and what was typed stays
	default:
		t.Status, t.Typed, t.Reads = Open, "", ""
	}
	if t.Step == StepForces && !s.handed {
		if earned {
			s.excused()
		}
		s.rebuild()
		s.plan()
	}
	s.cover()
	s.nextTaken()
}

// allEarned reports whether nothing is open, taken or asked for any more.
func (s *Session) allEarned() bool {
	return !slices.ContainsFunc(s.tasks, func(t *Task) bool {
		return !isClosing(t.Step) && (t.Status == Open || t.Status == Taken)
	})
}

// HandedIn reports whether the paper was handed in, by the learner or the
// clock.
func (s *Session) HandedIn() bool { return s.handed }

// tally is what a check came to, for the learner.
type tally struct {
	right, wrong int
	notes        []string
}

func (c *tally) add(title string, r Reply, typed string) {
	switch {
	case r.Step == StepForces && ListDone(typed) && r.Outcome == grading.Unreadable:
	case r.Earned():
		if r.Step != StepForces || !ListDone(typed) {
			c.right++
		}
	case r.Outcome == grading.Wrong:
		c.wrong++
		at := title
		if r.ReadsAs != "" {
			at += ", " + r.ReadsAs
		}
		c.notes = append(c.notes, at+". "+r.Message)
	}
}

// reply says how many of the lines checked are right, and of each wrong one
// what is wrong.
func (c *tally) reply() Reply {
	r := Reply{Step: StepChecking}
	n := c.right + c.wrong
	r.Outcome = grading.Right
	r.Message = count(n, "line", "lines") + " checked, all right."
	if c.wrong > 0 {
		r.Outcome = grading.Wrong
		r.Message = fmt.Sprintf("%s checked: %d right, %d not.", count(n, "line", "lines"), c.right, c.wrong)
	}
	r.Note = strings.Join(c.notes, "\n")
	return r
}

func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}
