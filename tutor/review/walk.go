package review

import (
	"slices"
	"strings"

	"steelyard/grading"
	"steelyard/problems"
	"steelyard/tutor"
)

// walk follows the choices of a session that its events do not say each time:
// the tilt of the axes, and which forces are listed, taken the other way, or
// settled on another body. It is what of tutor.Session the verdicts depend on in
// guided work.
type walk struct {
	of       *problems.Problem
	pages    []*page
	reversed string // force symbols in order, separated by blanks
}

// page is the choices for one body.
type page struct {
	body     string
	pivot    string // every event says it, and which way is positive; here is what it should say
	positive uint8
	tilt     string
	list     []grading.Listed
	lines    []string
	done     bool
	settled  string
}

func (w *walk) page(body string) *page {
	for _, p := range w.pages {
		if p.body == body {
			return p
		}
	}
	p := &page{body: body, positive: counterclockwise}
	if b, ok := w.of.Body(body); ok {
		p.pivot = b.Points[0].Name
	}
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

// reading is how typed lines are read.
type reading struct {
	forces func(typed string) []grading.Listed
	every  func() []grading.Listed   // the forces of the body
	pivot  func(typed string) string // the name of the point, "" if there is none
}

// apply follows an event.
func (w *walk) apply(kind uint8, step, cell, typed string, earned bool, hint uint8, p *page, read reading) {
	switch tutor.Step(step) {
	case tutor.StepPivot, tutor.StepPositive, tutor.StepAxes:
		if kind == answered && earned || kind == hinted && hint == 3 {
			p.choose(tutor.Step(step), typed, read)
			w.rebuild()
		}
	case tutor.StepForces:
		switch {
		case kind == answered && earned && !tutor.ListDone(typed):
			p.add(typed, read.forces(typed))
		case kind == answered && earned:
			p.settle(read.every())
			w.rebuild()
		case kind == hinted && hint == 3 && typed != "":
			p.list, p.lines = nil, nil
			p.add(typed, read.forces(typed))
			p.settle(read.every())
			w.rebuild()
		case kind == undone && cell == "":
			p.list, p.lines, p.done = nil, nil, false
			w.rebuild()
		case kind == undone:
			p.unlist(cell)
		}
	}
}

// choose takes a pivot, a sense of turning or a tilt of the axes.
func (p *page) choose(step tutor.Step, typed string, read reading) {
	switch step {
	case tutor.StepAxes:
		p.tilt = typed
	case tutor.StepPositive:
		p.positive = counterclockwise
		if typed == turnings[clockwise] {
			p.positive = clockwise
		}
	case tutor.StepPivot:
		if name := read.pivot(typed); name != "" {
			p.pivot = name
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
