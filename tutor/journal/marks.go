package journal

import (
	"cmp"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"steelyard/problems"
	"steelyard/tutor"
)

// Full is the points of a problem whose every line was right at once.
const Full = 10

// Rule says how a session is marked.
const Rule = `Each line that a problem asks for counts 1 if it was right at the first attempt
and without a hint, 1/2 if it was right later, 0 if a hint showed it or it was
not written. A line that another stands for (the entries of a row that was
written whole) is not asked, nor is one that was filled in for the learner, as
in a half-worked problem. The points of a session are the mean over its lines,
times 10; of several sessions at one problem the best counts. A problem not
begun is an empty cell, and counts nothing in the total; so is one that was
worked for the learner to its end, or as far as they watched. Every answer is
graded again: what the log says of it is not believed.
An exam is marked once its paper is handed in, and its marks made points of 10.`

// A Mark is the points of one session.
type Mark struct {
	Session SessionSummary
	Points  float64 // 0 to [Full]
	Lines   int     // that the problem asks for
	First   int     // right at the first attempt, without a hint
	Later   int     // right after a mistake or a hint
	Changed int     // answers whose verdict in the log is not the one they get now
}

// Scaled is the points as a share of all, 0 to 1.
func (m Mark) Scaled() float64 { return m.Points / Full }

// A Draw makes the problem of a session again. It is an error if the scenario
// is not there, or is not what it was; context.Canceled ends the marking.
type Draw func(SessionSummary) (*problems.Problem, error)

// Marks marks each session of learner, or of everybody if learner is "", by
// the [Rule], the one worked on last first. A session that asked the learner
// for no line has no mark. One that cannot be marked is left out; the error
// counts such sessions and gives the first reason.
func (j *Journal) Marks(learner string, draw Draw) ([]Mark, error) {
	sessions, err := j.Sessions(learner)
	if err != nil {
		return nil, err
	}
	var marks []Mark
	var first error
	unmarked := 0
	for _, s := range sessions {
		m, err := j.mark(s, draw)
		if errors.Is(err, context.Canceled) {
			return nil, err
		}
		if err != nil {
			unmarked, first = unmarked+1, cmp.Or(first, fmt.Errorf("session %s of %s at %s: %w", s.Session, quote(s.Learner), quote(s.Problem), err))
			continue
		}
		if m.Lines > 0 {
			marks = append(marks, m)
		}
	}
	if unmarked > 0 {
		return marks, &UnmarkedError{Sessions: unmarked, Err: first}
	}
	return marks, nil
}

// An UnmarkedError says that some sessions could not be marked.
type UnmarkedError struct {
	Sessions int
	Err      error // why the first could not
}

func (e *UnmarkedError) Error() string {
	return fmt.Sprintf("%d sessions could not be marked; the first: %v", e.Sessions, e.Err)
}

func (e *UnmarkedError) Unwrap() error { return e.Err }

func (j *Journal) mark(s SessionSummary, draw Draw) (Mark, error) {
	p, err := draw(s)
	if err != nil {
		return Mark{}, err
	}
	var events []tutor.Event
	for e, err := range j.Events(Filter{Session: s.Session}) {
		if err != nil {
			return Mark{}, err
		}
		events = append(events, e)
	}
	m, err := MarkSession(p, events)
	m.Session = s
	return m, err
}

// MarkSession marks the events of one session at its problem. All but Session
// is filled in.
func MarkSession(p *problems.Problem, events []tutor.Event) (Mark, error) {
	var m Mark
	if len(events) == 0 {
		return m, errors.New("it has no events")
	}
	for _, e := range events {
		if e.Problem != p.ID {
			return m, fmt.Errorf("event %s is of the problem %s", e.ID, quote(e.Problem))
		}
	}
	begun := 0
	if events[0].Kind == tutor.Began {
		begun = 1
	}
	s, err := tutor.Resume(p, events[:begun]) // on the terms that it was begun on
	if err != nil {
		return m, err
	}
	filled := map[line]bool{}
	for _, e := range events[begun:] {
		if l := (line{e.Body, tutor.Step(e.Step), e.Cell}); fillsIn(s, e, l) {
			filled[l] = true
		}
		again := regrade(s, e)
		if again.Verdict != e.Verdict {
			m.Changed++
		}
		s.Apply(again)
	}
	if s.Terms().Mode == tutor.Exam {
		return m, m.paper(s)
	}
	if s.Terms().Help == tutor.HelpWorked {
		return m, nil // watched so far: no line was the learner's
	}
	giveUp(s)
	sum := s.Summary(nil)
	m.Lines, m.First, m.Later = sum.Lines, sum.FirstTime, sum.Later
	for _, t := range s.Tasks() {
		if t.Status == tutor.Shown && filled[line{t.Body, t.Step, t.Cell}] {
			m.Lines--
		}
	}
	m.points(float64(m.First)+float64(m.Later)/2, float64(m.Lines))
	return m, nil
}

// line is where a line stands.
type line struct {
	body string
	step tutor.Step
	cell string
}

