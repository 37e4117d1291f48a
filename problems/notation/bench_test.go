package notation

import "testing"

const benchLine = "-M g (L/2) cos(alpha) + T L sin(180 - alpha)"

func BenchmarkParse(b *testing.B) {
	table := bench(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := table.Parse(benchLine); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompile(b *testing.B) {
	n := mustParse(b, bench(b), benchLine)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compile(n); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEval(b *testing.B) {
	p, err := Compile(mustParse(b, bench(b), benchLine))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Eval(benchValues); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkValue is the walk down the tree, to measure Eval against.
func BenchmarkValue(b *testing.B) {
	n := mustParse(b, bench(b), benchLine)
	for b.Loop() {
		Value(n, benchValues)
	}
}

func BenchmarkReadBack(b *testing.B) {
	n := mustParse(b, bench(b), benchLine)
	b.ReportAllocs()
	for b.Loop() {
		ReadBack(n, false)
	}
}
