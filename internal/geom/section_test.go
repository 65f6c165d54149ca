package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func totalArea(ps []Polygon) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += p.Area()
	}
	return sum
}

func TestSectionByHand(t *testing.T) {
	box := BoxMesh(V(0, 0, 0), V(100, 80, 60))
	holed := Subtract(box, BoxMesh(V(20, -5, 20), V(40, 90, 40)))
	type loops struct{ outer, holes, corners int }
	for _, c := range []struct {
		name string
		m    *Mesh
		p    Plane
		area float64
		want loops
	}{
		{"through", box, Plane{V(0, 0, 1), 30}, 8000, loops{1, 0, 4}},
		{"through, from below", box, Plane{V(0, 0, -1), -30}, 8000, loops{1, 0, 4}},
		{"above", box, Plane{V(0, 0, 1), 61}, 0, loops{}},
		{"top face, body below", box, Plane{V(0, 0, 1), 60}, 8000, loops{1, 0, 4}},
		{"bottom face, body above", box, Plane{V(0, 0, 1), 0}, 0, loops{}},
		{"bottom face, from below", box, Plane{V(0, 0, -1), 0}, 8000, loops{1, 0, 4}},
		{"top face but for rounding", box, Plane{V(0, 0, 1), 60 + 5e-7}, 8000, loops{1, 0, 4}},
		{"corner cut off", box, PlaneAt(V(10, 0, 0), V(-1, -1, -1)), 100 * math.Sqrt(3) / 2, loops{1, 0, 3}},
		{"through corners", box, PlaneAt(V(0, 0, 0), V(80, -100, 0)), math.Hypot(100, 80) * 60, loops{1, 0, 4}},
		{"only a corner", box, PlaneAt(V(0, 0, 0), V(1, 1, 1)), 0, loops{}},
		{"hole along", holed, Plane{V(0, 1, 0), 40}, 6000 - 400, loops{1, 1, 8}},
		{"hole across", holed, Plane{V(0, 0, 1), 30}, 8000 - 20*80, loops{2, 0, 8}},
		{"face of a hole", holed, Plane{V(0, 0, 1), 20}, 8000, loops{1, 0, 4}},
		{"face of a hole, from the other side", holed, Plane{V(0, 0, -1), -20}, 8000 - 20*80, loops{2, 0, 8}},
		{"hollow", hollow(), Plane{V(0, 0, 1), 1}, 8000 - 1600, loops{1, 1, 8}},
		{"boxes that touch", touchingBoxes(), Plane{V(0, 0, 1), 1}, 10000, loops{2, 0, 8}},
		{"vertices of their own", soupOf(holed, 1e-7), Plane{V(0, 1, 0), 40}, 6000 - 400, loops{1, 1, 8}},
		{"split sides", bspSubtract(box, BoxMesh(V(20, -5, 20), V(40, 90, 40))), Plane{V(0, 1, 0), 40}, 6000 - 400, loops{1, 1, 8}},
		{"nothing", &Mesh{}, Plane{V(0, 0, 1), 0}, 0, loops{}},
		{"no plane", box, Plane{}, 0, loops{}},
		{"no number", box, Plane{V(math.NaN(), 0, 1), 0}, 0, loops{}},
	} {
		for _, f := range []Affine{Identity, turned(V(2e5, -1e5, 5e4))} {
			p := Plane{f.Turn(c.p.N), c.p.D + f.Turn(c.p.N).Dot(f.T)}
			got := c.m.Transform(f).Section(p)
			near(t, c.name, totalArea(got), c.area, 1e-3)
			var n loops
			for _, poly := range got {
				n.outer++
				n.holes += len(poly.Holes)
				n.corners += len(poly.Outer)
				for _, h := range poly.Holes {
					n.corners += len(h)
					if loopArea(h) >= 0 {
						t.Errorf("%s: a hole runs counter-clockwise", c.name)
					}
				}
				if loopArea(poly.Outer) <= 0 {
					t.Errorf("%s: an outline runs clockwise", c.name)
				}
			}
			if n != c.want {
				t.Errorf("%s: %+v, want %+v", c.name, n, c.want)
			}
		}
	}
}

