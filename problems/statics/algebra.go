package statics

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"steelyard/problems/notation"
)

// Sum is a sum of products: the little algebra that equations are built in,
// so that one chain of offsets gives both a number and a textbook line.
// The zero value is the number 0.
type Sum []Product

// Product is a coefficient times factors, kept in the order a textbook would
// write them (force first, then arm).
type Product struct {
	Coef    float64
	Factors []Factor
}

// Factor is an atom raised to a whole power.
type Factor struct {
	Atom  Atom
	Power int
}

// Atom is what products are made of: a symbol, the sine or cosine of an
// angle, or an expression that the algebra does not look into.
type Atom struct {
	kind  atomKind
	index int           // symbol
	angle Angle         // sine, cosine
	node  notation.Node // opaque
	name  string        // canonical ASCII; two atoms are the same if their names are
}

type atomKind byte

const (
	symbolAtom atomKind = iota
	sinAtom
	cosAtom
	opaqueAtom
	tanAtom // in texts only
)

var functionOf = map[atomKind]string{sinAtom: "sin", cosAtom: "cos", tanAtom: "tan"}

// function is the name of the function a is, or "".
func (a *Atom) function() string { return functionOf[a.kind] }

func (a *Atom) isTrig() bool { return a.function() != "" }

// Const is the number v as a sum.
func Const(v float64) Sum {
	if v == 0 {
		return nil
	}
	return Sum{{Coef: v}}
}

// Sym is a symbol as a sum.
func Sym(index int, name string) Sum {
	return ofAtom(Atom{kind: symbolAtom, index: index, name: name})
}

func ofAtom(a Atom) Sum {
	return Sum{{Coef: 1, Factors: []Factor{{a, 1}}}}
}

// IsZero reports whether s is identically zero: no lever arm, no component.
func (s Sum) IsZero() bool { return len(s) == 0 }

// probes are states at which a sum is seen to be nothing: angles of 0.2 to 1.2
// radians, all else of the same size.
var probes = func() (out [3][]float64) {
	rng := rand.New(rand.NewPCG(7, 11))
	for i := range out {
		for range notation.MaxSymbols {
			out[i] = append(out[i], 0.2+rng.Float64())
		}
	}
	return out
}()

// OrZero is s, or nothing if its products cancel whatever the symbols are, as
// sin(alpha + beta) - sin(alpha) cos(beta) - cos(alpha) sin(beta) does: the
// algebra gathers like products, and knows no such identity.
func (s Sum) OrZero() Sum {
	if len(s) < 2 {
		return s
	}
	for _, v := range probes {
		if !(math.Abs(s.Eval(v)) <= 1e-13*s.Size(v)) {
			return s
		}
	}
	return nil
}

// Plus is s + t with like products gathered.
func (s Sum) Plus(t Sum) Sum {
	g := gathering{out: slices.Clone(s)}
	for _, p := range t {
		g.add(p)
	}
	return g.out
}

// Times is s t, multiplied out, with the factors of s first.
func (s Sum) Times(t Sum) Sum {
	var g gathering
	for _, p := range s {
		for _, q := range t {
			g.add(p.times(q))
		}
	}
	return g.out
}

// gathering adds products to a sum, like to like. Short sums are searched;
// long ones are indexed, so that no file can make the algebra slow.
type gathering struct {
	out   Sum
	index map[string]int // key -> place in out; nil while out is short
}

const short = 16

func (g *gathering) add(p Product) {
	if p.Coef == 0 {
		return
	}
	i := g.find(p)
	if i < 0 {
		g.out = append(g.out, p)
		if g.index != nil {
			g.index[p.key()] = len(g.out) - 1
		}
		return
	}
	was := math.Abs(g.out[i].Coef)
	g.out[i].Coef += p.Coef
	// What rounding leaves of a difference of equals is no term.
	if math.Abs(g.out[i].Coef) <= 1e-12*max(was, math.Abs(p.Coef)) {
		g.out = slices.Delete(g.out, i, i+1)
		g.index = nil
	}
}

func (g *gathering) find(p Product) int {
	if len(g.out) <= short {
		return slices.IndexFunc(g.out, p.like)
	}
	if g.index == nil {
		g.index = make(map[string]int, len(g.out))
		for i, q := range g.out {
			g.index[q.key()] = i
		}
	}
	if i, ok := g.index[p.key()]; ok {
		return i
	}
	return -1
}

// like reports whether p and q differ in their coefficients alone.
func (p Product) like(q Product) bool {
	if len(p.Factors) != len(q.Factors) {
		return false
	}
	for i := range p.Factors {
		f := &p.Factors[i]
		if q.power(&f.Atom) != f.Power {
			return false
		}
	}
	return true
}

// power is the power of an atom in p, or 0.
func (p Product) power(a *Atom) int {
	for i := range p.Factors {
		if p.Factors[i].Atom.name == a.name {
			return p.Factors[i].Power
		}
	}
	return 0
}

// Scale is k s.
func (s Sum) Scale(k float64) Sum {
	if k == 0 {
		return nil
	}
	out := slices.Clone(s)
	for i := range out {
		out[i].Coef *= k
	}
	return out
}

// Minus is s - t.
func (s Sum) Minus(t Sum) Sum { return s.Plus(t.Scale(-1)) }

// Equal reports whether s and t are the same sum, term by term.
func (s Sum) Equal(t Sum) bool { return s.Minus(t).IsZero() }

// Eval is the value of s; values are by table index, angles in radians.
func (s Sum) Eval(values []float64) float64 {
	var total float64
	for i := range s {
		total += s[i].eval(values)
	}
	return total
}

