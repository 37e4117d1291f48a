// Package page shows a review of a class as one HTML page for the instructor:
// what to reteach, and whom to see, then all figures.
//
// The page needs nothing else: no script, no font, no picture from elsewhere,
// and its policy forbids them. All that is in a report is taken for hostile:
// control characters are made visible, and html/template escapes the rest.
package page

import (
	_ "embed"
	"html/template"
	"io"
	"sync"

	"steelyard/tutor/review"
)

//go:embed page.tmpl
var markup string

//go:embed page.css
var style string

var document = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(words).Parse(markup + reasonsMarkup))
})

// whole is what the template is filled from.
type whole struct {
	*review.Report
	Style template.CSS
	names map[string]string // of slips, by code

	SlipChart    template.HTML
	AllSlips     some[review.SlipCost]
	See          some[numbered]
	TogetherWith some[review.Alike]

	ProblemChart template.HTML
	AllProblems  some[problemView]
	Hardest      []hardLine
	Leaving      []hardLine

	Shared  some[review.Group] // by two learners or more
	Further some[review.Group] // the rest of those
	Single  some[review.Group] // by one

	AskedFor some[reasonView]

	Curves []curveView
	Still  []string // skills that do not improve

	LearnerChart template.HTML
	AllLearners  some[numbered]
	Cohorts      bool // there is more than one

	ItemChart template.HTML
	Sets      []setView

	Troubled       bool
	DamagedFirst   some[review.Damage]
	DamageNotShown int
	AlteredFirst   some[review.Altered]
	MissingFirst   some[review.NotInBank]
	SourcesFirst   some[review.Source]
}

// some is a list cut to what a page can hold, and how many are left out.
type some[T any] struct {
	List []T
	More int
}

func upTo[T any](most int, list []T) some[T] {
	n := min(most, len(list))
	return some[T]{list[:n], len(list) - n}
}

// How much of each list the page holds. All is in the report.
const (
	mostSlips    = 60
	chartedSlips = 12
	mostSee      = 8
	mostAlike    = 12
	mostProblems = 120
	mostCells    = 80
	mostHardest  = 12
	mostGroups   = 6
	mostFurther  = 60
	mostSingle   = 60
	mostLearners = 400
	mostTrouble  = 30
)

// Write writes the page.
func Write(w io.Writer, rep *review.Report) error {
	d := &whole{Report: rep, Style: template.CSS(style)}
	d.slips()
	d.problems()
	d.groups()
	d.reasons()
	d.skills()
	d.learners()
	d.items()
	d.troubles()
	return document().Execute(w, d)
}
