package practice

import (
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"steelyard/tutor"
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
	t.Logf("foretold       lines   mean foretold   right at once   95 %% interval")
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

// Simulated learners whose mastery is known (see pupil) work fifteen problems
// each, drawn at random (seed 3). Those who learn are foretold within 0.05 on
// the whole, and better than by their own average, even in hindsight.
//
// Those who never learn break what the model takes for granted, that every line
// may teach. They are foretold too well, by 0.12 on the whole; better than by
// their average so far, but not than by their average in hindsight, which no
// forecast could know.
func TestCalibrationOnPupils(t *testing.T) {
	c := testCourse()
	for _, still := range []bool{false, true} {
		t.Run(fmt.Sprintf("learning=%v", !still), func(t *testing.T) {
			var all [][]forecast
			for i := range uint64(500) {
				p, m, rng := newPupil(i, 9), NewModel(c, time.UTC), rand.New(rand.NewPCG(3, i))
				p.still = still
				var mine []forecast
				for n := range 15 {
					s := c.Situations[rng.IntN(len(c.Situations))]
					for _, l := range s.Lines {
						e := p.event(s, l, fmt.Sprint(n), n/perDay)
						f := forecast{chance: m.Chance(l.Needs)}
						seen, ok := m.Update(&e)
						if !ok || seen.Needs != l.Needs {
							t.Fatalf("%s %s %s shows %v %v, want %v", s.ID, l.Step, l.Cell, seen.Needs.Names(), ok, l.Needs.Names())
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
			if still {
				return
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

// The invented class of testdata works the real sessions by rules of its own,
// in which a learner slips at each line by chance, and does not come to know a
// skill all at once. So its log is no home to this model: it foretells worse
// there than each learner's average does, as the figures say. What is held is
// that lines of a real log are read, and that tracing them foretells better
// than not tracing.
func TestOnTheInventedClass(t *testing.T) {
	f, err := os.Open("../../testdata/class/class.jsonl.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	c := testCourse()
	models, told, untold := map[string]*Model{}, map[string][]forecast{}, map[string][]forecast{}
	fresh := NewModel(c, time.UTC)
	events, shown := 0, 0
	for d := json.NewDecoder(z); ; {
		var e tutor.Event
		if err := d.Decode(&e); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		m, ok := models[e.Learner]
		if !ok {
			m = NewModel(c, time.UTC)
			models[e.Learner] = m
		}
		events++
		was := m.known
		s, ok := m.Update(&e)
		if !ok {
			continue
		}
		shown++
		untold[e.Learner] = append(untold[e.Learner], forecast{fresh.Chance(s.Needs), s.Right})
		told[e.Learner] = append(told[e.Learner], forecast{chance(&was, &params, s.Needs), s.Right})
	}
	t.Logf("%d events, of which %d show something", events, shown)
	_, model, _, _ := judge(t, slices.Collect(maps.Values(told)))
	without := loss(slices.Collect(maps.Values(untold)), func(_ []forecast, f forecast) float64 { return f.chance })
	if model >= without {
		t.Errorf("log-loss is %.4f, no better than %.4f with nothing traced", model, without)
	}
	if lines := 150 * len(told); shown < lines {
		t.Errorf("%d lines were read of %d learners who work twelve problems, want %d at least", shown, len(told), lines)
	}
}
