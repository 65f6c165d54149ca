package element_test

import (
	"slices"
	"testing"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
)

// BenchmarkItems reads fifty elements of each representation item and makes
// their meshes.
func BenchmarkItems(b *testing.B) {
	for _, name := range []string{"swept", "profiles", "bounded", "csg"} {
		for _, w := range groups[name] {
			b.Run(w.name, func(b *testing.B) {
				const copies = 50
				f, err := ifcread.Open(zoo(b, b.TempDir(), name, slices.Repeat([]word{w}, copies)), ifcread.Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportAllocs()
				for b.Loop() {
					for _, e := range element.Read(f, 1).Elements {
						new(here).meshes(e.Shape, e.Place)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/copies, "ns/item")
			})
		}
	}
}
