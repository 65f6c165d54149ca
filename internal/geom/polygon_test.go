package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestPolygon(t *testing.T) {
	p := Polygon{Outer: square(0, 0, 10), Holes: [][]Vec2{square(2, 2, 3), circle(7, 7, 1, 4)}}
	near(t, "area", p.Area(), 100-9-2, 1e-12)
	for _, c := range []struct {
		q    Vec2
		in   bool
		dist float64
	}{
		{Vec2{1, 1}, true, 1},
		{Vec2{5.5, 5.5}, true, math.Hypot(0.5, 0.5)},
		{Vec2{3, 4}, false, 1},
		{Vec2{7, 7}, false, math.Sqrt2 / 2},
		{Vec2{-3, -4}, false, 5},
		{Vec2{5, 12}, false, 2},
		{Vec2{10, 10}, p.Contains(Vec2{10, 10}), 0},
		{Vec2{-1, 10}, false, 1},
		{Vec2{-1, 0}, false, 1},
	} {
		if got := p.Contains(c.q); got != c.in {
			t.Errorf("%v inside: %v, want %v", c.q, got, c.in)
		}
		near(t, "distance", p.Dist(c.q), c.dist, 1e-12)
	}
	if (Polygon{}).Area() != 0 || (Polygon{}).Contains(Vec2{}) || !math.IsInf((Polygon{}).Dist(Vec2{}), 1) {
		t.Error("an empty polygon is somewhere")
	}
}

// TestPolygonContains counts the angle that the outline turns through, seen from
// the point.
func TestPolygonContains(t *testing.T) {
	r := rand.New(rand.NewPCG(87, 88))
	for range 300 {
		l := star(r, Vec2{}, 3+r.IntN(30), 1, 10)
		for i := range l { // on a grid, so that points lie level with corners
			if r.IntN(2) == 0 {
				l[i] = Vec2{math.Round(l[i].X), math.Round(l[i].Y)}
			}
		}
		for range 20 {
			q := Vec2{math.Round(r.Float64()*20 - 10), math.Round(r.Float64()*20-10) + float64(r.IntN(2))*0.5}
			if loopDist(l, q) < 1e-9 {
				continue
			}
			turn := 0.0
			for i, a := range l {
				u, v := a.Sub(q), l[(i+1)%len(l)].Sub(q)
				turn += math.Atan2(u.Cross(v), u.Dot(v))
			}
			if want := math.Round(turn/(2*math.Pi)) != 0; loopContains(l, q) != want {
				t.Fatalf("%v in %v: %v, want %v", q, l, !want, want)
			}
		}
	}
}

func TestNewellNormal(t *testing.T) {
	f := turned(V(1e6, 0, -1e6))
	var loop []Vec
	for _, p := range square(3, 4, 10) {
		loop = append(loop, f.Apply(V(p.X, p.Y, 0)))
	}
	near(t, "normal", NewellNormal(loop).Dist(f.Z.Mul(200)), 0, 1e-6)
	if NewellNormal(loop[:2]) != (Vec{}) {
		t.Error("two points have a normal")
	}
}
