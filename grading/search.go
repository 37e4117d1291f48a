package grading

import (
	"cmp"
	"math"
	"slices"
)

// trial is a typed equation's values on a grid, to be matched with a row in
// which something is wrong: a multiple of it, the multiple being the same
// within each group of states that share their givens.
type trial struct {
	*broken
	d         []float64
	tolerance float64
	row       []float64 // the row being tried

	p, q []float64 // square to d and to each other in the first group
}

func (br *broken) try(d []float64, tolerance float64) *trial {
	tr := &trial{broken: br, d: d, tolerance: tolerance, row: make([]float64, len(br.sums))}
	tr.p, tr.q = square(d[:br.each])
	return tr
}

// square gives two unit vectors square to d and to each other, by
// Gram and Schmidt from the axes along which d is smallest.
func square(d []float64) (p, q []float64) {
	order := make([]int, len(d))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(abs(d[a]), abs(d[b])) })
	unit := func(v []float64) []float64 {
		n := math.Sqrt(dot(v, v))
		for i := range v {
			v[i] /= n
		}
		return v
	}
	less := func(v, e []float64) {
		k := dot(v, e)
		for i := range v {
			v[i] -= k * e[i]
		}
	}
	n := unit(slices.Clone(d))
	p = make([]float64, len(d))
	p[order[0]] = 1
	less(p, n)
	unit(p)
	q = make([]float64, len(d))
	q[order[1]] = 1
	less(q, n)
	less(q, p)
	unit(q)
	return p, q
}

func dot(a, b []float64) float64 {
	var s float64
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// fits reports whether d is a multiple of the row: whether the sine of the
// angle between them as vectors is within tolerance in every group.
func (tr *trial) fits() bool {
	for k := range tr.groups {
		d, r := tr.d[k*tr.each:(k+1)*tr.each], tr.row[k*tr.each:(k+1)*tr.each]
		dd, rr, dr := dot(d, d), dot(r, r), dot(d, r)
		if dd == 0 || rr == 0 || dr == 0 {
			return false
		}
		var off float64 // from the difference, which does not cancel
		for j := range d {
			x := d[j] - dr/rr*r[j]
			off += x * x
		}
		if !(off <= tr.tolerance*tr.tolerance*dd) {
			return false
		}
	}
	return tr.varies() || tr.times(1) || tr.times(-1)
}

// varies reports whether the row depends on the unknowns: only then does
// being a multiple of it mean anything.
func (tr *trial) varies() bool {
	for k := range tr.groups {
		r := tr.row[k*tr.each : (k+1)*tr.each]
		for _, x := range r[1:] {
			if !near(x, r[0], max(abs(x), abs(r[0])), 1e-6) {
				return true
			}
		}
	}
	return false
}

// set makes the row the right one with changes added.
func (tr *trial) set(deltas ...[]float64) {
	copy(tr.row, tr.sums)
	for _, delta := range deltas {
		for k, x := range delta {
			tr.row[k] += x
		}
	}
}

// usable reports whether every value of the trial is a number, and none zero.
func (tr *trial) usable() bool {
	return !slices.ContainsFunc(tr.d, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) || x == 0 })
}

// asWritten reports whether d is the row itself, not a multiple: whoever writes
// sums term by term leaves no factor.
func (tr *trial) asWritten() bool { return tr.times(1) }

// times reports whether d is k times the row.
func (tr *trial) times(k float64) bool {
	for i := range tr.d {
		if !near(tr.d[i], k*tr.row[i], abs(tr.row[i]), max(tr.tolerance, 1e-6)) {
			return false
		}
	}
	return true
}

// singles are the single changes that fit: first those that give the line as
// written, then those that give a multiple of it, each the simplest first.
func (tr *trial) singles() []*change {
	var out, multiples []*change
	for i := range tr.changes {
		c := &tr.changes[i]
		if tr.set(c.delta); !tr.fits() {
			continue
		}
		if tr.asWritten() {
			out = append(out, c)
		} else {
			multiples = append(multiples, c)
		}
	}
	return append(out, multiples...)
}

// throughout finds the simplest slip that fits if it is made in every entry
// that it can be made in: a calculator set to radians, every mass for a weight.
func (tr *trial) throughout() *change {
	for i := 0; i < len(tr.changes); {
		first := &tr.changes[i]
		copy(tr.row, tr.sums)
		made, cell := 0, -1
		for ; i < len(tr.changes) && tr.changes[i].w.rank == first.w.rank; i++ {
			if c := &tr.changes[i]; c.cell != cell && c.w.entry.Place == "" { // an entry's first of this slip
				made, cell = made+1, c.cell
				for k, x := range c.delta {
					tr.row[k] += x
				}
			}
		}
		if made > 2 && tr.fits() {
			return first
		}
	}
	return nil
}

// shadow is a change seen along p and q: what it does to the angle with d.
type shadow struct {
	p, q float64
	at   int
}

func (tr *trial) shadow(v []float64, at int) shadow {
	return shadow{dot(tr.p, v[:tr.each]), dot(tr.q, v[:tr.each]), at}
}

// couples finds the simplest two changes in two entries that fit. Of the rows
// tried, only those whose shadow vanishes can: two shadows and the sum's must
// cancel, so that for each change the other is looked up in a sorted list.
func (tr *trial) couples() (a, b *change) {
	sum := tr.shadow(tr.sums, 0)
	shadows := make([]shadow, len(tr.changes))
	reach := math.Sqrt(dot(tr.sums[:tr.each], tr.sums[:tr.each]))
	for i := range tr.changes {
		d := tr.changes[i].delta[:tr.each]
		shadows[i] = tr.shadow(d, i)
		reach = max(reach, math.Sqrt(dot(d, d)))
	}
	room := 4 * tr.tolerance * reach
	sorted := slices.Clone(shadows)
	slices.SortFunc(sorted, func(x, y shadow) int { return cmp.Compare(x.p, y.p) })
	best := math.MaxInt
	for i, s := range shadows {
		p, q := -sum.p-s.p, -sum.q-s.q
		from, _ := slices.BinarySearchFunc(sorted, p-room, func(x shadow, t float64) int { return cmp.Compare(x.p, t) })
		for _, o := range sorted[from:] {
			if o.p > p+room {
				break
			}
			x, y := &tr.changes[i], &tr.changes[o.at]
			if o.at <= i || abs(o.q-q) > room || x.cell == y.cell || together(x, y) >= best {
				continue
			}
			if tr.set(x.delta, y.delta); tr.fits() {
				a, b, best = x, y, together(x, y)
			}
		}
	}
	return a, b
}

// together is the rank of two changes: the same slip twice is simpler than two
// kinds of slip.
func together(a, b *change) int {
	if a.w.codes[0] == b.w.codes[0] {
		return a.w.rank
	}
	return a.w.rank + b.w.rank + 10
}

// inOne finds the simplest two slips in one entry that fit.
func (tr *trial) inOne() *written {
	sum := tr.shadow(tr.sums, 0)
	for i := range tr.pairs {
		c := &tr.pairs[i]
		s := tr.shadow(c.delta, 0)
		d := c.delta[:tr.each]
		room := 4 * tr.tolerance * max(abs(d[0]), abs(d[1]), abs(tr.sums[0]), abs(tr.sums[1]), abs(tr.sums[2]), abs(d[2]))
		if abs(sum.p+s.p) > room || abs(sum.q+s.q) > room {
			continue
		}
		if tr.set(c.delta); tr.fits() {
			return c.w
		}
	}
	return nil
}
