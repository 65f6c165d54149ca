package page_test

import (
	"io"
	"testing"

	"embedcheck/internal/page"
)

// BenchmarkWrite is a page of two thousand findings; making their drawings is
// not in it.
func BenchmarkWrite(b *testing.B) {
	r := report(2000)
	b.ReportAllocs()
	for b.Loop() {
		if err := page.Write(io.Discard, r); err != nil {
			b.Fatal(err)
		}
	}
}
