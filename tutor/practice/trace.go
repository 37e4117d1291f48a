package practice

// Params are the four probabilities of knowledge tracing for one skill: that
// it is known before the first line, that a line teaches it, that a line comes
// right though it is not known, and that a line goes wrong though it is.
type Params struct {
	Start, Learn, Guess, Slip float64
}

// Bayesian knowledge tracing: A. T. Corbett and J. R. Anderson, "Knowledge
// tracing: modeling the acquisition of procedural knowledge", User Modeling
// and User-Adapted Interaction 4 (1995) 253-278. Cited, and its equations
// given, from memory:
//
//	P(known | right) = P (1-s) / (P (1-s) + (1-P) g)
//	P(known | wrong) = P s / (P s + (1-P) (1-g))
//	P after the line = P(known | line) + (1 - P(known | line)) t
//
// A line here exercises several skills at once. It comes right only if each of
// them does its part, independently: the conjunctive form, after K. R.
// Koedinger, P. I. Pavlik, J. Stamper, T. Nixon and S. Ritter, "Avoiding
// problem selection thrashing with conjunctive knowledge tracing", Educational
// Data Mining 2011 (from memory). With c = P (1-s) + (1-P) g for each skill,
// and R the product of the others' c, Bayes' rule gives
//
//	P(known | right) as above
//	P(known | wrong) = P (1 - (1-s) R) / (1 - c R)
//
// which is the form above when R = 1. The skills are taken as independent
// again after each line.
//
// Where the grading names the slip, the line is known to be right but for it:
// what was typed is what the slip would have written, at every state tried. So
// the slip's skill takes a wrong, and the line's others a right.

// Mastered is the probability at which a skill is taken as known (0.95: Corbett
// and Anderson, from memory), and Ready that at which a skill that builds on it
// may be aimed at (ours). Since the lines of one problem hang together more than
// the model takes them to, a skill is not taken as known before it was seen in
// Sight lines, however likely it is (ours).
const (
	Mastered = 0.95
	Ready    = 0.70
	Sight    = 4
)

// Probabilities are held between floor and ceiling, so that a long run of right
// lines is outweighed by a few wrong ones, and the other way about (ours).
const (
	floor   = 0.01
	ceiling = 0.99
)

// params are by skill. There is no log of real learners to fit them to: they
// are round figures of ours. Guess and slip keep to Corbett and Anderson's
// bounds of 0.30 and 0.10 (from memory). They are those of a middling learner:
// what is the learner's own is found out (see kind.go). A pivot and a sign are guessed from
// few choices, an entry in symbols seldom. A skill that has only a few lines
// in a problem learns more from each; one that builds on several others is
// seldom known before.
var params = func() (out [count]Params) {
	for name, p := range map[string]Params{
		"forces":     {0.30, 0.15, 0.10, 0.10},
		"pivot":      {0.30, 0.15, 0.30, 0.10},
		"arm":        {0.30, 0.08, 0.15, 0.08},
		"sign":       {0.30, 0.08, 0.30, 0.08},
		"components": {0.30, 0.08, 0.15, 0.08},
		"friction":   {0.10, 0.12, 0.15, 0.10},
		"couple":     {0.10, 0.12, 0.20, 0.10},
		"load":       {0.10, 0.12, 0.10, 0.10},
		"tipping":    {0.10, 0.15, 0.20, 0.10},
		"inertia":    {0.10, 0.12, 0.15, 0.10},
		"joint":      {0.10, 0.12, 0.15, 0.10},
		"equation":   {0.30, 0.12, 0.15, 0.08},
		"value":      {0.30, 0.12, 0.10, 0.10},
	} {
		out[skillOf(name)] = p
	}
	return out
}()

// plays is the chance that a skill known with probability p does its part.
func (m Params) plays(p float64) float64 { return p*(1-m.Slip) + (1-p)*m.Guess }

// right is the probability that a skill is known, given that a line that
// exercises it came right.
func (m Params) right(p float64) float64 { return p * (1 - m.Slip) / m.plays(p) }

// wrong is the same given that the line went wrong, where the other skills it
// exercises do their part with probability others; 1 if the skill is alone.
func (m Params) wrong(p, others float64) float64 {
	return p * (1 - (1-m.Slip)*others) / (1 - m.plays(p)*others)
}

// learns is the probability after the line's own chance to teach.
func (m Params) learns(p float64) float64 { return p + (1-p)*m.Learn }

// Seen is what a first attempt at a line showed.
type Seen struct {
	Needs  Set  // the skills that the line exercises
	Zero   bool // the line is an entry that is zero
	Right  bool // at the first attempt, without a hint
	Blamed Set  // of a wrong line, the skills that the slips named tell of; may be empty
}

// chance is the probability that a line comes right.
func chance(known *[count]float64, par *[count]Params, needs Set) float64 {
	c := 1.0
	for k := range needs.each {
		c *= par[k].plays(known[k])
	}
	return c
}

// trace is one line's update, without the bounds. It gives how likely what the
// line showed was: that it came right, that it went wrong, or that of its parts
// those named went wrong and the others right.
func trace(known *[count]float64, par *[count]Params, s Seen) (likely float64) {
	before := *known
	all := chance(&before, par, s.Needs)
	likely = all
	switch {
	case !s.Right && s.Blamed != 0:
		likely = 1
	case !s.Right:
		likely = 1 - all
	}
	for k := range s.shows().each {
		p, m := before[k], &par[k]
		plays := m.plays(p)
		switch {
		case s.Right:
			p = m.right(p)
		case s.Blamed.Has(k):
			p = m.wrong(p, 1)
			likely *= 1 - plays
		case s.Blamed != 0:
			p = m.right(p)
			likely *= plays
		default:
			p = m.wrong(p, all/plays)
		}
		known[k] = m.learns(p)
	}
	return likely
}

// shows is the skills that the line shows something of.
func (s Seen) shows() Set {
	if s.Right {
		return s.Needs
	}
	return s.Needs | s.Blamed
}
