package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The slow twin is the intersection with a half-space as a body.
func TestClipOfConvexBodiesAgainstBoolean(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 7))
	clipped := 0
	for round := range 400 {
		at := FrameZX(V(1e4*rnd.Float64(), -3000, 450), V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()), V(1, rnd.Float64(), 0))
		if round%2 == 0 {
			at = Identity
		}
		n := 3 + rnd.IntN(9)
		m := Prism(regular(n, 1000), nil, at, V(0, 0, 1), 500)
		// through corners, along sides and faces, and anywhere
		a := at.Apply(V(1000*math.Cos(2*math.Pi/float64(n)), 1000*math.Sin(2*math.Pi/float64(n)), 0))
		dirs := []Vec{at.X, at.Y, at.Z, at.X.Add(at.Z), V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64())}
		p := PlaneAt(a.Add(at.Z.Mul(100*float64(rnd.IntN(5)))), dirs[rnd.IntN(len(dirs))])
		if round%5 == 0 {
			p = PlaneAt(at.Apply(V(0, 0, 250)), dirs[4])
		}
		got := m.Clip(p)
		if len(got.Tris) == 0 || got == m {
			continue
		}
		clipped++
		if _, ok := m.clipConvex(p); !ok {
			t.Errorf("round %d: no quick way", round)
		}
		f := FrameZX(at.T.Sub(p.N.Mul(p.Dist(at.T))), p.N, p.N.Perp())
		half := Prism([]Vec2{{-9e3, -9e3}, {9e3, -9e3}, {9e3, 9e3}, {-9e3, 9e3}}, nil, f, V(0, 0, -1), 9e3)
		want := Intersect(m, half)
		if c := got.Closed(); !c.OK {
			t.Errorf("round %d: open: %s", round, c.Why)
		}
		if v, w := got.Volume(), want.Volume(); math.Abs(v-w) > 1e-7*w+1e-2 {
			t.Errorf("round %d: volume %.3f, boolean says %.3f", round, v, w)
		}
		if d := got.Centroid().Dist(want.Centroid()); d > 1e-3 && got.Volume() > 1 {
			t.Errorf("round %d: centre off by %v", round, d)
		}
		if b, w := got.Box(), want.Box(); b.Min.Dist(w.Min) > 1e-4 || b.Max.Dist(w.Max) > 1e-4 {
			t.Errorf("round %d: box %v, boolean says %v", round, b, w)
		}
		if g, w := len(got.PlanarFaces()), len(want.PlanarFaces()); g != w {
			t.Errorf("round %d: %d faces, boolean says %d", round, g, w)
		}
	}
	if clipped < 150 {
		t.Errorf("only %d bodies were clipped", clipped)
	}
}

// What the quick way is not for goes the other one.
func TestClipOfOtherBodies(t *testing.T) {
	bent := Prism([]Vec2{{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}}, nil, Identity, V(0, 0, 1), 100)
	if _, ok := bent.clipConvex(PlaneAt(V(0, 50, 0), V(1, 1, 0))); ok {
		t.Error("a bent body was taken for a convex one")
	}
	// Above y = 150 only the upright leg of 100 mm is left: 300*100 + 50*100.
	if got := bent.Clip(PlaneAt(V(0, 150, 0), V(0, 1, 0))).Volume(); math.Abs(got-100*(30000+5000)) > 1e-3 {
		t.Errorf("volume %v, want 3500000", got)
	}
	unnumbered := &Mesh{Verts: bent.Verts, Tris: bent.Tris}
	if got := unnumbered.Clip(PlaneAt(V(0, 150, 0), V(0, 1, 0))).Volume(); math.Abs(got-3.5e6) > 1e-3 {
		t.Errorf("without numbers of faces: volume %v, want 3500000", got)
	}
}
