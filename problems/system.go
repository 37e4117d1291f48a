package problems

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"steelyard/problems/statics"
)

// system gathers the rows of every body and sorts out the unknowns.
func (r *reader) system() {
	s := r.s
	sys := statics.System{Search: -1, Defs: s.defs}
	var wholes []statics.Row // sums of the others: true of the solution, and no help to it
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if rows := b.Ledger(statics.Frame{Pivot: b.Points[0]}); b.Whole() {
			wholes = append(wholes, rows...)
		} else {
			sys.Rows = append(sys.Rows, rows...)
		}
	}
	magnitude := s.unknownSizes()
	for i := range s.Unknowns {
		u := &s.Unknowns[i]
		path := fmt.Sprintf("unknowns.%d", i)
		within := r.file.Unknowns[i].Within
		if len(within) > 0 && (u.Role == Dependent || magnitude[u.Symbol]) {
			r.fault(path+".within", 0, "%s follows from the rows, so it needs no within; take it out", u.Symbol)
		}
		switch {
		case u.Role == Dependent:
		case magnitude[u.Symbol]:
			sys.Names = append(sys.Names, u.Symbol)
			sys.Unknowns = append(sys.Unknowns, u.Index)
		case sys.Search >= 0:
			r.fault(path, 0, "%s and %s are both unknowns that are no force; at most one may be searched for", u.Symbol, s.Table.Name(sys.Search))
		case len(within) != 2:
			r.fault(path, 0, "%s is no force on a body; give within = [\"least\", \"most\"] so that it can be searched for, or define it", u.Symbol)
		default:
			u.Role, sys.Search, sys.Unit = Searched, u.Index, u.Unit
			sys.Lo = r.end(path+".within.0", u.Index, within[0])
			sys.Hi = r.end(path+".within.1", u.Index, within[1])
		}
	}
	if sys.Search >= 0 {
		sys.Names = append(sys.Names, s.Table.Name(sys.Search))
	}
	s.rows, s.system = slices.Concat(sys.Rows, wholes), sys
	r.contacts()
	if len(r.faults) == 0 {
		r.loads()
		r.shared()
	}
}

// Fixes reports whether the rows of the bodies named are enough to find every
// unknown: whether their slopes in the unknowns, at the solution, are of full
// rank (gonum mat.SVD).
func (p *Problem) Fixes(bodies ...string) bool {
	vars := slices.Clone(p.system.Unknowns)
	if p.system.Search >= 0 {
		vars = append(vars, p.system.Search)
	}
	if len(vars) == 0 {
		return true
	}
	v := slices.Clone(p.Values)
	var slopes []float64
	n := 0
	for _, row := range p.rows {
		if !slices.Contains(bodies, row.Body) {
			continue
		}
		sum := row.Sum()
		line, most := make([]float64, len(vars)), 0.0
		for j, i := range vars {
			scale := max(math.Abs(p.Values[i]), 1e-3*p.forceScale(p.Values))
			if i == p.system.Search {
				scale = max(math.Abs(p.Values[i]), 1e-3)
			}
			at := func(x float64) float64 {
				v[i] = x
				statics.Define(p.defs, v)
				return sum.Eval(v)
			}
			const h = 1e-5
			line[j] = (at(p.Values[i]+h*scale) - at(p.Values[i]-h*scale)) / (2 * h)
			at(p.Values[i])
			most = max(most, math.Abs(line[j]))
		}
		if most > 0 {
			for j := range line {
				line[j] /= most
			}
			slopes, n = append(slopes, line...), n+1
		}
	}
	var svd mat.SVD
	if n < len(vars) || !svd.Factorize(mat.NewDense(n, len(vars), slopes), mat.SVDNone) {
		return false
	}
	return svd.Rank(1e-6) == len(vars)
}

// unknownSizes are the unknowns that are the size of a force or couple.
func (s *Scenario) unknownSizes() map[string]bool {
	out := map[string]bool{}
	for _, b := range s.Bodies {
		for _, f := range b.Forces {
			if f.Unknown {
				out[f.Symbol] = true
			}
		}
		for _, c := range b.Couples {
			if c.Unknown {
				out[c.Symbol] = true
			}
		}
	}
	return out
}

