package grading

import (
	"errors"
	"fmt"
	"iter"
	"math"
	"slices"
	"strings"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/statics"
)

// leastTelling is the share of usable draws that must tell slips apart: fewer,
// and the numbers a scenario is ever drawn with come from a corner of its
// ranges.
const leastTelling = 0.25

// leastAllowed is the share of draws that the requirements must let through.
const leastAllowed = 0.05

// try makes the draws that the later checks look at.
func (l *look) try() {
	for p, err := range l.s.Trials(trials) {
		l.survey.Add(p, err)
		if err == nil && len(l.usable) < maxLooked {
			l.usable = append(l.usable, p)
		}
	}
}

// physics finds draws that could not be so though the requirements let them
// through, and requirements that let hardly any through.
func (l *look) physics() {
	if !slices.ContainsFunc(l.s.Givens, func(g problems.Given) bool { return !g.Constant() }) {
		l.find("", Weak, "draws", "no given varies, so every problem is the same one; give at least one of them from, to and step")
	}
	for _, r := range l.survey.Broken {
		l.refused(r)
	}
	switch allowed := share(l.survey.Tried-l.survey.Bounded, l.survey.Tried); {
	case allowed == 0:
		l.find("require", Fault, "physics", "none of %d draws meets every requirement; narrow the givens' ranges to where they do", l.survey.Tried)
	case allowed < leastAllowed:
		l.find("require", Weak, "draws", "the requirements let %s of the draws through; narrow the givens' ranges to where they hold", percent(allowed))
	}
}

// refused tells of one way in which draws break, at the part of the file that
// it comes from.
func (l *look) refused(r problems.Refusal) {
	when := fmt.Sprintf("in %d of %d draws, first with %s", r.Count, l.survey.Tried, asGiven(r.Values))
	if r.Count == l.survey.Tried-l.survey.Bounded {
		when = "in every draw"
	}
	var (
		physics   *problems.PhysicsError
		redundant *statics.RedundantError
		mechanism *statics.MechanismError
		root      *statics.RootError
		ask       *problems.AskError
	)
	switch {
	case errors.As(r.Err, &physics):
		l.find(l.src.Unknown(physics.Symbol), Fault, "physics", "%s, %s; %s", r.Reason, when, l.bound(physics.Symbol))
	case errors.As(r.Err, &redundant):
		path := ""
		for _, symbol := range redundant.Surplus {
			if path = l.src.Action(symbol); path != "" {
				break
			}
		}
		l.find(path, Fault, "supports", "%s (%s)", r.Reason, when)
	case errors.As(r.Err, &mechanism):
		l.find(l.loose(mechanism), Fault, "supports", "%s (%s)", r.Reason, when)
	case errors.As(r.Err, &root):
		l.find(l.src.Unknown(root.Name)+".within", Fault, "physics", "%s, %s; widen or narrow within, or keep such draws out with require", r.Reason, when)
	case errors.As(r.Err, &ask):
		i := slices.IndexFunc(l.s.Asks, func(a problems.Ask) bool { return a.Question == ask.Question })
		l.find(indexed("asks", i), Fault, "ask", "%s (%s); mend when, or keep such draws out with require", r.Reason, when)
	default:
		l.find("", Fault, "physics", "%s (%s)", r.Reason, when)
	}
}

// bound is how draws are kept out in which an unknown comes out as it cannot
// be.
func (l *look) bound(symbol string) string {
	for _, b := range l.s.Bodies {
		i, ok := b.Force(symbol)
		if !ok {
			continue
		}
		switch f := b.Forces[i]; {
		case f.Kind.Pushes():
			return fmt.Sprintf("narrow the givens' ranges, or keep such draws out with require = [\"%s > 0\"]", symbol)
		case f.Kind == statics.Friction:
			return "narrow the givens' ranges, keep such draws out with require, or say may_slip = true if whether it holds is the question"
		}
	}
	return "narrow the givens' ranges, or keep such draws out with require"
}

// loose is the body that a mechanism is about: the one its motion names, or
// else the first.
func (l *look) loose(e *statics.MechanismError) string {
	for _, b := range l.s.Bodies {
		if strings.Contains(e.Free, "("+b.Name+")") {
			return l.src.Body(b.Name)
		}
	}
	return l.src.Body(l.s.Bodies[0].Name)
}

