package grading

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"steelyard/problems/statics"
)

// together is the verdict on lines each right by itself that are too few, or
// that say the same things over; or a remark on more than are needed. It has
// no outcome where there is nothing to say.
func (s *system) together(lines []line) Verdict {
	kept, extra, of := s.split(lines)
	switch {
	case len(kept) < s.need && extra != nil:
		return Verdict{Outcome: Wrong, Message: fmt.Sprintf("These %s cannot fix %s: %s.",
			count(len(lines)), s.fixed(), s.because(*extra, of))}
	case len(kept) < s.need:
		is := "equations are"
		if len(kept) < 2 {
			is = "equation is"
		}
		return Verdict{Outcome: Wrong, Message: fmt.Sprintf("%s %s here, and %s are needed to fix %s. Add a sum along another axis, or moments about another point.",
			title(count(len(kept))), is, count(s.need), s.fixed())}
	case extra != nil:
		return remark("", fmt.Sprintf("Right. %s would do: %s.", title(count(s.need)), follows(*extra, of)))
	}
	return Verdict{}
}

// split takes the lines in order and keeps those that say something new; extra
// is the first that does not, and of are the lines that it is made of.
func (s *system) split(lines []line) (kept []line, extra *line, of []line) {
	for i, l := range lines {
		if s.rankOf(append(slices.Clone(kept), l)) == len(kept)+1 {
			kept = append(kept, l)
			continue
		}
		if extra != nil {
			continue
		}
		extra = &lines[i]
		for j := range kept { // without a line it is made of, it would be new
			others := slices.Delete(slices.Clone(kept), j, j+1)
			if s.rankOf(append(others, l)) == len(kept) {
				of = append(of, kept[j])
			}
		}
	}
	return kept, extra, of
}

// fixed names the unknowns that the rows fix.
func (s *system) fixed() string {
	return s.names(func(i int) bool {
		return slices.ContainsFunc(s.basis, func(c candidate) bool {
			return c.sheet.sum.Uses(i) || slices.ContainsFunc(s.g.p.Definitions(), func(d statics.Definition) bool {
				return c.sheet.sum.Uses(d.Index) && s.g.closure(c.sheet.sum)[i]
			})
		})
	})
}

// because says why a line adds nothing to those it is made of, and what to put
// in its place.
func (s *system) because(extra line, of []line) string {
	if len(of) == 2 {
		if why := s.because3(slices.Concat(of, []line{extra})); why != "" {
			return why
		}
	}
	return follows(extra, of) + ". Put a sum along another axis, or moments about another point, in its place"
}

// because3 finds three moments about points in line, or two moments and the
// sum along what is square to the line between their points.
func (s *system) because3(lines []line) string {
	n := lines[2].n
	for _, a := range lines[0].is {
		for _, b := range lines[1].is {
			for _, c := range lines[2].is {
				rows := []candidate{a, b, c}
				slices.SortStableFunc(rows, func(x, y candidate) int { return strings.Compare(string(x.row), string(y.row)) }) // moments first
				p, q := rows[0].g.frame.Pivot, rows[1].g.frame.Pivot
				ax, ay := p.XY(s.sol[0])
				bx, by := q.XY(s.sol[0])
				dx, dy := bx-ax, by-ay
				if rows[1].row != statics.RowMoment || p.Name == q.Name {
					continue
				}
				if rows[2].row == statics.RowMoment {
					r := rows[2].g.frame.Pivot
					cx, cy := r.XY(s.sol[0])
					if r.Name != p.Name && r.Name != q.Name && near(dx*(cy-ay), dy*(cx-ax), math.Hypot(dx, dy)*math.Hypot(cx-ax, cy-ay), exact) {
						return fmt.Sprintf("line %d is a sum of the others, for %s lie in one line. Take moments about a point off that line, or a force sum", n, listed([]string{p.Name, q.Name, r.Name}))
					}
					continue
				}
				tilt := s.g.frame.Tilt.Eval(s.sol[0])
				if rows[2].row == statics.RowY {
					tilt += math.Pi / 2
				}
				if abs(dx*math.Cos(tilt)+dy*math.Sin(tilt)) <= exact*math.Hypot(dx, dy) {
					return fmt.Sprintf("line %d is a sum of the others, for moments about %s and %s hold all that is square to the line through them. Take the force sum along that line", n, p.Name, q.Name)
				}
			}
		}
	}
	return ""
}

// follows says which lines a line is made of.
func follows(extra line, of []line) string {
	if len(of) == 1 {
		return fmt.Sprintf("line %d says the same as line %d", extra.n, of[0].n)
	}
	var numbers []string
	for _, l := range of {
		numbers = append(numbers, fmt.Sprint(l.n))
	}
	return fmt.Sprintf("line %d is a sum of lines %s", extra.n, listed(numbers))
}

// count writes a small number in words.
func count(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func title(word string) string { return strings.ToUpper(word[:1]) + word[1:] }
