package review

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// Bounds on what is grouped and shown.
const (
	maxGroups    = 200  // in a report
	maxGrouped   = 5000 // different lines grouped at one cell
	maxGroupWays = 10   // ways of writing shown
)

// place is where lines may mean the same: a line of a scenario, and the pivot
// where that matters.
type place struct {
	problemTask
	pivot uint32
}

// cluster is lines that mean the same.
type cluster struct {
	meaning
	count    int
	learners crowd
	lines    map[lineKey]*lineCount
}

// unpredicted groups the wrong answers that no slip explains by what they
// mean.
func (c *class) unpredicted() []Group {
	at := map[place][]wrongKey{}
	for key := range c.wrongs {
		t := c.task(key.task)
		if key.slips != 0 || !isCell(t.step) && tutor.Step(t.step) != tutor.StepEquation && tutor.Step(t.step) != tutor.StepValue {
			continue
		}
		p := place{problemTask: problemTask{c.st.places.list[key.instance].problem, key.task}}
		if ofPivot(t.step, t.cell) {
			p.pivot = key.pivot
		}
		at[p] = append(at[p], key)
	}
	met := c.learnersAt()
	drawn := map[uint32]*problems.Problem{}
	var out []unnamedLine
	for p, keys := range at {
		s := c.scenario(p.problem)
		if s == nil {
			continue
		}
		for _, cl := range c.cluster(s, p, keys, drawn) {
			out = append(out, unnamedLine{c.group(s, p, cl, met[p.problemTask]), cl.writes()})
		}
	}
	slices.SortFunc(out, func(a, b unnamedLine) int {
		return cmp.Or(b.Learners-a.Learners, b.Answers-a.Answers, cmp.Compare(a.Problem, b.Problem), cmp.Compare(a.Body, b.Body),
			cmp.Compare(a.Step, b.Step), cmp.Compare(a.Cell, b.Cell), cmp.Compare(a.Pivot, b.Pivot), cmp.Compare(a.Meaning, b.Meaning))
	})
	out = out[:min(maxGroups, len(out))]
	c.offer(out)
	groups := make([]Group, len(out))
	for i := range out {
		groups[i] = out[i].Group
	}
	return groups
}

func (c *class) task(i uint32) lineTask {
	t := c.st.tasks.list[i]
	return lineTask{c.st.str(t.body), c.st.str(t.step), c.st.str(t.cell)}
}

// learnersAt counts the learners who met each line.
func (c *class) learnersAt() map[problemTask]int {
	seen := map[problemTask]map[uint32]bool{}
	for i := range c.mets {
		m := &c.mets[i]
		if m.attempts == 0 {
			continue
		}
		at := c.of(m)
		if seen[at] == nil {
			seen[at] = map[uint32]bool{}
		}
		seen[at][c.learner(m)] = true
	}
	out := map[problemTask]int{}
	for at, who := range seen {
		out[at] = len(who)
	}
	return out
}

// cluster puts the lines of one place together. Lines in symbols come first, so
// that numbers find the symbols they stand for; of the rest, the commonest.
func (c *class) cluster(s *problems.Scenario, at place, keys []wrongKey, drawn map[uint32]*problems.Problem) []*cluster {
	type read struct {
		meaning
		key wrongKey
	}
	slices.SortFunc(keys, func(a, b wrongKey) int {
		x, y := c.st.places.list[a.instance], c.st.places.list[b.instance]
		return cmp.Or(c.wrongs[b].count-c.wrongs[a].count, cmp.Compare(c.st.str(a.typed), c.st.str(b.typed)), cmp.Compare(x.seed, y.seed),
			cmp.Compare(c.st.str(x.given), c.st.str(y.given)), cmp.Compare(c.st.str(a.pivot), c.st.str(b.pivot)), cmp.Compare(a.positive, b.positive))
	})
	states := states(s)
	var lines []read
	for _, key := range keys[:min(maxGrouped, len(keys))] {
		p := c.draw(s, key.instance, drawn)
		if p == nil {
			continue
		}
		if m, ok := meaningOf(p, states, c.task(at.task), c.st.str(at.pivot), c.st.str(key.typed), turnings[key.positive] == "cw"); ok {
			lines = append(lines, read{m, key})
		}
	}
	slices.SortStableFunc(lines, func(a, b read) int { return boolOrder(a.symbols == nil, b.symbols == nil) })
	var out []*cluster
	for i := range lines {
		l := &lines[i]
		k := slices.IndexFunc(out, func(cl *cluster) bool { return cl.same(&l.meaning) })
		if k < 0 {
			k = len(out)
			out = append(out, &cluster{meaning: l.meaning, lines: map[lineKey]*lineCount{}})
		}
		out[k].add(c, l.key, &l.meaning)
	}
	return out
}

func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// add puts a line into the cluster. The shortest reading stands for it.
func (cl *cluster) add(c *class, key wrongKey, m *meaning) {
	w := c.wrongs[key]
	cl.count += w.count
	cl.learners.add(w.learners)
	addLine(cl.lines, c.lineKey(key), c.st.places.list[key.instance].seed, w)
	if (m.symbols != nil) == (cl.symbols != nil) && m.sign == cl.sign &&
		cmp.Or(utf8.RuneCountInString(m.reads)-utf8.RuneCountInString(cl.reads), cmp.Compare(m.reads, cl.reads)) < 0 {
		cl.reads, cl.ascii = m.reads, m.ascii
	}
}

func (c *class) draw(s *problems.Scenario, at uint32, drawn map[uint32]*problems.Problem) *problems.Problem {
	p, ok := drawn[at]
	if !ok {
		i := c.st.places.list[at]
		p, _ = s.Enter(i.seed, strings.Fields(c.st.str(i.given)), grading.Discriminates)
		drawn[at] = p
	}
	return p
}

func (c *class) group(s *problems.Scenario, at place, cl *cluster, met int) Group {
	t := c.task(at.task)
	g := Group{Problem: c.st.str(at.problem), Body: t.body, Step: t.step, Cell: t.cell, Pivot: c.st.str(at.pivot), Meaning: cl.reads,
		Learners: cl.learners.count(), Answers: cl.count, First: Wilson(cl.learners.count(), max(met, cl.learners.count())),
		Lines: c.lines(cl.lines, maxGroupWays), Ways: c.ways(cl)}
	if cl.symbols == nil && cl.right != nil {
		g.Meaning += fmt.Sprintf(" (%.3g times the right one)", mean(cl.times()))
	}
	return g
}

// writes is the line as a slip of the scenario tells it, with anticlockwise
// moments positive; "" if it has numbers in place of symbols.
func (cl *cluster) writes() string {
	switch {
	case cl.symbols == nil:
		return ""
	case cl.sign < 0 && len(cl.nodes) == 1:
		return "-(" + cl.ascii + ")"
	}
	return cl.ascii
}

// ways counts the texts that a cluster was written as.
func (c *class) ways(cl *cluster) int {
	seen := map[uint32]bool{}
	for k := range cl.lines {
		seen[k.typed] = true
	}
	return len(seen)
}

func mean(values []float64) float64 {
	m := sum(values) / float64(len(values))
	if math.Abs(m) < 1e-12 {
		return 0
	}
	return m
}
