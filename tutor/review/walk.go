package review

import (
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/tutor"
)

// walk follows the choices of a session that its events do not say each time:
// the tilt of the axes, and which forces are listed, taken the other way, or
// settled on another body. It is what of tutor.Session the verdicts depend on in
// guided work.
type walk struct {
	pages    []*page
	reversed string // force symbols in order, separated by blanks
}

// page is the choices for one body.
type page struct {
	body    string
	tilt    string
	list    []grading.Listed
	lines   []string
	done    bool
	settled string
}

func (w *walk) page(body string) *page {
	for _, p := range w.pages {
		if p.body == body {
			return p
		}
	}
	p := &page{body: body}
	w.pages = append(w.pages, p)
	return p
}

// rebuild takes what is listed into account. A force taken the other way on
// one body is so on all.
func (w *walk) rebuild() {
	var reversed []string
	for _, p := range w.pages {
		for _, l := range p.list {
			if l.Reversed {
				reversed = append(reversed, l.Symbol)
			}
		}
	}
	w.reversed = joined(reversed)
	for _, p := range w.pages {
		var settled []string
		for _, o := range w.pages {
			if o == p || !o.done {
				continue
			}
			for _, l := range o.list {
				settled = append(settled, l.Symbol)
			}
		}
		p.settled = joined(settled)
	}
}

func joined(symbols []string) string {
	slices.Sort(symbols)
	return strings.Join(slices.Compact(symbols), " ")
}

// set is the set that joined wrote.
func set(text string) map[string]bool {
	out := map[string]bool{}
	for _, s := range strings.Fields(text) {
		out[s] = true
	}
	return out
}

// apply follows an event. reads is how a line of a list of forces is read, and
// every is the forces of the body.
func (w *walk) apply(kind uint8, step, cell, typed string, earned bool, hint uint8, p *page, reads func(string) []grading.Listed, every func() []grading.Listed) {
	switch tutor.Step(step) {
	case tutor.StepPivot, tutor.StepPositive, tutor.StepAxes:
		if kind == answered && earned || kind == hinted && hint == 3 {
			if tutor.Step(step) == tutor.StepAxes {
				p.tilt = typed
			}
			w.rebuild()
		}
	case tutor.StepForces:
		switch {
		case kind == answered && earned && !tutor.ListDone(typed):
			p.add(typed, reads(typed))
		case kind == answered && earned:
			p.settle(every())
			w.rebuild()
		case kind == hinted && hint == 3 && typed != "":
			p.list, p.lines = nil, nil
			p.add(typed, reads(typed))
			p.settle(every())
			w.rebuild()
		case kind == undone && cell == "":
			p.list, p.lines, p.done = nil, nil, false
			w.rebuild()
		case kind == undone:
			p.unlist(cell)
		}
	}
}

// add lists forces that are not listed yet.
func (p *page) add(typed string, read []grading.Listed) {
	lines := tutor.ListLines(typed)
	for i, l := range read {
		if l.Symbol != "" && !p.has(l.Symbol) {
			p.list, p.lines = append(p.list, l), append(p.lines, lines[i])
		}
	}
}

func (p *page) has(symbol string) bool {
	return slices.ContainsFunc(p.list, func(l grading.Listed) bool { return l.Symbol == symbol })
}

// settle closes the list. What was rightly left out stands in the ledger all
// the same.
func (p *page) settle(every []grading.Listed) {
	p.done = true
	for _, l := range every {
		if !p.has(l.Symbol) {
			p.list = append(p.list, l)
		}
	}
}

func (p *page) unlist(symbol string) {
	i := slices.IndexFunc(p.list, func(l grading.Listed) bool { return l.Symbol == symbol })
	if i >= 0 && i < len(p.lines) && !p.done {
		p.list, p.lines = slices.Delete(p.list, i, i+1), slices.Delete(p.lines, i, i+1)
	}
}