// alike is one way in which draws fail to tell slips apart: a slip whose result
// is near the right one, or a given that is a number lines are written with
// anyway.
type alike struct {
	what  string // what is alike, as the message says it
	in    []bool // of each usable draw, whether it is
	count int
	given *problems.Given // the given itself, of a plain number
}

// telling finds scenarios of which few draws tell slips apart, with what is in
// the way most often and the given to change.
func (l *look) telling() {
	if len(l.usable) == 0 {
		return
	}
	told := 0
	for _, p := range l.usable {
		if Discriminates(p) {
			told++
		}
	}
	kept := share(told, len(l.usable))
	if kept >= leastTelling {
		return
	}
	worst := l.mostAlike()
	gravity, lead := Weak, fmt.Sprintf("only %s of the draws tell slips apart by their numbers (fewer than %s is weak)", percent(kept), percent(leastTelling))
	if told == 0 {
		gravity, lead = Fault, fmt.Sprintf("none of %d draws tells slips apart by its numbers, so no problem can be drawn", len(l.usable))
	}
	path, advice := l.remedy(worst)
	l.find(path, gravity, "draws", "%s: most often, in %s, %s; %s", lead, percent(share(worst.count, len(l.usable))), worst.what, advice)
}

// mostAlike is what keeps the most draws from telling slips apart.
func (l *look) mostAlike() alike {
	var most alike
	for a := range l.alikes() {
		if a.count > most.count {
			most = a
		}
	}
	return most
}

// alikes are all the ways in which draws may fail to tell slips apart, each
// with the draws that do.
func (l *look) alikes() iter.Seq[alike] {
	counted := func(a alike, is func(*problems.Problem) bool) alike {
		for _, p := range l.usable {
			near := is(p)
			a.in = append(a.in, near)
			if near {
				a.count++
			}
		}
		return a
	}
	return func(yield func(alike) bool) {
		for i := range l.s.Givens {
			g := &l.s.Givens[i]
			what := fmt.Sprintf("%s is a number that lines are written with anyway, %s", g.Symbol, plainWords(l.s, *g))
			if !yield(counted(alike{what: what, given: g}, func(p *problems.Problem) bool { return plainNumber(p, *g) })) {
				return
			}
		}
		for e := range entries(l.s) {
			for _, w := range shelfOf(l.s).rivalsOf(e.book) {
				near := func(p *problems.Problem) bool { return tooNear(e.book.right.term, w.term, p.Values) }
				if !yield(counted(alike{what: e.beside(w)}, near)) {
					return
				}
			}
		}
		for _, o := range shelfOf(l.s).equations {
			near := func(p *problems.Problem) bool { return o.nearlyHolds(p.Values, Margin) }
			if !yield(counted(alike{what: fmt.Sprintf("the equation of the slip %s nearly holds, within %s", o.code, percent(Margin))}, near)) {
				return
			}
		}
	}
}

// entry is an entry of the ledger, about one point.
type entry struct {
	book  *book
	row   statics.RowKind
	pivot string
}

// entries are those of every body, about each of its points.
func entries(s *problems.Scenario) iter.Seq[entry] {
	return func(yield func(entry) bool) {
		for i := range s.Bodies {
			b := &s.Bodies[i]
			for _, row := range statics.Rows {
				for _, pivot := range pivots(b, row) {
					for _, bk := range shelfOf(s).ledger(b, row, statics.Frame{Pivot: pivot}) {
						if !yield(entry{bk, row, pivot.Name}) {
							return
						}
					}
				}
			}
		}
	}
}

// rivalsOf are the slips of one entry that a draw must tell from it. That they
// are those of Discriminates is tested.
func (sh *shelf) rivalsOf(bk *book) []written {
	var out []written
	for _, w := range bk.singles {
		if !bk.right.term.IsZero() && !fixedRatio[w.codes[0]] && !sh.alwaysSame(bk.right.term, w.term) {
			out = append(out, w)
		}
	}
	return out
}

