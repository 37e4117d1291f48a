package grading

import (
	"slices"
	"strings"
	"testing"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/statics"
)

// Of two slips in one entry, that the sign is wrong comes last, and nothing is
// said of a right size that the other slip has changed. By itself, and in
// another entry of the same equation, it is said as ever.
func TestBesideAnotherSlip(t *testing.T) {
	s := NewService(problems.Builtin())
	for _, c := range []struct {
		request              Request
		step, about, answer  string
		slips                string // in order
		says, ends, butNever string
	}{
		{davit, "moment", "T", "-T L cos(alpha)", "sense-reversed sine-cosine",
			"Sine and cosine have changed places in T.", "here? The sign is not right either: look at which way T turns the body about A (hinge).", "size is right"},
		{davit, "moment", "T", "-T L sin(alpha)", "sense-reversed", "The size is right, the sign is not.", "", "either"},
		{davit, "moment", "W", "M g L", "sense-reversed weight-at-end", "That puts W at B (tip).", "The sign is not right either: look at which way W turns the body about A (hinge).", "size is right"},
		{davit, "x", "T", "T sin(alpha)", "sense-reversed sine-cosine", "Sine and cosine", "The sign is not right either: look at which way T points along the x axis.", "size is right"},
		{limit, "x", "f", "-mu M g", "friction-reversed friction-from-weight", "That takes friction from M g.", "f points the wrong way too: which way would A (foot) slip without it?", "size is right"},
		{limit, "x", "f", "-f", "friction-reversed", "The size is right, but f points", "", "too"},
		{davit, "equation", "moment", "-T L cos(alpha) - W L/2 - W_c L = 0", "sense-reversed sine-cosine", "Sine and cosine", "The sign is not right either: look at which way T turns the body about A (hinge).", "size is right"},
		{davit, "equation", "moment", "-T L sin(alpha) - W L - W_c L = 0", "sense-reversed weight-at-end", "The size is right, the sign is not.", "", "either"}, // in two entries
	} {
		r := c.request
		r.Step, r.Force, r.Row, r.Answer = c.step, c.about, c.about, c.answer
		v, err := s.Grade(r)
		if err != nil || strings.Join(v.Slips, " ") != c.slips {
			t.Errorf("%s %s: %q has %v (%v), want %s", c.step, c.about, c.answer, v.Slips, err, c.slips)
		}
		if !strings.Contains(v.Message, c.says) || !strings.HasSuffix(v.Message, c.ends) || strings.Contains(v.Message, c.butNever) {
			t.Errorf("%s %s: %q is told %q, want %q ... %q, not %q", c.step, c.about, c.answer, v.Message, c.says, c.ends, c.butNever)
		}
	}
}

// No pair of slips in any entry of the bank is told that its size is right.
func TestNoPairHasTheRightSize(t *testing.T) {
	tried := 0
	for _, s := range problems.Builtin().Scenarios {
		p, err := Draw(s, 1)
		if err != nil {
			t.Fatal(err)
		}
		g, err := New(p, Choice{})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range statics.Rows {
			for _, bk := range g.ledger(row) {
				for _, w := range g.shelf.twos(bk) {
					v := g.named("", w)
					turned := slices.ContainsFunc(w.codes, func(code string) bool { sl, ok := slip.Of(code); return ok && sl.Beside != "" })
					if strings.Contains(v.Message, "size is right") || turned != strings.Contains(v.Message, "The sign is not right either") && turned != strings.Contains(v.Message, "the wrong way too") {
						t.Errorf("%s: %v: %q", s.ID, w.codes, v.Message)
					}
					if turned {
						tried++
					}
				}
			}
		}
	}
	if tried < 200 {
		t.Errorf("only %d pairs with a sign in them", tried)
	}
}
