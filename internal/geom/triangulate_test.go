package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// checkTriangulation holds triangles against the polygon: area, corners turning
// left, every side of the polygon covered once more in its own direction than in
// the other, and every other side of a triangle as often both ways.
func checkTriangulation(t *testing.T, outer []Vec2, holes [][]Vec2, tris [][3]int) {
	t.Helper()
	var pts []Vec2
	want := 0.0
	sides := map[[2]Vec2]int{}
	for i, l := range append([][]Vec2{outer}, holes...) {
		a := 0.0
		for k, p := range l {
			q := l[(k+1)%len(l)]
			a += (p.X*q.Y - q.X*p.Y) / 2
		}
		flip := (a < 0) == (i == 0)
		for k, p := range l {
			q := l[(k+1)%len(l)]
			if flip {
				p, q = q, p
			}
			if p != q {
				sides[[2]Vec2{p, q}]++
			}
		}
		if want += math.Abs(a); i > 0 {
			want -= 2 * math.Abs(a)
		}
		pts = append(pts, l...)
	}
	got, scale := 0.0, 1.0
	for _, tr := range tris {
		p, q, r := pts[tr[0]], pts[tr[1]], pts[tr[2]]
		a := ((q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)) / 2
		if a < 0 {
			t.Errorf("triangle %v runs clockwise", tr)
		}
		got += a
		scale = max(scale, math.Abs(p.X*q.Y), math.Abs(r.X*q.Y))
		for k := range tr {
			sides[[2]Vec2{pts[tr[k]], pts[tr[(k+1)%3]]}]--
		}
	}
	if math.Abs(got-want) > 1e-9*scale {
		t.Errorf("area %.9g, want %.9g", got, want)
	}
	for s, n := range sides {
		if back := sides[[2]Vec2{s[1], s[0]}]; n != back {
			t.Errorf("side %v: %d uncovered, %d the other way", s, n, back)
		}
	}
}

func square(x, y, s float64) []Vec2 { return []Vec2{{x, y}, {x + s, y}, {x + s, y + s}, {x, y + s}} }

func TestTriangulateByHand(t *testing.T) {
	for _, c := range []struct {
		name  string
		outer []Vec2
		holes [][]Vec2
	}{
		{"triangle", []Vec2{{0, 0}, {4, 0}, {0, 3}}, nil},
		{"clockwise", []Vec2{{0, 0}, {0, 3}, {4, 0}}, nil},
		{"points on sides", []Vec2{{0, 0}, {1, 0}, {2, 0}, {4, 0}, {4, 2}, {4, 4}, {0, 4}, {0, 1}}, nil},
		{"repeated points", []Vec2{{0, 0}, {0, 0}, {4, 0}, {4, 4}, {4, 4}, {4, 4}, {0, 4}}, nil},
		{"spike", []Vec2{{0, 0}, {4, 0}, {6, 0}, {4, 0}, {4, 4}, {0, 4}}, nil},
		{"hole", square(0, 0, 10), [][]Vec2{square(3, 3, 2)}},
		{"hole on the outline's corner", square(0, 0, 10), [][]Vec2{{{10, 10}, {5, 9}, {5, 5}, {9, 5}}}},
		{"hole on a point of a side", []Vec2{{0, 0}, {10, 0}, {10, 5}, {10, 10}, {0, 10}}, [][]Vec2{{{10, 5}, {5, 7}, {5, 3}}}},
		{"hole on a point of the left side", []Vec2{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 5}}, [][]Vec2{{{0, 5}, {5, 7}, {5, 3}}}},
		{"hole along a side", []Vec2{{0, 0}, {10, 0}, {10, 3}, {10, 7}, {10, 10}, {0, 10}}, [][]Vec2{square(6, 3, 4)}},
		{"holes corner to corner", square(0, 0, 10), [][]Vec2{square(2, 2, 2), square(4, 4, 2), square(6, 6, 2), square(6, 2, 2), square(2, 6, 2)}},
		{"hole fills all", square(0, 0, 10), [][]Vec2{square(0, 0, 10)}},
		{"pinched", []Vec2{{0, 0}, {4, 0}, {2, 2}, {4, 4}, {0, 4}, {2, 2}}, nil},
		{"hole pinched at its rightmost point", square(0, 0, 20), [][]Vec2{{{15, 10}, {5, 15}, {5, 12}, {15, 10}, {5, 8}, {5, 5}}}},
		{"the same from its other end", square(0, 0, 20), [][]Vec2{{{15, 10}, {5, 8}, {5, 5}, {15, 10}, {5, 15}, {5, 12}}}},
		{"lobes one in another", square(0, 0, 20), [][]Vec2{{{15, 10}, {3, 3}, {3, 17}, {15, 10}, {5, 13}, {5, 7}}}},
		{"holes in a row", square(0, 0, 20), [][]Vec2{square(1, 5, 2), square(5, 5, 2), square(9, 5, 2), square(13, 5, 2)}},
		{"holes in a column", square(0, 0, 20), [][]Vec2{square(5, 1, 2), square(5, 5, 2), square(5, 9, 2), square(5, 13, 2)}},
		{"empty hole", square(0, 0, 4), [][]Vec2{{}, {{1, 1}}, {{1, 2}, {2, 2}}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			checkTriangulation(t, c.outer, c.holes, Triangulate(c.outer, c.holes))
		})
	}
}

