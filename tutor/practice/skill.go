// Package practice says what a learner knows, skill by skill, and what to work
// next. It is pure: fed with the events of a learner's log and with the bank,
// it knows no terminal, no disk, and no clock but the days it is told.
//
// A [Course] is the bank digested: which skills each line of each situation
// exercises. A [Model] is the fold of a learner's events: what kind of learner
// it likely is, and from that one probability a skill. [Model.Next] chooses the
// next problem, and [Model.Plan] lays out the days until an exam.
package practice

import (
	"math/bits"
	"slices"

	"steelyard/problems"
)

// Skill is an index into [problems.Skills].
type Skill int

// count is how many skills there are; a test holds it against the list.
const count = 13

// Name is the skill's name in scenario files.
func (k Skill) Name() string { return problems.Skills[k] }

func skillOf(name string) Skill {
	i := slices.Index(problems.Skills, name)
	if i < 0 {
		panic("practice: no skill " + name)
	}
	return Skill(i)
}

// Set is a set of skills, a bit for each.
type Set uint16

// SetOf is the set of the skills named.
func SetOf(names ...string) Set {
	var s Set
	for _, n := range names {
		s |= 1 << skillOf(n)
	}
	return s
}

// Has reports whether k is in s.
func (s Set) Has(k Skill) bool { return s>>k&1 == 1 }

// everything is the set of all skills.
const everything Set = 1<<count - 1

// size is how many skills are in s.
func (s Set) size() int { return bits.OnesCount16(uint16(s)) }

// each gives the skills of s in order.
func (s Set) each(yield func(Skill) bool) {
	for s != 0 {
		k := Skill(bits.TrailingZeros16(uint16(s)))
		if !yield(k) {
			return
		}
		s &^= 1 << k
	}
}

// Names lists the skills of s in order.
func (s Set) Names() []string {
	out := []string{}
	for k := range s.each {
		out = append(out, k.Name())
	}
	return out
}

// before is what should be in hand before a skill is aimed at: the order in
// which a first course meets them.
var before = map[string][]string{
	"forces":     {},
	"pivot":      {"forces"},
	"arm":        {"forces"},
	"sign":       {"forces"},
	"components": {"forces"},
	"friction":   {"forces", "components"},
	"couple":     {"arm", "sign"},
	"load":       {"forces", "arm"},
	"tipping":    {"forces", "arm"},
	"inertia":    {"forces", "arm", "sign"},
	"joint":      {"forces", "equation"},
	"equation":   {"sign"},
	"value":      {"equation"},
}

// prerequisites is the table above as sets, by skill.
var prerequisites = func() (out [count]Set) {
	for name, needs := range before {
		out[skillOf(name)] = SetOf(needs...)
	}
	return out
}()

// blame is which skill a slip tells of. inMoment, where it is not empty, is the
// skill in a moment entry.
var blame = map[string]struct{ skill, inMoment string }{
	"sense-reversed":       {"sign", ""},
	"friction-reversed":    {"friction", ""},
	"sine-cosine":          {"components", "arm"},
	"whole-distance":       {"arm", ""},
	"whole-force":          {"components", ""},
	"component-omitted":    {"components", ""},
	"weight-at-end":        {"forces", ""},
	"arm-elsewhere":        {"arm", ""},
	"wrong-point":          {"forces", ""},
	"no-arm":               {"arm", ""},
	"arm-only":             {"components", "arm"},
	"left-out":             {"equation", ""},
	"mass-for-weight":      {"forces", ""},
	"g-twice":              {"forces", ""},
	"component-twice":      {"components", ""},
	"other-angle":          {"components", "arm"},
	"tension-is-weight":    {"forces", ""},
	"normal-is-weight":     {"forces", ""},
	"friction-at-limit":    {"friction", ""},
	"friction-from-weight": {"friction", ""},
	"load-not-multiplied":  {"load", ""},
	"load-centroid":        {"load", ""},
	"couple-with-distance": {"couple", ""},
	"arm-squared":          {"arm", ""},
	"in-radians":           {"value", ""},
	"unit-prefix":          {"value", ""},
	"other-force":          {"equation", ""},
	"through-pivot":        {"arm", ""},
	"no-component":         {"components", ""},
	"rounded-early":        {"value", ""},
	"value-early":          {"value", ""},
	"force-missing":        {"forces", ""},
	"not-on-body":          {"forces", ""},
	"misplaced":            {"forces", ""},
	"partner-sense":        {"joint", ""},
	"wrong-direction":      {"forces", ""},
	"listed-twice":         {"forces", ""},
	"says-nothing":         {"equation", ""},
	"mixed-rows":           {"equation", ""},
	"another-row":          {"equation", ""},
	"wrong-unit":           {"value", ""},
	"carried-error":        {"equation", ""},
	"other-root":           {"value", ""},
}

// blamed is the skills that the slips named on a line tell of. A code that is
// not in the table, as from another edition's log, tells of none.
func blamed(codes []string, moment bool) Set {
	var s Set
	for _, code := range codes {
		switch b, ok := blame[code]; {
		case !ok:
		case moment && b.inMoment != "":
			s |= SetOf(b.inMoment)
		default:
			s |= SetOf(b.skill)
		}
	}
	return s
}
