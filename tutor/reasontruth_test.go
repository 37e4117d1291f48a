package tutor

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// numbersOf tells the truth from coordinates alone.
type numbersOf struct {
	*scene
	states [][]float64
}

func (n *numbersOf) vector(f statics.Force, v []float64) (x, y float64) {
	angle := f.Dir.Radians(v)
	return math.Cos(angle), math.Sin(angle)
}

// passes reports whether the line of a force passes through a point at every
// state, the problem's own being the last.
func (n *numbersOf) passes(f statics.Force, on *statics.Body, about statics.Point) bool {
	return n.passesAt(n.states, f, on, about)
}

// passesHere is the same at the problem's own values.
func (n *numbersOf) passesHere(f statics.Force, on *statics.Body, about statics.Point) bool {
	return n.passesAt(n.states[len(n.states)-1:], f, on, about)
}

func (n *numbersOf) passesAt(states [][]float64, f statics.Force, on *statics.Body, about statics.Point) bool {
	for _, v := range states {
		at, _ := on.Point(f.At)
		px, py := at.XY(v)
		qx, qy := about.XY(v)
		x, y := n.vector(f, v)
		if math.Abs((px-qx)*y-(py-qy)*x) > 1e-6 {
			return false
		}
	}
	return true
}

// turning is the sum of moments and the list of them, at the solution.
func (n *numbersOf) turning(about statics.Point) (list []float64, balanced bool) {
	v, sum, size := n.p.Values, 0.0, 0.0
	qx, qy := about.XY(v)
	for _, f := range n.b.Forces {
		at, _ := n.b.Point(f.At)
		px, py := at.XY(v)
		x, y := n.vector(f, v)
		list = append(list, n.value(f)*((px-qx)*y-(py-qy)*x))
	}
	for _, c := range n.b.Couples {
		list = append(list, c.Sense*c.Magnitude.Eval(v))
	}
	for _, m := range list {
		sum, size = sum+m, max(size, math.Abs(m))
	}
	return list, math.Abs(sum) < 1e-6*(size+1)
}

func (n *numbersOf) value(f statics.Force) float64 {
	if i, ok := n.p.Table.Index(f.Symbol); ok && f.Unknown {
		return n.p.Values[i]
	}
	return f.Magnitude.Eval(n.p.Values)
}

func (n *numbersOf) nothing(f statics.Force) bool {
	return math.Abs(n.value(f)) < 1e-5*n.p.ForceScale()
}

// words are the names in a text.
func wordsIn(text string) []string {
	return strings.FieldsFunc(text, func(c rune) bool {
		return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '_' && !(c >= '₀' && c <= '₉')
	})
}

// named are the unknown forces that a text names as dropping out.
func (n *numbersOf) named(says string) bool {
	says, _, _ = strings.Cut(says, "; through")
	head, _, _ := strings.Cut(says, " act")
	got := wordsIn(head)
	count := 0
	for _, f := range n.b.Forces {
		drops := f.Unknown && n.passes(f, n.b, n.point)
		if drops != slices.Contains(got[2:], notation.Display(f.Symbol, false)) {
			return false
		}
		if drops {
			count++
		}
	}
	return count > 0 && got[0] == counted(count)
}

func (n *numbersOf) acrossNone(f statics.Force, v []float64) (x, y bool) {
	a, b := n.vector(f, v)
	return math.Abs(a) < 1e-9, math.Abs(b) < 1e-9
}

