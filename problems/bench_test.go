package problems

import (
	"io/fs"
	"testing"
)

func BenchmarkDrawAny(b *testing.B) {
	for _, s := range Builtin().Scenarios {
		b.Run(s.ID, func(b *testing.B) {
			seed := uint64(0)
			for b.Loop() {
				if _, err := s.Draw(seed, nil); err != nil {
					b.Fatal(err)
				}
				seed++
			}
		})
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, s := range Builtin().Scenarios {
		b.Run(s.ID, func(b *testing.B) {
			p, err := s.Draw(1, nil)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := p.Solve(p.Values); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The whole built-in bank, from its bytes: the first frame waits for it.
func BenchmarkBank(b *testing.B) {
	sub, err := fs.Sub(builtin, "bank")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		bank := &Bank{}
		if bank.load(sub, "bank", readOwn); len(bank.Scenarios) != len(Builtin().Scenarios) {
			b.Fatalf("%d scenarios read", len(bank.Scenarios))
		}
	}
}

func BenchmarkTrend(b *testing.B) {
	s, err := Builtin().Scenario("hull-ladder-limit")
	if err != nil {
		b.Fatal(err)
	}
	p, err := s.Draw(1, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := p.Trend(); err != nil {
			b.Fatal(err)
		}
	}
}

// Files made to be slow: none takes 50 ms.
func BenchmarkHostile(b *testing.B) {
	for _, c := range hostile(b) {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Read("bench", c.data); err == nil {
					b.Fatal("accepted")
				}
			}
		})
	}
}
