package figure

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"steelyard/problems/statics"
)

// saidAt is a force that is told by its angle, in degrees.
func saidAt(point string, degrees int) Said {
	return Said{At: point, Way: fmt.Sprintf("at %d deg", degrees), Angle: float64(degrees) * math.Pi / 180}
}

// What a list that is not judged says is drawn as it says, and what says no place
// is not drawn.
func TestDrawnAsWritten(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	b := newBuilder(p, View{})
	for _, said := range []Said{saidAt("B", 145), saidAt("G", 0), saidAt("A", -90), {At: "B", Way: "toward C", Angle: 2.5, Toward: true}} {
		arrows := only[Arrow](Build(p, View{Unjudged: true, Forces: []Listed{{Symbol: "W", Said: said}}}))
		if len(arrows) != 1 || !arrows[0].At.near(b.at(said.At), 1e-9) || apart(arrows[0].Angle, said.Angle) > 1e-9 {
			t.Errorf("%+v is drawn as %+v", said, arrows)
		}
	}
	for _, said := range []Said{{}, saidAt("Z", 45)} {
		if arrows := only[Arrow](Build(p, View{Unjudged: true, Forces: []Listed{{Symbol: "W", Said: said}}})); len(arrows) > 0 {
			t.Errorf("%+v is drawn as %+v", said, arrows)
		}
	}
}

// A pull is drawn from its point on, along the cable if there is one.
func TestPullLeavesItsPoint(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	alpha, _ := p.Table.Index("alpha")
	said := Said{At: "B", Way: "toward C", Angle: math.Pi - p.Values[alpha], Toward: true}
	for _, a := range only[Arrow](Build(p, View{Unjudged: true, Pivot: "A", Forces: []Listed{{Symbol: "T", Said: said}}})) {
		if a.Arrives {
			t.Errorf("the pull toward C is drawn as a push on B: %+v", a)
		}
	}
}

// An unjudged figure knows nothing of the scenario's forces: turn them all
// about, each by another angle, and put them at other points, and it stays as it
// is, the room that it leaves included. (Loads are given, and a joint's force
// tells where the joint is; these stay where they are.)
func TestUnjudgedKnowsNoForces(t *testing.T) {
	for _, s := range figures(t) {
		p := drawProblem(t, s, 3)
		for i := range s.Bodies {
			body := &s.Bodies[i]
			v := View{Unjudged: true, Pivot: body.Points[0].Name}
			if len(s.Bodies) > 1 {
				v.Body = body.Name
			}
			for k, f := range body.Forces {
				v.Forces = append(v.Forces, Listed{Symbol: f.Symbol, At: f.At, Said: saidAt(body.Points[k%len(body.Points)].Name, 40*k)})
			}
			v.Selected = v.Forces[0].Symbol
			other := *p
			scenario := *p.Scenario
			other.Scenario = &scenario
			other.Bodies = slices.Clone(s.Bodies)
			for j := range other.Bodies {
				b := &other.Bodies[j]
				b.Forces = slices.Clone(b.Forces)
				for k := range b.Forces {
					f := &b.Forces[k]
					if f.Load != nil {
						continue
					}
					f.Dir = statics.At(statics.Deg(float64(17 + 71*k)))
					if f.Joint == "" && len(b.Couples) == 0 {
						f.At, f.Kind, f.Unknown = b.Points[(k+1)%len(b.Points)].Name, statics.Applied, !f.Unknown
					}
				}
			}
			one, two := Build(p, v), Build(&other, v)
			if !reflect.DeepEqual(one.Shapes, two.Shapes) || !reflect.DeepEqual(one.Room, two.Room) {
				t.Errorf("%s, %s: the figure depends on forces that nobody has written", s.ID, body.Name)
			}
			if one, two := Words(p, v), Words(&other, v); !slices.Equal(one, two) {
				t.Errorf("%s, %s: the words depend on forces that nobody has written:\n%v\n%v", s.ID, body.Name, one, two)
			}
		}
	}
}

// The words of an unjudged list are the learner's, whatever these hold.
func TestWordsAsWritten(t *testing.T) {
	p := drawProblem(t, scenario(t, "winch-bar"), 1)
	for _, c := range []struct {
		symbol string
		said   Said
		want   string
	}{
		{"F", Said{At: "B", Way: "up", Angle: math.Pi / 2}, "F is listed at B, upward."},
		{"F", saidAt("B", 63), "F is listed at B, at 63 deg."},
		{"C", Said{Turn: 1}, "C is listed, turning anticlockwise."},
		{"C", Said{At: "S", Turn: -1}, "C is listed at S, turning clockwise."},
		{"\x1b[2J", Said{At: "B", Way: "left\a", Angle: 3}, `\x1b[2J is listed at B, left\x07.`},
	} {
		words := strings.Join(Words(p, View{Unjudged: true, Forces: []Listed{{Symbol: c.symbol, Said: c.said}}}), "\n")
		if !strings.Contains(words, c.want) {
			t.Errorf("%+v: no %q in\n%s", c.said, c.want, words)
		}
	}
}
