package board

import (
	"fmt"

	"steelyard/problems/notation"
	"steelyard/tutor/review"
	"steelyard/tutor/screen"
)

// view is a part of the board.
type view struct {
	name string
	make func(*data) place
	warn func(*review.Report) bool // whether its name is marked; may be nil
}

// views are the parts, in the order of their keys, 1 to 9 and then 0. The
// board opens on the first.
var views = []view{
	{name: "Reteach", make: (*data).reteach},
	{name: "Slips", make: (*data).allSlips},
	{name: "Problems", make: (*data).problems},
	{name: "Unpredicted", make: (*data).unpredicted},
	{name: "Skills", make: (*data).skills},
	{name: "Learners", make: (*data).learners},
	{name: "Alike", make: (*data).alike},
	{name: "Items", make: (*data).items},
	{name: "Reasons", make: (*data).reasons},
	{name: "Logs", make: (*data).logs, warn: troubled},
}

const helpName = "Help"

// terms are what the figures mean.
var terms = [][2]string{
	{"in brackets", "the range that a rate lies in, 95 times of 100 (Wilson)"},
	{"right first", "lines that were right at the first attempt, without a hint"},
	{"minutes", fmt.Sprintf("at work; of a wait no more than %.0f minutes are counted. A slip costs the time from making it to the next answer of the same line", review.MaxWait.Minutes())},
	{"left", "sessions that were left at the line, and not gone on with"},
	{"b", "how fast errors go down with practice: the rate at the n-th chance is taken as a n^-b"},
	{"see", "how far a learner stands out from the class, in standard deviations, in attempts, waits and lines shown above it, and in lines right and problems finished below it"},
	{"alike", "wrong lines that two learners typed to the letter, beyond what chance brings; a reason to ask how they worked, and no proof"},
	{"facility", "the mean score of an item, 0 to 1"},
	{"discrimination", "the correlation of an item with the sum of the others; low or negative is an item to look at"},
	{"too few", "counts too small for the figure to mean anything"},
}

// help is every key with what it does, and what the figures mean.
func (d *data) help(keys keyMap) place {
	return d.sheet(helpName, func(width, _ int) []string {
		out := append([]string{d.look.Paint(screen.Heading, "Keys")}, d.facts(width, keys.longHelp()...)...)
		said := terms
		if d.look.ASCII() {
			said = nil
			for _, t := range terms {
				said = append(said, [2]string{t[0], notation.Spell(t[1])})
			}
		}
		out = append(out, d.titled("What the figures mean", d.facts(width, said...))...)
		out = append(out, "")
		return append(out, d.look.Wrapped(screen.Plain, "Every answer is graded again from the logs, with the bank at hand. A verdict in a log that grading does not give is named under Logs, and counts as graded.", width)...)
	})
}
