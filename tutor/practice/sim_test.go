package practice

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"steelyard/problems"
	"steelyard/tutor"
)

// pupil is a simulated learner whose mastery is known. The rule, all of it:
//
//   - Each skill is known or not. At first it is known with the pupil's own
//     chance, drawn from 0.1 to 0.5, if all its prerequisites are known, else
//     not.
//   - In a line, each skill it exercises does its part: with chance 1-s if it is
//     known, g if not; s is drawn from 0.02 to 0.12 and g from 0.05 to 0.30,
//     anew for each pupil and skill, so that they are not the model's. The line
//     is right if every part is done.
//   - A wrong line has its slips named with chance 0.7, where at most two parts
//     failed and the catalogue has a slip for each; else nothing is named.
//   - After a line, each skill it exercises that is not known becomes known with
//     the pupil's own chance, drawn from 0.05 to 0.25, if its prerequisites are
//     known; else with a quarter of that.
//   - An entry that is zero is a line like any other.
//   - Nothing is forgotten, nobody asks for hints, and three problems are worked
//     a day.
//
// Which skills a line exercises is taken from the course, as the model takes
// it, and so are the prerequisites: a wrong table is not seen here.
type pupil struct {
	rng         *rand.Rand
	knows       Set
	slip, guess [count]float64
	learns      float64
	still       bool // learns nothing
}

const perDay = 3

func within(rng *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }

// newPupil draws pupil i: who they are depends on i alone, what befalls them on
// luck too.
func newPupil(i, luck uint64) *pupil {
	who := rand.New(rand.NewPCG(1995, i))
	p := &pupil{rng: rand.New(rand.NewPCG(luck, i)), learns: within(who, 0.05, 0.25)}
	able := within(who, 0.1, 0.5)
	var decided Set
	for decided != everything {
		for k := range Skill(count) {
			if decided.Has(k) || prerequisites[k]&^decided != 0 {
				continue
			}
			decided |= 1 << k
			if who.Float64() < able && prerequisites[k]&^p.knows == 0 {
				p.knows |= 1 << k
			}
			p.slip[k], p.guess[k] = within(who, 0.02, 0.12), within(who, 0.05, 0.30)
		}
	}
	return p
}

func (p *pupil) all() bool { return p.knows == everything }

// try works a line, and gives the skills that failed in it.
func (p *pupil) try(needs Set) (failed Set) {
	for k := range needs.each {
		does := p.guess[k]
		if p.knows.Has(k) {
			does = 1 - p.slip[k]
		}
		if p.rng.Float64() >= does {
			failed |= 1 << k
		}
	}
	if p.still {
		return failed
	}
	held := p.knows
	for k := range needs.each {
		chance := p.learns
		if prerequisites[k]&^held != 0 {
			chance /= 4
		}
		if p.rng.Float64() < chance {
			p.knows |= 1 << k
		}
	}
	return failed
}

// slipFor is a code of the catalogue for each skill, in a moment entry or not.
var slipFor = func() (out [2][count]string) {
	for code, b := range blame {
		for m, name := range []string{b.skill, b.inMoment} {
			if name == "" {
				name = b.skill
			}
			if old := out[m][skillOf(name)]; old == "" || code < old {
				out[m][skillOf(name)] = code
			}
		}
	}
	return out
}()

// names is the slips that the grading names, if it does.
func (p *pupil) names(failed Set, moment bool) (codes []string) {
	m := 0
	if moment {
		m = 1
	}
	for k := range failed.each {
		if slipFor[m][k] == "" {
			return nil
		}
		codes = append(codes, slipFor[m][k])
	}
	if len(codes) > 2 || p.rng.Float64() >= 0.7 {
		return nil
	}
	return codes
}

// event is a line worked, as the log has it.
func (p *pupil) event(s *Situation, l Line, session string, day int) tutor.Event {
	e := tutor.Event{Kind: tutor.Answered, Session: session, Problem: s.ID, Body: l.Body, Step: l.Step, Cell: l.Cell, Pivot: l.Pivot,
		Typed: "done", Verdict: "right", At: time.Unix(int64(day)*86400+36000, 0), Seconds: 30, Try: 1}
	failed := p.try(l.Needs)
	switch {
	case failed == 0:
	case l.Step == string(tutor.StepPivot):
		e.Verdict = "remark"
	default:
		e.Verdict, e.Slip = "wrong", p.names(failed, l.Step == string(tutor.StepMoment))
	}
	return e
}

// most is where a run is given up.
const most = 400

// problemsTo is how many problems a pupil works, chosen by pick, until every
// skill is known. The model follows along where there is one.
func (p *pupil) problemsTo(c *Course, m *Model, pick func(n, day int) int) int {
	for n := range most {
		if p.all() {
			return n
		}
		day := n / perDay
		s := c.Situations[pick(n, day)]
		session := fmt.Sprint(n)
		for _, l := range s.Lines {
			if m == nil {
				p.try(l.Needs)
				continue
			}
			e := p.event(s, l, session, day)
			m.Update(&e)
		}
	}
	return most
}

// policies are ways to choose the next problem.
var policies = []struct {
	name string
	run  func(c *Course, i uint64) int
}{
	{"adaptive", func(c *Course, i uint64) int {
		m := NewModel(c, time.UTC)
		return newPupil(i, 1).problemsTo(c, m, func(_, day int) int {
			next, _ := m.Next(day)
			return next.situation
		})
	}},
	{"fixed, the bank's order", func(c *Course, i uint64) int {
		return newPupil(i, 2).problemsTo(c, nil, func(n, _ int) int { return n % len(c.Situations) })
	}},
	{"fixed, by level", func(c *Course, i uint64) int {
		order := byLevel(c)
		return newPupil(i, 3).problemsTo(c, nil, func(n, _ int) int { return order[n%len(order)] })
	}},
	{"fixed, skill by skill", func(c *Course, i uint64) int {
		order := bySkill(c)
		return newPupil(i, 6).problemsTo(c, nil, func(n, _ int) int { return order[n%len(order)] })
	}},
	{"random", func(c *Course, i uint64) int {
		rng := rand.New(rand.NewPCG(77, i))
		return newPupil(i, 4).problemsTo(c, nil, func(_, _ int) int { return rng.IntN(len(c.Situations)) })
	}},
	{"random, none twice", func(c *Course, i uint64) int {
		rng := rand.New(rand.NewPCG(78, i))
		order := rng.Perm(len(c.Situations))
		return newPupil(i, 5).problemsTo(c, nil, func(n, _ int) int { return order[n%len(order)] })
	}},
}

// byLevel is the order of levels, the families mixed within each.
func byLevel(c *Course) []int {
	var order []int
	for i := range c.Situations {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return c.Situations[a].Level - c.Situations[b].Level })
	return order
}

// bySkill is the order of one who knows which skills are rare: each skill in
// turn, as the first course meets them, with the easiest situation for it that
// was not had yet, round and round.
func bySkill(c *Course) []int {
	var order []int
	levels := byLevel(c)
	used := make([]int, len(c.Situations))
	for range 20 {
		for k := range Skill(count) {
			best := -1
			for _, i := range levels {
				if c.Situations[i].Skills.Has(k) && (best < 0 || used[i] < used[best]) {
					best = i
				}
			}
			used[best]++
			order = append(order, best)
		}
	}
	return order
}

func testCourse() *Course { return NewCourse(problems.Builtin()) }
