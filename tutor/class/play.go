package class

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"steelyard/grading"
	"steelyard/grading/slip"
	"steelyard/tutor"
)

func slipOf(code string) (*slip.Slip, bool) {
	s, ok := slip.Of(code)
	return s, ok && s.Edit != nil
}

// Play lets the class work, and gives all that its learners did in order of
// id, as a journal does. What came of what was planted is filled in.
func (c *Class) Play() ([]tutor.Event, error) {
	var all []tutor.Event
	past := map[string][]tutor.Event{} // by learner and problem, for those who copy
	for i, l := range c.Learners {
		done := map[string]int{} // lines met, by skill
		now := monday.Add(time.Duration(c.chance(i, 0).IntN(300)) * time.Second)
		for k := range c.Problems[:l.Stays] {
			v, err := c.visit(i, k, now, done)
			if err != nil {
				return nil, err
			}
			if from := c.copies(l.Alias, c.Problems[k].ID); from != "" {
				err = v.copy(past[from+" "+c.Problems[k].ID])
			} else {
				err = v.work()
			}
			if err != nil {
				return nil, fmt.Errorf("%s at %s: %w", l.Alias, c.Problems[k].ID, err)
			}
			past[l.Alias+" "+c.Problems[k].ID] = v.rec.events
			all = append(all, v.rec.events...)
			now = v.rec.now.Add(time.Duration(20+v.rng.IntN(40)) * time.Second)
			if now.Sub(monday)%(24*time.Hour) > 2*time.Hour { // the lab is over: the day after tomorrow
				now = monday.Add(now.Sub(monday).Truncate(24*time.Hour) + 48*time.Hour + time.Duration(v.rng.IntN(300))*time.Second)
			}
		}
	}
	slices.SortFunc(all, func(a, b tutor.Event) int { return strings.Compare(a.ID, b.ID) })
	c.count(all)
	return all, nil
}

// count fills in who wrote what was planted, from the log.
func (c *Class) count(all []tutor.Event) {
	for _, p := range c.Planted {
		for i := range all {
			e := &all[i]
			if e.Kind != tutor.Answered || !p.is(e) {
				continue
			}
			p.Attempts++
			if !slices.Contains(p.Writers, e.Learner) {
				p.Writers = append(p.Writers, e.Learner)
			}
		}
		slices.Sort(p.Writers)
	}
}

// is reports whether an answer is what was planted.
func (p *Planted) is(e *tutor.Event) bool {
	if p.Slip != "" {
		return slices.Contains(e.Slip, p.Slip)
	}
	return e.Problem == p.Problem && e.Step == p.Step && e.Cell == p.Cell && slices.Contains(p.Forms, e.Typed)
}

func (c *Class) copies(alias, problem string) string {
	for _, a := range c.Alike {
		if a.To == alias && slices.Contains(a.Problems, problem) {
			return a.From
		}
	}
	return ""
}

// visit is one learner at one problem.
type visit struct {
	class *Class
	who   *Learner
	rng   *rand.Rand
	desk  *tutor.Desk
	rec   *recorder
	style int            // of typing
	done  map[string]int // lines the learner has met so far, by skill
}

// visit sits learner i down at problem k.
func (c *Class) visit(i, k int, now time.Time, done map[string]int) (*visit, error) {
	l := c.Learners[i]
	v := &visit{class: c, who: l, rng: c.chance(i, k+1), style: i % 3, done: done}
	v.rec = &recorder{rng: v.rng, learner: l.Alias, now: now}
	s, err := tutor.New(c.Problems[k].drawn[l.Desk], tutor.Guided)
	if err != nil {
		return nil, err
	}
	v.desk, err = tutor.Sit(s, v.rec, nil)
	return v, err
}

// think lets the time pass that a line of a step takes.
func (v *visit) think(step string, times float64) {
	i := slices.IndexFunc(v.class.Times, func(t StepTimes) bool { return t.Step == step })
	t := v.class.Times[max(i, 0)]
	v.rec.wait(t.Median * v.who.Pace * times * math.Exp(t.Spread*v.rng.NormFloat64()))
}

// mostLines bounds a visit; none comes near it.
const mostLines = 2000

// work is the whole visit: line by line until the problem is finished or left.
func (v *visit) work() error {
	v.think("began", 1)
	if v.who.Clockwise {
		v.think(string(tutor.StepPositive), 1)
		if err := v.desk.Choose(tutor.StepPositive, "cw"); err != nil {
			return err
		}
	}
	var at *tutor.Task
	wrong := 0 // lines gone wrong at this task
	for range mostLines {
		t := v.desk.Current()
		if t == nil {
			return nil
		}
		if t != at {
			at, wrong = t, 0
		}
		ok, err := v.line(t, wrong)
		if err != nil {
			return err
		}
		if ok {
			continue
		}
		wrong++
		if v.rng.Float64() < v.who.Leaves {
			if back, err := v.leave(); err != nil || !back {
				return err
			}
		}
		if err := v.seekHelp(wrong); err != nil {
			return err
		}
	}
	return fmt.Errorf("no end in %d lines", mostLines)
}

