package figure

import (
	"fmt"
	"testing"
)

func BenchmarkBuildAndText(b *testing.B) {
	for _, s := range figures(b) {
		p := drawProblem(b, s, 7)
		v := everything(s)
		v.Selected = v.Forces[0].Symbol
		b.Run(s.ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Build(p, v).Text(60, 20, false)
			}
		})
	}
}

func BenchmarkWords(b *testing.B) {
	s := scenario(b, "hull-ladder")
	p := drawProblem(b, s, 7)
	v := everything(s)
	b.ReportAllocs()
	for b.Loop() {
		Words(p, v)
	}
}

func BenchmarkBuildAndSVG(b *testing.B) {
	for _, s := range figures(b) {
		p := drawProblem(b, s, 7)
		v := everything(s)
		b.Run(s.ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Build(p, v).SVG(560, 360)
			}
		})
	}
}

// BenchmarkCrowded draws as many lines as a list may have, all at one point, as
// nobody would write them who wants to know.
func BenchmarkCrowded(b *testing.B) {
	p := drawProblem(b, scenario(b, "slip-gate-two-levels"), 7)
	v := View{Unjudged: true, Pivot: "A", Tilt: "20"}
	for i := range 32 {
		v.Forces = append(v.Forces, Listed{Symbol: fmt.Sprintf("a force of many letters%d", i), Said: saidAt("B", 11*i)})
	}
	b.ReportAllocs()
	for b.Loop() {
		Build(p, v).Text(72, 36, false)
	}
}
