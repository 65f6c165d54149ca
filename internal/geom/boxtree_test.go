package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func randomBoxes(r *rand.Rand, n int, extent float64) []Box {
	out := make([]Box, n)
	for i := range out {
		lo := V(r.Float64(), r.Float64(), r.Float64()).Mul(extent)
		out[i] = Box{lo, lo.Add(V(r.Float64(), r.Float64(), r.Float64()).Mul(extent / 10))}
	}
	return out
}

func TestBoxTree(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 200 {
		boxes := randomBoxes(r, n, 100)
		for i := range boxes {
			switch r.IntN(8) {
			case 0:
				boxes[i] = boxes[0] // many at one place
			case 1:
				boxes[i].Min.X = math.NaN()
			case 2:
				boxes[i].Max = boxes[i].Min // a point
			case 3:
				boxes[i] = EmptyBox
			case 4:
				boxes[i].Max.Z = math.Inf(1)
			}
		}
		tree := NewBoxTree(boxes)
		for range 20 {
			q := randomBoxes(r, 1, 100)[0]
			if len(boxes) > 0 && r.IntN(3) == 0 {
				q.Min.X = boxes[0].Max.X // touching
			}
			var got, want []int
			tree.Query(q, func(i int) bool { got = append(got, i); return true })
			slices.Sort(got)
			for i, b := range boxes {
				if b.Min.X <= q.Max.X && b.Max.X >= q.Min.X && b.Min.Y <= q.Max.Y && b.Max.Y >= q.Min.Y &&
					b.Min.Z <= q.Max.Z && b.Max.Z >= q.Min.Z {
					want = append(want, i)
				}
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%d boxes: %v, want %v", n, got, want)
			}
		}
	}
}

func TestBoxTreeStops(t *testing.T) {
	tree := NewBoxTree(randomBoxes(rand.New(rand.NewPCG(2, 2)), 500, 10))
	n := 0
	tree.Query(Box{V(0, 0, 0), V(10, 10, 10)}, func(int) bool { n++; return n < 7 })
	if n != 7 {
		t.Errorf("visited %d, want 7", n)
	}
}

func BenchmarkBoxTree(b *testing.B) {
	for _, n := range []int{1000, 100_000} {
		boxes := randomBoxes(rand.New(rand.NewPCG(3, 3)), n, 1e5)
		for i := range boxes {
			boxes[i].Max = boxes[i].Min.Add(boxes[i].Size().Mul(0.02))
		}
		b.Run(fmt.Sprintf("build/boxes=%d", n), func(b *testing.B) {
			for b.Loop() {
				NewBoxTree(boxes)
			}
		})
		tree := NewBoxTree(boxes)
		b.Run(fmt.Sprintf("query/boxes=%d", n), func(b *testing.B) {
			found, i := 0, 0
			for b.Loop() {
				tree.Query(boxes[i].Grow(1000), func(int) bool { found++; return true })
				i = (i + 1) % n
			}
			b.ReportMetric(float64(found)/float64(b.N), "found/op")
		})
	}
}
