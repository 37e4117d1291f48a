package practice

import (
	"math"
	"slices"
	"time"

	"steelyard/grading"
	"steelyard/tutor"
)

// Model is what is known of one learner: the fold of their events, in order.
type Model struct {
	course *Course
	loc    *time.Location

	belief   *belief
	known    [count]float64 // what the belief says of each skill
	ways     manner         // and of the learner
	seen     [count]int
	right    [count]int
	boxes    [count]box
	worked   []work      // by situation
	order    []int       // situations in the order in which they were begun
	top      int         // the highest level begun
	days     map[int]Day // what was done on each day
	sessions map[string]*visit
	pace     float64 // seconds spent in all
	lines    int     // lines tried in all
}

// work is how often a situation was begun, and when last.
type work struct {
	times, day int
	place      int // in Model.order
}

// Day is what was done on one day.
type Day struct {
	Problems int     `json:"problems"` // begun, or gone on with
	Lines    int     `json:"lines"`    // tried for the first time
	Right    int     `json:"right"`    // of those, right at once and without a hint
	Minutes  float64 `json:"minutes"`
}

// visit is one session's lines so far.
type visit struct {
	situation int
	tilted    bool
	begun     bool
	tried     map[at]bool
	day       int // of the last event
}

// NewModel is a learner of whom nothing is known. Days are those of loc.
func NewModel(c *Course, loc *time.Location) *Model {
	m := &Model{course: c, loc: loc, worked: make([]work, len(c.Situations)), days: map[int]Day{}, sessions: map[string]*visit{}}
	m.hold(newBelief(usual()))
	return m
}

// hold takes a belief for what is known of the learner.
func (m *Model) hold(b *belief) { m.belief, m.known, m.ways = b, b.skills(), b.manner() }

