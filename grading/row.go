package grading

import (
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// Row is the reference row in the learner's frame, written as a textbook does.
func (g *Grader) Row(row statics.RowKind, ascii bool) string {
	return g.body.Row(row, g.frame).Text(ascii, g.p.Values)
}

// Blank reports whether no force has an entry in a row, so that there is
// nothing to write.
func (g *Grader) Blank(row statics.RowKind) bool {
	for _, c := range g.body.Row(row, g.frame).Cells {
		if !c.Coef.IsZero() {
			return false
		}
	}
	return true
}

// Sum reads the entries typed for a row as one line: what the ledger's column
// adds up to.
func Sum(entries []notation.Node, ascii bool) string {
	line := ""
	for _, n := range entries {
		if x, ok := n.(*notation.Number); ok && x.Value == 0 {
			continue
		}
		line = statics.JoinTerms(line, notation.ReadBack(n, ascii), ascii)
	}
	if line == "" {
		line = "0"
	}
	return line + " = 0"
}
