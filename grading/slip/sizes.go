package slip

import (
	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// gravity is the problem's g as a sum, and whether it has one.
func (e Entry) gravity() (statics.Sum, bool) {
	i, ok := e.Problem.Table.Index("g")
	if !ok {
		return nil, false
	}
	return statics.Sym(i, "g"), true
}

func massForWeight(e Entry) []Entry {
	g, ok := e.gravity()
	if !ok || !e.isForce(statics.Weight) || !e.Force.Magnitude.Uses(symbolIndex(e, "g")) {
		return nil
	}
	inv := statics.Const(1).Over(g)
	return one(e, func(e *Entry) { e.Size = e.Size.Times(inv) })
}

func symbolIndex(e Entry, name string) int {
	i, _ := e.Problem.Table.Index(name)
	return i
}

func gTwice(e Entry) []Entry {
	if !e.isForce(statics.Weight) {
		return nil
	}
	if g, ok := e.gravity(); ok {
		return one(e, func(e *Entry) { e.Size = e.Size.Times(g) })
	}
	var out []Entry
	for _, g := range []float64{9.81, 9.8, 10} {
		v := e
		v.Size = e.Size.Scale(g)
		out = append(out, v)
	}
	return out
}

// weights are the sizes of the body's weights, one by one and together, with
// a word for each.
func (e Entry) weights() (sizes []statics.Sum, words []string) {
	var all statics.Sum
	n := 0
	for _, f := range e.Body.Forces {
		if f.Kind == statics.Weight {
			sizes, words = append(sizes, f.Magnitude), append(words, f.Magnitude.Text(true))
			all = all.Plus(f.Magnitude)
			n++
		}
	}
	if n > 1 {
		sizes, words = append(sizes, all), append(words, all.Text(true))
	}
	return sizes, words
}

func (e Entry) sizedByWeights(factor statics.Sum) []Entry {
	var out []Entry
	sizes, words := e.weights()
	for i, w := range sizes {
		v := e
		v.Size, v.Given = factor.Times(w), words[i]
		out = append(out, v)
	}
	return out
}

func tensionIsWeight(e Entry) []Entry {
	if !e.isForce(statics.Tension) || !e.Force.Unknown {
		return nil
	}
	return e.sizedByWeights(statics.Const(1))
}

func normalIsWeight(e Entry) []Entry {
	if !e.isForce(statics.Normal) || !e.Force.Unknown {
		return nil
	}
	return e.sizedByWeights(statics.Const(1))
}

// otherWeight writes the right arm with the size of another weight.
func otherWeight(e Entry) []Entry {
	if !e.isForce(statics.Weight) || e.bare().IsZero() {
		return nil
	}
	var out []Entry
	for _, f := range e.Body.Forces {
		if f.Kind == statics.Weight && f.Symbol != e.Symbol() {
			v := e
			v.Size, v.Given = f.Magnitude, notation.Display(f.Symbol, false)
			out = append(out, v)
		}
	}
	return out
}

// mu is the problem's coefficient of friction, if it gives one.
func (e Entry) mu() (statics.Sum, bool) {
	for _, g := range e.Problem.Givens {
		if g.Symbol == "mu" || len(g.Symbol) > 3 && g.Symbol[:3] == "mu_" {
			return statics.Sym(g.Index, g.Symbol), true
		}
	}
	return nil, false
}

func frictionAtLimit(e Entry) []Entry {
	mu, ok := e.mu()
	n, pair := e.Problem.Table.Index(e.Force.Pair)
	if !ok || !pair || !e.isForce(statics.Friction) || e.Force.Sliding {
		return nil
	}
	return one(e, func(e *Entry) { e.Size = mu.Times(statics.Sym(n, e.Force.Pair)) })
}

func frictionFromWeight(e Entry) []Entry {
	mu, ok := e.mu()
	if !ok || !e.isForce(statics.Friction) {
		return nil
	}
	return e.sizedByWeights(mu)
}

func loadNotMultiplied(e Entry) []Entry {
	if !e.isForce(statics.Spread) {
		return nil
	}
	return one(e, func(e *Entry) { e.Size = e.Force.Load.PerLength })
}

func unitPrefix(e Entry) []Entry {
	var out []Entry
	for _, k := range []float64{1000, 0.001, 100, 0.01} {
		v := e
		v.Size = e.Size.Scale(k)
		out = append(out, v)
	}
	return out
}
