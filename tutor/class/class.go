// Package class invents a class of learners and lets them work: each sits at
// the real [tutor.Session] of a real problem, and what they do is recorded as
// it would be. What is wrong with them is known, because it was planted, so
// that what a review says of their log can be held against the truth.
//
// Nothing here is drawn from real learners. The rates and times are round
// figures, stated beside the log; they are there to be found again, not to be
// believed.
//
// The same seed gives the same log, to the byte, as long as the scenarios and
// the grading are the same.
package class

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"steelyard/grading"
	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/tutor"
)

// Lab is the twelve problems that a class works, in the order of the lab's
// sheet, unless others are named.
var Lab = []string{
	"plank-balance", "quay-plank", "winch-bar", "lamp-two-wires", "davit-arm", "boom-inclined",
	"hull-ladder", "drum-kerb", "arm-strut-below", "slip-beam-part", "trailer-braking", "two-bar-bracket",
}

// Cohort is the group that the learners' events carry, and Set the list that
// the problems are from.
const (
	Cohort = "lab-3"
	Set    = "quayside"
)

// Class is invented learners, the problems they work, and what was planted in
// them. [New] makes one; [Class.Play] lets it work and fills in what came of
// what was planted.
type Class struct {
	About    string      `json:"about"`
	Seed     uint64      `json:"seed"`
	Cohort   string      `json:"cohort"`
	Set      string      `json:"set"`
	Learners []*Learner  `json:"learners"`
	Problems []Problem   `json:"problems"`
	Skills   []Skill     `json:"skills"`
	Planted  []*Planted  `json:"planted"`
	Alike    []Alike     `json:"alike"`
	Times    []StepTimes `json:"times"`
}

// about stands at the head of what is kept beside a log.
const about = "A class that was invented: no learner here is real. Who holds what, at which rates, is what a review of the log should find. " +
	"A planted slip is written by its holders alone, and by those who copy from them; answers chosen from a list, as in the doubt step, are not planted. " +
	"Made again by: go test ./tutor/class -run Testdata -update"

// Problem is one problem of the lab: a scenario, the hash of its text, and the
// seeds that the rows of desks are given.
type Problem struct {
	ID    string   `json:"id"`
	Hash  string   `json:"scenario_hash"`
	Seeds []uint64 `json:"seeds"`

	drawn []*problems.Problem // one for each seed
}

// Learner is one invented learner. Ability, pace and the rest multiply what
// the class as a whole does.
type Learner struct {
	Alias     string             `json:"alias"`
	Desk      int                `json:"desk"`             // row of desks, which says which seed; from 0
	Slips     map[string]float64 `json:"slips"`            // chance of a plain slip at the first line of a skill, by skill
	Pace      float64            `json:"pace"`             // 1 is the class's median; 2 takes twice as long
	Leaves    float64            `json:"leaves"`           // chance of going away after a wrong line
	Struggles bool               `json:"struggles"`        // slips more, waits longer, asks for more
	Clockwise bool               `json:"clockwise"`        // counts clockwise positive
	Whole     float64            `json:"whole_equations"`  // chance of writing a row whole
	Stays     int                `json:"problems_reached"` // how many of the problems they come to
	Holds     []string           `json:"holds"`            // names of what was planted in them

	holds []*Planted
}

// Skill is what a kind of line asks for. The chance of a plain slip at the
// n-th line of a skill is a learner's own at the first, times n to the power
// of minus Learning. What was planted comes on top and is not learned away.
type Skill struct {
	Name     string   `json:"name"`
	Steps    []string `json:"steps"`
	First    float64  `json:"first"`    // chance of a plain slip at the first line, for the middle learner
	Learning float64  `json:"learning"` // 0 for a skill that does not improve
}

var skills = []Skill{
	{Name: "pivot", Steps: []string{"pivot"}, First: 0},
	{Name: "forces", Steps: []string{"forces"}, First: 0.12, Learning: 0.3},
	{Name: "components", Steps: []string{"x", "y"}, First: 0.16, Learning: 0.35},
	{Name: "arm", Steps: []string{"moment"}, First: 0.25, Learning: 0.35},
	{Name: "equation", Steps: []string{"equation"}, First: 0.20, Learning: 0.3},
	{Name: "value", Steps: []string{"value"}, First: 0.15, Learning: 0}, // never improves
	{Name: "doubt", Steps: []string{"doubt"}, First: 0.10, Learning: 0.2},
}