var truths = map[string]func(n *numbersOf, says string) bool{
	"drops": func(n *numbersOf, says string) bool { return n.named(says) },
	"all": func(n *numbersOf, _ string) bool {
		return !slices.ContainsFunc(n.b.Forces, func(f statics.Force) bool { return f.Unknown && !n.passesHere(f, n.b, n.point) })
	},
	"nearest": func(n *numbersOf, _ string) bool {
		i := slices.IndexFunc(n.b.Forces, func(f statics.Force) bool { return f.Kind == statics.Weight })
		w, _ := n.b.Point(n.b.Forces[i].At)
		wx, wy := w.XY(n.p.Values)
		far := func(p statics.Point) float64 { x, y := p.XY(n.p.Values); return math.Hypot(x-wx, y-wy) }
		return !slices.ContainsFunc(n.b.Points, func(p statics.Point) bool { return !p.Mark && far(p) < far(n.point)-1e-9 })
	},
	"turns": func(n *numbersOf, _ string) bool {
		return !slices.ContainsFunc(n.b.Points, func(p statics.Point) bool { _, ok := n.turning(p); return ok && p.Name != n.point.Name })
	},
	"signs": func(n *numbersOf, _ string) bool {
		list, _ := n.turning(n.point)
		return slices.Min(list) > -1e-9 || slices.Max(list) < 1e-9
	},
	"known": func(n *numbersOf, says string) bool {
		i := slices.IndexFunc(n.b.Forces, func(f statics.Force) bool { return notation.Display(f.Symbol, false) == wordsIn(says)[0] })
		return n.passesHere(n.b.Forces[i], n.b, n.point) || n.b.Forces[i].Unknown
	},
	"only":   func(n *numbersOf, _ string) bool { _, ok := n.turning(n.fr.Pivot); return !ok },
	"values": func(n *numbersOf, _ string) bool { _, ok := n.turning(n.fr.Pivot); return !ok },
	"smooth": func(n *numbersOf, _ string) bool {
		return n.force.Kind == statics.Normal && !slices.ContainsFunc(n.b.Forces, func(f statics.Force) bool {
			return f.At == n.force.At && f.Kind == statics.Friction
		})
	},
	"nothing": func(n *numbersOf, _ string) bool { return n.nothing(n.force) },
	"zero":    func(n *numbersOf, _ string) bool { return n.nothing(n.force) },
	"at-rest": func(n *numbersOf, _ string) bool { return n.nothing(n.force) },
	"asked-for": func(n *numbersOf, _ string) bool {
		u, v := n.vector(n.force, n.p.Values)
		return !slices.ContainsFunc(n.b.Forces, func(f statics.Force) bool {
			x, y := n.vector(f, n.p.Values)
			return f.Symbol != n.force.Symbol && math.Abs(n.value(f)*(x*v-y*u)) > 1e-6*n.p.ForceScale()
		})
	},
	"needed": func(n *numbersOf, _ string) bool {
		_, unknown := n.p.Unknown(n.force.Symbol)
		return unknown && n.force.Kind == statics.Friction && !n.force.Sliding
	},
	"same": func(n *numbersOf, _ string) bool {
		mu, _ := n.p.Table.Index("mu")
		i, _ := n.p.Table.Index(n.force.Pair)
		most := n.p.Values[mu] * n.p.Values[i]
		return math.Abs(math.Abs(n.value(n.force))/most-1) < 0.01
	},
	"own-line": func(n *numbersOf, says string) bool {
		for _, v := range n.states {
			x, y := n.acrossNone(n.force, v)
			if strings.HasSuffix(says, "to x.") != x || strings.HasSuffix(says, "to y.") != y || x == y {
				return false
			}
		}
		return true
	},
	"taken-up": func(n *numbersOf, says string) bool {
		x, y := n.acrossNone(n.force, n.p.Values)
		return strings.Contains(says, "along x") && !x || strings.Contains(says, "along y") && !y
	},
	"through": func(n *numbersOf, _ string) bool { return n.passesHere(n.force, n.on, n.fr.Pivot) },
	"centre": func(n *numbersOf, says string) bool {
		return n.force.Kind == statics.Weight && n.force.Meaning == "weight of the "+n.b.Name && strings.Contains(says, n.place(n.force.At))
	},
	"either": func(n *numbersOf, says string) bool {
		i := slices.IndexFunc(n.b.Points, func(p statics.Point) bool { return strings.Contains(says, "at "+n.place(p.Name)+":") })
		ax, ay := n.b.Points[i].XY(n.p.Values)
		at, _ := n.b.Point(n.force.At)
		gx, gy := at.XY(n.p.Values)
		x, y := n.vector(n.force, n.p.Values)
		return math.Abs((ax-gx)*y-(ay-gy)*x) < 1e-9
	},
	"held": func(n *numbersOf, _ string) bool {
		return slices.ContainsFunc(n.b.Forces, func(f statics.Force) bool { return f.At == n.force.At && f.Symbol != n.force.Symbol })
	},
	"one-line": func(n *numbersOf, _ string) bool {
		if n.force.Symbol != "" {
			return n.force.Kind == statics.Link
		}
		from, to, _ := n.b.TwoForce()
		p, _ := n.b.Point(from)
		q, _ := n.b.Point(to)
		px, py := p.XY(n.p.Values)
		qx, qy := q.XY(n.p.Values)
		sum := map[string][2]float64{}
		for _, f := range n.b.Forces {
			x, y := n.vector(f, n.p.Values)
			s := sum[f.At]
			sum[f.At] = [2]float64{s[0] + n.value(f)*x, s[1] + n.value(f)*y}
		}
		a, b := sum[from], sum[to]
		dust := 1e-6 * n.p.ForceScale()
		return len(sum) == 2 && math.Hypot(a[0]+b[0], a[1]+b[1]) < dust && math.Abs(a[0]*(qy-py)-a[1]*(qx-px)) < dust*math.Hypot(qx-px, qy-py)
	},
	"unloaded": func(n *numbersOf, _ string) bool {
		return !slices.ContainsFunc(n.b.Forces, func(f statics.Force) bool { return !n.nothing(f) })
	},
	"pair": func(n *numbersOf, _ string) bool {
		fx, fy, found := 0.0, 0.0, 0
		for _, part := range n.parts() {
			if i, ok := part.Force(n.force.Symbol); ok {
				x, y := n.vector(part.Forces[i], n.p.Values)
				fx, fy, found = fx+x, fy+y, found+1
			}
		}
		return found == 2 && math.Hypot(fx, fy) < 1e-9
	},
	"once": func(n *numbersOf, _ string) bool {
		on := 0
		for _, part := range n.parts() {
			if _, ok := part.Force(n.force.Symbol); ok {
				on++
			}
		}
		return on < 2
	},
	"components": func(n *numbersOf, says string) bool {
		i, _ := n.on.Force(n.force.Symbol)
		k := slices.IndexFunc(n.on.Forces, func(f statics.Force) bool { return notation.Display(f.Symbol, false) == wordsIn(says)[2] })
		f, o := n.on.Forces[i], n.on.Forces[k]
		x, y := n.vector(f, n.p.Values)
		u, v := n.vector(o, n.p.Values)
		return math.Hypot(n.value(f)*x+n.value(o)*u, n.value(f)*y+n.value(o)*v) < 1e-5*n.p.ForceScale()
	},
}