// end reads one end of a range, or a limit, for symbol i: degrees and angle
// symbols if that is an angle, else any expression. It may use the givens and
// what is defined by them, for it is needed before the unknowns are found.
func (r *reader) end(path string, i int, text string) statics.Sum {
	var s statics.Sum
	if r.table.IsAngle(i) {
		a, ok := r.angle(path, text)
		if !ok {
			return nil
		}
		s = statics.Const(a.Degrees * math.Pi / 180)
		for _, t := range a.Terms {
			s = s.Plus(statics.Sym(t.Index, t.Name).Scale(t.Coef))
		}
	} else {
		s = r.sum(path, text)
	}
	for j := range r.table.Len() {
		if s.Uses(j) && !r.known[j] {
			r.fault(path, 0, "%s is not known before the rows are solved; use the givens", r.table.Name(j))
		}
	}
	return s
}

// contact is a rough contact that does not slip: its friction must stay below
// mu times its normal force. The three are table indexes.
type contact struct{ friction, normal, mu int }

// contacts finds the coefficient of friction of each rough contact, if it is
// given: the one with the friction's, the normal's or the point's subscript
// (mu_A), else mu, else the static one, mu_s, else the only mu_ of all.
func (r *reader) contacts() {
	s := r.s
	var mus []string
	for _, g := range s.Givens {
		if g.Symbol == "mu" || strings.HasPrefix(g.Symbol, "mu_") {
			mus = append(mus, g.Symbol)
		}
	}
	for _, b := range s.Bodies {
		for _, f := range b.Forces {
			if f.Kind != statics.Friction || f.Pair == "" || f.Sliding || f.MaySlip {
				continue
			}
			names := []string{"mu_" + subscript(f.Symbol), "mu_" + subscript(f.Pair), "mu_" + f.At, "mu", "mu_s"}
			if len(mus) == 1 {
				names = append(names, mus[0])
			}
			for _, name := range names {
				if !slices.Contains(mus, name) {
					continue
				}
				i, _ := s.Table.Index(f.Symbol)
				n, _ := s.Table.Index(f.Pair)
				mu, _ := s.Table.Index(name)
				s.contacts = append(s.contacts, contact{i, n, mu})
				break
			}
		}
	}
}

func subscript(symbol string) string {
	_, sub, _ := strings.Cut(symbol, "_")
	return sub
}

// loads checks, at a few states, that what the file says of each distributed
// load twice is said alike: its length and the distance between its ends, its
// resultant's symbol and its size.
func (r *reader) loads() {
	rng := rand.New(rand.NewPCG(1, 2))
	values := make([]float64, r.table.Len())
	apart := func(a, b float64) bool { return math.Abs(a-b) > 1e-9*max(math.Abs(a), math.Abs(b)) }
	for range 4 {
		r.s.Sample(rng, values)
		for i, b := range r.s.Bodies {
			for j := range r.file.Bodies[i].Loads {
				n, _ := b.Force(r.file.Bodies[i].Loads[j].Symbol)
				l := b.Forces[n]
				path := fmt.Sprintf("bodies.%d.loads.%d", i, j)
				from, _ := b.Point(l.Load.From)
				to, _ := b.Point(l.Load.To)
				dx, dy := statics.Between(from, to).XY()
				if apart(math.Hypot(dx.Eval(values), dy.Eval(values)), l.Load.Length.Eval(values)) {
					r.fault(path+".length", 0, "the length is not the distance from %s to %s; make them agree", l.Load.From, l.Load.To)
				}
				k, _ := r.table.Index(l.Symbol)
				if apart(values[k], l.Magnitude.Eval(values)) {
					r.fault(path+".symbol", 0, "%s is not defined as the load's resultant, %s; make them agree", l.Symbol, l.Magnitude.Text(true))
				}
			}
		}
		if len(r.faults) > 0 {
			return
		}
	}
}