// Planted is one misconception. Of a predicted one Slip is the code, and what
// is written is the entry that the slip's edit gives; an unpredicted one is a
// wrong line that no slip explains, at one cell of one problem, in several
// forms that mean the same.
//
// A planted code is written by those who hold it alone: plain slips are drawn
// from the others.
type Planted struct {
	Name    string   `json:"name"`
	Slip    string   `json:"slip,omitempty"`
	Problem string   `json:"problem,omitempty"`
	Step    string   `json:"step,omitempty"`
	Cell    string   `json:"cell,omitempty"`
	Pivot   string   `json:"pivot,omitempty"`
	Forms   []string `json:"forms,omitempty"`
	Held    float64  `json:"held"`   // share of the class that holds it
	Chance  float64  `json:"chance"` // that a holder writes it at the first attempt at an entry it applies to
	Again   float64  `json:"again"`  // and at the next attempt, having been told
	Rate    float64  `json:"rate"`   // share of learners to be expected to write it at least once

	// What came of it.
	Holders  []string `json:"holders"`
	Writers  []string `json:"writers"`  // who wrote it at least once
	Applied  int      `json:"applied"`  // entries at which a holder came to it
	Attempts int      `json:"attempts"` // lines in the log that are it
}

// planted is what a class is given. The forms of unpredicted lines are for
// anticlockwise positive, about the pivot named.
func planted() []*Planted {
	return []*Planted{
		{Name: "sine for cosine", Slip: "sine-cosine", Held: 0.45, Chance: 0.7, Again: 0.3},
		{Name: "mass for weight", Slip: "mass-for-weight", Held: 0.35, Chance: 0.75, Again: 0.25},
		{Name: "no lever arm", Slip: "no-arm", Held: 0.30, Chance: 0.6, Again: 0.3},
		{Name: "weight at a third", Problem: "davit-arm", Step: "moment", Cell: "W", Pivot: "A", Held: 0.5, Chance: 0.9, Again: 0.5,
			Forms: []string{"-M g L/3", "-L M g / 3", "-g·L·M/3", "-(1/3)*M*g*L", "-W L/3"}},
		{Name: "tangent for sine", Problem: "hull-ladder", Step: "moment", Cell: "N_w", Pivot: "A", Held: 0.4, Chance: 0.9, Again: 0.4,
			Forms: []string{"N_w L tan(alpha)", "L N_w tan(alpha)", "N_w tan(alpha) L", "tan(alpha) * L * N_w"}},
		{Name: "divided by the cosine", Problem: "hull-ladder", Step: "moment", Cell: "W_p", Pivot: "A", Held: 0.3, Chance: 0.9, Again: 0.4,
			Forms: []string{"-m g d/cos(alpha)", "-d m g / cos(alpha)", "-(m g d)/(cos(alpha))"}},
		{Name: "twice the angle", Problem: "davit-arm", Step: "y", Cell: "T", Held: 0.25, Chance: 0.9, Again: 0.3,
			Forms: []string{"T sin(2 alpha)", "T*sin(2*alpha)", "2 T sin(alpha) cos(alpha)"}},
	}
}

// Alike is two learners of whom the second wrote down what the first had
// written, at some of the problems.
type Alike struct {
	From     string   `json:"from"`
	To       string   `json:"to"`
	Problems []string `json:"problems"`
}

// StepTimes is how long a line of a step takes: log-normal, with this median
// for the middle learner and this spread of the logarithm.
type StepTimes struct {
	Step   string  `json:"step"`
	Median float64 `json:"median_seconds"`
	Spread float64 `json:"spread"`
}

var times = []StepTimes{
	{"began", 5, 0.4}, {"pivot", 25, 0.5}, {"forces", 14, 0.5}, {"x", 9, 0.6}, {"y", 9, 0.6}, {"moment", 20, 0.6},
	{"equation", 40, 0.5}, {"value", 45, 0.6}, {"doubt", 18, 0.5}, {"hinted", 10, 0.5}, {"positive", 4, 0.4},
}

// aliases are the names that learners chose; a number follows where there are
// more learners than names.
var aliases = []string{
	"kestrel", "otter", "heron", "tern", "plover", "curlew", "eider", "fulmar", "gannet", "dunlin", "avocet", "bittern",
	"cormorant", "dipper", "egret", "grebe", "knot", "lapwing", "merlin", "petrel", "puffin", "razorbill", "sanderling", "scoter",
	"shelduck", "skua", "smew", "snipe", "teal", "turnstone", "whimbrel", "wigeon", "osprey", "harrier", "hobby", "siskin",
	"linnet", "pipit", "wagtail", "wren",
}

// New invents a class. With no problems named they work [Lab]. An error names
// a problem that the bank does not have.
func New(seed uint64, learners int, ids ...string) (*Class, error) {
	if learners < 1 {
		return nil, fmt.Errorf("a class has at least 1 learner, not %d", learners)
	}
	if len(ids) == 0 {
		ids = Lab
	}
	c := &Class{About: about, Seed: seed, Cohort: Cohort, Set: Set, Skills: skills, Times: times}
	if err := c.draw(ids); err != nil {
		return nil, err
	}
	for _, p := range planted() {
		if p.Problem == "" || slices.Contains(ids, p.Problem) {
			p.Rate = p.Held
			if p.Problem != "" {
				p.Rate = round(p.Held*p.Chance, 4)
			}
			p.Holders, p.Writers = []string{}, []string{}
			c.Planted = append(c.Planted, p)
		}
	}
	for i := range learners {
		c.invite(i)
	}
	c.plant()
	c.pair()
	return c, nil
}

