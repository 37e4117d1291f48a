package practice

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"steelyard/tutor"
)

// The kinds have probabilities for parameters, share what there is among them,
// and make, before the first line, a skill about as likely known as its Start.
func TestKindsAreWhole(t *testing.T) {
	share := 0.0
	for i, k := range usual() {
		share += k.share
		for _, par := range []*[count]Params{k.entry, k.zero} {
			for _, p := range par {
				if p.Learn < 0 || p.Learn > 0.5 || p.Guess <= 0 || p.Slip <= 0 || p.Guess+p.Slip >= 1 {
					t.Errorf("kind %d has %+v", i, p)
				}
			}
		}
	}
	if math.Abs(share-1) > 1e-12 {
		t.Errorf("the shares sum to %v", share)
	}
	for k, p := range newBelief(usual()).skills() {
		if math.Abs(p-params[k].Start) > 0.05 {
			t.Errorf("%s is known with %.2f before the first line, and starts at %.2f", Skill(k).Name(), p, params[k].Start)
		}
	}
}

// What is found out of a learner is so: of pupils who never learn the rate comes
// out low, of those who do near the usual one.
func TestRateIsFoundOut(t *testing.T) {
	c := testCourse()
	rates := [2][]float64{}
	for i := range uint64(100) {
		p, m, rng := newPupil(i, 21), NewModel(c, time.UTC), rand.New(rand.NewPCG(22, i))
		p.still = i%2 == 1
		for n := range 15 {
			s := c.Situations[rng.IntN(len(c.Situations))]
			for _, l := range s.Lines {
				e := p.event(s, l, fmt.Sprint(n), n/perDay)
				m.Update(&e)
			}
		}
		rates[i%2] = append(rates[i%2], m.ways.rate)
	}
	slices.Sort(rates[0])
	slices.Sort(rates[1])
	t.Logf("rate of those who learn: 10th %.2f, median %.2f; of those who do not: median %.2f, 90th %.2f", rates[0][5], rates[0][25], rates[1][25], rates[1][45])
	if rates[0][5] < 0.25 || rates[1][45] > 0.25 {
		t.Errorf("a tenth of those who learn are taken to learn at %.2f or less, and of those who do not at %.2f or more", rates[0][5], rates[1][45])
	}
}

// A learner who is strong, or weak, at what was seen is taken to be so at what was
// not: not for sure, and less the less was seen.
func TestStrongAndWeakAreSeenAcrossSkills(t *testing.T) {
	load := skillOf("load")
	was := NewModel(testCourse(), time.UTC).Known(load)
	for _, test := range []struct {
		verdict  string
		low, top float64
	}{{"right", was + 0.1, Ready}, {"wrong", 0.02, was - 0.05}} {
		m, last := NewModel(testCourse(), time.UTC), was
		for i, l := range []struct{ step, cell string }{{"pivot", ""}, {"x", "T"}, {"y", "T"}, {"moment", "T"}, {"moment", "W"}, {"value", "T"}} {
			e := tutor.Event{Kind: tutor.Answered, Session: "s", Problem: "davit-arm", Body: "arm", Step: l.step, Cell: l.cell, Pivot: "A", Verdict: test.verdict}
			if _, ok := m.Update(&e); !ok {
				t.Fatalf("line %d shows nothing", i)
			}
			p := m.Known(load)
			if (p > last) != (test.verdict == "right") {
				t.Errorf("after line %d %s, a skill not seen goes from %.3f to %.3f", i, test.verdict, last, p)
			}
			last = p
		}
		if p := m.Known(load); p < test.low || p > test.top {
			t.Errorf("all %s, and a skill not seen is known with %.2f, want %.2f to %.2f", test.verdict, p, test.low, test.top)
		}
	}
}

// An entry that is zero is no sight of its skill: it is not counted as seen, and
// fills no box.
func TestZeroIsNoSight(t *testing.T) {
	arm := skillOf("arm")
	for _, test := range []struct {
		cell string
		seen int
	}{{"H", 0}, {"T", 1}} {
		m := NewModel(testCourse(), time.UTC)
		e := tutor.Event{Kind: tutor.Answered, Session: "s", Problem: "davit-arm", Body: "arm", Step: "moment", Cell: test.cell, Pivot: "A", Verdict: "right"}
		s, ok := m.Update(&e)
		if _, boxed := m.Due(arm); !ok || s.Zero != (test.seen == 0) || m.seen[arm] != test.seen || boxed != (test.seen > 0) {
			t.Errorf("moment of %s: %+v %v, seen %d times, want %d", test.cell, s, ok, m.seen[arm], test.seen)
		}
	}
}

// Of a learner who never learns by lines alone the plan foretells what is known
// now; of one who does, more.
func TestForecastIsTheLearnersOwn(t *testing.T) {
	c := testCourse()
	for _, still := range []bool{false, true} {
		gain := 0
		for i := range uint64(20) {
			p, m, rng := newPupil(i, 31), NewModel(c, time.UTC), rand.New(rand.NewPCG(32, i))
			p.still = still
			for n := range 6 {
				s := c.Situations[rng.IntN(len(c.Situations))]
				for _, l := range s.Lines {
					e := p.event(s, l, fmt.Sprint(n), n/perDay)
					m.Update(&e)
				}
			}
			eve := m.clone()
			eve.walk(Ask{Today: 10, Exam: 31, Minutes: 30})
			gain += eve.mastered().size() - m.mastered().size()
		}
		t.Logf("still %v: the forecasts are %d skills above what is known, over 20 learners", still, gain)
		if still && gain > 20 || !still && gain < 100 {
			t.Errorf("still %v: the forecasts are %d skills above what is known, over 20 learners", still, gain)
		}
	}
}