// TestTriangulateTouchingSides has loops that touch where one has no point: the
// area is right, though sides are cut in two.
func TestTriangulateTouchingSides(t *testing.T) {
	for _, c := range []struct {
		hole []Vec2
		want float64
	}{
		{[]Vec2{{10, 5}, {5, 7}, {5, 3}}, 90},
		{[]Vec2{{0, 5}, {5, 7}, {5, 3}}, 90},
		{square(6, 3, 4), 84},
		{square(0, 3, 4), 84},
		{square(6, 0, 4), 84},
	} {
		outer := square(0, 0, 10)
		pts := append(append([]Vec2{}, outer...), c.hole...)
		got := 0.0
		for _, tr := range Triangulate(outer, [][]Vec2{c.hole}) {
			got += loopArea([]Vec2{pts[tr[0]], pts[tr[1]], pts[tr[2]]})
		}
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v: area %v, want %v", c.hole, got, c.want)
		}
	}
}

func TestTriangulateNothing(t *testing.T) {
	nan := math.NaN()
	for _, outer := range [][]Vec2{nil, {{1, 1}}, {{1, 1}, {2, 2}}, {{1, 1}, {2, 2}, {3, 3}}, {{1, 1}, {1, 1}, {1, 1}}, {{nan, 1}, {2, nan}, {nan, nan}, {3, 4}}} {
		if got := Triangulate(outer, nil); len(got) != 0 {
			t.Errorf("%v: %v, want nothing", outer, got)
		}
	}
	Triangulate(square(0, 0, 1), [][]Vec2{{{nan, nan}, {nan, 1}, {1, nan}}}) // any answer, but an answer
	Triangulate([]Vec2{{0, 0}, {4, 4}, {4, 0}, {0, 4}}, nil)                 // crosses itself
}

// star is a random polygon around c: simple, with reflex corners.
func star(r *rand.Rand, c Vec2, n int, lo, hi float64) []Vec2 {
	out := make([]Vec2, n)
	for i := range out {
		s, k := math.Sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
		d := lo + (hi-lo)*r.Float64()
		out[i] = Vec2{c.X + d*k, c.Y + d*s}
	}
	return out
}

func TestTriangulateStars(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 400 {
		outer := star(r, Vec2{}, 12+r.IntN(120), 60, 100)
		var holes [][]Vec2
		for x := -1.0; x <= 1; x++ {
			for y := -1.0; y <= 1; y++ {
				if r.IntN(2) == 0 {
					holes = append(holes, star(r, Vec2{20 * x, 20 * y}, 3+r.IntN(20), 1, 9.5))
				}
			}
		}
		turn := r.Float64() * 7
		for _, l := range append([][]Vec2{outer}, holes...) {
			s, c := math.Sincos(turn)
			for k, p := range l {
				l[k] = Vec2{c*p.X - s*p.Y + 1e5, s*p.X + c*p.Y - 3e5}
			}
		}
		t.Run(fmt.Sprint(i), func(t *testing.T) { checkTriangulation(t, outer, holes, Triangulate(outer, holes)) })
	}
}

// TestTriangulateRaster takes the holes off a grid, so that many touch at
// corners, and points lie on common lines.
func TestTriangulateRaster(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 300 {
		n := 2 + r.IntN(9)
		outer := square(0, 0, float64(2*n+1))
		var holes [][]Vec2
		for x := range n {
			for y := range n {
				h := square(float64(2*x+1), float64(2*y+1), 1)
				switch r.IntN(4) {
				case 0: // a corner touches the next hole's
					h[2] = Vec2{float64(2*x + 3), float64(2*y + 3)}
					if x == n-1 || y == n-1 {
						h[2] = Vec2{float64(2*x + 2), float64(2*y + 2)}
					}
				case 1:
					continue
				}
				holes = append(holes, h)
			}
		}
		checkTriangulation(t, outer, holes, Triangulate(outer, holes))
		if t.Failed() {
			t.Fatalf("case %d: %v", i, holes)
		}
	}
}

func TestTriangulateLoop3(t *testing.T) {
	f := FrameZX(V(100, -50, 30), V(1, 2, 3), V(1, 0, 0))
	var outer, hole []Vec
	for _, p := range square(0, 0, 10) {
		outer = append(outer, f.Apply(V(p.X, p.Y, 0.01*p.X*p.Y))) // not quite flat
	}
	for _, p := range square(2, 2, 3) {
		hole = append(hole, f.Apply(V(p.X, p.Y, 0)))
	}
	pts := append(append([]Vec{}, outer...), hole...)
	var sum float64
	for _, tr := range TriangulateLoop3(outer, [][]Vec{hole}) {
		n := pts[tr[1]].Sub(pts[tr[0]]).Cross(pts[tr[2]].Sub(pts[tr[0]]))
		if n.Dot(f.Z) <= 0 {
			t.Errorf("%v looks the wrong way", tr)
		}
		sum += n.Dot(f.Z) / 2
	}
	if math.Abs(sum-91) > 0.1 {
		t.Errorf("area %v, want 91", sum)
	}
	if got := TriangulateLoop3([]Vec{{0, 0, 0}, {1, 1, 1}, {2, 2, 2}}, nil); got != nil {
		t.Errorf("a line gave %v", got)
	}
}

func BenchmarkTriangulate(b *testing.B) {
	for _, n := range []int{2, 10, 20} {
		var holes [][]Vec2
		for x := range n {
			for y := range n {
				holes = append(holes, square(float64(2*x+1), float64(2*y+1), 1))
			}
		}
		outer := square(0, 0, float64(2*n+1))
		b.Run(fmt.Sprintf("holes=%d", n*n), func(b *testing.B) {
			for b.Loop() {
				Triangulate(outer, holes)
			}
		})
	}
}
