package problems

import (
	"os"
	"strings"
	"testing"
)

// What the requirements of the bank let through, the physics lets through too.
func TestSurveyOfTheBank(t *testing.T) {
	for _, s := range Builtin().Scenarios {
		v := s.Survey(3000)
		if v.Usable+v.Bounded != v.Tried || v.Usable < v.Tried/50 {
			t.Errorf("%s: %d of %d draws are usable", s.ID, v.Usable, v.Tried)
		}
		for _, r := range v.Broken {
			t.Errorf("%s: %d of %d: %s (%s)", s.ID, r.Count, v.Tried, r.Reason, r.Values)
		}
	}
}

// A ramp too steep for its friction is found, with the values that break it.
func TestSurveyFindsWhatBreaks(t *testing.T) {
	data, err := os.ReadFile("testdata/ramp.toml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read("ramp.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	v := s.Survey(500)
	if len(v.Broken) != 1 || v.Broken[0].Count == 0 || v.Usable+v.Broken[0].Count != 500 || !strings.Contains(v.Broken[0].Reason, "the contact slips beyond mu N") {
		t.Fatalf("%+v", v)
	}
	if _, err := s.Enter(0, strings.Fields(v.Broken[0].Values), nil); err == nil || !strings.Contains(err.Error(), "the contact slips beyond mu N") {
		t.Errorf("%s: %v", v.Broken[0].Values, err)
	}
	bounded, err := Read("ramp.toml", []byte(strings.Replace(string(data), "skills =", "require = [\"tan(alpha) < mu\"]\nskills =", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if v := bounded.Survey(500); len(v.Broken) != 0 || v.Bounded == 0 {
		t.Errorf("with a requirement: %+v", v)
	}
}