// DayOf numbers the day of a moment: days since 1970-01-01.
func DayOf(t time.Time, loc *time.Location) int {
	y, mo, d := t.In(loc).Date()
	return int(time.Date(y, mo, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// deepest is the depth of the hint that is the line itself.
const deepest = 3

// longest is how many seconds a line is taken to have had at most: beyond it
// the learner was away.
const longest = 300

// Update folds one event in, and gives what it showed; ok is false if it
// showed nothing. Events of situations that the bank does not have, of lines
// it does not know, and of lines tried before, show nothing.
func (m *Model) Update(e *tutor.Event) (s Seen, ok bool) {
	v := m.visit(e)
	if v == nil {
		return Seen{}, false
	}
	day := DayOf(e.At, m.loc)
	d := m.days[day]
	if !math.IsNaN(e.Seconds) {
		spent := min(max(e.Seconds, 0), longest)
		m.pace += spent
		d.Minutes += spent / 60
	}
	s, ok = m.reads(v, e)
	if ok {
		if v.day != day {
			v.day = day
			d.Problems++
		}
		if !v.begun {
			v.begun = true
			m.begin(v.situation, day)
		}
		d.Lines++
		if s.Right {
			d.Right++
		}
		m.lines++
		m.take(s, day)
	}
	if d != (Day{}) {
		m.days[day] = d
	}
	return s, ok
}

func (m *Model) visit(e *tutor.Event) *visit {
	if v, ok := m.sessions[e.Session]; ok {
		return v
	}
	i, ok := m.course.byID[e.Problem]
	if !ok {
		return nil
	}
	v := &visit{situation: i, tried: map[at]bool{}, day: -1}
	m.sessions[e.Session] = v
	return v
}

// reads is what an event shows of its line. A hint asked for before the first
// attempt counts as a wrong one (so Corbett and Anderson, from memory).
func (m *Model) reads(v *visit, e *tutor.Event) (Seen, bool) {
	if e.Step == string(tutor.StepAxes) && e.Kind == tutor.Answered {
		v.tilted = true
	}
	right := e.Verdict == string(grading.Right) || e.Verdict == string(grading.Remarked)
	switch {
	case e.Kind == tutor.Hinted:
		right = false
	case e.Kind != tutor.Answered || !right && e.Verdict != string(grading.Wrong):
		return Seen{}, false
	case e.Step == string(tutor.StepForces) && right && !listed(e):
		return Seen{}, false
	case e.Step == string(tutor.StepPivot):
		right = e.Verdict == string(grading.Right) // every point is allowed; a remark says that another leaves fewer unknowns
	}
	here := at{e.Body, e.Step, e.Cell, ""}
	if e.Step == string(tutor.StepValue) || e.Step == string(tutor.StepDoubt) {
		here.body = ""
	}
	needs, zero := m.course.Situations[v.situation].Needs(e.Body, e.Step, e.Cell, e.Pivot, v.tilted)
	if needs == 0 || v.tried[here] {
		return Seen{}, false
	}
	v.tried[here] = true
	if e.Kind == tutor.Hinted && e.HintDepth >= deepest {
		return Seen{}, false // shown before it was asked for: a line of a worked example
	}
	s := Seen{Needs: needs, Zero: zero, Right: right}
	if !right && e.Kind == tutor.Answered {
		s.Blamed = blamed(e.Slip, e.Step == string(tutor.StepMoment) || e.Step == string(tutor.StepEquation) && e.Cell == string(tutor.StepMoment))
	}
	return s, true
}

// take folds what a line showed into the belief and the boxes. An entry that is
// zero is no sight of a skill: it may have come right at a glance.
func (m *Model) take(s Seen, day int) {
	m.belief.take(s)
	m.hold(m.belief)
	if s.Zero {
		return
	}
	for k := range s.shows().each {
		share := 0.0
		if s.Right || s.Blamed != 0 && !s.Blamed.Has(k) {
			m.right[k]++
			share = 1
		}
		m.seen[k]++
		m.boxes[k].add(day, share)
	}
}

// begin notes that a situation is being worked.
func (m *Model) begin(i, day int) {
	m.worked[i] = work{m.worked[i].times + 1, day, len(m.order)}
	m.order = append(m.order, i)
	m.top = max(m.top, m.course.Situations[i].Level)
}

// Chance is the probability that a line comes right at the first attempt.
func (m *Model) Chance(l Line) float64 { return m.belief.chance(l.Needs, l.Zero) }

// Known is the probability that a skill is known.
func (m *Model) Known(k Skill) float64 { return m.known[k] }

// mastered is the skills that are taken as known.
func (m *Model) mastered() (s Set) {
	for k := range m.known {
		if m.known[k] >= Mastered && m.seen[k] >= Sight {
			s |= 1 << k
		}
	}
	return s
}

// ready is the skills whose prerequisites are in hand.
func (m *Model) ready() (s Set) {
	var held Set
	for k := range m.known {
		if m.known[k] >= Ready {
			held |= 1 << k
		}
	}
	for k, needs := range prerequisites {
		if needs&^held == 0 {
			s |= 1 << k
		}
	}
	return s
}

// What a line takes until the learner's own pace is known, in seconds, and how
// many lines that assumption is worth (ours).
const (
	usualPace   = 36
	usualWeight = 50
)

// Pace is the learner's seconds a line, all told.
func (m *Model) Pace() float64 {
	return (usualPace*usualWeight + m.pace) / float64(usualWeight+m.lines)
}

// clone is a copy to look ahead with. It takes no events.
func (m *Model) clone() *Model {
	c := *m
	c.belief = nil
	c.worked, c.order = slices.Clone(m.worked), slices.Clone(m.order)
	c.days, c.sessions = map[int]Day{}, nil
	for day, d := range m.days {
		c.days[day] = d
	}
	return &c
}

// listed reports whether a line of the force list calls the list done: until
// then each force is listed on a line of its own, and the list as a whole is
// not right yet.
func listed(e *tutor.Event) bool {
	return tutor.ListDone(e.Typed)
}
