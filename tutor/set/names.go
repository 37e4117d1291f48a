package set

import (
	"fmt"

	"steelyard/problems"
)

// name is what a problem of a set goes by: its id, or where that comes more than
// once "davit-arm:1", "davit-arm:2". No id has a colon.
type name struct {
	id      string
	nth, of int
}

func (n name) String() string {
	if n.of == 1 {
		return n.id
	}
	return fmt.Sprintf("%s:%d", n.id, n.nth)
}

// title tells a title apart from those of the others of its id.
func (n name) title(s string) string {
	if n.of == 1 {
		return s
	}
	return fmt.Sprintf("%s (%d of %d)", s, n.nth, n.of)
}

func named(works []*Work) []name {
	of := map[string]int{}
	out := make([]name, len(works))
	for i, w := range works {
		of[w.Problem.ID]++
		out[i] = name{id: w.Problem.ID, nth: of[w.Problem.ID]}
	}
	for i := range out {
		out[i].of = of[out[i].id]
	}
	return out
}

// Names is what the problems of a learner's set go by, in their order.
func Names(works []*Work) []string {
	var out []string
	for _, n := range named(works) {
		out = append(out, n.String())
	}
	return out
}

// Listed is the scenarios of a learner's set as a list to choose from has them:
// each by its name, and told apart in its title where one comes more than once.
func Listed(works []*Work) []*problems.Scenario {
	var out []*problems.Scenario
	for i, n := range named(works) {
		s := *works[i].Problem.Scenario
		s.ID, s.Title = n.String(), n.title(s.Title)
		out = append(out, &s)
	}
	return out
}
