package review

import (
	"cmp"
	"slices"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// slipCosts is what each slip cost, the dearest first: by the product of
// learners touched, attempts and minutes, so that what one learner did a
// hundred times does not come before what a hundred did once, nor what costs
// nobody a moment first of all.
func (c *class) slipCosts() []SlipCost {
	type found struct {
		attempts int
		learners crowd
		where    map[problemTask]bool
		lines    map[lineKey]*lineCount
	}
	slips := map[string]*found{}
	for key, w := range c.wrongs {
		for _, code := range c.st.codes(key.slips) {
			s := slips[code]
			if s == nil {
				s = &found{where: map[problemTask]bool{}, lines: map[lineKey]*lineCount{}}
				slips[code] = s
			}
			s.attempts += w.count
			s.learners.add(w.learners)
			at := c.st.places.list[key.instance]
			s.where[problemTask{at.problem, key.task}] = true
			addLine(s.lines, c.lineKey(key), at.seed, w)
		}
	}
	at := map[problemTask][]string{}
	for code, s := range slips {
		for where := range s.where {
			at[where] = append(at[where], code)
		}
	}
	type chances struct {
		n, made int
		seen    map[uint32]bool // learners
	}
	had := map[string]*chances{}
	for code := range slips {
		had[code] = &chances{seen: map[uint32]bool{}}
	}
	for i := range c.mets {
		m := &c.mets[i]
		for _, code := range at[c.of(m)] {
			h := had[code]
			h.seen[c.learner(m)] = true
			if m.attempts == 0 {
				continue
			}
			h.n++
			if m.slips != 0 && slices.Contains(c.st.codes(m.slips), code) {
				h.made++
			}
		}
	}
	var out []SlipCost
	for code, s := range slips {
		cost := SlipCost{Code: code, Name: code, Learners: Wilson(s.learners.count(), max(len(had[code].seen), s.learners.count())),
			First: Wilson(had[code].made, had[code].n), Attempts: s.attempts, Minutes: c.minutes[code], Evidence: c.lines(s.lines, 3)}
		if known, ok := slip.Of(code); ok {
			cost.Name, cost.Recall = known.Name, plainRecall(known.Recall)
		} else if own := c.ownSlip(code, s.where); own != nil {
			cost.Name, cost.Recall = slip.NameOf(code), own.Message
		}
		out = append(out, cost)
	}
	weight := func(s SlipCost) float64 {
		return float64(s.Learners.Count) * float64(s.Attempts) * max(s.Minutes, float64(s.Attempts)/60)
	}
	slices.SortFunc(out, func(a, b SlipCost) int { return cmp.Or(cmp.Compare(weight(b), weight(a)), cmp.Compare(a.Code, b.Code)) })
	return out
}

// ownSlip is a slip of a scenario's own, of one of those where it was made.
func (c *class) ownSlip(code string, where map[problemTask]bool) *problems.OwnSlip {
	var out *problems.OwnSlip
	for at := range where {
		s := c.scenario(at.problem)
		if s == nil {
			continue
		}
		if own, ok := s.OwnSlip(code); ok && (out == nil || own.Message < out.Message) {
			out = own // the same one every time, where several have the code
		}
	}
	return out
}

// plainRecall is a slip's principle where it stands for any force; one that
// speaks of a certain entry is left out.
func plainRecall(text string) string {
	for name, word := range map[string]string{"{force}": "the force", "{pivot}": "the pivot", "{at}": "the point where it acts", "{convention}": "Moments are counted by one sense of turning.", "{row}": "the row"} {
		text = strings.ReplaceAll(text, name, word)
	}
	if strings.Contains(text, "{") {
		return ""
	}
	return strings.ToUpper(text[:min(1, len(text))]) + text[min(1, len(text)):]
}

// lineKey is a line as typed at a scenario, whatever its numbers, and about
// which point where that matters.
type lineKey struct{ problem, task, pivot, typed uint32 }

func (c *class) lineKey(k wrongKey) lineKey {
	if t := c.task(k.task); !ofPivot(t.step, t.cell) {
		k.pivot = 0
	}
	return lineKey{c.st.places.list[k.instance].problem, k.task, k.pivot, k.typed}
}

// lineCount is who typed a line.
type lineCount struct {
	count    int
	seed     uint64
	learners crowd
}

func addLine(lines map[lineKey]*lineCount, key lineKey, seed uint64, w *wrongLine) {
	l := lines[key]
	if l == nil {
		l = &lineCount{seed: seed}
		lines[key] = l
	}
	l.count += w.count
	l.seed = min(l.seed, seed)
	l.learners.add(w.learners)
}

// lines is the commonest of lines, at most so many.
func (c *class) lines(of map[lineKey]*lineCount, most int) []Line {
	keys := make([]lineKey, 0, len(of))
	for k := range of {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b lineKey) int {
		x, y := of[a], of[b]
		return cmp.Or(y.learners.count()-x.learners.count(), y.count-x.count, cmp.Compare(c.st.str(a.typed), c.st.str(b.typed)),
			cmp.Compare(c.st.str(a.problem), c.st.str(b.problem)), c.compareTasks(a.task, b.task), cmp.Compare(c.st.str(a.pivot), c.st.str(b.pivot)))
	})
	out := make([]Line, 0, min(most, len(keys)))
	for _, k := range keys[:min(most, len(keys))] {
		out = append(out, c.line(k, of[k]))
	}
	return out
}

func (c *class) compareTasks(a, b uint32) int {
	x, y := c.st.tasks.list[a], c.st.tasks.list[b]
	return cmp.Or(cmp.Compare(c.st.str(x.body), c.st.str(y.body)), cmp.Compare(c.st.str(x.step), c.st.str(y.step)), cmp.Compare(c.st.str(x.cell), c.st.str(y.cell)))
}

func (c *class) line(k lineKey, n *lineCount) Line {
	t := c.st.tasks.list[k.task]
	l := Line{Typed: c.st.str(k.typed), Problem: c.st.str(k.problem), Body: c.st.str(t.body), Step: c.st.str(t.step), Cell: c.st.str(t.cell),
		Pivot: c.st.str(k.pivot), Seed: n.seed, Count: n.count, Learners: n.learners.count()}
	if s := c.scenario(k.problem); s != nil {
		l.Reads = readBack(s, l.Step, l.Typed)
	}
	return l
}

// ofPivot reports whether what is right on a line depends on the pivot.
func ofPivot(step, cell string) bool {
	return step == string(tutor.StepMoment) || step == string(tutor.StepEquation) && cell == string(tutor.StepMoment)
}

// readBack is what is understood of a line of mathematics, or "".
func readBack(s *problems.Scenario, step, typed string) string {
	switch tutor.Step(step) {
	case tutor.StepX, tutor.StepY, tutor.StepMoment:
		if n, err := s.Table.Parse(typed); err == nil {
			return notation.ReadBack(n, false)
		}
	case tutor.StepEquation:
		if l, r, err := s.Table.ParseEquation(typed); err == nil {
			return notation.ReadBackEquation(l, r, false)
		}
	case tutor.StepValue:
		if q, err := s.Table.ParseValue(typed); err == nil {
			return strings.TrimSpace(notation.ReadBack(q.Expr, false) + " " + q.Unit.Name)
		}
	}
	return ""
}
