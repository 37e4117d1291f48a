package practice

import "sync"

// Learners differ, and a log shows how. A learner is of one kind of a few: how
// much they knew at the start, how fast a line teaches them, how often they slip
// at what they know, and whether an entry that is zero is like any other to them.
// All four are shared by a learner's skills, so that what one skill shows is of
// use for the others. Each kind traces the skills by itself, and weighs as much
// as it foretold what came: after a line, by Bayes' rule,
//
//	weight | line = weight P(line | kind) / sum over kinds
//
// What is shown is the mean over kinds. That learners have a start and a rate
// of learning of their own: Z. A. Pardos and N. T. Heffernan, "Modeling
// individualization in a Bayesian networks implementation of knowledge tracing",
// UMAP 2010; M. V. Yudelson, K. R. Koedinger and G. J. Gordon, "Individualized
// Bayesian knowledge tracing models", AIED 2013 (both from memory). They fit the
// start and the rate to each learner's log; the weighing over a grid, and the
// last two, are ours.

// The grid: what each kind makes of the parameters of a skill. Of the starts
// the weaker are commoner, so that before the first line a skill is about as
// likely known as Start says; else all weigh the same then. The figures are
// ours, rounded, chosen on simulated learners and on one half of the invented
// class; the tests measure on others and on the other half. A stronger start
// than these would foretell that class better, and say of a skill never seen
// that it is likely known, after one problem done well.
var (
	starts = [...]struct{ odds, share float64 }{ // times the odds of Start
		{1.0 / 4, 0.5}, // weak
		{1, 0.3},       // middling
		{10, 0.2},      // as if taught before
	}
	rates = [...]float64{0, 0.5, 1, 2} // times Learn: some never learn by lines alone
	slips = [...]float64{0.5, 1, 2}    // times Slip
	zeros = [...]bool{false, true}     // an entry that is zero is seen at a glance
)

// glance is an entry that is zero, to those who see it so: it comes right known or
// not, and teaches nothing (ours).
var glance = Params{Learn: 0, Guess: 0.98, Slip: 0.01}

// kinds is how many kinds there are.
const kinds = len(starts) * len(rates) * len(slips) * len(zeros)

// kind is one kind of learner. The parameters are of the lines that are not zero,
// and of those that are.
type kind struct {
	odds, rate, slip float64
	glances          bool
	share            float64 // weight before the first line
	entry, zero      *[count]Params
}

// kindsOf is the kinds that the grid makes of the parameters of skills.
func kindsOf(par *[count]Params) *[kinds]kind {
	var out [kinds]kind
	var plain [count]Params
	for k := range plain {
		plain[k] = glance
	}
	n := 0
	for _, rate := range rates {
		for _, slip := range slips {
			own := *par
			for k := range own {
				own[k].Learn *= rate
				own[k].Slip *= slip
			}
			for _, start := range starts {
				for _, at := range zeros {
					share := start.share / float64(len(rates)*len(slips)*len(zeros))
					out[n] = kind{start.odds, rate, slip, at, share, &own, &own}
					if at {
						out[n].zero = &plain
					}
					n++
				}
			}
		}
	}
	return &out
}

// usual is the kinds of learners that the course expects.
var usual = sync.OnceValue(func() *[kinds]kind { return kindsOf(&params) })

// belief is what is held of a learner: how likely each kind is, and what each
// says of the skills.
type belief struct {
	kinds  *[kinds]kind
	weight [kinds]float64
	known  [kinds][count]float64
}

// newBelief is what is held before the first line.
func newBelief(of *[kinds]kind) *belief {
	b := &belief{kinds: of}
	for i, k := range of {
		b.weight[i] = k.share
		for s, p := range k.entry {
			odds := k.odds * p.Start / (1 - p.Start)
			b.known[i][s] = odds / (1 + odds)
		}
	}
	return b
}

// params are those of a kind for a line.
func (k *kind) params(zero bool) *[count]Params {
	if zero {
		return k.zero
	}
	return k.entry
}

// chance is the probability that a line comes right.
func (b *belief) chance(needs Set, zero bool) float64 {
	c := 0.0
	for i := range b.kinds {
		c += b.weight[i] * chance(&b.known[i], b.kinds[i].params(zero), needs)
	}
	return c
}

// leastWeight is what a kind weighs at least, so that a learner who changes can
// still be found out (ours).
const leastWeight = 1e-6

// take folds in what a line showed: some three hundred small sums, however long
// the log is.
func (b *belief) take(s Seen) {
	sum := 0.0
	for i := range b.kinds {
		b.weight[i] *= trace(&b.known[i], b.kinds[i].params(s.Zero), s)
		sum += b.weight[i]
		for k := range s.shows().each {
			b.known[i][k] = min(max(b.known[i][k], floor), ceiling)
		}
	}
	all := 0.0
	for i := range b.weight {
		b.weight[i] = max(b.weight[i]/sum, leastWeight)
		all += b.weight[i]
	}
	for i := range b.weight {
		b.weight[i] /= all
	}
}

// skills is how likely each skill is known, over all kinds.
func (b *belief) skills() (known [count]float64) {
	for i, w := range b.weight {
		for k, p := range b.known[i] {
			known[k] += w * p
		}
	}
	return known
}

// manner is a learner's own rate of learning and of slipping, beside the usual,
// and the chance that zeros are plain to them: what a look ahead goes by.
type manner struct{ rate, slip, glances float64 }

func (b *belief) manner() (m manner) {
	for i, w := range b.weight {
		k := &b.kinds[i]
		m.rate += w * k.rate
		m.slip += w * k.slip
		if k.glances {
			m.glances += w
		}
	}
	return m
}