// TestSectionAddsUp sums sections into volumes: by Simpson's rule, which is exact
// for solids with flat faces between heights of corners, here for slices between
// all heights of corners.
func TestSectionAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	for _, s := range zoo() {
		if s.name == "overlap" || s.name == "inside out" {
			continue
		}
		m := s.Transform(randomTurn(r, V(100, -50, 20)))
		n := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
		heights := map[float64]bool{}
		for _, v := range m.Verts {
			heights[math.Round(n.Dot(v)*1e6)/1e6] = true
		}
		var hs []float64
		for h := range heights {
			hs = append(hs, h)
		}
		sortFloats(hs)
		vol := 0.0
		for i := 1; i < len(hs); i++ {
			a, b := hs[i-1], hs[i]
			if b-a < 1e-4 {
				continue
			}
			d := min(1e-5, (b-a)/10)
			f := func(h float64) float64 { return totalArea(m.Section(Plane{n, h})) }
			vol += (b - a) / 6 * (f(a+d) + 4*f((a+b)/2) + f(b-d))
		}
		near(t, s.name, vol, m.Volume(), 1e-4*m.Volume())
	}
}

func sortFloats(x []float64) {
	for i := range x {
		for k := i; k > 0 && x[k] < x[k-1]; k-- {
			x[k], x[k-1] = x[k-1], x[k]
		}
	}
}

// TestSectionContains asks the same of the section and of the body.
func TestSectionContains(t *testing.T) {
	r := rand.New(rand.NewPCG(83, 84))
	for _, s := range zoo() {
		for range 8 {
			p := PlaneAt(V(r.Float64(), r.Float64(), r.Float64()).Mul(20), V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()))
			if r.IntN(3) == 0 {
				p = PlaneAt(s.Verts[r.IntN(len(s.Verts))], V(0, 0, 1)) // through a corner
			}
			polys := s.Section(p)
			f := p.Frame()
			for range 60 {
				q := Vec2{r.Float64()*160 - 80, r.Float64()*160 - 80}
				at := f.Apply(V(q.X, q.Y, -1e-5))
				if _, d, _ := s.Nearest(at); d < 1e-3 {
					continue
				}
				got := 0
				for _, poly := range polys {
					if poly.Contains(q) {
						got++
					}
				}
				if want := insideTwin(s.Mesh, at); (got > 0) != want && s.name != "inside out" {
					t.Fatalf("%s: %v %v: in %d polygons, inside %v", s.name, p, q, got, want)
				}
			}
		}
	}
}

func TestClip(t *testing.T) {
	r := rand.New(rand.NewPCG(85, 86))
	box := BoxMesh(V(0, 0, 0), V(100, 80, 60))
	for _, c := range []struct {
		p    Plane
		want float64
	}{
		{Plane{V(0, 0, 1), 30}, 8000 * 30},
		{Plane{V(0, 0, -1), -30}, 8000 * 30},
		{Plane{V(0, 0, 1), 60}, 8000 * 60},
		{Plane{V(0, 0, 1), 60 - 5e-4}, 8000 * 60},
		{Plane{V(0, 0, 1), 0}, 0},
		{Plane{V(0, 0, 1), -5}, 0},
		{Plane{V(0, 0, 1), 1e4}, 8000 * 60},
		{PlaneAt(V(10, 0, 0), V(1, 1, 1)), 1000. / 6},
		{PlaneAt(V(0, 0, 0), V(80, -100, 0)), 8000 * 30},
	} {
		for _, f := range []Affine{Identity, turned(V(1e6, -1e6, 5e5))} {
			p := PlaneAt(f.Apply(c.p.N.Mul(c.p.D)), f.Turn(c.p.N))
			checkSolid(t, fmt.Sprint(c.p), box.Transform(f).Clip(p), c.want, 1e-3+8000*5e-4)
		}
	}
	for _, s := range zoo()[:7] {
		for range 5 {
			p := PlaneAt(V(r.Float64(), r.Float64(), r.Float64()).Mul(20), V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()))
			below, above := s.Clip(p), s.Clip(Plane{p.N.Neg(), -p.D})
			near(t, s.name, below.Volume()+above.Volume(), s.Volume(), 1e-6*s.Volume())
			for _, m := range []*Mesh{below, above} {
				if n := sheetCheck(m); n != 0 {
					t.Errorf("%s: %d open sides", s.name, n)
				}
			}
			for _, v := range below.Verts {
				if p.Dist(v) > 1e-6 {
					t.Errorf("%s: a corner is %v above the plane", s.name, p.Dist(v))
				}
			}
		}
	}
	if n := faceCount(box.Clip(Plane{V(0, 0, 1), 30})); n != 6 {
		t.Errorf("%d faces, want 6", n)
	}
	if m := new(Mesh).Clip(Plane{V(0, 0, 1), 0}); len(m.Tris) != 0 {
		t.Error("something of nothing")
	}
}

func BenchmarkSection(b *testing.B) {
	m := ball(Vec{}, 100, 32)
	b.Run(fmt.Sprintf("triangles=%d", len(m.Tris)), func(b *testing.B) {
		for b.Loop() {
			m.Section(Plane{V(0, 0.6, 0.8), 10})
		}
	})
}
