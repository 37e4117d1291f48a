package screen

import (
	"slices"

	"steelyard/grading"
	"steelyard/problems/notation"
	"steelyard/tutor"
)

// How the ledger shows the list of forces. Before it is judged no more of a
// force is shown than the learner wrote.

// list is the forces as they were typed, each with its mark.
func (g ledger) list(width int) []string {
	var lines []string
	typed := g.desk.Lines()
	for i := range g.desk.Listed() {
		mark, r, line := g.look.marks.right, right, g.label(i)
		if i < len(typed) {
			line = g.look.text(typed[i])
			if mannerOf(g.desk).later && !g.foundRight(typed[i]) {
				mark, r = g.look.marks.taken, plain
			}
		}
		lines = append(lines, g.look.cut(g.look.paint(r, mark)+" "+line, width))
	}
	return lines
}

// foundRight reports whether a line of the list was judged, and right: those
// that are not right do not stay in it.
func (g ledger) foundRight(typed string) bool {
	return slices.ContainsFunc(g.desk.Events(), func(e tutor.Event) bool {
		return e.Kind == tutor.Answered && e.Step == string(tutor.StepForces) && e.Body == g.desk.Body().Name && e.Typed == typed &&
			(e.Verdict == string(grading.Right) || e.Verdict == string(grading.Remarked))
	})
}

// relisting reports whether a list that was taken is in hand again, to change
// it.
func (g ledger) relisting() bool {
	t := g.desk.Current()
	return t != nil && t.Step == tutor.StepForces && t.Status == tutor.Taken
}

// label is a force as the learner listed it, shortened to its name and place.
func (g ledger) label(i int) string {
	f := g.desk.Listed()[i]
	name, at := g.look.text(notation.Display(f.Symbol, g.look.ascii)), f.At
	if typed := g.desk.Lines(); mannerOf(g.desk).later && i < len(typed) {
		line, _ := g.desk.Grader().Said(typed[i])
		at = line.At // where it is to act may not show before the list is judged
	}
	if at == "" {
		return name
	}
	return name + " at " + g.look.text(at)
}
