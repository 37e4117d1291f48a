package review

import (
	"cmp"
	"slices"
	"strings"

	"steelyard/tutor"
)

// ReasonReport is one question for a reason ("why this pivot?") as the class
// answered it. It is an aside in the work: it earns nothing, and may be passed
// over.
type ReasonReport struct {
	Code     string        `json:"code"`
	Topic    string        `json:"topic"`    // what is asked, in general terms
	Asked    int           `json:"asked"`    // how often
	Learners int           `json:"learners"` // of whom it was asked
	AtOnce   Rate          `json:"at_once"`  // who chose the reason that holds at their first choice, of those who chose
	False    []FalseReason `json:"false"`    // those that were chosen, by most learners first
	Passed   int           `json:"passed"`   // how often it was passed over, or left
	Own      []OwnReason   `json:"own"`      // in the learners' own words, in order of time
}

// FalseReason is a reason that does not hold, and who chose it.
type FalseReason struct {
	Code     string `json:"code"`
	Topic    string `json:"topic"`
	Learners Rate   `json:"learners"` // who chose it at least once, of those who chose
}

// OwnReason is a reason in a learner's own words, as it was typed.
type OwnReason struct {
	Learner string `json:"learner"`
	Problem string `json:"problem"`
	About   string `json:"about,omitempty"` // the symbol that was asked about
	Pivot   string `json:"pivot"`
	Typed   string `json:"typed"`
}

// reasons judges again what was chosen. Whether a choice is right depends on
// nothing but the question and what was offered.
func (w *worker) reasons(s *session, a *Altered) {
	var offered []string
	for _, i := range s.events {
		e := w.st.event(i)
		if e.kind != asked && e.kind != reasoned {
			continue
		}
		if e.kind == asked {
			offered = strings.Fields(w.st.str(e.typed))
			continue
		}
		t := w.st.tasks.list[e.task]
		code, _, _ := strings.Cut(w.st.str(t.cell), " ")
		outcome, claim, known := tutor.JudgeReason(code, offered, w.st.str(e.typed))
		if !known { // of another edition
			e.outcome, e.graded = e.verdict, e.slips
			continue
		}
		var slips []string
		if claim != "" {
			slips = []string{claim}
		}
		w.compare(a, e, result{outcomeOf(tutor.Event{Verdict: string(outcome)}), w.intern(slips)}, w.st.str(t.step))
	}
}

// reasonSum is what is gathered of one question.
type reasonSum struct {
	report   ReasonReport
	asked    map[uint32]bool            // learners
	first    map[uint32]bool            // who chose: whether their first choice was right
	chose    map[string]map[uint32]bool // who chose a false reason
	answered int
}

// reasons gathers what was asked and answered, by question.
func (c *class) reasons() []ReasonReport {
	all := map[string]*reasonSum{}
	for i := range c.st.sessions {
		c.reasonsIn(&c.st.sessions[i], all)
	}
	out := make([]ReasonReport, 0, len(all))
	for _, sum := range all {
		out = append(out, sum.settled())
	}
	slices.SortFunc(out, func(a, b ReasonReport) int { return cmp.Or(b.Learners-a.Learners, cmp.Compare(a.Code, b.Code)) })
	return out
}

func (c *class) reasonsIn(s *session, all map[string]*reasonSum) {
	counted := false // the question that is open has been answered
	for _, i := range s.events {
		e := c.st.event(i)
		if e.kind != asked && e.kind != reasoned {
			continue
		}
		code, about, _ := strings.Cut(c.st.str(c.st.tasks.list[e.task].cell), " ")
		sum := all[code]
		if sum == nil {
			sum = &reasonSum{report: ReasonReport{Code: code, False: []FalseReason{}, Own: []OwnReason{}},
				asked: map[uint32]bool{}, first: map[uint32]bool{}, chose: map[string]map[uint32]bool{}}
			all[code] = sum
		}
		typed := c.st.str(e.typed)
		switch {
		case e.kind == asked:
			sum.report.Asked++
			sum.asked[s.learner] = true
			counted = false
			continue
		case e.outcome != noVerdict:
			sum.choice(s.learner, e.outcome == right, c.st.codes(e.graded))
		case !tutor.IsPass(typed):
			sum.report.Own = append(sum.report.Own, OwnReason{Learner: c.st.str(s.learner),
				Problem: c.st.str(c.st.places.list[s.instance].problem), About: about, Pivot: c.st.str(e.pivot), Typed: typed})
		default:
			continue
		}
		if !counted {
			counted = true
			sum.answered++
		}
	}
}

func (sum *reasonSum) choice(learner uint32, right bool, codes []string) {
	if _, before := sum.first[learner]; !before {
		sum.first[learner] = right
	}
	for _, code := range codes {
		if sum.chose[code] == nil {
			sum.chose[code] = map[uint32]bool{}
		}
		sum.chose[code][learner] = true
	}
}

// settled is the report of a question.
func (sum *reasonSum) settled() ReasonReport {
	r := sum.report
	r.Topic, _ = tutor.ReasonTopics(r.Code, "")
	r.Topic = cmp.Or(r.Topic, r.Code)
	r.Learners, r.Passed = len(sum.asked), max(0, r.Asked-sum.answered)
	atOnce := 0
	for _, right := range sum.first {
		if right {
			atOnce++
		}
	}
	r.AtOnce = Wilson(atOnce, len(sum.first))
	for code, learners := range sum.chose {
		_, says := tutor.ReasonTopics(r.Code, code)
		r.False = append(r.False, FalseReason{code, cmp.Or(says, code), Wilson(len(learners), len(sum.first))})
	}
	slices.SortFunc(r.False, func(a, b FalseReason) int {
		return cmp.Or(b.Learners.Count-a.Learners.Count, cmp.Compare(a.Code, b.Code))
	})
	return r
}
