package rules

import (
	"fmt"
	"testing"
)

// BenchmarkRule runs each rule alone over a wall with 400 bolts. What rules
// share is worked out anew in each round.
func BenchmarkRule(b *testing.B) {
	s := crowded(400, 20000)
	for _, r := range All {
		b.Run(r.ID, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				only(b, r, s.m)
			}
		})
	}
}

// BenchmarkBars is the rule that all bars run past.
func BenchmarkBars(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		s := crowded(400, n)
		b.Run(fmt.Sprintf("bars=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				only(b, ReinforcementClearance, s.m)
			}
		})
	}
}

func BenchmarkRun(b *testing.B) {
	s := crowded(400, 20000)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(s.m, Builtin(), workers); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPrepare is what is worked out before any rule runs.
func BenchmarkPrepare(b *testing.B) {
	s := crowded(4000, 0)
	set := &Set{For: []For{{Items: named("^B1"), Rules: map[string]Change{"spacing": {Limit: Limit{{MM, 10}}}}}}}
	b.ReportAllocs()
	for b.Loop() {
		prepare(s.m, set, 1)
	}
}
