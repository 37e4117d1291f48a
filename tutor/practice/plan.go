package practice

import (
	"fmt"
	"math"
	"slices"
)

// Bounds of a plan (ours).
const (
	LeastMinutes = 5
	MostMinutes  = 600
	MostDays     = 366
)

// Ask is what a plan is asked for. Days are numbered as by [DayOf].
type Ask struct {
	Today   int
	Exam    int // the day of the exam, on which nothing is practised; 0 for no exam
	Minutes int // of practice a day
}

// Plan is where a learner stands and what to do each day until the exam.
type Plan struct {
	Today   string  `json:"today"`
	Exam    string  `json:"exam,omitempty"`
	Days    int     `json:"days"`    // of practice, today with them
	Minutes int     `json:"minutes"` // a day
	Target  float64 `json:"target"`  // the probability at which a skill counts as known
	Sight   int     `json:"sight"`   // the lines that it must have been seen in as well

	Known    int      `json:"known"`    // skills at the target now
	Of       int      `json:"of"`       // skills
	Forecast int      `json:"forecast"` // skills at the target on the eve of the exam, if the plan is followed
	Short    []string `json:"short"`    // skills that the forecast leaves below the target
	Enough   int      `json:"enough"`   // minutes a day with which the forecast leaves none; 0 where the minutes given do, -1 where none up to three hours do

	Skills []Standing  `json:"skills"`
	Next   *Choice     `json:"next"` // null where the bank is empty
	Or     []Choice    `json:"or"`   // others, as good as any for who would rather
	Past   []Practised `json:"past"` // the last seven days with practice
	Ahead  []Planned   `json:"ahead"`
}

// Standing is one skill: how likely it is known, and on how much evidence.
type Standing struct {
	Skill    string  `json:"skill"`
	Plainly  string  `json:"plainly"`
	Known    float64 `json:"known"`
	Seen     int     `json:"seen"`  // lines tried that exercise it, but for entries that are zero
	Right    int     `json:"right"` // of those, right at once as far as this skill goes
	Box      int     `json:"box"`
	Due      string  `json:"due,omitempty"`
	Forecast float64 `json:"forecast"` // on the eve of the exam
}

// Practised is what was done on a day.
type Practised struct {
	Date string `json:"date"`
	Day
}

// Planned is what to do on a day.
type Planned struct {
	Date     string   `json:"date"`
	Over     float64  `json:"over,omitempty"` // minutes for what the day before leaves unfinished
	Problems []Choice `json:"problems"`
}

// Plan lays out the days from today to the eve of the exam. It is made anew
// from the log each time, so what was done, left out or gone wrong is in it.
//
// It looks ahead by the model itself: for each problem that it places, each
// line's chance to teach is taken, at the rate at which this learner has been
// learning, and no line is taken as known to come right or wrong. (What a line
// will show leaves the expected probability as it is.) Of a learner who does not
// learn by lines alone it foretells no more than is known now.
func (m *Model) Plan(a Ask) (*Plan, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	p := &Plan{Today: Date(a.Today), Minutes: a.Minutes, Target: Mastered, Sight: Sight, Of: count, Or: []Choice{}, Past: m.past(a.Today), Ahead: []Planned{}}
	if a.Exam != 0 {
		p.Exam, p.Days = Date(a.Exam), a.Exam-a.Today
	}
	offers := m.Offers(a.Today, 3)
	if len(offers) > 0 {
		p.Next, p.Or = &offers[0], offers[1:]
	}
	eve := m.clone()
	p.Ahead = eve.walk(a)
	p.Skills = m.standings(eve)
	p.Known, p.Forecast = m.mastered().size(), eve.mastered().size()
	p.Short = (everything &^ eve.mastered()).Names()
	if len(p.Short) > 0 && p.Days > 0 {
		p.Enough = m.enough(a)
	}
	return p, nil
}

