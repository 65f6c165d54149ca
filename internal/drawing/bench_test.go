package drawing

import (
	"io"
	"testing"

	"embedcheck/internal/drawing/subject"
)

func BenchmarkDemo(b *testing.B) {
	m, found := demoFindings(b)
	mk := New(subject.NewIndex(m))
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		d, err := mk.For(&found[n%len(found)])
		n++
		if err != nil {
			continue
		}
		if err := d.SVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
