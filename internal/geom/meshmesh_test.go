package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestMeshMeshByHand(t *testing.T) {
	box := BoxMesh(V(0, 0, 0), V(100, 80, 60))
	at := func(x0, y0, z0, x1, y1, z1 float64) *Mesh { return BoxMesh(V(x0, y0, z0), V(x1, y1, z1)) }
	el := Prism([]Vec2{{0, 0}, {100, 0}, {100, 10}, {10, 10}, {10, 100}, {0, 100}}, nil, Identity, V(0, 0, 1), 100)
	for _, c := range []struct {
		name string
		a, b *Mesh
		want float64
	}{
		{"face to face", box, at(120, 10, 10, 150, 50, 40), 20},
		{"edge to edge", box, at(103, 84, 10, 150, 150, 40), 5},
		{"corner to corner", box, at(102, 86, 63, 150, 150, 140), 7},
		{"touching", box, at(100, 10, 10, 150, 50, 40), 0},
		{"touching in an edge", box, at(100, 80, 10, 150, 150, 40), 0},
		{"overlapping by a little", box, at(99, 10, 10, 150, 50, 40), -1},
		{"overlapping at a corner", box, at(95, 77, 58, 150, 150, 140), -2},
		{"through", box, at(20, -50, 20, 40, 150, 30), -30}, // upwards or downwards
		{"inside", box, at(20, 30, 10, 40, 50, 25), -25},
		{"the same", box, box, -60},
		{"in the arms of an angle", el, at(15, 18, 10, 80, 90, 50), 5},
		{"in the hollow of a body", hollow(), at(-10, -10, -10, 12, 10, 10), 8},
		{"filling the hollow of a body", hollow(), at(-20, -20, -20, 20, 20, 20), 0},
		{"two boxes, one near", at(0, 0, 0, 10, 10, 10).Append(at(200, 0, 0, 210, 10, 10)), at(190, 0, 0, 195, 10, 10), 5},
		{"two boxes, one around", at(500, 0, 0, 510, 10, 10).Append(at(0, 0, 0, 100, 100, 100)), at(40, 40, 40, 50, 50, 50), -50},
	} {
		for _, s := range []float64{1, 25.4} {
			for _, f := range []Affine{Identity, turned(Vec{}), turned(V(1e6, -1e6, 5e5))} {
				f.X, f.Y, f.Z = f.X.Mul(s), f.Y.Mul(s), f.Z.Mul(s)
				a, b := c.a.Transform(f), c.b.Transform(f)
				gap, p, q := MeshMesh(a, b)
				near(t, c.name, gap, c.want*s, 1e-6*s)
				near(t, c.name+", points", p.Dist(q), math.Abs(gap), 1e-6*s)
				back, _, _ := MeshMesh(b, a)
				near(t, c.name+", the other way round", back, gap, 1e-6*s)
				for _, limit := range []float64{c.want*s + 1e-3, c.want*s - 1e-3} {
					g, _, _, ok := MeshMeshWithin(a, b, limit)
					if ok != (limit > c.want*s) || ok && math.Abs(g-gap) > 1e-6 {
						t.Errorf("%s: within %v: %v %v, want %v", c.name, limit, g, ok, gap)
					}
				}
			}
		}
	}
	if g, _, _ := MeshMesh(&Mesh{}, box); !math.IsInf(g, 1) {
		t.Errorf("no triangles: %v, want +Inf", g)
	}
}

// TestMeshMeshNotConvex has an angle and a box that reach into each other: the
// estimate is no more than the move that frees them, and no less than the part in
// common is wide.
func TestMeshMeshNotConvex(t *testing.T) {
	el := Prism([]Vec2{{0, 0}, {100, 0}, {100, 10}, {10, 10}, {10, 100}, {0, 100}}, nil, Identity, V(0, 0, 1), 100)
	for _, c := range []struct {
		b    *Mesh
		want float64
	}{
		{BoxMesh(V(9, 30, 10), V(80, 90, 50)), -1},
		{BoxMesh(V(30, 7, 10), V(80, 90, 50)), -3},
		{BoxMesh(V(5, 30, 98), V(80, 90, 150)), -2},
	} {
		gap, p, q := MeshMesh(el, c.b)
		near(t, "gap", gap, c.want, 1e-6)
		near(t, "points", p.Dist(q), -gap, 1e-6)
	}
}

