package review

import (
	"slices"
	"strconv"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/problems/statics"
	"steelyard/tutor"
)

// worker grades batches, one after another.
type worker struct {
	*regrader
	regraded int

	names   table[string]    // sets of forces, and lists of force lines
	views   table[sharedKey] // choices, whatever the numbers
	shared  map[memoKey]result
	problem *drawn // of the batch in hand
	tries   map[task]int32

	tolerance float64 // of the session in hand; 0 for the usual one
	named     int     // of its lines that differ, those that had no name in the log and are a slip of the scenario's own
}

// result is a verdict as far as it is compared.
type result struct {
	outcome uint8
	slips   uint32
}

// view is what a grader is made for.
type view struct {
	body, pivot, tilt, reversed, settled uint32
	positive                             uint8
	tolerance                            float64
}

type sharedKey struct {
	problem uint32
	view
}

// memoKey is an answer: the number of a view, a task, a text (or, where a list
// of forces is called done, the list).
type memoKey struct{ view, task, typed uint32 }

// drawn is a problem with what has been graded for it.
type drawn struct {
	at      instance
	p       *problems.Problem
	err     error
	views   map[view]*grader
	memo    map[memoKey]result
	forces  map[memoKey][]forceLine
	pivots  map[memoKey]string
	session *tutor.Session // for the questions at the end
}

// grader grades for one view of a problem.
type grader struct {
	number uint32 // in worker.views
	level  bool   // no tilt, so that what is said in symbols needs no numbers
	made   bool
	g      *grading.Grader
}

type forceLine struct {
	result
	listed grading.Listed
}

func newWorker(g *regrader) *worker {
	return &worker{regrader: g, shared: map[memoKey]result{}, tries: map[task]int32{}}
}

func (w *worker) batch(b batch) {
	at := w.st.places.list[b.instance]
	d := &drawn{at: at, views: map[view]*grader{}, memo: map[memoKey]result{}, forces: map[memoKey][]forceLine{}, pivots: map[memoKey]string{}}
	w.problem = d
	sc, err := w.bank.Scenario(w.st.str(at.problem))
	if err == nil {
		d.p, err = sc.Enter(at.seed, strings.Fields(w.st.str(at.given)), grading.Discriminates)
	}
	for _, i := range b.sessions {
		s := &w.st.sessions[i]
		if err != nil {
			w.lost(at.problem, len(s.events), err.Error())
			w.trust(s)
			continue
		}
		w.grade(s)
	}
}

// toleranceIn is the tolerance that a session was begun on, as its first event
// has it ("hints=1 tolerance=0.02"); 0 if it has none.
func toleranceIn(terms string) float64 {
	out := 0.0
	for _, t := range strings.Fields(terms) {
		if text, ok := strings.CutPrefix(t, "tolerance="); ok {
			if v, err := strconv.ParseFloat(text, 64); err == nil && v >= 0 && v <= grading.MaxTolerance {
				out = v
			}
		}
	}
	return out
}

// trust takes the verdicts of a log as they are.
func (w *worker) trust(s *session) {
	for _, i := range s.events {
		e := w.st.event(i)
		e.outcome, e.graded = e.verdict, e.slips
	}
}

// grade grades a session again: by a walk, which is quick, or, where lines are
// judged later or the walk found something, by the tutor's own session.
func (w *worker) grade(s *session) {
	for _, i := range s.events {
		if e := w.st.event(i); (e.kind == answered || e.kind == unread) && isLine(tutor.Step(w.st.str(w.st.tasks.list[e.task].step))) {
			w.regraded++
		}
	}
	if mode := w.st.str(s.mode); mode == tutor.Practice || mode == tutor.Exam {
		a := w.replay(s)
		w.reasons(s, &a)
		w.judge(s, a)
		return
	}
	a, doubt := w.walk(s)
	if (doubt || a.Lines > 0) && !s.gap && w.st.str(s.hash) == w.problem.p.Hash {
		a = w.replay(s)
	}
	w.reasons(s, &a)
	w.judge(s, a)
}

