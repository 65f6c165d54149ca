package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// slabLeast is the least distance from the axis in a layer, from Slab.
func slabLeast(m *Mesh, f Affine, dir Vec, z0, z1, reach float64) float64 {
	best := math.Inf(1)
	m.Slab(f, dir, z0, z1, reach, func(poly []Vec2, tri int) {
		for i := range poly {
			best = min(best, NearestOnSegment2(Vec2{}, poly[i], poly[(i+1)%len(poly)]).Norm())
		}
		if len(poly) > 2 && loopContains(poly, Vec2{}) {
			best = 0
		}
	})
	return best
}

// slabTwin is the same from points of each triangle on a fine grid, moved along
// the axis to the plane.
func slabTwin(m *Mesh, f Affine, dir Vec, z0, z1 float64, n int) float64 {
	best := math.Inf(1)
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		for u := range n + 1 {
			for v := range n + 1 - u {
				p := a.Add(b.Sub(a).Mul(float64(u) / float64(n))).Add(c.Sub(a).Mul(float64(v) / float64(n)))
				z := p.Sub(f.T).Dot(f.Z)
				if z < z0 || z > z1 {
					continue
				}
				on := f.T.Add(dir.Mul(z / dir.Dot(f.Z))) // of the axis, at that depth
				best = min(best, p.Dist(on))
			}
		}
	}
	return best
}

func TestSlabByHand(t *testing.T) {
	box := BoxMesh(V(0, 0, 0), V(1000, 600, 300))
	taper := Prism([]Vec2{{0, 0}, {1000, 0}, {900, 300}, {0, 300}}, nil, Affine{V(1, 0, 0), V(0, 0, 1), V(0, -1, 0), V(0, 600, 0)}, V(0, 0, 1), 600)
	down := FrameZX(V(800, 300, 300), V(0, 0, -1), V(1, 0, 0))
	for _, c := range []struct {
		name   string
		m      *Mesh
		f      Affine
		dir    Vec
		z0, z1 float64
		want   float64
	}{
		{"box", box, down, V(0, 0, -1), 0.02, 200, 200},
		{"opening below", Subtract(box, BoxMesh(V(850, -1, 50), V(1100, 700, 150))), down, V(0, 0, -1), 0.02, 200, 50},
		{"opening too deep", Subtract(box, BoxMesh(V(850, -1, 50), V(1100, 700, 99))), down, V(0, 0, -1), 0.02, 200, 200},
		{"taper, top", taper, down, V(0, 0, -1), 0.02, 200, 100 + 0.02/3},
		{"taper, deeper", taper, down, V(0, 0, -1), 150, 200, 150},
		{"tilted anchor", box, down, V(1, 0, -2), 0.02, 200, 100},
		{"tilted anchor, layer", box, down, V(1, 0, -2), 50, 100, 150},
	} {
		for _, s := range []float64{1, 25.4} {
			for _, g := range []Affine{Identity, turned(Vec{}), turned(V(1e6, -1e6, 5e5))} {
				m := c.m.Transform(Affine{g.X.Mul(s), g.Y.Mul(s), g.Z.Mul(s), g.T})
				f := g.Mul(c.f)
				f.T = g.Apply(c.f.T.Mul(s))
				for _, reach := range []float64{0, 250 * s} {
					near(t, c.name, slabLeast(m, f, g.Turn(c.dir), c.z0*s, c.z1*s, reach), c.want*s, 1e-6*s)
				}
			}
		}
	}
}

func TestSlabTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	for _, s := range zoo() {
		for range 6 {
			f := randomTurn(r, V(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(60))
			dir := f.Turn(V(r.Float64()-0.5, r.Float64()-0.5, 1)).Unit()
			z0 := r.Float64()*60 - 40
			z1 := z0 + 10 + 40*r.Float64()
			got, want := slabLeast(s.Mesh, f, dir, z0, z1, 0), slabTwin(s.Mesh, f, dir, z0, z1, 60)
			if got > want+1e-9 || got < want-3 { // the twin's grid is as wide as that
				t.Errorf("%s: %v, samples %v", s.name, got, want)
			}
			if near := slabLeast(s.Mesh, f, dir, z0, z1, got+1); math.Abs(near-got) > 1e-9 {
				t.Errorf("%s: %v within reach, want %v", s.name, near, got)
			}
		}
	}
}

func TestSlabOdd(t *testing.T) {
	nan := math.NaN()
	box := BoxMesh(V(0, 0, 0), V(10, 10, 10))
	box.Verts[0].X = nan
	seen := 0
	see := func(poly []Vec2, _ int) {
		seen++
		for _, p := range poly {
			if math.IsNaN(p.X) || math.IsNaN(p.Y) {
				t.Errorf("%v", poly)
			}
		}
	}
	box.Slab(Identity, V(1, 0, 0), 0, 5, 0, see) // along the layer
	box.Slab(Identity, Vec{}, 0, 5, 0, see)
	box.Slab(Identity, V(0, 0, 1), 5, 0, 0, see)
	box.Slab(Identity, V(nan, 0, 1), 0, 5, 3, see)
	if seen > 0 {
		t.Errorf("%d pieces of an empty layer", seen)
	}
	box.Slab(Identity, V(0, 0, 1), 0, 5, 0, see)
	if seen == 0 {
		t.Error("one corner that is no number hides all triangles")
	}
}

func BenchmarkSlab(b *testing.B) {
	m := ball(Vec{}, 1000, 64)
	m.Tree()
	f := FrameZX(V(300, 0, 950), V(0, 0, -1), V(1, 0, 0))
	for _, reach := range []float64{0, 300} {
		b.Run(fmt.Sprintf("reach=%v", reach), func(b *testing.B) {
			for b.Loop() {
				m.Slab(f, f.Z, 0, 200, reach, func([]Vec2, int) {})
			}
		})
	}
}
