package tutor

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems/statics"
)

// Now and then, where the terms say so, a learner is asked for a reason after a
// line that was earned: why this pivot, why no friction there. It is an aside.
// It earns nothing and holds nothing up: whoever goes on with the work has
// passed it over.

// StepReason is no task: a reason that is asked for. The cell of its events is
// the code of the question and, after a blank, the symbol it is asked of.
const StepReason Step = "reason"

const (
	passWord    = "pass"
	mostReasons = 3 // in a session
	mostFalse   = 3 // false reasons that are offered beside the true one
	leastFalse  = 2 // without so many a question is not asked
	reasonTries = 2
)

// AsksReasons reports whether a problem that a learner begins on their own,
// after so many others, asks for reasons: every third does.
func AsksReasons(begunBefore int) bool { return begunBefore%3 == 2 }

// Question is a reason that is asked for, as it is shown.
type Question struct {
	Code    string // a row of the table of questions
	Ask     string
	Choices []string
}

// reasons is what a session knows of the reasons that it has asked for.
type reasons struct {
	put  []string // codes of the questions that were asked
	open *openReason
}

// openReason is a question that waits for its answer.
type openReason struct {
	of    *inquiry
	about string // a symbol
	body  string
	line  key      // the line that it is about
	order []string // codes of the reasons offered
	tries int

	shown map[bool]Question // as it is shown, in ASCII and not
}

// reasonCell is how an event names a question.
func reasonCell(code, about string) string { return strings.TrimSpace(code + " " + about) }

// Asking is the reason that is asked for now; false if there is none.
func (s *Session) Asking() (Question, bool) {
	o := s.reasons.open
	if o == nil {
		return Question{}, false
	}
	if q, ok := o.shown[s.ASCII]; ok {
		return q, true
	}
	sc := s.scene(s.pageOf(o.body), o.of, o.about)
	q := Question{Code: o.of.code}
	q.Ask, _ = sc.fill(o.of.asks)
	for _, code := range o.order {
		c, _ := o.of.claim(code)
		says, _ := sc.fill(c.says)
		q.Choices = append(q.Choices, says)
	}
	o.shown[s.ASCII] = q
	return q, true
}

// scene is what a question can be judged by, with a body in hand.
func (s *Session) scene(pg *page, of *inquiry, about string) *scene {
	sc := &scene{p: s.problem, b: pg.body, fr: pg.grader.Frame(), ascii: s.ASCII, chosen: s.find(pg, StepPivot, "").Done(), advice: map[string]statics.PivotAdvice{}}
	sc.point = sc.fr.Pivot
	if of.point != nil {
		sc.point = of.point(sc)
	}
	sc.take(about)
	return sc
}

// reasonDue is the event of asking for the next reason, if one is to be asked
// for now.
func (s *Session) reasonDue() (Event, bool) {
	r := &s.reasons
	if !s.terms.Reasons || r.open != nil || len(r.put) >= mostReasons || s.over || s.handed || s.late() {
		return Event{}, false
	}
	for _, pg := range s.pages {
		for _, step := range []Step{StepPivot, StepForces} {
			t := s.find(pg, step, "")
			if t == nil || t.Status != Earned || s.hasAsked(t.key()) {
				continue
			}
			if of, about, order := s.inquire(pg, step); of != nil {
				e := s.event(Asked, &Task{Body: pg.body.Name, Step: StepReason, Cell: reasonCell(of.code, about)})
				e.Typed = strings.Join(order, " ")
				return e, true
			}
		}
	}
	return Event{}, false
}

// hasAsked reports whether a line has been asked about: of the pivots one is,
// of each body's list of forces one reason is asked for.
func (s *Session) hasAsked(line key) bool {
	return slices.ContainsFunc(s.reasons.put, func(put string) bool {
		code, body, _ := strings.Cut(put, " ")
		of, ok := inquiryOf(code)
		return ok && of.after == line.Step && (line.Step == StepPivot || body == line.Body)
	})
}