// line types one line for a task, and reports whether it was not wrong.
func (v *visit) line(t *tutor.Task, wrong int) (bool, error) {
	v.think(string(t.Step), 1+0.5*float64(min(wrong, 2)))
	right := v.rightLine(t)
	if wrong == 0 {
		v.meets(t.Step)
	}
	if t.IsCell() && wrong == 0 && v.rng.Float64() < v.who.Whole {
		v.meets(tutor.StepEquation)
		if row := v.wholeRow(t.Step, v.errs(tutor.StepEquation, 0)); row != "" && v.fits(row) {
			v.think(string(tutor.StepEquation), 1)
			return v.say(row)
		}
	}
	text := ""
	if line := v.misled(t, wrong); line != "" {
		text = line
	} else if v.errs(t.Step, wrong) {
		text = v.mistaken(t, right)
	}
	if text == "" {
		text = v.intended(t, right)
	}
	if v.rng.Float64() < 0.02 {
		if g := v.garbled(text); g != "" {
			if _, err := v.say(g); err != nil {
				return false, err
			}
			v.think(string(t.Step), 0.4)
		}
	}
	ok, err := v.say(text)
	if err != nil || !ok || v.desk.Current() == nil {
		return ok, err
	}
	return ok, v.wander()
}

// fits reports whether a whole row is either right or plainly wrong.
func (v *visit) fits(row string) bool { return v.outcome(row).Earned() || v.plainly(row) }

// intended is the right line, as this learner types it. Forces come one at a
// time from some, all together from others.
func (v *visit) intended(t *tutor.Task, right string) string {
	switch t.Step {
	case tutor.StepPivot:
		points := v.desk.Body().Points
		if p := points[v.rng.IntN(len(points))]; !p.Mark && v.rng.Float64() < 0.08 {
			return p.Name // allowed, and longer
		}
	case tutor.StepForces:
		lines := strings.Split(right, "; ")
		n := len(v.desk.Lines())
		switch {
		case n >= len(lines):
			return "done"
		case v.style == 1:
			return strings.Join(lines[n:], "; ")
		}
		return lines[n]
	}
	return v.styled(t, right)
}

// misled is what a planted misconception makes this learner write, or "". One
// that is of this very entry comes first; of the others it is by lot.
func (v *visit) misled(t *tutor.Task, wrong int) string {
	holds := slices.Clone(v.who.holds)
	general := holds[slices.IndexFunc(append(holds, &Planted{Slip: "-"}), func(p *Planted) bool { return p.Slip != "" }):]
	v.rng.Shuffle(len(general), func(i, j int) { general[i], general[j] = general[j], general[i] })
	for _, p := range holds {
		line := v.wants(p, t)
		if line == "" {
			continue
		}
		chance := p.Chance
		if wrong == 0 {
			p.Applied++
		} else {
			chance = p.Again
		}
		if v.rng.Float64() < chance {
			return line
		}
	}
	return ""
}

// meets counts one more line of a step's skill.
func (v *visit) meets(step tutor.Step) { v.done[skillOf(step).Name]++ }

// errs draws whether a plain slip is made: less often the more lines of the
// kind were met, more often where one has just gone wrong.
func (v *visit) errs(step tutor.Step, wrong int) bool {
	s := skillOf(step)
	p := v.who.Slips[s.Name] * math.Pow(float64(max(v.done[s.Name], 1)), -s.Learning)
	if wrong > 0 {
		p = min(0.5, 1.5*p+0.1)
	}
	return v.rng.Float64() < p
}

// say types a line, and reports whether it was not wrong.
func (v *visit) say(text string) (bool, error) {
	r, err := v.desk.Answer(text)
	return r.Outcome != grading.Wrong, err
}

// wander now and then takes a line back, or goes to another one.
func (v *visit) wander() error {
	var err error
	switch x := v.rng.Float64(); {
	case x < 0.004:
		v.rec.wait(2)
		_, err = v.desk.Undo()
	case x < 0.015:
		var open []*tutor.Task
		for _, t := range v.desk.Ledger() {
			if !t.Done() && t.IsCell() {
				open = append(open, t)
			}
		}
		if len(open) > 0 {
			v.rec.wait(1.5)
			t := open[v.rng.IntN(len(open))]
			_, err = v.desk.Go(t.Step, t.Cell)
		}
	}
	return err
}

// seekHelp asks for hints: seldom after one wrong line, always after five, and
// then until the line is shown.
func (v *visit) seekHelp(wrong int) error {
	ask := []float64{0, 0.05, 0.35, 0.5, 0.7}
	chance := 1.0
	if wrong < len(ask) {
		chance = ask[wrong]
	}
	if v.who.Struggles {
		chance *= 1.4
	}
	for v.desk.Current() != nil && v.rng.Float64() < chance {
		before := v.desk.Current()
		v.think("hinted", 1)
		text, err := v.desk.Hint()
		if err != nil || text == "" || v.desk.Current() != before {
			return err
		}
		chance *= 0.6
		if wrong > len(ask) {
			chance = 1
		}
	}
	return nil
}

// leave goes away, and reports whether the learner came back to the problem:
// half do, that day or the next.
func (v *visit) leave() (back bool, err error) {
	v.rec.wait(5)
	if err := v.desk.Leave(); err != nil || v.rng.Float64() < 0.5 {
		return false, err
	}
	v.rec.wait(3600 * (0.2 + 20*v.rng.Float64()))
	v.rec.last = time.Time{} // a new sitting: nothing to count from
	return true, nil
}

// copy does again what another did, faster.
func (v *visit) copy(events []tutor.Event) error {
	for _, e := range events {
		if v.desk.Current() == nil {
			return nil
		}
		v.think(e.Step, 0.35)
		var err error
		switch e.Kind {
		case tutor.Answered, tutor.Unread:
			if tutor.Step(e.Step) == tutor.StepPositive {
				err = v.desk.Choose(tutor.StepPositive, e.Typed)
				break
			}
			_, err = v.desk.Answer(e.Typed)
		case tutor.Hinted:
			_, err = v.desk.Hint()
		case tutor.Undone:
			_, err = v.desk.Undo()
		case tutor.Moved:
			_, err = v.desk.Go(tutor.Step(e.Step), e.Cell)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
