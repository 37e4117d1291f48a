package review

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// learnerSum is a learner's report with what it is made from.
type learnerSum struct {
	LearnerReport
	first, met int
	slips      map[string]int
	problems   map[uint32]bool
	days       map[int32]bool
}

// students reports on each learner, those to see first.
func (c *class) students() []LearnerReport {
	of := map[uint32]*learnerSum{}
	for _, l := range c.st.learnersInOrder() {
		of[l] = &learnerSum{LearnerReport: LearnerReport{Learner: c.st.str(l)}, slips: map[string]int{}, problems: map[uint32]bool{}, days: map[int32]bool{}}
	}
	for i := range c.ends {
		s, e := &c.st.sessions[i], &c.ends[i]
		l := of[s.learner]
		l.Sessions++
		if e.finished {
			l.Finished++
		}
		if l.Cohort == "" {
			l.Cohort = c.st.str(s.cohort)
		}
		l.LongWaits += int(e.longWaits)
		l.Minutes += float64(e.seconds) / 60
		l.problems[c.st.places.list[s.instance].problem] = true
		for _, d := range e.days {
			l.days[d] = true
		}
	}
	for i := range c.mets {
		c.addLearner(of[c.learner(&c.mets[i])], &c.mets[i])
	}
	var list []*learnerSum
	for _, l := range of {
		l.Problems, l.Days = len(l.problems), len(l.days)
		l.RightFirst = Wilson(l.first, l.met)
		l.Slips = counts(l.slips, 3)
		l.Reasons = []string{}
		list = append(list, l)
	}
	slices.SortFunc(list, func(a, b *learnerSum) int { return cmp.Compare(a.Learner, b.Learner) })
	compare(list)
	slices.SortStableFunc(list, func(a, b *learnerSum) int { return cmp.Compare(b.See, a.See) })
	out := make([]LearnerReport, len(list))
	for i, l := range list {
		out[i] = l.LearnerReport
	}
	return out
}

func (c *class) addLearner(l *learnerSum, m *met) {
	if m.attempts == 0 && !m.shown {
		return
	}
	l.Lines++
	l.met++
	l.Attempts += int(m.attempts)
	l.Hints += int(m.hints)
	if m.first {
		l.first++
	}
	if m.earned {
		l.Earned++
	}
	if m.shown {
		l.DeepHints++
	}
	for _, code := range c.st.codes(m.slips) {
		l.slips[code]++
	}
}

// A sign is a thing in which a learner may stand out from the class, and how
// it is said. Its measure is larger the more reason there is to see them.
type sign struct {
	measure func(*LearnerReport) float64
	say     func(l *LearnerReport, class float64) string
}

var signs = []sign{
	{func(l *LearnerReport) float64 { return per(l.Attempts, l.Lines) },
		func(l *LearnerReport, class float64) string {
			return fmt.Sprintf("%.1f attempts a line; the class has %.1f", per(l.Attempts, l.Lines), class)
		}},
	{func(l *LearnerReport) float64 { return per(l.DeepHints, l.Lines) },
		func(l *LearnerReport, class float64) string {
			return fmt.Sprintf("%d of %d lines were shown by hints; in the class %.0f %%", l.DeepHints, l.Lines, 100*class)
		}},
	{func(l *LearnerReport) float64 { return l.Minutes / max(1, float64(l.Lines)) },
		func(l *LearnerReport, class float64) string {
			return fmt.Sprintf("%.1f minutes a line; the class has %.1f", l.Minutes/max(1, float64(l.Lines)), class)
		}},
	{func(l *LearnerReport) float64 { return per(l.LongWaits, l.Sessions) },
		func(l *LearnerReport, class float64) string {
			return fmt.Sprintf("%d waits of more than %.0f minutes in %d sessions", l.LongWaits, LongWait.Minutes(), l.Sessions)
		}},
	{func(l *LearnerReport) float64 { return -per(l.RightFirst.Count, l.RightFirst.N) },
		func(l *LearnerReport, class float64) string {
			return fmt.Sprintf("%.0f %% of lines right first time; the class has %.0f %%", 100*l.RightFirst.Rate, -100*class)
		}},
	{func(l *LearnerReport) float64 { return -per(l.Finished, l.Sessions) },
		func(l *LearnerReport, class float64) string {
			return fmt.Sprintf("%d of %d sessions finished; in the class %.0f %%", l.Finished, l.Sessions, -100*class)
		}},
}

func per(count, of int) float64 {
	if of == 0 {
		return 0
	}
	return float64(count) / float64(of)
}

// standsOut is how many standard deviations above the class's mean is reason
// to say so; fewer than leastClass learners are no class to compare with.
const (
	standsOut  = 1.5
	leastClass = 8
)

// compare says of each learner where they stand out. See is the sum of what is
// above the mean, in standard deviations.
func compare(list []*learnerSum) {
	if len(list) < leastClass {
		return
	}
	for _, s := range signs {
		values := make([]float64, len(list))
		for i, l := range list {
			values[i] = s.measure(&l.LearnerReport)
		}
		mean, sd := stat.MeanStdDev(values, nil)
		if flat(values) {
			continue
		}
		for i, l := range list {
			z := (values[i] - mean) / sd
			l.See += max(0, z)
			if z >= standsOut {
				l.Reasons = append(l.Reasons, s.say(&l.LearnerReport, mean))
			}
		}
	}
}