// inquire picks the question about a line of a body: of those that apply, and
// were not asked yet, the one that the problem's seed falls on.
func (s *Session) inquire(pg *page, after Step) (of *inquiry, about string, order []string) {
	rng := s.reasonRand(pg.body.Name, string(after))
	var fit [][]offer
	for i := range inquiries {
		q := &inquiries[i]
		asked := slices.ContainsFunc(s.reasons.put, func(put string) bool { return strings.HasPrefix(put, q.code+" ") })
		if q.after == after && !asked {
			if all := s.offers(pg, q); len(all) > 0 {
				fit = append(fit, all)
			}
		}
	}
	if len(fit) == 0 {
		return nil, "", nil
	}
	all := fit[rng.IntN(len(fit))]
	it := all[rng.IntN(len(all))]
	head, others := it.claims[0], it.claims[1:]
	rng.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
	others = others[:min(len(others), mostFalse)]
	return it.of, it.about, slices.Insert(slices.Clone(others), rng.IntN(len(others)+1), head)
}

// offer is a question with what it is asked of, and the reasons that can be
// offered: the true one first.
type offer struct {
	of     *inquiry
	about  string
	claims []string
}

// offers are what a question can be asked of here: there is a true reason, and
// enough false ones to choose from.
func (s *Session) offers(pg *page, of *inquiry) []offer {
	var out []offer
	sc := s.scene(pg, of, "")
	for _, about := range of.abouts(sc) {
		sc.take(about)
		if claims := sc.offer(of); len(claims) > leastFalse {
			out = append(out, offer{of, about, claims})
		}
	}
	return out
}

// reasonRand is a stream of numbers that the problem alone decides.
func (s *Session) reasonRand(more ...string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprintf(h, "%s %s %q", s.problem.ID, s.problem.Entered, more)
	return rand.New(rand.NewPCG(s.problem.Seed, h.Sum64()))
}

// goesOn reports whether a line typed while a reason is asked for is one of the
// work after all: asking for checking, or, where lines are judged at once, a
// right line.
func (s *Session) goesOn(text string) bool {
	if s.judgesLater() {
		return strings.EqualFold(strings.Join(strings.Fields(text), " "), closing[s.mode].typed)
	}
	t := s.take(text)
	return t != nil && s.terms.Help == "" && s.grade(t, text).Earned()
}

// reasonAnswer takes what is typed while a reason is asked for: a number, a
// line in the learner's own words, or the word that passes it over. It is false
// for what is a line of the work.
func (s *Session) reasonAnswer(text string) (Event, Reply, bool) {
	o := s.reasons.open
	if o == nil {
		return Event{}, Reply{}, false
	}
	line := strings.TrimSpace(text)
	number, err := strconv.Atoi(line)
	if err != nil && s.goesOn(text) {
		return Event{}, Reply{}, false
	}
	e := s.event(Reasoned, &Task{Body: o.body, Step: StepReason, Cell: reasonCell(o.of.code, o.about)})
	e.Typed = clip(text)
	r := Reply{Step: StepReason, Cell: e.Cell}
	truth := "A reason that holds: " + s.fillOpen(o.of.claims[0].says)
	switch {
	case err == nil && number >= 1 && number <= len(o.order):
		c, _ := o.of.claim(o.order[number-1])
		e.Try = o.tries + 1
		r.Verdict = grading.Verdict{Outcome: grading.Right}
		if c.code != o.of.claims[0].code {
			r.Outcome = grading.Wrong
			r.Message = s.fillOpen(c.wrong)
			e.Slip = []string{c.code}
			r.Note = "Once more, or say pass."
			if e.Try >= reasonTries {
				r.Note = truth
			}
		}
		e.Verdict = string(r.Outcome)
	case IsPass(line):
		r.Verdict = grading.Verdict{Outcome: NotJudged, Message: "Passed over."}
	case line == "" || err == nil:
		e.Kind, e.Verdict = Unread, string(grading.Unreadable)
		r.Verdict = grading.Verdict{Outcome: grading.Unreadable, At: 1,
			Message: fmt.Sprintf("Say a number from 1 to %d, or a line in your own words, or pass.", len(o.order))}
	default:
		r.Verdict = grading.Verdict{Outcome: NotJudged, Message: "Kept for your instructor."}
		r.Note = truth
	}
	return e, r, true
}

