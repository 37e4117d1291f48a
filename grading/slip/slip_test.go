package slip

import (
	"regexp"
	"strings"
	"testing"

	"steelyard/problems"
	"steelyard/problems/statics"
)

// The catalogue is a table that others key by: codes are unique, are found
// again, and every row says all that is asked of it.
func TestCatalogue(t *testing.T) {
	code := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for i := range Catalogue {
		s := &Catalogue[i]
		if !code.MatchString(s.Code) || seen[s.Code] {
			t.Errorf("code %q is malformed, or there already", s.Code)
		}
		seen[s.Code] = true
		if found, ok := Of(s.Code); !ok || found != s {
			t.Errorf("%s is not found by its code", s.Code)
		}
		if s.Name == "" || s.Say == "" || !strings.HasSuffix(s.Ask, "?") || s.Recall == "" {
			t.Errorf("%s lacks a name, a saying, a question or a principle: %+v", s.Code, s)
		}
	}
	for code := range parts {
		if !seen[code] {
			t.Errorf("parts has %q, which is no slip", code)
		}
	}
}

func TestCombine(t *testing.T) {
	for _, a := range Catalogue {
		for _, b := range Catalogue {
			if Combine(a.Code, b.Code) != Combine(b.Code, a.Code) {
				t.Errorf("%s and %s combine one way round only", a.Code, b.Code)
			}
		}
		if Combine(a.Code, a.Code) {
			t.Errorf("%s combines with itself", a.Code)
		}
	}
	if Combine("no-arm", "arm-squared") || !Combine("sense-reversed", "sine-cosine") {
		t.Error("two slips of one part combine, or two of different parts do not")
	}
}

// entry is the right entry of a force of a scenario about its first point.
func entry(t *testing.T, id, force string, row statics.RowKind) Entry {
	t.Helper()
	s, err := problems.Builtin().Scenario(id)
	if err != nil {
		t.Fatal(err)
	}
	b := &s.Bodies[0]
	i, ok := b.Force(force)
	if !ok {
		t.Fatalf("no force %s", force)
	}
	return ForForce(s, b, i, row, statics.Frame{Pivot: b.Points[0]})
}

// What a slip writes, worked by hand.
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		id, force string
		row       statics.RowKind
		code      string
		writes    string // one of the entries
	}{
		{"davit-arm", "T", statics.RowMoment, "sine-cosine", "T L cos(alpha)"},
		{"davit-arm", "T", statics.RowMoment, "whole-distance", "T L"},
		{"davit-arm", "T", statics.RowMoment, "no-arm", "T sin(alpha)"},
		{"davit-arm", "T", statics.RowMoment, "arm-elsewhere", "T L/2 sin(alpha)"},
		{"davit-arm", "T", statics.RowMoment, "sense-reversed", "-T L sin(alpha)"},
		{"davit-arm", "T", statics.RowX, "whole-force", "-T"},
		{"davit-arm", "W", statics.RowMoment, "weight-at-end", "-M g L"},
		{"davit-arm", "W", statics.RowMoment, "mass-for-weight", "-M L/2"},
		{"davit-arm", "W", statics.RowMoment, "g-twice", "-M g^2 L/2"},
		{"davit-arm", "W", statics.RowY, "other-force", "-m g"},
		{"hull-ladder", "W", statics.RowMoment, "no-arm", "-M g cos(alpha)"},
		{"hull-ladder-limit", "f", statics.RowX, "friction-from-weight", "mu M g"},
		{"hull-ladder-limit", "f", statics.RowX, "friction-reversed", "-f"},
		{"drum-kerb", "P", statics.RowMoment, "sense-reversed", "P (R - h)"},
		{"quay-plank", "W", statics.RowMoment, "arm-squared", "W (L/2 - e) L"},
		{"plank-balance", "W_1", statics.RowMoment, "weight-at-end", "W_1 r_2"},
	} {
		e := entry(t, c.id, c.force, c.row)
		s, _ := Of(c.code)
		n, err := e.Problem.Table.Parse(c.writes)
		if err != nil {
			t.Fatal(err)
		}
		want := statics.FromNode(n)
		ok := false
		var got []string
		for _, v := range s.Edit(e) {
			term := v.Term()
			ok = ok || term.Equal(want)
			got = append(got, term.Text(true))
		}
		if !ok {
			t.Errorf("%s, %s of %s: %s writes %q, want %q among them", c.id, c.row, c.force, c.code, got, c.writes)
		}
	}
}

// A message speaks of the learner's own pivot, even when the slip is another's.
func TestFillKeepsThePivot(t *testing.T) {
	s, _ := Of("arm-elsewhere")
	for _, v := range s.Edit(entry(t, "davit-arm", "T", statics.RowMoment)) {
		text := s.Fill(s.Say, v)
		if !strings.Contains(text, "Your pivot is A (hinge)") || strings.Contains(text, "about A (hinge)") {
			t.Errorf("%q", text)
		}
	}
}
