package figure

import (
	"math/rand/v2"
	"testing"
)

// In SVG too no line goes through letters: none of all the labels of the bank, of
// several seeds and states, at the sizes of show and of printed sheets.
func TestSVGLabelsLieClear(t *testing.T) {
	all := 0
	for _, s := range figures(t) {
		for seed := range uint64(2) {
			p := drawProblem(t, s, seed)
			for i := range s.Bodies {
				for n, v := range states(p, &s.Bodies[i], len(s.Bodies) > 1) {
					size := [][2]float64{{560, 360}, {520, 290}, {350, 330}}[(n+i+int(seed))%3]
					scene := Build(p, v)
					if err := checkLetters(scene, size[0], size[1]); err != nil {
						t.Errorf("%s, seed %d, body %d, state %d, %v: %v", s.ID, seed, i, n, size, err)
					}
					c := scene.onCanvas(size[0], size[1])
					all += len(c.boxes)
					for _, b := range c.boxes {
						for _, k := range c.strokes {
							if b.tight().crossedBy(k) {
								t.Errorf("%s, seed %d, body %d, state %d, %v: a line from %v to %v goes through %q at %v", s.ID, seed, i, n, size, k.a, k.b, b.name, b.box)
								break
							}
						}
					}
				}
			}
		}
	}
	t.Logf("%d labels", all)
	if all < 12000 {
		t.Errorf("only %d labels were looked at", all)
	}
}

// Whether a stroke goes through a box is told by many places along it.
func TestCrossedBy(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	crossed := 0
	for range 3000 {
		at := func() spot { return spot{20 * rng.Float64(), 20 * rng.Float64()} }
		low := at()
		b, s := box{low, spot{low.x + 1 + 8*rng.Float64(), low.y + 1 + 8*rng.Float64()}}, stroke{at(), at()}
		switch rng.IntN(5) {
		case 0:
			s.b.x = s.a.x
		case 1:
			s.b.y = s.a.y
		}
		within, nearly := false, false
		for k := range 2001 {
			p := s.a.plus(spot{s.b.x - s.a.x, s.b.y - s.a.y}, float64(k)/2000)
			in := func(more float64) bool {
				return p.x > b.low.x-more && p.x < b.high.x+more && p.y > b.low.y-more && p.y < b.high.y+more
			}
			within, nearly = within || in(-0.01), nearly || in(0.01)
		}
		got := b.crossedBy(s)
		if within && !got || !nearly && got {
			t.Fatalf("%v through %v: %v", s, b, got)
		}
		if got {
			crossed++
		}
	}
	if crossed < 300 || crossed > 2700 {
		t.Errorf("%d of 3000 are crossed", crossed)
	}
}

// A longer dimension goes outside a shorter one along the same line.
func TestShorterDimensionsFirst(t *testing.T) {
	s := Scene{Shapes: []Shape{Length{Vec{0, 0}, Vec{4, 0}, Caption{Symbol: "L"}}, Length{Vec{0, 0}, Vec{1, 0}, Caption{Symbol: "a"}}}}
	if got := s.lengths(); got[0].Caption.Symbol != "a" || got[1].Caption.Symbol != "L" {
		t.Errorf("the order is %+v", got)
	}
}
