package journal

import "steelyard/tutor"

// answer is a graded line, in session.
func answer(session string) *tutor.Event {
	return &tutor.Event{
		Learner: "otter", Cohort: "lab-3", Session: session, Problem: "davit-arm", Seed: 7,
		ScenarioHash: "9f2c41d07a", Mode: "guided", Kind: tutor.Answered, Step: "moment",
		Body: "arm", Cell: "T", Pivot: "A", Positive: "ccw", Typed: "T L sin(alpha)",
		Verdict: "wrong", Slip: []string{"sine-cosine", "sense"}, Try: 2, Seconds: 14.25,
	}
}
