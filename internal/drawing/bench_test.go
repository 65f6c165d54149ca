package drawing

import (
	"io"
	"testing"
)

func BenchmarkDemo(b *testing.B) {
	m, found := demoFindings(b)
	mk := New(m)
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
