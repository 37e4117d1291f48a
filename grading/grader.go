package grading

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"

	"steelyard/grading/slip"
	"steelyard/problems"
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

const (
	// Tolerance is how far a number may be off and still be right, relative,
	// unless the choice says otherwise.
	Tolerance = 0.01
	// MaxTolerance is as far as a choice may set it: beyond, most slips would
	// pass for right.
	MaxTolerance = 0.1
)

// Choice is what the learner chose before writing the ledger.
type Choice struct {
	Body      string // "" for the first
	Pivot     string // a point's name, or a place like "A + L/4 @ 0"; "" for the first point
	Clockwise bool
	Tilt      string          // of the x axis, anticlockwise: "20", "alpha", "180 - alpha"; "" for level
	Reversed  map[string]bool // forces assumed the other way from the scenario's; of any body, for a joint's acts on two
	Settled   map[string]bool // joint forces whose sense was taken when another body was isolated: it holds here, turned about
	Tolerance float64         // of numbers and values, relative; 0 for [Tolerance]
}

// Grader grades answers for one problem and one choice.
type Grader struct {
	p     *problems.Problem
	body  *statics.Body
	frame statics.Frame
	shelf *shelf
	all   bool        // no body was chosen of several: a setup may be of all of them
	own   [][]float64 // the problem's own givens, unknowns at random

	plain *Grader // for axes told by a number that is one of the problem's angles: the same with the number itself

	tolerance float64
	settled   map[string]bool

	mu      sync.Mutex
	ledgers map[statics.RowKind][]*book
	sheets  map[sheetKey]*ownSheet
}

// New makes a grader. An error names the part of the choice that is no part
// of the problem.
func New(p *problems.Problem, c Choice) (*Grader, error) {
	if !(c.Tolerance >= 0 && c.Tolerance <= MaxTolerance) {
		return nil, fmt.Errorf("tolerance is relative, above 0 and at most %v, not %v; leave it out for %v", MaxTolerance, c.Tolerance, Tolerance)
	}
	body, ok := p.Body(c.Body)
	if !ok {
		return nil, fmt.Errorf("no body \"%s\" in %s; there is %s", notation.Printable(c.Body), p.ID, bodyNames(p.Scenario))
	}
	pivot, err := p.Place(body, c.Pivot)
	if err != nil {
		return nil, err
	}
	for s := range c.Reversed {
		if !acts(p.Scenario, s) {
			return nil, fmt.Errorf("no force \"%s\" on the %s; forces are %s", notation.Printable(s), body.Name, forceNames(body))
		}
	}
	tilt, err := p.Axis(c.Tilt)
	if err != nil {
		return nil, err
	}
	g := &Grader{p: p, body: body, shelf: shelfOf(p.Scenario), tolerance: cmp.Or(c.Tolerance, Tolerance), settled: c.Settled,
		all:   c.Body == "" && len(p.Bodies) > 1,
		frame: statics.Frame{Pivot: pivot, Tilt: tilt, Clockwise: c.Clockwise, Reversed: c.Reversed}}
	g.ledgers, g.sheets = map[statics.RowKind][]*book{}, map[sheetKey]*ownSheet{}
	rng := rand.New(rand.NewPCG(0x0f4e, 0x57a7e5))
	for range manyStates / 2 {
		v := slices.Clone(p.Values)
		p.Free(rng, v)
		g.own = append(g.own, v)
	}
	if own, ok := p.OwnAngle(tilt); ok {
		g.plain = g.on(body, pivot)
		g.frame.Tilt = own
	}
	return g, nil
}

// either is a verdict, or, where the axes may have been meant by their number,
// that of the grader that takes them so, if it is better.
func (g *Grader) either(v Verdict, plainly func(*Grader) (Verdict, error)) Verdict {
	if g.plain == nil || v.Outcome == Right {
		return v
	}
	if p, err := plainly(g.plain); err == nil && (p.Outcome == Right || p.Earned() && !v.Earned()) {
		return p
	}
	return v
}

// nearly is how far a number may be off and be taken for rounded too far.
func (g *Grader) nearly() float64 { return g.tolerance + Tolerance }

// likeness is how near to what a slip writes a number must be for the slip to
// be named: a tolerance made wide lets more pass, but likens no more.
func (g *Grader) likeness() float64 { return min(g.tolerance, Tolerance) }

