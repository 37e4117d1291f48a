package practice

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Aim says why a skill is aimed at.
type Aim string

// The aims, in the order in which they are looked for.
const (
	Review Aim = "review" // known, and due again: once a day, first, unless the next aim meets it in passing
	Weak   Aim = "weak"   // the weakest that the learner is ready for
	Ahead  Aim = "ahead"  // the weakest, though what it builds on is not in hand
	Keep   Aim = "keep"   // all is known: what is due first
)

// Choice is a problem chosen, and why.
type Choice struct {
	Problem string  `json:"problem"`
	Seed    uint64  `json:"seed"`
	Title   string  `json:"title"`
	Family  string  `json:"family"`
	Level   int     `json:"level"`
	Minutes float64 `json:"minutes"` // at the learner's pace
	Skill   string  `json:"skill"`   // aimed at
	Aim     Aim     `json:"aim"`
	Again   bool    `json:"again,omitempty"` // worked lately; nothing else has the skill
	Why     string  `json:"why"`             // one sentence

	situation int
}

// Not too soon: a situation rests for this many problems and this many days
// (ours).
const (
	restProblems = 5
	restDays     = 2
)

// candidate is a skill that may be aimed at.
type candidate struct {
	skill Skill
	aim   Aim
}

// Next chooses the problem to work on a day. ok is false if the bank has none
// at all.
//
// A day opens with a skill that is known and due again, if there is one that
// the problem for the weakest would not exercise in passing; after that the
// weakest skill that the learner is ready for is aimed at. A skill
// that both of the last two problems exercised gives way to others, so that
// practice is mixed. Of the situations that exercise the skill, one is taken
// that rests long enough and costs least (see [Model.cost]).
func (m *Model) Next(day int) (Choice, bool) {
	all := m.Offers(day, 1)
	if len(all) == 0 {
		return Choice{}, false
	}
	return all[0], true
}

// Offers is the choice for a day and the next best, up to n, each of another
// skill and another situation.
func (m *Model) Offers(day, n int) []Choice {
	aims := m.aims(day)
	var out []Choice
	for _, again := range []bool{false, true} {
		for _, a := range aims {
			if len(out) == n {
				return out
			}
			if slices.ContainsFunc(out, func(c Choice) bool { return c.Skill == a.skill.Name() }) {
				continue
			}
			if i := m.pick(a.skill, day, again, out); i >= 0 {
				out = append(out, m.choice(i, a, again, len(out) > 0))
			}
		}
	}
	return out
}

// aims is the skills in the order in which they are to be aimed at.
func (m *Model) aims(day int) []candidate {
	mastered, ready, lately := m.mastered(), m.ready(), m.lately()
	var due, weak, giving, ahead, keep []candidate
	for k := range Skill(count) {
		on, was := m.Due(k)
		switch {
		case mastered.Has(k) && was && on <= day && m.days[day].Problems == 0:
			due = append(due, candidate{k, Review})
		case mastered.Has(k):
			keep = append(keep, candidate{k, Keep})
		case !ready.Has(k):
			ahead = append(ahead, candidate{k, Ahead})
		case lately.Has(k):
			giving = append(giving, candidate{k, Weak})
		default:
			weak = append(weak, candidate{k, Weak})
		}
	}
	byDue := func(a, b candidate) int {
		x, _ := m.Due(a.skill)
		y, _ := m.Due(b.skill)
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a.skill, b.skill))
	}
	byKnown := func(a, b candidate) int {
		return cmp.Or(cmp.Compare(m.known[a.skill], m.known[b.skill]), cmp.Compare(a.skill, b.skill))
	}
	slices.SortFunc(due, byDue)
	slices.SortFunc(keep, byDue)
	for _, s := range [][]candidate{weak, giving, ahead} {
		slices.SortFunc(s, byKnown)
	}
	rest := slices.Concat(weak, giving, ahead, keep)
	return append(m.unmet(due, rest, day), rest...)
}

// unmet is those of the skills due that the problem of the first aim after them
// would not exercise.
func (m *Model) unmet(due, rest []candidate, day int) []candidate {
	if len(due) == 0 {
		return nil
	}
	for _, a := range rest {
		i := m.pick(a.skill, day, false, nil)
		if i < 0 || a.aim == Keep {
			continue
		}
		met := m.course.Situations[i].Skills
		return slices.DeleteFunc(due, func(c candidate) bool { return met.Has(c.skill) })
	}
	return due
}

// lately is the skills that both of the last two problems exercised.
func (m *Model) lately() Set {
	n := len(m.order)
	if n < 2 {
		return 0
	}
	s := m.course.Situations
	return s[m.order[n-1]].Skills & s[m.order[n-2]].Skills
}

