package figure

import "testing"

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
