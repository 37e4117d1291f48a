package page

import (
	"strings"
	"testing"

	"steelyard/tutor/review"
)

// Reasons stand on the page with their shares, and what learners wrote in their
// own words does nothing there.
func TestReasonsOnThePage(t *testing.T) {
	rep := small(t)
	if strings.Contains(written(t, rep), "Reasons") {
		t.Error("the page speaks of reasons that were not asked for")
	}
	rep.Reasons = []review.ReasonReport{{Code: "pivot-drops", Topic: "why this pivot", Asked: 31, Learners: 30, AtOnce: review.Wilson(12, 24), Passed: 4,
		False: []review.FalseReason{{Code: "nearest", Topic: "it is nearest to the weight", Learners: review.Wilson(9, 24)}},
		Own: []review.OwnReason{
			{Learner: "<i>auk</i>", Problem: "davit-arm", About: "f", Typed: "<script>alert(1)</script>\x1b[2J\u202e"},
		}},
		{Code: "no-friction", Topic: "why no friction at a smooth contact", Asked: 2, Learners: 2, AtOnce: review.Wilson(1, 2)}}
	for range 100 {
		rep.Reasons[1].Own = append(rep.Reasons[1].Own, review.OwnReason{Learner: "brent", Problem: "quay-plank", Typed: "smooth"})
	}
	got := written(t, rep)
	for _, want := range []string{
		`<a href="#reasons">Reasons</a>`, `<section id="reasons">`, `<h3>why this pivot</h3>`, "Asked of 30 learners, 31 times; passed over 4 times.",
		"Right at once: 12 of 24 learners: 50\u202f% (31–69).", `<th scope="row">it is nearest to the weight</th><td class="n">9 of 24</td><td class="n">38` + "\u202f% (21–57)",
		`<code>&lt;script&gt;alert(1)&lt;/script&gt;\x1b[2J\u202e</code>`, `&lt;i&gt;auk&lt;/i&gt;`, "Right at once: 1 of 2 learners.", "And 40 more, which the page leaves out",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the page does not have %s", want)
		}
	}
	if strings.ContainsAny(got, "\x1b\u202e") || strings.Contains(got, "<script") {
		t.Error("hostile text is on the page as it is")
	}
}
