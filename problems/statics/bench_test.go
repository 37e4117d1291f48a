package statics

import "testing"

// Build and solve a reference ledger: three rows in three unknowns.
func BenchmarkLedger(b *testing.B) {
	l := newLab(&testing.T{})
	arm := l.beam(l.force("T", "B", "180 - alpha", true), l.force("H", "A", "0", true), l.force("V", "A", "90", true), l.weight("M g", "G"), l.weight("m g", "B"))
	s := System{Search: -1, Unknowns: []int{l.index("T"), l.index("H"), l.index("V")}, Names: []string{"T", "H", "V"}}
	b.ReportAllocs()
	for b.Loop() {
		s.Rows = arm.Ledger(Frame{Pivot: arm.Points[0]})
		if _, err := s.Solve(l.values); err != nil {
			b.Fatal(err)
		}
	}
}

// The same with a distance to search for.
func BenchmarkSearch(b *testing.B) {
	l := newLab(&testing.T{})
	lever := l.lever("a")
	s := System{Search: l.index("d"), Lo: l.sum("0"), Hi: l.sum("20 L"), Unknowns: []int{l.index("N")}, Names: []string{"N", "d"}}
	b.ReportAllocs()
	for b.Loop() {
		s.Rows = lever.Ledger(Frame{Pivot: lever.Points[0]})
		if _, err := s.Solve(l.values); err != nil {
			b.Fatal(err)
		}
	}
}