// TestMeshMeshApart compares with all pairs of triangles.
func TestMeshMeshApart(t *testing.T) {
	r := rand.New(rand.NewPCG(95, 96))
	all := zoo()
	for i := range 60 {
		a, b := all[r.IntN(len(all))], all[r.IntN(len(all))]
		if len(a.Tris)*len(b.Tris) > 60000 {
			continue
		}
		m := b.Mesh.Transform(randomTurn(r, V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit().Mul(120+60*r.Float64())))
		want := math.Inf(1)
		for j := range a.Tris {
			u, v, w := a.Tri(j)
			for k := range m.Tris {
				x, y, z := m.Tri(k)
				want = min(want, nearestTriangles(u, v, w, x, y, z).dist2())
			}
		}
		if want = math.Sqrt(want); want < 1e-6 {
			continue
		}
		gap, p, q := MeshMesh(a.Mesh, m)
		near(t, fmt.Sprint(i), gap, want, 1e-9)
		near(t, fmt.Sprint(i, " points"), p.Dist(q), gap, 1e-9)
	}
}

// TestMeshMeshConvexOverlap proves the way out of two convex bodies: it is one,
// and no other of many directions is shorter.
func TestMeshMeshConvexOverlap(t *testing.T) {
	r := rand.New(rand.NewPCG(97, 98))
	bodies := []*Mesh{
		BoxMesh(V(-50, -30, -10), V(50, 30, 10)),
		BoxMesh(V(-5, -5, -80), V(5, 5, 80)),
		Prism(circle(0, 0, 30, 7), nil, turned(V(0, 0, -20)), V(0, 0, 1), 40),
		ball(Vec{}, 40, 4),
	}
	overlaps := 0
	for i := range 200 {
		a := bodies[r.IntN(len(bodies))]
		b := bodies[r.IntN(len(bodies))].Transform(randomTurn(r, V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(25)))
		gap, p, q := MeshMesh(a, b)
		if gap >= 0 {
			continue
		}
		overlaps++
		reach := func(m *Mesh, v Vec) float64 {
			best := math.Inf(-1)
			for _, x := range m.Verts {
				best = max(best, x.Dot(v))
			}
			return best
		}
		apart := func(v Vec) float64 { return -reach(b, v.Neg()) - reach(a, v) }
		best := math.Inf(-1)
		for k := range 20000 {
			z := 1 - (2*float64(k)+1)/20000
			s, c := math.Sincos(float64(k) * 2.399963229728653)
			best = max(best, apart(V(math.Sqrt(1-z*z)*c, math.Sqrt(1-z*z)*s, z)))
		}
		if gap < best-1e-9 {
			t.Errorf("%d: gap %v, but %v frees them", i, gap, best)
		}
		if v := q.Sub(p).Unit(); math.Abs(apart(v)-gap) > 1e-6 {
			t.Errorf("%d: gap %v along %v, which takes %v", i, gap, v, apart(v))
		}
	}
	if overlaps < 50 {
		t.Errorf("only %d overlaps", overlaps)
	}
}

func TestHull(t *testing.T) {
	for _, s := range zoo() {
		want := s.name == "box" || s.name == "ball"
		if got := s.hull() != nil; got != want {
			t.Errorf("%s: convex %v, want %v", s.name, got, want)
		}
	}
	h := BoxMesh(V(0, 0, 0), V(1, 2, 3)).hull()
	if len(h.verts) != 8 || len(h.normals) != 6 || len(h.edges) != 12 {
		t.Errorf("a box has %d corners, %d faces, %d edges", len(h.verts), len(h.normals), len(h.edges))
	}
	if splitSides().hull() != nil || new(Mesh).hull() != nil || without(BoxMesh(V(0, 0, 0), V(1, 2, 3)), 0).hull() != nil {
		t.Error("what is not convex or not closed has a hull")
	}
}

func BenchmarkMeshMesh(b *testing.B) {
	x := ball(Vec{}, 100, 32)
	for _, c := range []struct {
		name string
		m    *Mesh
	}{
		{"near", ball(V(150, 150, 150), 100, 32)},
		{"box", BoxMesh(V(110, -50, -50), V(200, 50, 50))},
		{"overlap", BoxMesh(V(90, -50, -50), V(200, 50, 50))},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				MeshMesh(x, c.m)
			}
		})
	}
}