// walk grades the lines of a guided session. Doubt is that something in it is
// not as it should be beside verdicts: its choices, or how it counts attempts.
func (w *worker) walk(s *session) (a Altered, doubt bool) {
	at := walk{of: w.problem.p}
	w.tolerance = toleranceIn(w.st.str(s.terms))
	a = w.altered(s)
	clear(w.tries)
	for _, i := range s.events {
		e := w.st.event(i)
		t := w.st.tasks.list[e.task]
		step, typed := w.st.str(t.step), w.st.str(e.typed)
		p := at.page(w.st.str(t.body))
		if (e.kind == answered || e.kind == unread) && step != "" {
			doubt = doubt || w.st.str(e.pivot) != p.pivot || e.positive != p.positive
			w.compare(&a, e, w.answer(e, t, &at, p, step, typed), step)
			doubt = w.count(s, e, step, typed) || doubt
		}
		earned := e.outcome == right || e.outcome == remarked
		at.apply(e.kind, step, w.st.str(t.cell), typed, earned, e.hint, p, reading{
			forces: func(text string) []grading.Listed { return w.readForces(e, t, &at, p, text) },
			every:  func() []grading.Listed { return w.everyForce(p.body) },
			pivot:  func(text string) string { return w.readPivot(e, t, &at, p, text) },
		})
	}
	return a, doubt
}

// count follows the attempts at each line: where the log counts more than it
// holds, some of it is missing. It reports whether it counts fewer; lines that
// were taken back and came again are counted anew.
func (w *worker) count(s *session, e *event, step, typed string) (fewer bool) {
	if e.kind != answered || e.try == 0 {
		return false
	}
	at := w.st.tasks.list[e.task]
	if !tutor.Step(step).OfBody() {
		at.body = 0 // whichever was in hand
	}
	if e.try > w.tries[at]+1 {
		s.gap = true
	}
	fewer = e.try <= w.tries[at]
	if listing := step == string(tutor.StepForces) && e.outcome != wrong && !tutor.ListDone(typed); !listing {
		w.tries[at] = e.try
	}
	return fewer
}

// view finds or makes the grader for the learner's choices at an event.
func (w *worker) view(e *event, body uint32, at *walk, p *page) *grader {
	v := view{body: body, pivot: e.pivot, tilt: w.names.add(p.tilt), reversed: w.names.add(at.reversed), settled: w.names.add(p.settled), positive: e.positive, tolerance: w.tolerance}
	g, ok := w.problem.views[v]
	if !ok {
		g = &grader{number: w.views.add(sharedKey{w.problem.at.problem, v}), level: p.tilt == ""}
		w.problem.views[v] = g
	}
	return g
}

// grading is the grader of a view, made when it is first needed, or nil if the
// choices are none that the problem has.
func (w *worker) grading(v *grader, e *event, at *walk, p *page) *grading.Grader {
	if !v.made {
		v.made = true
		v.g, _ = grading.New(w.problem.p, grading.Choice{Body: p.body, Pivot: w.st.str(e.pivot), Clockwise: turnings[e.positive] == "cw",
			Tilt: p.tilt, Reversed: set(at.reversed), Settled: set(p.settled), Tolerance: w.tolerance})
	}
	return v.g
}

// answer grades a line, or finds what it was graded before.
func (w *worker) answer(e *event, t task, at *walk, p *page, step, typed string) result {
	v := w.view(e, t.body, at, p)
	key := memoKey{v.number, e.task, e.typed}
	if step == string(tutor.StepForces) {
		if !tutor.ListDone(typed) {
			return w.list(v, e, at, p, key, typed)
		}
		key.typed = w.names.add(strings.Join(p.lines, "\n")) // another number than a text's, but of another task
	}
	if r, ok := w.shared[key]; ok {
		return r
	}
	if r, ok := w.problem.memo[key]; ok {
		return r
	}
	out := w.verdict(v, e, t, at, p, step, typed)
	i := max(slices.Index(verdicts, out.Outcome), 0)
	r := result{uint8(i), w.intern(out.Slips)}
	if v.level && needsNoNumbers(step, typed, out) {
		w.shared[key] = r
	} else {
		w.problem.memo[key] = r
	}
	return r
}