// pick is the situation that exercises a skill at the least cost, or -1.
// Without again, only those that have rested are looked at.
func (m *Model) pick(k Skill, day int, again bool, not []Choice) int {
	best, least := -1, math.Inf(1)
	mastered, ready := m.mastered(), m.ready()
	for i, s := range m.course.Situations {
		if !s.Skills.Has(k) || !again && m.soon(i, day) || slices.ContainsFunc(not, func(c Choice) bool { return c.situation == i }) {
			continue
		}
		if c := m.cost(i, k, mastered, ready, again); c < least {
			best, least = i, c
		}
	}
	return best
}

// soon reports whether a situation has not rested yet.
func (m *Model) soon(i, day int) bool {
	w := m.worked[i]
	return w.times > 0 && (len(m.order)-w.place <= restProblems || day-w.day < restDays)
}

// The costs of a situation (ours): each skill in it that the learner is not
// ready for, each level away from the level that goes with the skill, each level
// that it is more than one above all that was worked before, each time it was
// worked before, the family of the last problem; and what each of its
// skills that is still open takes off.
const (
	costUnready = 2.0
	costLevel   = 1.0
	costSteep   = 3.0
	costWorked  = 1.0
	costFamily  = 1.0
	worthOpen   = 0.5
)

func (m *Model) cost(i int, k Skill, mastered, ready Set, again bool) float64 {
	s, w := m.course.Situations[i], m.worked[i]
	c := costLevel*math.Abs(float64(s.Level-level(m.known[k]))) + costWorked*float64(w.times) +
		costSteep*float64(max(0, s.Level-m.top-1))
	for o := range s.Skills.each {
		switch {
		case mastered.Has(o):
		case !ready.Has(o) && o != k:
			c += costUnready
		default:
			c -= worthOpen
		}
	}
	if n := len(m.order); n > 0 {
		last := m.order[n-1]
		if m.course.Situations[last].Family == s.Family {
			c += costFamily
		}
		if again { // the longest ago first
			c += float64(w.place-n) / float64(n+1)
			if last == i {
				c += 100
			}
		}
	}
	return c
}

// levels are the probabilities from which a level goes with a skill (ours).
var levels = [...]float64{0.40, 0.60, 0.85}

// level is the level of problem that goes with a skill known with probability
// p: 1 to 4.
func level(p float64) int {
	n := 1
	for _, from := range levels {
		if p >= from {
			n++
		}
	}
	return n
}

func (m *Model) choice(i int, a candidate, again, other bool) Choice {
	s := m.course.Situations[i]
	again = again && m.worked[i].times > 0
	return Choice{Problem: s.ID, Seed: seed(s.ID, m.worked[i].times), Title: s.Title, Family: s.Family, Level: s.Level,
		Minutes: math.Round(10*s.Minutes(m.Pace())) / 10, Skill: a.skill.Name(), Aim: a.aim, Again: again, Why: m.why(a, again, other), situation: i}
}

// seed is the seed of the n-th time a situation is offered, so that the same
// log gives the same offer, and the next time has other numbers.
func seed(id string, n int) uint64 {
	h := uint64(14695981039346656037) // FNV-1a, 64 bits (Fowler, Noll, Vo; from memory)
	for _, b := range []byte(fmt.Sprintf("%s %d", id, n)) {
		h = (h ^ uint64(b)) * 1099511628211
	}
	return h % 100_000
}

// why says in one sentence why a skill is aimed at; other, that it is offered
// beside one that comes before it.
func (m *Model) why(a candidate, again, other bool) string {
	k := a.skill
	name, now := Plainly[k.Name()], fmt.Sprintf("%.0f %% likely known, seen %s", 100*m.known[k], times(m.seen[k]))
	if m.seen[k] == 0 {
		now = "not seen yet"
	}
	on, _ := m.Due(k)
	var s string
	switch a.aim {
	case Review:
		s = fmt.Sprintf("Likely known, and due again since %s: %s (%s)", Date(on), name, now)
	case Weak:
		s = "The weakest skill that you are ready for"
		switch {
		case other:
			s = "Open too, and you are ready for it"
		case m.weaker(k):
			s += " and did not just practise"
		}
		s += fmt.Sprintf(": %s (%s)", name, now)
	case Ahead:
		s = "The weakest skill"
		if other {
			s = "Open too"
		}
		s += fmt.Sprintf(", though what it builds on is not sure yet: %s (%s)", name, now)
	default:
		s = fmt.Sprintf("Every skill is likely known; due first, on %s: %s (%s)", Date(on), name, now)
	}
	if again {
		s += "; you worked this one lately, but here are other numbers, and nothing else is left that has rested"
	}
	return s + "."
}

// weaker reports whether a skill that the learner is ready for is weaker than
// k: it gave way, since the last two problems both exercised it, or since none
// of its situations has rested.
func (m *Model) weaker(k Skill) bool {
	for o := range (m.ready() &^ m.mastered()).each {
		if m.known[o] < m.known[k] {
			return true
		}
	}
	return false
}
