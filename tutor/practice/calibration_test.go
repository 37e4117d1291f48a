package practice

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// forecast is a line's chance as the model saw it beforehand, and how it went.
type forecast struct {
	chance float64
	right  bool
}

// loss is the mean log-loss of the forecasts, in nats a line.
func loss(all [][]forecast, chance func(learner []forecast, f forecast) float64) float64 {
	sum, n := 0.0, 0
	for _, learner := range all {
		for _, f := range learner {
			p := chance(learner, f)
			if !f.right {
				p = 1 - p
			}
			sum -= math.Log(max(p, 1e-9))
			n++
		}
	}
	return sum / float64(n)
}

// average is a learner's own share of right lines, in hindsight: it knows what
// is to come, which the model does not.
func average(learner []forecast, _ forecast) float64 {
	n := 0
	for _, f := range learner {
		if f.right {
			n++
		}
	}
	return float64(n) / float64(len(learner))
}

// sofar is a learner's share of right lines up to a line, begun at one half.
func sofar(all [][]forecast) float64 {
	sum, n := 0.0, 0
	for _, learner := range all {
		right := 1.0
		for i, f := range learner {
			p := right / float64(i+2)
			if f.right {
				right++
			} else {
				p = 1 - p
			}
			sum -= math.Log(p)
			n++
		}
	}
	return sum / float64(n)
}

// calibrate prints the table of tenths and gives the mean distance between
// what was foretold and what came, weighed by lines.
func calibrate(t *testing.T, all [][]forecast) (distance float64, lines int) {
	var n, right [10]int
	var told [10]float64
	for _, learner := range all {
		for _, f := range learner {
			k := min(int(f.chance*10), 9)
			n[k]++
			told[k] += f.chance
			if f.right {
				right[k]++
			}
			lines++
		}
	}
	t.Logf("foretold      number   mean foretold   came of it      95 %% interval")
	for k := range n {
		if n[k] == 0 {
			continue
		}
		p, q := told[k]/float64(n[k]), float64(right[k])/float64(n[k])
		half := 1.96 * math.Sqrt(q*(1-q)/float64(n[k]))
		t.Logf("%.1f to %.1f  %8d   %13.3f   %13.3f   ± %.3f", float64(k)/10, float64(k+1)/10, n[k], p, q, half)
		distance += math.Abs(p-q) * float64(n[k])
	}
	return distance / float64(lines), lines
}

// judge prints what the forecasts are worth: how far they are from what came,
// and their log-loss, with that of the averages.
func judge(t *testing.T, all [][]forecast) (distance, model, hindsight, before float64) {
	t.Helper()
	distance, lines := calibrate(t, all)
	model = loss(all, func(_ []forecast, f forecast) float64 { return f.chance })
	hindsight, before = loss(all, average), sofar(all)
	t.Logf("%d learners, %d lines: mean distance %.3f; log-loss %.4f, each learner's average in hindsight %.4f, so far %.4f",
		len(all), lines, distance, model, hindsight, before)
	return distance, model, hindsight, before
}

// populations are simulated learners (see pupil): who of them learns nothing.
// The figures in kind.go were chosen on pupils 20,000 to 20,399; these are 0 to
// 499, with other luck and other problems.
var populations = []struct {
	name  string
	still func(i uint64) bool
}{
	{"who learn", func(uint64) bool { return false }},
	{"who never learn", func(uint64) bool { return true }},
	{"mixed", func(i uint64) bool { return i%2 == 1 }},
}

// Simulated learners whose mastery is known work fifteen problems each, drawn
// at random (seed 3). Those who learn, those who never do, and both mixed are
// foretold within 0.05 on the whole, and better than by each learner's own
// average, so far and even in hindsight.
func TestCalibrationOnPupils(t *testing.T) {
	c := testCourse()
	for _, of := range populations {
		t.Run(of.name, func(t *testing.T) {
			var all [][]forecast
			for i := range uint64(500) {
				p, m, rng := newPupil(i, 9), NewModel(c, time.UTC), rand.New(rand.NewPCG(3, i))
				p.still = of.still(i)
				var mine []forecast
				for n := range 15 {
					s := c.Situations[rng.IntN(len(c.Situations))]
					for _, l := range s.Lines {
						e := p.event(s, l, fmt.Sprint(n), n/perDay)
						f := forecast{chance: m.Chance(l)}
						seen, ok := m.Update(&e)
						if !ok || seen.Needs != l.Needs || seen.Zero != l.Zero {
							t.Fatalf("%s %s %s shows %v %v %v, want %v %v", s.ID, l.Step, l.Cell, seen.Needs.Names(), seen.Zero, ok, l.Needs.Names(), l.Zero)
						}
						f.right = seen.Right
						mine = append(mine, f)
					}
				}
				all = append(all, mine)
			}
			distance, model, hindsight, before := judge(t, all)
			if model >= before {
				t.Errorf("log-loss is %.4f, no better than %.4f of each learner's average so far", model, before)
			}
			if model >= hindsight {
				t.Errorf("log-loss is %.4f, no better than %.4f of each learner's average in hindsight", model, hindsight)
			}
			if distance > 0.05 {
				t.Errorf("what is foretold is %.3f from what comes, want 0.05 at most", distance)
			}
		})
	}
}

// What is shown to a learner is that a skill is likely known: so of the skills
// shown, as many are known. The pupils are those of the mixed population, and are
// looked at after each problem; skills not seen yet are not shown.
func TestShownIsKnown(t *testing.T) {
	c := testCourse()
	var all [][]forecast
	taken, rightly := 0, 0
	for i := range uint64(500) {
		p, m, rng := newPupil(i, 9), NewModel(c, time.UTC), rand.New(rand.NewPCG(3, i))
		p.still = i%2 == 1
		var mine []forecast
		for n := range 15 {
			s := c.Situations[rng.IntN(len(c.Situations))]
			for _, l := range s.Lines {
				e := p.event(s, l, fmt.Sprint(n), n/perDay)
				m.Update(&e)
			}
			held := m.mastered()
			for k := range Skill(count) {
				if m.seen[k] > 0 {
					mine = append(mine, forecast{m.Known(k), p.knows.Has(k)})
				}
				if held.Has(k) {
					taken++
					if p.knows.Has(k) {
						rightly++
					}
				}
			}
		}
		all = append(all, mine)
	}
	distance, _ := calibrate(t, all)
	share := float64(rightly) / float64(taken)
	t.Logf("mean distance %.3f; of %d times that a skill is taken as known, %.1f %% are right", distance, taken, 100*share)
	if distance > 0.05 {
		t.Errorf("what is shown is %.3f from what is so, want 0.05 at most", distance)
	}
	if taken < 1000 || share < Mastered {
		t.Errorf("%d times a skill is taken as known, and %.1f %% of them it is, want 1000 and %.0f %%", taken, 100*share, 100*Mastered)
	}
}
