package review

import (
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/tutor"
)

// list grades a line that adds to the list of forces.
func (w *worker) list(v *grader, e *event, at *walk, p *page, key memoKey, typed string) result {
	if strings.TrimSpace(typed) == "" {
		return result{outcome: unreadable}
	}
	have := make([]string, 0, 8)
	for _, l := range w.forceLines(v, e, at, p, key, typed) {
		if l.outcome != right && l.outcome != remarked {
			return l.result
		}
		if p.has(l.listed.Symbol) || slices.Contains(have, l.listed.Symbol) {
			return result{outcome: unreadable}
		}
		have = append(have, l.listed.Symbol)
	}
	return result{outcome: right}
}

func (w *worker) forceLines(v *grader, e *event, at *walk, p *page, key memoKey, typed string) []forceLine {
	if known, ok := w.problem.forces[key]; ok {
		return known
	}
	out := []forceLine{}
	if g := w.grading(v, e, at, p); g == nil {
		out = append(out, forceLine{result: result{outcome: unreadable}})
	} else {
		for _, text := range tutor.ListLines(typed) {
			verdict, l := g.ForceLine(text)
			if !verdict.Earned() {
				l = grading.Listed{}
			}
			out = append(out, forceLine{result{uint8(slices.Index(verdicts, verdict.Outcome)), w.intern(verdict.Slips)}, l})
		}
	}
	w.problem.forces[key] = out
	return out
}

// readForces is the forces that typed lines list; a line that is not read has
// no symbol.
func (w *worker) readForces(e *event, t task, at *walk, p *page, typed string) []grading.Listed {
	v := w.view(e, t.body, at, p)
	var out []grading.Listed
	for i, l := range w.forceLines(v, e, at, p, memoKey{v.number, e.task, e.typed}, typed) {
		if i < len(tutor.ListLines(typed)) {
			out = append(out, l.listed)
		}
	}
	return out
}

// readPivot is the name of the point that is typed, "" if there is none.
func (w *worker) readPivot(e *event, t task, at *walk, p *page, typed string) string {
	v := w.view(e, t.body, at, p)
	key := memoKey{v.number, e.task, e.typed}
	name, known := w.problem.pivots[key]
	if !known {
		if g := w.grading(v, e, at, p); g != nil {
			if verdict, point := g.Pivot(typed); verdict.Earned() {
				name = point.Name
			}
		}
		w.problem.pivots[key] = name
	}
	return name
}

// everyForce is all that acts on a body.
func (w *worker) everyForce(body string) []grading.Listed {
	b, ok := w.problem.p.Body(body)
	if !ok {
		return nil
	}
	var out []grading.Listed
	for _, f := range b.Forces {
		out = append(out, grading.Listed{Symbol: f.Symbol, At: f.At})
	}
	for _, c := range b.Couples {
		out = append(out, grading.Listed{Symbol: c.Symbol})
	}
	return out
}
