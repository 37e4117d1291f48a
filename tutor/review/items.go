package review

import (
	"cmp"
	"fmt"
	"slices"
)

// grid is scores by learner and item, with room for what is missing.
type grid struct {
	items    []string
	learners []uint32
	score    map[[2]uint32]float64 // learner, item number
	binary   bool
}

// items gives the figures of classical test theory: for the problems of the
// class, and for the lines of each problem.
func (c *class) items() []ItemSet {
	type share struct{ first, met int }
	whole := map[[2]uint32]*share{}     // learner, problem
	lines := map[uint32]*grid{}         // by problem
	numbers := map[problemTask]uint32{} // item of a line in its problem's grid
	begun := map[[2]uint32]uint32{}     // learner, problem: the session that counts, the first
	taken := map[uint32]bool{}
	learners := c.st.learnersInOrder()
	for i := range c.mets {
		m := &c.mets[i]
		if m.attempts == 0 && !m.shown {
			continue
		}
		at := c.of(m)
		who := [2]uint32{c.learner(m), at.problem}
		if s, ok := begun[who]; !ok {
			begun[who] = m.session
		} else if s != m.session {
			continue
		}
		w := whole[who]
		if w == nil {
			w = &share{}
			whole[who] = w
		}
		w.met++
		g := lines[at.problem]
		if g == nil {
			g = &grid{learners: learners, score: map[[2]uint32]float64{}, binary: true}
			lines[at.problem] = g
			taken[at.problem] = true
		}
		n, ok := numbers[at]
		if !ok {
			n = uint32(len(g.items))
			numbers[at] = n
			g.items = append(g.items, c.lineName(at.task))
		}
		score := 0.0
		if m.first {
			w.first++
			score = 1
		}
		g.score[[2]uint32{who[0], n}] = score
	}
	all := &grid{learners: learners, score: map[[2]uint32]float64{}}
	var problems []uint32
	for p := range taken {
		problems = append(problems, p)
	}
	slices.SortFunc(problems, func(a, b uint32) int { return cmp.Compare(c.st.str(a), c.st.str(b)) })
	for n, p := range problems {
		all.items = append(all.items, c.st.str(p))
		for _, l := range learners {
			if w := whole[[2]uint32{l, p}]; w != nil {
				all.score[[2]uint32{l, uint32(n)}] = float64(w.first) / float64(w.met)
			}
		}
	}
	out := []ItemSet{all.report("problems", "the share of a learner's lines that were right first time, in the first session at the problem")}
	for _, p := range problems {
		out = append(out, lines[p].usual().report(c.st.str(p), "1 if the line was right first time, else 0, in the first session at the problem"))
	}
	return out
}

func (c *class) lineName(task uint32) string {
	t := c.st.tasks.list[task]
	name := c.st.str(t.step)
	if cell := c.st.str(t.cell); cell != "" {
		name += " " + cell
	}
	if body := c.st.str(t.body); body != "" {
		name += " (" + body + ")"
	}
	return name
}

// usual keeps the items that at least half of the learners who met any have
// met: which lines are asked for depends on how one goes about it.
func (g *grid) usual() *grid {
	met := make([]int, len(g.items))
	any := map[uint32]bool{}
	for key := range g.score {
		met[key[1]]++
		any[key[0]] = true
	}
	out := &grid{learners: g.learners, score: map[[2]uint32]float64{}, binary: g.binary}
	for i, item := range g.items {
		if 2*met[i] < len(any) {
			continue
		}
		n := uint32(len(out.items))
		out.items = append(out.items, item)
		for _, l := range g.learners {
			if v, ok := g.score[[2]uint32{l, uint32(i)}]; ok {
				out.score[[2]uint32{l, n}] = v
			}
		}
	}
	return out
}

// complete is the scores of the learners who met every item.
func (g *grid) complete() [][]float64 {
	var out [][]float64
	for _, l := range g.learners {
		row := make([]float64, 0, len(g.items))
		for i := range g.items {
			if v, ok := g.score[[2]uint32{l, uint32(i)}]; ok {
				row = append(row, v)
			}
		}
		if len(row) == len(g.items) {
			out = append(out, row)
		}
	}
	return out
}

func (g *grid) report(name, scored string) ItemSet {
	set := ItemSet{Name: name, Scored: scored, Reliability: "alpha", Items: []ItemStat{}}
	if g.binary {
		set.Reliability = "KR-20"
	}
	scores := g.complete()
	set.Learners = len(scores)
	enough := len(scores) >= MinDiscrimination && len(g.items) >= MinItems
	switch {
	case len(g.items) < MinItems:
		set.Silence = fmt.Sprintf("%s; at least %d are needed", plural(len(g.items), "item"), MinItems)
	case !enough:
		set.Silence = fmt.Sprintf("%s met every item; at least %d are needed", plural(len(scores), "learner"), MinDiscrimination)
	}
	if enough {
		if v, ok := alpha(scores); ok {
			set.Alpha = &v
		} else {
			set.Silence = "every learner has the same sum"
		}
	}
	for i, item := range g.items {
		set.Items = append(set.Items, g.item(i, item, scores, enough))
	}
	return set
}

func (g *grid) item(i int, name string, scores [][]float64, enough bool) ItemStat {
	s := ItemStat{Item: name}
	total := 0.0
	for _, l := range g.learners {
		if v, ok := g.score[[2]uint32{l, uint32(i)}]; ok {
			s.N++
			total += v
		}
	}
	if s.N >= MinFacility {
		f := total / float64(s.N)
		s.Facility = &f
		if g.binary {
			r := Wilson(int(total), s.N)
			s.Interval = &r
		}
	}
	if enough {
		if r, ok := itemRest(scores, i); ok {
			s.Discrimination = &r
		}
	}
	return s
}