func tooNear(right, wrong statics.Sum, values []float64) bool {
	want, got := right.Eval(values), wrong.Eval(values)
	return abs(got-want) < Margin*max(abs(want), abs(got))
}

// plainNumber reports whether one given of a problem is a plain number.
func plainNumber(p *problems.Problem, g problems.Given) bool {
	alone, of := *p, *p.Scenario
	of.Givens = []problems.Given{g}
	alone.Scenario = &of
	return plainNumbers(&alone)
}

func plainWords(s *problems.Scenario, g problems.Given) string {
	if s.Table.IsAngle(g.Index) {
		return "like 30, 45 or 60 degrees"
	}
	return "like 0.5, 1, 2 or 4 " + g.Unit.Name
}

// beside says which slip comes near on the entry.
func (e entry) beside(w written) string {
	name := w.codes[0]
	if s, ok := slip.Of(w.codes[0]); ok {
		name = s.Name
	}
	symbol := e.book.right.entry.Symbol()
	if e.row == statics.RowMoment {
		return fmt.Sprintf("\"%s\" comes within %s of the moment of %s about %s", name, percent(Margin), symbol, e.pivot)
	}
	return fmt.Sprintf("\"%s\" comes within %s of the part of %s along %s", name, percent(Margin), symbol, e.row)
}

// bins is how many parts a given's range is looked at in.
const bins = 8

// remedy is the given to change, and how: the one whose value decides most
// whether the numbers are alike.
func (l *look) remedy(a alike) (path, advice string) {
	if a.given != nil {
		return l.src.Given(a.given.Symbol), fmt.Sprintf("take a finer step for %s, or a range with fewer such numbers", a.given.Symbol)
	}
	if a.count == len(l.usable) {
		return "", "widen the ranges and requirements, move the force or the point, or tell its place as a length @ an angle"
	}
	best, spread, from, to := -1, 0.25, 0.0, 0.0 // below a spread of a quarter, no given decides
	for i, g := range l.s.Givens {
		if g.Constant() {
			continue
		}
		shares := l.binned(a, g)
		most, least := slices.Max(shares), slices.Min(shares)
		if most-least <= spread {
			continue
		}
		best, spread = i, most-least
		from, to = worstStretch(shares, (most+least)/2)
	}
	if best < 0 {
		return "", "no one given decides it: change the ranges of several, so that their ratios vary more"
	}
	g := l.s.Givens[best]
	at := func(f float64) string {
		return strings.TrimSpace(problems.Figures(g.From+(g.To-g.From)*f, 3) + " " + g.Unit.Name)
	}
	return l.src.Given(g.Symbol), fmt.Sprintf("change the range of %s: it is so most from %s to %s", g.Symbol, at(from), at(to))
}

// binned is the share of draws that are alike in each part of a given's range;
// a part with too few draws to tell has the share of all.
func (l *look) binned(a alike, g problems.Given) []float64 {
	var all, in [bins]int
	for i, p := range l.usable {
		k := int(bins * (p.In(g.Index, g.Unit) - g.From) / (g.To - g.From))
		k = max(0, min(k, bins-1))
		all[k]++
		if a.in[i] {
			in[k]++
		}
	}
	out := make([]float64, bins)
	for k := range out {
		if out[k] = share(in[k], all[k]); all[k] < 8 {
			out[k] = share(a.count, len(l.usable))
		}
	}
	return out
}

// worstStretch is the longest run of parts whose share is over a level, as
// fractions of the whole range.
func worstStretch(shares []float64, level float64) (from, to float64) {
	begin := -1
	for k := 0; k <= len(shares); k++ {
		over := k < len(shares) && shares[k] > level
		switch {
		case over && begin < 0:
			begin = k
		case !over && begin >= 0:
			if f, t := float64(begin)/bins, float64(k)/bins; t-f > to-from {
				from, to = f, t
			}
			begin = -1
		}
	}
	return from, to
}

func share(n, of int) float64 {
	if of == 0 {
		return 0
	}
	return float64(n) / float64(of)
}

func percent(f float64) string {
	if f > 0 && f < 0.1 {
		return fmt.Sprintf("%.1g %%", 100*f)
	}
	return fmt.Sprintf("%.0f %%", math.Round(100*f))
}
