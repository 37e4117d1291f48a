package figure

import (
	"runtime"
	"testing"
)

// inUse is what is in use once all that can be freed is.
func inUse() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// Nothing is kept of a figure that was drawn: problem after problem, at ever other
// sizes, in text and SVG and words, takes no more memory than the first ones.
func TestNothingIsKept(t *testing.T) {
	bank := figures(t)
	drawn := func(from, to int) {
		for n := from; n < to; n++ {
			s := bank[n%len(bank)]
			p := drawProblem(t, s, uint64(n))
			v := everything(s)
			v.Selected, v.Tilt = v.Forces[0].Symbol, "25"
			scene := Build(p, v)
			scene.Text(40+n%60, 15+n%30, n%2 == 0)
			Words(p, v)
			if n%10 == 0 {
				scene.SVG(300+n%200, 300)
			}
		}
	}
	drawn(0, 200)
	first := inUse()
	drawn(200, 1200)
	last := inUse()
	t.Logf("in use after 200 figures %.2f MB, after 1200 %.2f MB", float64(first)/1e6, float64(last)/1e6)
	if last > first+1<<20 {
		t.Errorf("%d bytes in use have become %d", first, last)
	}
	runtime.KeepAlive(bank)
}