// fillsIn reports whether an event fills a line in for the learner, by the
// terms of the session: hints that were asked for end in the line as well, and
// a log must not pass one for the other.
func fillsIn(s *tutor.Session, e tutor.Event, l line) bool {
	if e.Kind != tutor.Hinted || e.HintDepth < tutor.MaxHints {
		return false
	}
	switch s.Terms().Help {
	case tutor.HelpWorked:
		return true
	case tutor.HelpHalf:
		entry := 0
		for _, t := range s.Tasks() {
			mine := line{t.Body, t.Step, t.Cell} == l && t.Hints < tutor.MaxHints-1
			switch {
			case t.IsCell():
				if mine && entry%2 == 0 {
					return true
				}
				entry++
			case mine:
				return t.Step == tutor.StepPivot || t.Step == tutor.StepForces
			}
		}
	}
	return false
}

// paper marks an exam by its own rule. The judging may have been cut off.
func (m *Mark) paper(s *tutor.Session) error {
	for range mostLines {
		e, _, ok := s.Due()
		if !ok {
			break
		}
		s.Apply(e)
	}
	paper, ok := s.Paper()
	if !ok {
		return errors.New("its paper was not handed in; it is, when the learner goes on with it after its time")
	}
	total := paper.Total()
	m.Lines = len(paper.Lines)
	m.points(total.Got, total.Of)
	return nil
}

func (m *Mark) points(got, of float64) {
	if of > 0 {
		m.Points = math.Round(100*Full*got/of) / 100
	}
}

// mostLines bounds what is done to end a session; none has as many lines.
const mostLines = 10_000

// regrade is an event with the verdict that its answer gets now. A line that
// was kept and judged later is judged as the session would; where another line
// is not the one that the session would take it for, since something between
// is missing, the learner is taken to the log's line first.
func regrade(s *tutor.Session, e tutor.Event) tutor.Event {
	step := tutor.Step(e.Step)
	if e.Kind != tutor.Answered || step == tutor.StepPositive || step == tutor.StepAxes {
		return e
	}
	same := func(o tutor.Event) bool { return o.Body == e.Body && o.Step == e.Step && o.Cell == e.Cell }
	again, _, ok := s.Due()
	if !ok || !same(again) || again.Typed != e.Typed {
		if s.Terms().Mode != tutor.Guided {
			return e // of no line that is to be judged: it changes nothing
		}
		if again, _ = s.Answer(e.Typed); !same(again) {
			s.Apply(tutor.Event{Kind: tutor.Moved, Body: e.Body, Step: e.Step, Cell: e.Cell})
			again, _ = s.Answer(e.Typed)
		}
	}
	e.Kind, e.Step, e.Cell, e.Body = again.Kind, again.Step, again.Cell, again.Body
	e.Verdict, e.Slip = again.Verdict, again.Slip
	return e
}

// giveUp shows every line that is still open, so that what was not reached
// counts as asked for.
func giveUp(s *tutor.Session) {
	for range mostLines {
		t := s.Current()
		if t == nil {
			return
		}
		t.Hints = 2
		e, _, ok := s.Hint()
		if !ok {
			return
		}
		s.Apply(e)
	}
}

// pupil tells learners apart: one alias may be in two classes.
type pupil struct{ cohort, learner string }

// ExportGrades writes the marks as a table for a spreadsheet, a row for each
// learner and a column for each problem, and says how many rows. As with
// [ExportCSV], no cell is a formula.
func ExportGrades(w io.Writer, marks []Mark) (int, error) {
	best := map[pupil]map[string]float64{}
	var pupils []pupil
	var ids []string
	cohorts := false
	for _, m := range marks {
		s := m.Session
		k := pupil{s.Cohort, s.Learner}
		if best[k] == nil {
			best[k] = map[string]float64{}
			pupils = append(pupils, k)
		}
		best[k][s.Problem] = max(best[k][s.Problem], m.Points)
		if !slices.Contains(ids, s.Problem) {
			ids = append(ids, s.Problem)
		}
		cohorts = cohorts || s.Cohort != ""
	}
	slices.Sort(ids)
	slices.SortFunc(pupils, func(a, b pupil) int {
		return cmp.Or(cmp.Compare(a.cohort, b.cohort), cmp.Compare(a.learner, b.learner))
	})

	out := csv.NewWriter(w)
	row := func(cohort, learner string, cells []string) error {
		head := []string{text(learner)}
		if cohorts {
			head = append(head, text(cohort))
		}
		return out.Write(append(head, cells...))
	}
	var titles []string
	for _, id := range ids {
		titles = append(titles, text(id))
	}
	if err := row("cohort", "learner", append(titles, "points", "of")); err != nil {
		return 0, fmt.Errorf("the header of the table could not be written: %w", err)
	}
	for n, k := range pupils {
		var cells []string
		total := 0.0
		for _, id := range ids {
			points, begun := best[k][id]
			if !begun {
				cells = append(cells, "")
				continue
			}
			total += points
			cells = append(cells, figure(points))
		}
		cells = append(cells, figure(total), strconv.Itoa(Full*len(ids)))
		if err := row(k.cohort, k.learner, cells); err != nil {
			return n, fmt.Errorf("the table stopped after %d rows: %w", n, err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return len(pupils), fmt.Errorf("the table could not be written to its end: %w", err)
	}
	return len(pupils), nil
}

// figure is points to the hundredth.
func figure(v float64) string { return strconv.FormatFloat(math.Round(100*v)/100, 'f', -1, 64) }
