package grading

// ForceLine grades one line of a list of forces by itself, while the list is
// still being written: what may be missing is not asked yet.
func (g *Grader) ForceLine(line string) (Verdict, Listed) {
	l, v, _ := g.oneForce(line)
	return v, l
}
