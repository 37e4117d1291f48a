package screen

import (
	"slices"

	"steelyard/problems/statics"
	"steelyard/tutor"
)

// view is what the upper part of the screen shows.
type view int

const (
	viewBoth view = iota // figure and ledger; where that is narrow, of the ledger the column in hand
	viewLedger
	viewFigure
	viewStatement
)

var viewNames = [...]string{viewBoth: "figure and ledger", viewLedger: "the ledger", viewFigure: "the figure", viewStatement: "the statement"}

func (v view) name() string { return viewNames[v] }

// views are those that the window has room for, in the order that the view key
// goes through them.
func (w work) views() []view {
	switch {
	case w.wide():
		return []view{viewBoth, viewStatement}
	case w.width >= foldWidth && w.height >= foldHeight:
		return []view{viewBoth, viewLedger, viewFigure, viewStatement}
	}
	return []view{viewLedger, viewFigure, viewStatement}
}

// shown is the view that was chosen, or the first there is room for.
func (w work) shown() view {
	if all := w.views(); !slices.Contains(all, w.view) {
		return all[0]
	}
	return w.view
}

// next is the view that the view key goes to.
func (w work) next() view {
	all := w.views()
	return all[(slices.Index(all, w.shown())+1)%len(all)]
}

// ledger is the ledger with the line being typed in it.
func (w work) ledger() ledger { return ledger{look: w.look, desk: w.desk, live: w.live} }

// written is the ledger without it.
func (w work) written() ledger { return ledger{look: w.look, desk: w.desk} }

// leastFolded is the height from which a figure of half the width shows
// something.
const leastFolded = 9

// folded is the figure beside the ledger, of which the column in hand is open
// and the others show their marks.
func (w work) folded(width, height int) []string {
	const between = 2
	leftWidth := width * 52 / 100
	rightWidth := width - leftWidth - between
	g := w.ledger()
	g.open = w.column()
	lines, focus := g.View(rightWidth, height-1)
	left := append([]string{w.look.banner("Figure", w.caption(), leftWidth)}, w.drawing.View(w.desk.Problem(), w.desk.Sight(), leftWidth, height-1)...)
	name, more := g.head(rightWidth - 2)
	right := append([]string{w.look.banner(name, more, rightWidth)}, w.sighted(lines, focus, height-1)...)
	return w.look.beside(left, right, leftWidth, "  ")
}

// column is the column of the ledger that the line in hand belongs to; moments
// where it belongs to none.
func (w work) column() tutor.Step {
	t := w.desk.Current()
	switch {
	case t != nil && t.IsCell():
		return t.Step
	case t != nil && t.Step == tutor.StepEquation && t.Cell != string(statics.RowMoment):
		return tutor.Step(t.Cell)
	}
	return tutor.StepMoment
}
