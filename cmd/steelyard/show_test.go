package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
)

// shown is what another program would read of show --json: nothing of this
// project's own types.
type shown struct {
	Problem string
	Seed    uint64
	Givens  []struct {
		Symbol, Unit, Meaning string
		Value                 float64
	}
	Bodies []struct {
		Name   string
		Points []struct {
			Name string
			X, Y float64
		}
		Forces []struct {
			Symbol, At, Kind string
			AngleDeg         float64 `json:"angle_deg"`
			Magnitude        float64
		}
		Couples []struct {
			Symbol string
			Moment float64
		}
	}
	Solution []struct {
		Symbol, Unit string
		Value        float64
	}
	Rows []struct{ Body, Row, Pivot, Text string }
}

// contract is what each situation's logs and tests may rely on: its givens,
// unknowns and points.
var contract = map[string][3]string{
	"plank-balance":     {"W W_1 W_2 r_1", "N r_2", "O C D"},
	"davit-arm":         {"L M m alpha g", "T H V", "A G B"},
	"hull-ladder":       {"L M m d alpha g", "N_w N f mu_min", "A G D B"},
	"hull-ladder-limit": {"L M m mu alpha g", "N_w N f d", "A G D B"},
	"drum-kerb":         {"R h M g", "P H V", "E O"},
	"winch-bar":         {"L theta C", "F S_x S_y", "S B"},
	"trailer-braking":   {"M g a w c h", "N_r N_f f", "R F G"},
	"quay-plank":        {"L W e m g", "x N", "E G D"},
}

// What show --json prints balances: forces and moments sum to zero about three
// points not in line, to 1e-9 of the largest term, from coordinates, angles
// and sizes alone. 8 situations, 200 seeds.
func TestShownProblemsBalance(t *testing.T) {
	for id, want := range contract {
		t.Run(id, func(t *testing.T) {
			for seed := range 200 {
				var out, words bytes.Buffer
				if code := run([]string{"show", id, "--seed", fmt.Sprint(seed), "--json"}, nil, &out, &words); code != exitDone || words.Len() > 0 {
					t.Fatalf("seed %d: exit %d, %s", seed, code, &words)
				}
				dec := json.NewDecoder(&out)
				var s shown
				if err := dec.Decode(&s); err != nil {
					t.Fatal(err)
				}
				if s.Problem != id || s.Seed != uint64(seed) {
					t.Fatalf("it is %s, seed %d", s.Problem, s.Seed)
				}
				keeps(t, s, want)
				for _, about := range [][2]float64{{0, 0}, {3.7, -1.3}, {-2.1, 5.9}} {
					balances(t, s, about[0], about[1])
				}
			}
		})
	}
}

func keeps(t *testing.T, s shown, want [3]string) {
	t.Helper()
	var givens, unknowns, points []string
	for _, g := range s.Givens {
		givens = append(givens, g.Symbol)
	}
	for _, u := range s.Solution {
		unknowns = append(unknowns, u.Symbol)
	}
	for _, p := range s.Bodies[0].Points {
		points = append(points, p.Name)
	}
	if got := [3]string{strings.Join(givens, " "), strings.Join(unknowns, " "), strings.Join(points, " ")}; got != want {
		t.Fatalf("givens, unknowns and points are %q, want %q", got, want)
	}
}

func balances(t *testing.T, s shown, px, py float64) {
	t.Helper()
	for _, b := range s.Bodies {
		at := map[string][2]float64{}
		for _, p := range b.Points {
			at[p.Name] = [2]float64{p.X, p.Y}
		}
		var x, y, m, largest, turning float64
		for _, f := range b.Forces {
			a := f.AngleDeg * math.Pi / 180
			fx, fy := f.Magnitude*math.Cos(a), f.Magnitude*math.Sin(a)
			place, ok := at[f.At]
			if !ok {
				t.Fatalf("force %s acts at %q, which is no point", f.Symbol, f.At)
			}
			x, y = x+fx, y+fy
			term := (place[0]-px)*fy - (place[1]-py)*fx
			m += term
			largest, turning = max(largest, math.Abs(f.Magnitude)), max(turning, math.Abs(term))
		}
		for _, c := range b.Couples {
			m += c.Moment
			turning = max(turning, math.Abs(c.Moment))
		}
		if math.Abs(x) > 1e-9*largest || math.Abs(y) > 1e-9*largest || math.Abs(m) > 1e-9*turning {
			t.Errorf("%s, seed %d: sums are %g N, %g N, and %g N m about (%g, %g)", s.Problem, s.Seed, x, y, m, px, py)
		}
	}
}
