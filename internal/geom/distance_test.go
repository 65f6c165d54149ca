package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// certify proves that p and q are the nearest points of two convex hulls: each
// lies in its own, and no corner lies beyond the planes through them at a right
// angle to p-q.
func certify(t *testing.T, what string, x pair, as, bs []Vec, tol float64) {
	t.Helper()
	d := x.p.Dist(x.q)
	if d > tol {
		v := x.q.Sub(x.p).Mul(1 / d)
		for _, a := range as {
			if s := a.Sub(x.p).Dot(v); s > tol {
				t.Errorf("%s: a corner is %g nearer", what, s)
			}
		}
		for _, b := range bs {
			if s := x.q.Sub(b).Dot(v); s > tol {
				t.Errorf("%s: a corner is %g nearer", what, s)
			}
		}
	}
	if e := hullTwin(x.p, as); e > tol {
		t.Errorf("%s: a point is %g off its body", what, e)
	}
	if e := hullTwin(x.q, bs); e > tol {
		t.Errorf("%s: a point is %g off its body", what, e)
	}
}

// hullTwin is the distance of p from a point, a segment or a triangle.
func hullTwin(p Vec, of []Vec) float64 {
	switch len(of) {
	case 1:
		return p.Dist(of[0])
	case 2:
		return golden(func(t float64) float64 { return of[0].Lerp(of[1], t).Dist(p) })
	}
	return triangleTwin(p, of[0], of[1], of[2])
}

// awkward is a random point, often on a grid, so that parallel, crossing and
// touching cases come up, at times far away or all in one place.
func awkward(r *rand.Rand) func() Vec {
	scale, kind := math.Pow(10, float64(r.IntN(5)-1)), r.IntN(4)
	return func() Vec {
		v := V(r.Float64(), r.Float64(), r.Float64())
		switch kind {
		case 0:
			v = V(float64(r.IntN(3)), float64(r.IntN(3)), float64(r.IntN(3)))
		case 1:
			v = V(float64(r.IntN(3)), float64(r.IntN(3)), 1e-9*r.Float64())
		case 2:
			v.Z *= 1e-3
		}
		return v.Mul(scale)
	}
}

func TestNearestPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	for i := range 3000 {
		p := awkward(r)
		a, b, c, x, y, z := p(), p(), p(), p(), p(), p()
		far := []Vec{{}, {1e6, -1e6, 3e5}}[i%2]
		for _, v := range []*Vec{&a, &b, &c, &x, &y, &z} {
			*v = v.Add(far)
		}
		tol := 1e-6 + 1e-7*BoxOf(a, b, c, x, y, z).Size().Norm() + 1e-11*far.Norm()
		certify(t, fmt.Sprint(i, " point, segment"), pair{nearestOnSegment(x, a, b), x}, []Vec{a, b}, []Vec{x}, tol)
		certify(t, fmt.Sprint(i, " segments"), nearestSegments(a, b, x, y), []Vec{a, b}, []Vec{x, y}, tol)
		if i%5 == 0 { // the proof takes its time
			certify(t, fmt.Sprint(i, " point, triangle"), pair{nearestOnTriangle(x, a, b, c), x}, []Vec{a, b, c}, []Vec{x}, tol)
			certify(t, fmt.Sprint(i, " segment, triangle"), nearestSegmentTriangle(x, y, a, b, c), []Vec{x, y}, []Vec{a, b, c}, tol)
			certify(t, fmt.Sprint(i, " triangles"), nearestTriangles(a, b, c, x, y, z), []Vec{a, b, c}, []Vec{x, y, z}, tol)
		}
		if t.Failed() {
			t.Fatal(a, b, c, x, y, z)
		}
	}
}

// TestNearestSegmentsNearlyParallel compares with the closed form for two long
// segments that cross at a small angle.
func TestNearestSegmentsNearlyParallel(t *testing.T) {
	for _, angle := range []float64{1e-2, 1e-4, 1e-6, 1e-8, 1e-10} {
		s, c := math.Sincos(angle)
		x := nearestSegments(V(-3000, 0, 0), V(3000, 0, 0), V(-3000*c, -3000*s, 7), V(3000*c, 3000*s, 7))
		near(t, fmt.Sprint(angle), x.p.Dist(x.q), 7, 1e-9)
	}
}

func TestNearestDegenerate(t *testing.T) {
	nan := math.NaN()
	for _, v := range []Vec{{}, {nan, 0, 0}, {math.Inf(1), 0, 0}, {1e300, 1e300, 1e300}} {
		_ = nearestTriangles(v, v, v, Vec{}, Vec{1, 0, 0}, v) // no panic
		_ = nearestSegments(v, v, v, v)
	}
	x := nearestTriangles(V(1, 0, 0), V(1, 0, 0), V(1, 0, 0), V(4, 4, 0), V(4, 4, 0), V(4, 4, 0))
	near(t, "points", x.p.Dist(x.q), 5, 1e-12)
}

func TestConvexGapOfTriangles(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 54))
	for i := range 3000 {
		p := awkward(r)
		a, b := &triangle{p(), p(), p()}, &triangle{p(), p(), p()}
		want := nearestTriangles(a[0], a[1], a[2], b[0], b[1], b[2])
		got, x, meet := convexGap(a, b, math.Inf(1))
		if meet {
			got = 0
		}
		d := math.Sqrt(want.dist2())
		near(t, fmt.Sprint(i), got, d, 1e-6)
		if !meet {
			near(t, fmt.Sprint(i, " points"), x.p.Dist(x.q), got, 1e-7)
		}
		if low, _, _ := convexGap(a, b, d/2); d > 1e-6 && !(low > d/2 && low <= d+1e-7) {
			t.Errorf("%d: with a limit %v, want between %v and %v", i, low, d/2, d)
		}
	}
}

func BenchmarkNearest(b *testing.B) {
	p, q, r, s, u, v := V(0, 0, 0), V(1, 0.2, 0), V(0, 1, 0.3), V(0, 0, 5), V(3, 1, 4), V(1, 7, 6)
	b.Run("segments", func(b *testing.B) {
		for b.Loop() {
			nearestSegments(p, q, s, u)
		}
	})
	b.Run("triangles", func(b *testing.B) {
		for b.Loop() {
			nearestTriangles(p, q, r, s, u, v)
		}
	})
	x, y := &triangle{p, q, r}, &triangle{s, u, v}
	b.Run("convex", func(b *testing.B) {
		for b.Loop() {
			convexGap(x, y, math.Inf(1))
		}
	})
}
