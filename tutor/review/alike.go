package review

import (
	"cmp"
	"math"
	"slices"
)

// Copying is told from chance by the wrong lines that two learners typed to
// the letter, problem by problem. Right lines are alike by nature. Each wrong
// line that both typed speaks for copying by the logarithm of how few of those
// who met the line typed it; each that one of them alone typed speaks against
// it by copiedLine, as if one copied line in twenty were changed. Problems in
// which more speaks for it are summed, and the sum must be beyond what chance
// would bring once in a hundred classes like this one.
const (
	copiedLine   = 3.0 // ln 20, rounded
	oncePerClass = 100
	fewTyped     = 12 // a line that more learners typed says nothing
	fewestTyped  = 3  // the same, of a log with more than manyLines wrong lines
	manyLines    = 20_000
	leastShared  = 2 // lines in a problem
)

// pairAt is two learners at a problem.
type pairAt struct{ a, b, problem uint32 }

type sharedLines struct {
	lines []lineKey
	log   float64
}

// alike finds learners whose wrong lines are the same.
func (c *class) alike() []Alike {
	lines := map[lineKey]*lineCount{}
	for key, w := range c.wrongs {
		addLine(lines, c.lineKey(key), c.st.places.list[key.instance].seed, w)
	}
	few := fewTyped
	if len(lines) > manyLines {
		few = fewestTyped
	}
	met := c.learnersAt()
	typed := map[[2]uint32]int{} // learner, problem: wrong lines that few typed
	pairs := map[pairAt]*sharedLines{}
	for key, l := range lines {
		who := l.learners.all()
		if len(who) > few {
			continue
		}
		rare := math.Log(float64(max(met[problemTask{key.problem, key.task}], 1)) / float64(len(who)))
		for i, a := range who {
			typed[[2]uint32{a, key.problem}]++
			for _, b := range who[i+1:] {
				at := pairAt{a, b, key.problem}
				if pairs[at] == nil {
					pairs[at] = &sharedLines{}
				}
				pairs[at].lines = append(pairs[at].lines, key)
				pairs[at].log += rare
			}
		}
	}
	return c.alikeAmong(pairs, typed, lines)
}

func (c *class) alikeAmong(pairs map[pairAt]*sharedLines, typed map[[2]uint32]int, lines map[lineKey]*lineCount) []Alike {
	learners := float64(len(c.st.learnersInOrder()))
	problems := map[uint32]bool{}
	for at := range typed {
		problems[at[1]] = true
	}
	limit := math.Log(max(1, learners*(learners-1)/2) * float64(len(problems)) * oncePerClass)

	sums := map[[2]uint32]*alikeSum{}
	for at, s := range pairs {
		n := len(s.lines)
		a, b := typed[[2]uint32{at.a, at.problem}], typed[[2]uint32{at.b, at.problem}]
		log := s.log - copiedLine*float64(a+b-2*n)
		if n < leastShared || log <= 0 {
			continue
		}
		pair := [2]uint32{at.a, at.b}
		if sums[pair] == nil {
			sums[pair] = &alikeSum{}
		}
		sum := sums[pair]
		sum.log += log
		sum.of += max(a, b)
		sum.lines = append(sum.lines, s.lines...)
	}
	var out []Alike
	for pair, sum := range sums {
		if sum.log > limit {
			out = append(out, c.alikePair(pair, sum, lines))
		}
	}
	slices.SortFunc(out, func(a, b Alike) int {
		return cmp.Or(b.Shared-a.Shared, cmp.Compare(a.Learners[0], b.Learners[0]), cmp.Compare(a.Learners[1], b.Learners[1]))
	})
	return out
}

type alikeSum struct {
	log   float64
	of    int
	lines []lineKey
}

func (c *class) alikePair(pair [2]uint32, sum *alikeSum, lines map[lineKey]*lineCount) Alike {
	a := Alike{Learners: [2]string{c.st.str(pair[0]), c.st.str(pair[1])}, Shared: len(sum.lines), Of: sum.of}
	slices.Sort(a.Learners[:])
	shared := map[lineKey]*lineCount{}
	for _, k := range sum.lines {
		shared[k] = lines[k]
		if p := c.st.str(k.problem); !slices.Contains(a.Problems, p) {
			a.Problems = append(a.Problems, p)
		}
	}
	slices.Sort(a.Problems)
	a.Lines = c.lines(shared, 3)
	return a
}