func (a Ask) check() error {
	switch {
	case a.Minutes < LeastMinutes || a.Minutes > MostMinutes:
		return fmt.Errorf("%d minutes a day is out of range; give %d to %d", a.Minutes, LeastMinutes, MostMinutes)
	case a.Exam == 0:
		return nil
	case a.Exam < a.Today:
		return fmt.Errorf("the exam of %s is over: today is %s; give a day to come", Date(a.Exam), Date(a.Today))
	case a.Exam-a.Today > MostDays:
		return fmt.Errorf("the exam of %s is %d days off; plan for at most %d", Date(a.Exam), a.Exam-a.Today, MostDays)
	}
	return nil
}

// walk practises day by day in a model that looks ahead, and says what was
// placed. A problem is begun if half of it fits in what is left of the day, or
// if the day is free and it can be done by the eve; what does not fit is taken
// off the next days.
func (m *Model) walk(a Ask) []Planned {
	out := []Planned{}
	over := 0.0
	for day := a.Today; day < a.Exam; day++ {
		left := float64(a.Minutes)
		if day == a.Today {
			left -= m.days[day].Minutes
		}
		p := Planned{Date: Date(day), Problems: []Choice{}}
		if over > 0 {
			p.Over = min(over, left)
			left, over = left-p.Over, over-p.Over
		}
		for over == 0 {
			c, ok := m.Next(day)
			free := left == float64(a.Minutes) && c.Minutes <= left*float64(a.Exam-day)
			if !ok || c.Minutes/2 > left && !free {
				break
			}
			p.Problems = append(p.Problems, c)
			m.suppose(c.situation, day)
			left -= c.Minutes
			over = max(0, -left)
		}
		out = append(out, p)
	}
	return out
}

// suppose takes a problem as worked on a day, with nothing known of how it
// went.
func (m *Model) suppose(i, day int) {
	for _, l := range m.course.Situations[i].Lines {
		for k := range l.Needs.each {
			own := params[k]
			own.Learn *= m.ways.rate
			own.Slip *= m.ways.slip
			if l.Zero { // teaches those alone who do not see it at a glance
				own.Learn *= 1 - m.ways.glances
			} else {
				m.boxes[k].add(day, own.plays(m.known[k]))
				m.seen[k]++
			}
			m.known[k] = min(own.learns(m.known[k]), ceiling)
		}
	}
	m.begin(i, day)
	d := m.days[day]
	d.Problems++
	m.days[day] = d
}

// enough is the fewest minutes a day, in steps of five and up to three hours,
// with which the forecast leaves no skill below the target; -1 if there are
// none.
func (m *Model) enough(a Ask) int {
	const step, most = 5, 180
	for a.Minutes = (a.Minutes/step + 1) * step; a.Minutes <= most; a.Minutes += step {
		eve := m.clone()
		eve.walk(a)
		if eve.mastered() == everything {
			return a.Minutes
		}
	}
	return -1
}

func (m *Model) standings(eve *Model) []Standing {
	var out []Standing
	for k := range Skill(count) {
		s := Standing{Skill: k.Name(), Plainly: Plainly[k.Name()], Known: rounded(m.known[k]), Seen: m.seen[k], Right: m.right[k], Forecast: rounded(eve.known[k])}
		if on, ok := m.Due(k); ok {
			s.Box, s.Due = m.boxes[k].settled().at, Date(on)
		}
		out = append(out, s)
	}
	return out
}

// rounded keeps a probability to four places, which is more than it is worth.
func rounded(p float64) float64 { return math.Round(p*1e4) / 1e4 }

// past is the last seven days with practice, today with them.
func (m *Model) past(today int) []Practised {
	out := []Practised{}
	var days []int
	for day, d := range m.days {
		if day <= today && d.Lines > 0 {
			days = append(days, day)
		}
	}
	slices.Sort(days)
	for _, day := range days[max(0, len(days)-7):] {
		d := m.days[day]
		d.Minutes = math.Round(d.Minutes*10) / 10
		out = append(out, Practised{Date(day), d})
	}
	return out
}
