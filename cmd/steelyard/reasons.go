package main

import "steelyard/tutor"

// ownTerms are those of a problem that the learner begins outside a set. Now and
// then reasons are asked for, by how many were begun before.
func (h *house) ownTerms() (tutor.Terms, error) {
	terms := tutor.TermsOf(tutor.Guided)
	all, err := h.journal.Sessions(h.app.learner)
	if err != nil {
		return terms, short(err)
	}
	begun := 0
	for _, s := range all {
		if s.Set == "" {
			begun++
		}
	}
	terms.Reasons = tutor.AsksReasons(begun)
	return terms, nil
}