// fillOpen fills a text for the question that is open.
func (s *Session) fillOpen(text string) string {
	o := s.reasons.open
	out, _ := s.scene(s.pageOf(o.body), o.of, o.about).fill(text)
	return out
}

// applyReason folds what an event does to the reason that is asked for. Going
// on with the work passes it over; so does taking back the line it is about.
func (s *Session) applyReason(e Event) {
	r := &s.reasons
	switch e.Kind {
	case Asked:
		s.putReason(e)
	case Reasoned:
		o := r.open
		if o == nil || e.Cell != reasonCell(o.of.code, o.about) {
			return
		}
		if o.tries++; e.Verdict != string(grading.Wrong) || o.tries >= reasonTries {
			r.open = nil
		}
	case Answered:
		if Step(e.Step) != StepPositive {
			r.open = nil
		}
	case Moved:
		if Step(e.Step) != StepClock {
			r.open = nil
		}
	case Undone, Hinted:
		if o := r.open; o != nil {
			if t := s.find(s.pageOf(o.line.Body), o.line.Step, o.line.Cell); t == nil || t.Status != Earned {
				r.open = nil
			}
		}
	}
}

// putReason opens a question. One that this edition has not, or that does not fit
// what is recorded, is known to have been asked, and no more.
func (s *Session) putReason(e Event) {
	code, about, _ := strings.Cut(e.Cell, " ")
	s.reasons.put = append(s.reasons.put, code+" "+e.Body)
	s.reasons.open = nil
	of, ok := inquiryOf(code)
	pg := s.pageOf(e.Body)
	if !ok || pg.body.Name != e.Body {
		return
	}
	offers := s.offers(pg, of)
	i := slices.IndexFunc(offers, func(o offer) bool { return o.about == about })
	order := strings.Fields(e.Typed)
	if i < 0 || len(order) > mostFalse+1 || !slices.Contains(order, offers[i].claims[0]) {
		return
	}
	for _, c := range order {
		if !slices.Contains(offers[i].claims, c) {
			return
		}
	}
	s.reasons.open = &openReason{of: of, about: about, body: e.Body, order: order, line: key{Body: e.Body, Step: of.after},
		shown: map[bool]Question{}}
}

// ReasonTopics says in general terms what a question asks, and what a reason
// that is offered for it says; "" for a code that this edition has not.
func ReasonTopics(question, claim string) (asks, says string) {
	of, ok := inquiryOf(question)
	if !ok {
		return "", ""
	}
	c, _ := of.claim(claim)
	return of.topic, c.topic
}

// JudgeReason judges an answer to a question by itself: the verdict, and the
// code of the false reason chosen, where a number stands for one of those
// offered; neither for a line in one's own words. It is false for what this
// edition does not have.
func JudgeReason(question string, offered []string, typed string) (outcome grading.Outcome, claim string, ok bool) {
	of, known := inquiryOf(question)
	number, err := strconv.Atoi(strings.TrimSpace(typed))
	switch {
	case !known:
		return "", "", false
	case err != nil || number < 1 || number > len(offered):
		return "", "", true
	}
	c, known := of.claim(offered[number-1])
	if !known {
		return "", "", false
	}
	if c.code == of.claims[0].code {
		return grading.Right, "", true
	}
	return grading.Wrong, c.code, true
}

// IsPass reports whether a line passes a question over.
func IsPass(typed string) bool { return strings.EqualFold(strings.TrimSpace(typed), passWord) }
