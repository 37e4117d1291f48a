package grading

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/problems/statics"
)

// Pivot grades the choice of a pivot: every point is allowed, and a longer way
// is remarked on.
func (g *Grader) Pivot(answer string) (Verdict, statics.Point) {
	answer = strings.TrimSpace(answer)
	if answer == "" {
		return Verdict{Outcome: Unreadable, At: 1, Message: "Name a point, like " + g.body.Points[0].Name + "."}, statics.Point{}
	}
	p, err := g.place(answer)
	if err != nil {
		return Verdict{Outcome: Unreadable, At: 1, Message: sentence(err.Error())}, statics.Point{}
	}
	mine := g.body.AdviseAt(p)
	best := mine
	for _, a := range g.body.Advise() {
		if len(a.Vanish) > len(best.Vanish) {
			best = a
		}
	}
	reads := "moments about " + pointName(g.body, p.Name)
	if len(best.Vanish) > len(mine.Vanish) {
		return remark(reads, fmt.Sprintf("Allowed. About %s, %s in the moment row; another point would leave fewer.", p.Name, left(mine))), p
	}
	return right(reads), p
}

// place finds a point as a learner may name it: "a", "about A", "point A",
// "the hinge", "A + L/4 @ 0".
func (g *Grader) place(text string) (statics.Point, error) {
	p, err := g.p.Place(g.body, text)
	if err == nil {
		return p, nil
	}
	words := strings.Fields(text)
	for len(words) > 1 && slices.Contains([]string{"moments", "about", "around", "at", "point", "pivot", "the"}, strings.ToLower(words[0])) {
		words = words[1:]
	}
	name := strings.Join(words, " ")
	for _, q := range g.body.Points {
		if strings.EqualFold(q.Name, name) || strings.EqualFold(q.Meaning, name) {
			return q, nil
		}
	}
	for _, spelled := range []string{name, strings.ToUpper(name[:min(1, len(name))]) + name[min(1, len(name)):]} {
		if p, again := g.p.Place(g.body, spelled); again == nil {
			return p, nil
		}
	}
	return p, err
}

// left says how many unknown forces stay in the moment row.
func left(a statics.PivotAdvice) string {
	switch n := a.Unknowns - len(a.Vanish); n {
	case 1:
		return "one unknown force stays"
	default:
		return fmt.Sprintf("%d unknown forces stay", n)
	}
}