// Problem is the problem graded for.
func (g *Grader) Problem() *problems.Problem { return g.p }

// Frame is the learner's choice of pivot, axes and signs.
func (g *Grader) Frame() statics.Frame { return g.frame }

// Body is the body whose ledger is graded.
func (g *Grader) Body() *statics.Body { return g.body }

func bodyNames(s *problems.Scenario) string {
	var out []string
	for _, b := range s.Bodies {
		out = append(out, b.Name)
	}
	return strings.Join(out, ", ")
}

// acts reports whether a force or couple of that symbol acts on any body.
func acts(s *problems.Scenario, symbol string) bool {
	for i := range s.Bodies {
		if actsOn(&s.Bodies[i], symbol) {
			return true
		}
	}
	return false
}

func actsOn(b *statics.Body, symbol string) bool {
	_, ok := b.Force(symbol)
	return ok || slices.ContainsFunc(b.Couples, func(c statics.Couple) bool { return c.Symbol == symbol })
}

func forceNames(b *statics.Body) string {
	var out []string
	for _, f := range b.Forces {
		out = append(out, f.Symbol)
	}
	for _, c := range b.Couples {
		out = append(out, c.Symbol)
	}
	return strings.Join(out, ", ")
}

// entry finds a force or couple by its symbol, or by its size in symbols
// ("M g" for W): its place in the ledger.
func (g *Grader) entry(name string) (int, error) {
	name = strings.TrimSpace(name)
	if i, ok := g.body.Force(name); ok {
		return i, nil
	}
	for i, c := range g.body.Couples {
		if c.Symbol == name {
			return len(g.body.Forces) + i, nil
		}
	}
	if n, err := g.p.Table.Parse(name); err == nil {
		if i, ok := g.bySize(n, ""); ok {
			return i, nil
		}
	}
	return 0, fmt.Errorf("no force \"%s\" on the %s; forces are %s", notation.Printable(name), g.body.Name, forceNames(g.body))
}

// bySize finds the force, at a point if that is given, whose size is n.
func (g *Grader) bySize(n notation.Node, at string) (int, bool) {
	for i, f := range g.body.Forces {
		if at != "" && f.At != at {
			continue
		}
		ok := true
		for _, v := range g.shelf.states {
			want := f.Magnitude.Eval(v)
			if !near(notation.Value(n, v), want, abs(want), exact) {
				ok = false
				break
			}
		}
		if ok {
			return i, true
		}
	}
	return 0, false
}

// named is a wrong verdict for slips, with what is said of each. What a slip
// says beside another comes last.
func (g *Grader) named(reads string, w written) Verdict {
	v := Verdict{Outcome: Wrong, Slips: w.codes, ReadsAs: reads}
	var parts, last []string
	for i, code := range w.codes {
		e := w.entry
		if i == 0 && w.first != nil {
			e = *w.first
		}
		switch s, ok := slip.Of(code); {
		case !ok:
			if own := g.shelf.ownMessage(code, e); own != "" {
				parts = append(parts, own)
			}
		case len(w.codes) > 1 && s.Beside != "":
			last = append(last, s.Fill(s.Beside, e))
		default:
			parts = append(parts, s.Fill(s.Say, e))
		}
	}
	v.Message = strings.Join(append([]string{both(parts...)}, last...), " ")
	return v
}

// both says two things, each once.
func both(parts ...string) string {
	return strings.Join(slices.Compact(parts), " Also: ")
}

func (g *Grader) count() int { return len(g.body.Forces) + len(g.body.Couples) }

func (g *Grader) symbolOf(i int) string {
	if i < len(g.body.Forces) {
		return g.body.Forces[i].Symbol
	}
	return g.body.Couples[i-len(g.body.Forces)].Symbol
}

// show is the symbol of force i as it is shown.
func (g *Grader) show(i int) string { return notation.Display(g.symbolOf(i), false) }

func (g *Grader) sizeOf(i int) statics.Sum {
	if i < len(g.body.Forces) {
		return g.body.Forces[i].Magnitude
	}
	return g.body.Couples[i-len(g.body.Forces)].Magnitude
}

// slipped is a wrong verdict for one slip about an entry.
func (g *Grader) slipped(reads, code string, e slip.Entry) Verdict {
	return g.named(reads, written{codes: []string{code}, entry: e})
}
