package page

import (
	_ "embed"

	"steelyard/tutor/review"
)

//go:embed reasons.tmpl
var reasonsMarkup string

// How much of the reasons the page holds. All is in the report.
const (
	mostAsked = 40
	mostOwn   = 60
)

// reasonView is a question with the reasons in own words that there is room
// for.
type reasonView struct {
	review.ReasonReport
	OwnFirst some[review.OwnReason]
}

func (d *whole) reasons() {
	var all []reasonView
	for _, r := range d.Reasons {
		all = append(all, reasonView{r, upTo(mostOwn, r.Own)})
	}
	d.AskedFor = upTo(mostAsked, all)
}
