package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestHull2OfPlainShapes(t *testing.T) {
	for _, c := range []struct {
		name  string
		pts   []Vec2
		n     int
		width float64
	}{
		{"nothing", nil, 0, 0},
		{"one place twice", []Vec2{{1, 2}, {1, 2}}, 1, 0},
		{"a line", []Vec2{{0, 0}, {3, 4}, {6, 8}}, 2, 0},
		{"a square with its middle and a point on a side", []Vec2{{0, 0}, {2, 0}, {1, 1}, {2, 2}, {0, 2}, {1, 0}}, 4, 2},
		{"a flat rectangle, turned", []Vec2{{0, 0}, {8, 6}, {8 - 0.6, 6 + 0.8}, {-0.6, 0.8}}, 4, 1},
	} {
		h := Hull2(c.pts)
		if len(h) != c.n || math.Abs(Width2(h)-c.width) > 1e-9 {
			t.Errorf("%s: %v of width %v; want %d points and %v", c.name, h, Width2(h), c.n, c.width)
		}
	}
}

// The slow twin: a pair of points is a side of the hull when no other point lies
// to the right of it.
func TestHull2AgainstAllPairs(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		var pts []Vec2
		for range 3 + rnd.IntN(12) {
			pts = append(pts, Vec2{10 * rnd.Float64(), 10 * rnd.Float64()})
		}
		var area float64 // of the loop of all such sides
		sides := 0
		for i, a := range pts {
			for k, b := range pts {
				if i == k {
					continue
				}
				side := true
				for _, p := range pts {
					side = side && b.Sub(a).Cross(p.Sub(a)) >= 0
				}
				if side {
					sides++
					area += a.Cross(b) / 2
				}
			}
		}
		h := Hull2(pts)
		if len(h) != sides || math.Abs(loopArea(h)-area) > 1e-9 {
			t.Fatalf("%v: hull %v of %v, want %d sides around %v", pts, h, loopArea(h), sides, area)
		}
	}
}
