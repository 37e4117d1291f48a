package set

import (
	"slices"
	"testing"

	"steelyard/problems"
)

// A problem that comes once goes by its id, one that comes more often by a
// number too, in the learner's order; its scenario stays what it is.
func TestNames(t *testing.T) {
	var works []*Work
	for _, id := range []string{"davit-arm", "hull-ladder", "davit-arm"} {
		s, err := problems.Builtin().Scenario(id)
		if err != nil {
			t.Fatal(err)
		}
		works = append(works, &Work{Problem: &problems.Problem{Scenario: s}})
	}
	if got, want := Names(works), []string{"davit-arm:1", "hull-ladder", "davit-arm:2"}; !slices.Equal(got, want) {
		t.Errorf("named %q, want %q", got, want)
	}
	listed := Listed(works)
	if a, b := listed[0].Title, listed[2].Title; a == b || listed[1].Title != works[1].Problem.Title {
		t.Errorf("titles %q, %q, %q", a, listed[1].Title, b)
	}
	for i, w := range works {
		if own, err := problems.Builtin().Scenario(w.Problem.ID); err != nil || own != w.Problem.Scenario || listed[i].Hash != own.Hash {
			t.Errorf("scenario %d was changed: %v", i, err)
		}
	}
}