// needsNoNumbers reports whether a verdict is the same whatever the problem's
// numbers are: an entry or equation found right without remark was compared in
// symbols alone, and so was all that has no digit in it.
func needsNoNumbers(step, typed string, v grading.Verdict) bool {
	switch tutor.Step(step) {
	case tutor.StepX, tutor.StepY, tutor.StepMoment, tutor.StepEquation:
		return v.Outcome == grading.Right || !strings.ContainsAny(typed, "0123456789½¼¾⅓⅔")
	}
	return false
}

// unread is the verdict on what cannot be graded at all.
var unreadVerdict = grading.Verdict{Outcome: grading.Unreadable}

func (w *worker) verdict(v *grader, e *event, t task, at *walk, p *page, step, typed string) grading.Verdict {
	cell := w.st.str(t.cell)
	if strings.TrimSpace(typed) == "" {
		return unreadVerdict
	}
	g := w.grading(v, e, at, p)
	if g == nil {
		return unreadVerdict
	}
	var out grading.Verdict
	var err error
	switch s := tutor.Step(step); s {
	case tutor.StepPivot:
		out, _ = g.Pivot(typed)
	case tutor.StepForces:
		if len(p.lines) == 0 {
			return unreadVerdict
		}
		out, _ = g.Forces(strings.Join(p.lines, "; "))
	case tutor.StepX, tutor.StepY, tutor.StepMoment:
		out, err = g.Cell(statics.RowKind(step), cell, typed)
	case tutor.StepEquation:
		if !slices.Contains(statics.Rows, statics.RowKind(cell)) {
			return unreadVerdict
		}
		out, err = g.Equation(statics.RowKind(cell), typed)
	case tutor.StepValue:
		out, err = g.Value(cell, typed, nil)
	case tutor.StepPositive:
		out.Outcome = choice(typed == "cw" || typed == "ccw")
	case tutor.StepAxes:
		_, bad := w.problem.p.Axis(typed)
		out.Outcome = choice(bad == nil)
	case tutor.StepDoubt:
		return w.doubt(g, w.st.str(e.pivot), cell, typed)
	default:
		return unreadVerdict
	}
	if err != nil {
		return unreadVerdict
	}
	return out
}

func choice(allowed bool) grading.Outcome {
	if allowed {
		return grading.Right
	}
	return grading.Unreadable
}

// doubt grades an answer to one of the questions at the end.
func (w *worker) doubt(g *grading.Grader, pivot, cell, typed string) grading.Verdict {
	if cell == tutor.DoubtCheck {
		switch v, p := g.Pivot(typed); {
		case !v.Earned():
			return v
		case p.Name == pivot:
			return grading.Verdict{Outcome: grading.Wrong}
		}
		return grading.Verdict{Outcome: grading.Right}
	}
	d := w.problem
	if d.session == nil {
		if d.session, d.err = tutor.New(d.p, tutor.Guided); d.err != nil {
			return unreadVerdict
		}
	}
	d.session.Apply(tutor.Event{Problem: d.p.ID, Kind: tutor.Moved, Step: string(tutor.StepDoubt), Cell: cell})
	if t := d.session.Current(); t == nil || t.Step != tutor.StepDoubt || t.Cell != cell {
		return unreadVerdict
	}
	if _, r := d.session.Answer(typed); r.Step == tutor.StepDoubt {
		return r.Verdict
	}
	return unreadVerdict
}