// Size is the sum of the sizes of s's products: the scale against which a
// value of s counts as zero.
func (s Sum) Size(values []float64) float64 {
	var total float64
	for i := range s {
		total += math.Abs(s[i].eval(values))
	}
	return total
}

// Uses reports whether symbol i occurs in s.
func (s Sum) Uses(i int) bool {
	for _, p := range s {
		for _, f := range p.Factors {
			if f.Atom.uses(i) {
				return true
			}
		}
	}
	return false
}

func (p Product) eval(values []float64) float64 {
	v := p.Coef
	for i := range p.Factors {
		f := &p.Factors[i]
		x := f.Atom.eval(values)
		switch f.Power {
		case 1:
			v *= x
		case -1:
			v /= x
		default:
			v *= math.Pow(x, float64(f.Power))
		}
	}
	return v
}

func (p Product) times(q Product) Product {
	out := Product{Coef: p.Coef * q.Coef, Factors: slices.Clone(p.Factors)}
	for _, f := range q.Factors {
		i := slices.IndexFunc(out.Factors, func(g Factor) bool { return g.Atom.name == f.Atom.name })
		if i < 0 {
			out.Factors = append(out.Factors, f)
			continue
		}
		out.Factors[i].Power += f.Power
		if out.Factors[i].Power == 0 {
			out.Factors = slices.Delete(out.Factors, i, i+1)
		}
	}
	return out
}

// key names the product's factors in an order that does not depend on how it
// was written.
func (p Product) key() string {
	switch len(p.Factors) {
	case 0:
		return ""
	case 1:
		if p.Factors[0].Power == 1 {
			return p.Factors[0].Atom.name
		}
	}
	names := make([]string, len(p.Factors))
	for i, f := range p.Factors {
		names[i] = f.Atom.name + "^" + strconv.Itoa(f.Power)
	}
	slices.Sort(names)
	return strings.Join(names, " ")
}

func (a *Atom) eval(values []float64) float64 {
	switch a.kind {
	case symbolAtom:
		return values[a.index]
	case sinAtom:
		return math.Sin(a.angle.Eval(values))
	case cosAtom:
		return math.Cos(a.angle.Eval(values))
	}
	return notation.Value(a.node, values)
}

func (a *Atom) uses(i int) bool {
	switch a.kind {
	case symbolAtom:
		return a.index == i
	case sinAtom, cosAtom:
		return a.angle.uses(i)
	}
	return slices.Contains(notation.Symbols(a.node), i)
}

// maxTerms is the most terms that reading an expression may multiply out to:
// (a + b)(c + d)... doubles with every bracket. What is larger stays opaque.
const maxTerms = 32

// FromNode reads a parsed expression as a sum. What the algebra does not know
// how to multiply out (a root, a quotient by a sum) stays one opaque atom.
func FromNode(n notation.Node) Sum {
	switch n := n.(type) {
	case *notation.Number:
		return Const(n.Value)
	case *notation.Symbol:
		return Sym(n.Index, n.Name)
	case *notation.Unary:
		return FromNode(n.Operand).Scale(-1)
	case *notation.Binary:
		if s, ok := binary(n); ok {
			return s
		}
	case *notation.Call:
		if s, ok := call(n); ok {
			return s
		}
	}
	return opaque(n)
}

func opaque(n notation.Node) Sum {
	return ofAtom(Atom{kind: opaqueAtom, node: n, name: n.String()})
}

func call(n *notation.Call) (Sum, bool) {
	a, ok := linear(n.Arg, 180/math.Pi)
	if !ok {
		return nil, false
	}
	sin, cos := Sin(a), Cos(a)
	switch {
	case n.Func == "sin":
		return sin, true
	case n.Func == "cos":
		return cos, true
	case n.Func == "tan" && len(cos) == 1:
		return sin.Over(cos), true // so that tan α cos α is sin α
	}
	return nil, false
}

func binary(n *notation.Binary) (Sum, bool) {
	l, r := FromNode(n.Left), FromNode(n.Right)
	switch n.Op {
	case '+':
		return l.Plus(r), len(l)+len(r) <= maxTerms
	case '-':
		return l.Minus(r), len(l)+len(r) <= maxTerms
	case '*':
		if len(l)*len(r) > maxTerms {
			return nil, false
		}
		return l.Times(r), true
	case '/':
		if len(r) == 0 {
			return nil, false // a division by zero is kept as it was written
		}
		if len(r) > 1 {
			r = opaque(n.Right)
		}
		return l.Over(r), true
	case '^':
		e, ok := n.Right.(*notation.Number)
		if !ok || e.Value != math.Trunc(e.Value) || e.Value == 0 || math.Abs(e.Value) > 4 || len(l) != 1 {
			return nil, false
		}
		p := Product{Coef: math.Pow(l[0].Coef, e.Value), Factors: slices.Clone(l[0].Factors)}
		for i := range p.Factors {
			p.Factors[i].Power *= int(e.Value)
		}
		return Sum{p}, true
	}
	return nil, false
}

func (p Product) inverse() Product {
	out := Product{Coef: 1 / p.Coef, Factors: slices.Clone(p.Factors)}
	for i := range out.Factors {
		out.Factors[i].Power *= -1
	}
	return out
}

// Over is s / t. A t of more than one term is divided by whole.
func (s Sum) Over(t Sum) Sum {
	if len(t) != 1 {
		t = opaque(t.node())
	}
	return s.Times(Sum{t[0].inverse()})
}
