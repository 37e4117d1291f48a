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

// What a list that is not judged says is drawn as it says.
func TestLinesAsWritten(t *testing.T) {
	p := drawProblem(t, scenario(t, "davit-arm"), 1)
	value := func(symbol string) float64 { i, _ := p.Table.Index(symbol); return p.Values[i] }
	alpha := value("alpha")
	for _, c := range []struct {
		line  string
		at    string // "" where nothing is drawn
		angle float64
	}{
		{"T at B toward C", "B", math.Pi - alpha},
		{"T at B away from C", "B", -alpha},
		{"T at B at 145 deg", "B", 145 * math.Pi / 180},
		{"T at B, up and left", "B", 3 * math.Pi / 4},
		{"T at B 180 - alpha", "B", math.Pi - alpha},
		{"T at G along AB", "G", 0},
		{"W at A up", "A", math.Pi / 2},
		{"m g down at G", "G", -math.Pi / 2},
		{"the weight acting at point b, straight down", "B", -math.Pi / 2},
		{"W at Z down", "", 0},
		{"W at G", "", 0},
		{"W at G sideways", "", 0},
		{"", "", 0},
		{"T at B toward B", "", 0},
		{strings.Repeat("W", 300) + " at G down", "", 0},
	} {
		arrows := only[Arrow](Build(p, View{Unjudged: true, Forces: []Listed{{Symbol: "W", Line: c.line}}}))
		if c.at == "" {
			if len(arrows) > 0 {
				t.Errorf("%q is drawn as %+v", c.line, arrows)
			}
			continue
		}
		b := newBuilder(p, View{})
		if len(arrows) != 1 || !arrows[0].At.near(b.at(c.at), 1e-9) || apart(arrows[0].Angle, c.angle) > 1e-9 {
			t.Errorf("%q is drawn as %+v, want at %s along %v", c.line, arrows, c.at, c.angle)
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
				v.Forces = append(v.Forces, Listed{Symbol: f.Symbol, At: f.At, Line: fmt.Sprintf("%s at %s at %d deg", f.Symbol, body.Points[k%len(body.Points)].Name, 40*k)})
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
	for _, c := range []struct{ symbol, line, want string }{
		{"F", "F at B up", "F is listed at B, upward."},
		{"F", "F at B at 63 deg", "F is listed at B, at 63 deg."},
		{"C", "C ccw", "C is listed, turning anticlockwise."},
		{"C", "C at S clockwise", "C is listed at S, turning clockwise."},
		{"\x1b[2J", "\x1b[2J at B left", `\x1b[2J is listed at B, to the left.`},
	} {
		words := strings.Join(Words(p, View{Unjudged: true, Forces: []Listed{{Symbol: c.symbol, Line: c.line}}}), "\n")
		if !strings.Contains(words, c.want) {
			t.Errorf("%q: no %q in\n%s", c.line, c.want, words)
		}
	}
}