// desks is how many rows of desks there are, each with other numbers.
const desks = 3

func (c *Class) draw(ids []string) error {
	for i, id := range ids {
		s, err := problems.Builtin().Scenario(id)
		if err != nil {
			return err
		}
		p := Problem{ID: id, Hash: s.Hash}
		for row := range desks {
			seed := uint64(100*(i+1) + row)
			drawn, err := grading.Draw(s, seed)
			if err != nil {
				return err
			}
			p.Seeds, p.drawn = append(p.Seeds, seed), append(p.drawn, drawn)
		}
		c.Problems = append(c.Problems, p)
	}
	return nil
}

// invite invents learner i.
func (c *Class) invite(i int) {
	rng := c.chance(i, 0)
	l := &Learner{Alias: alias(i), Desk: i % desks, Slips: map[string]float64{}, Holds: []string{}, Stays: len(c.Problems)}
	l.Struggles = rng.Float64() < 0.1
	more := 1.0
	if l.Struggles {
		more = 2.2
	}
	able := math.Exp(0.45 * rng.NormFloat64()) // all skills together
	for _, s := range c.Skills {
		l.Slips[s.Name] = round(min(0.8, s.First*more*able*math.Exp(0.2*rng.NormFloat64())), 4)
	}
	l.Pace = round(math.Exp(0.25*rng.NormFloat64())*math.Sqrt(more), 3)
	l.Leaves = round(0.015*more*rng.ExpFloat64(), 5)
	l.Clockwise = rng.Float64() < 0.08
	if rng.Float64() < 0.15 {
		l.Whole = 0.3
	}
	if rng.Float64() < 0.15 { // runs out of time
		l.Stays -= rng.IntN(1 + len(c.Problems)/2)
	}
	c.Learners = append(c.Learners, l)
}

// plant deals what is planted out, each to its share of the class by lot.
func (c *Class) plant() {
	for k, p := range c.Planted {
		n := int(math.Round(p.Held * float64(len(c.Learners))))
		for _, i := range c.chance(len(c.Learners)+k, 0).Perm(len(c.Learners))[:n] {
			l := c.Learners[i]
			l.holds, l.Holds = append(l.holds, p), append(l.Holds, p.Name)
			p.Holders = append(p.Holders, l.Alias)
		}
		slices.Sort(p.Holders)
	}
	for _, l := range c.Learners { // the special before the general
		slices.SortStableFunc(l.holds, func(a, b *Planted) int { return len(a.Slip) - len(b.Slip) })
	}
}

// pair lets one learner in twenty copy from the one three places before, who
// has the same numbers.
func (c *Class) pair() {
	for i := 11; i < len(c.Learners); i += 20 {
		a := Alike{From: c.Learners[i-desks].Alias, To: c.Learners[i].Alias}
		n := min(c.Learners[i].Stays, c.Learners[i-desks].Stays)
		for _, p := range c.Problems[:n] {
			if len(a.Problems) < 4 {
				a.Problems = append(a.Problems, p.ID)
			}
		}
		c.Alike = append(c.Alike, a)
	}
}

// chance is a source of chance for a learner's work at problem k, from 1, or
// for inventing the learner, 0. Each has its own, so that what one does is no
// part of what another does.
func (c *Class) chance(learner, k int) *rand.Rand {
	return rand.New(rand.NewPCG(c.Seed, uint64(learner)<<16|uint64(k)))
}

// plants reports whether a slip of that code was planted.
func (c *Class) plants(code string) bool {
	return slices.ContainsFunc(c.Planted, func(p *Planted) bool { return p.Slip == code })
}

// edits are the slips that edit an entry and were not planted.
func (c *Class) edits() []*slip.Slip {
	var out []*slip.Slip
	for i := range slip.Catalogue {
		if s := &slip.Catalogue[i]; s.Edit != nil && !c.plants(s.Code) {
			out = append(out, s)
		}
	}
	return out
}

func alias(i int) string {
	if n := i / len(aliases); n > 0 {
		return fmt.Sprintf("%s-%d", aliases[i%len(aliases)], n+1)
	}
	return aliases[i]
}

func skillOf(step tutor.Step) *Skill {
	for i := range skills {
		if slices.Contains(skills[i].Steps, string(step)) {
			return &skills[i]
		}
	}
	return &Skill{Name: string(step)}
}

func round(v float64, figures int) float64 {
	k := math.Pow10(figures)
	return math.Round(v*k) / k
}
