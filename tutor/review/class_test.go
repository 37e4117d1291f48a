package review

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"sync"
	"testing"

	"steelyard/problems"
	simulated "steelyard/tutor/class"
)

// aClass is an invented class and its log, made once for all tests.
var aClass = sync.OnceValues(func() (*simulated.Class, []byte) {
	var b bytes.Buffer
	c, err := simulated.Write(&b, 3, 40)
	if err != nil {
		panic(err)
	}
	return c, b.Bytes()
})

func reviewed(t testing.TB, logs ...string) *Report {
	t.Helper()
	r := NewReader(problems.Builtin())
	for _, log := range logs {
		if err := r.Read(context.Background(), "log", strings.NewReader(log)); err != nil {
			t.Fatal(err)
		}
	}
	rep, err := r.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

func TestClassIsRegraded(t *testing.T) {
	_, log := aClass()
	rep := reviewed(t, string(log))
	if len(rep.Altered) > 0 || rep.Regraded != rep.Answers || rep.Regraded == 0 || len(rep.Damaged) > 0 || len(rep.NotInBank) > 0 {
		t.Errorf("%d of %d lines regraded; altered: %+v; damaged: %+v; not in bank: %+v", rep.Regraded, rep.Answers, rep.Altered, rep.Damaged, rep.NotInBank)
	}
}

// Every planted slip is among the dearest, by as many learners as wrote it, and
// the share planted lies in the interval.
func TestPlantedSlipsAreFound(t *testing.T) {
	c, log := aClass()
	rep := reviewed(t, string(log))
	var codes []string
	for _, p := range c.Planted {
		if p.Slip != "" {
			codes = append(codes, p.Slip)
		}
	}
	for i, s := range rep.Slips[:len(codes)] {
		if !slices.Contains(codes, s.Code) {
			t.Errorf("slip %d is %s, which was not planted", i+1, s.Code)
		}
	}
	for _, p := range c.Planted {
		i := slices.IndexFunc(rep.Slips, func(s SlipCost) bool { return s.Code == p.Slip })
		if p.Slip == "" {
			continue
		}
		if i < 0 {
			t.Errorf("%s was not found", p.Slip)
			continue
		}
		s := rep.Slips[i]
		if s.Learners.Count != len(p.Writers) || s.Attempts != p.Attempts || p.Held < s.Learners.Low || p.Held > s.Learners.High || len(s.Evidence) != 3 || s.Minutes <= 0 {
			t.Errorf("%s: %+v; planted in %.2f, written by %d, %d times", p.Slip, s, p.Held, len(p.Writers), p.Attempts)
		}
	}
}

// What no slip predicts is grouped as it was planted, whatever the form.
func TestPlantedMeaningsAreGrouped(t *testing.T) {
	c, log := aClass()
	rep := reviewed(t, string(log))
	n := 0
	for _, p := range c.Planted {
		if p.Slip != "" {
			continue
		}
		n++
		i := slices.IndexFunc(rep.Unpredicted, func(g Group) bool {
			return g.Problem == p.Problem && g.Step == p.Step && g.Cell == p.Cell && slices.ContainsFunc(g.Lines, func(l Line) bool { return slices.Contains(p.Forms, l.Typed) })
		})
		if i < 0 {
			t.Errorf("%s was not found", p.Name)
			continue
		}
		g := rep.Unpredicted[i]
		if g.Learners != len(p.Writers) || g.Answers != p.Attempts || p.Rate < g.First.Low || p.Rate > g.First.High {
			t.Errorf("%s: %d learners, %d answers, %+v; planted: %d writers, %d answers, rate %.2f", p.Name, g.Learners, g.Answers, g.First, len(p.Writers), p.Attempts, p.Rate)
		}
		for _, l := range g.Lines {
			if !slices.Contains(p.Forms, l.Typed) {
				t.Errorf("%s: %q is in the group and was not planted", p.Name, l.Typed)
			}
		}
		if i >= 4 {
			t.Errorf("%s is group %d, behind what was not planted", p.Name, i+1)
		}
	}
	if n == 0 {
		t.Error("nothing was planted")
	}
}

func TestThoseWhoCopiedAreFound(t *testing.T) {
	c, log := aClass()
	rep := reviewed(t, string(log))
	for _, a := range c.Alike {
		if !slices.ContainsFunc(rep.Alike, func(f Alike) bool {
			return slices.Contains(f.Learners[:], a.From) && slices.Contains(f.Learners[:], a.To)
		}) {
			t.Errorf("%s copied from %s, and was not found among %+v", a.To, a.From, rep.Alike)
		}
	}
	if len(rep.Alike) > len(c.Alike) {
		t.Errorf("%d pairs are alike, %d copied: %+v", len(rep.Alike), len(c.Alike), rep.Alike)
	}
}

// Those who struggle are in the first third of those to see.
func TestStragglersAreSeen(t *testing.T) {
	c, log := aClass()
	rep := reviewed(t, string(log))
	for _, l := range c.Learners {
		i := slices.IndexFunc(rep.Students, func(s LearnerReport) bool { return s.Learner == l.Alias })
		if l.Struggles && (i < 0 || i >= len(c.Learners)/3) {
			t.Errorf("%s struggles, and comes %d of those to see", l.Alias, i+1)
		}
	}
	if len(rep.Students[0].Reasons) == 0 {
		t.Error("nothing is said of the learner to see first")
	}
}
