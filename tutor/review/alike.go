package review

import (
	"cmp"
	"slices"
)

// Two learners are named as alike if they share at least leastShared unusual
// wrong lines, which are at least leastShare of those of the one with fewer. A
// line is unusual if at most fewTyped learners wrote it so.
const (
	fewTyped    = 3
	leastShared = 4
	leastShare  = 0.4
)

// alike finds learners who typed the same unusual wrong lines to the letter.
// Right lines are alike by nature, and common slips are common; what hardly
// anybody else typed is not.
func (c *class) alike() []Alike {
	lines := map[lineKey]*lineCount{}
	for key, w := range c.wrongs {
		addLine(lines, c.lineKey(key), c.st.places.list[key.instance].seed, w)
	}
	unusual := map[uint32]int{}
	pairs := map[[2]uint32][]lineKey{}
	for key, l := range lines {
		if len(l.learners) > fewTyped {
			continue
		}
		for i, a := range l.learners {
			unusual[a]++
			for _, b := range l.learners[i+1:] {
				pairs[[2]uint32{a, b}] = append(pairs[[2]uint32{a, b}], key)
			}
		}
	}
	var out []Alike
	for pair, keys := range pairs {
		of := min(unusual[pair[0]], unusual[pair[1]])
		if len(keys) < leastShared || float64(len(keys)) < leastShare*float64(of) {
			continue
		}
		out = append(out, c.alikePair(pair, keys, of, lines))
	}
	slices.SortFunc(out, func(a, b Alike) int {
		return cmp.Or(b.Shared-a.Shared, cmp.Compare(a.Learners[0], b.Learners[0]), cmp.Compare(a.Learners[1], b.Learners[1]))
	})
	return out
}

func (c *class) alikePair(pair [2]uint32, keys []lineKey, of int, lines map[lineKey]*lineCount) Alike {
	a := Alike{Learners: [2]string{c.st.str(pair[0]), c.st.str(pair[1])}, Shared: len(keys), Of: of}
	slices.Sort(a.Learners[:])
	shared := map[lineKey]*lineCount{}
	for _, k := range keys {
		shared[k] = lines[k]
		if p := c.st.str(k.problem); !slices.Contains(a.Problems, p) {
			a.Problems = append(a.Problems, p)
		}
	}
	slices.Sort(a.Problems)
	a.Lines = c.lines(shared, 3)
	return a
}
