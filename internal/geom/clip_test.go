package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The slow twin is the intersection with a half-space as a body.
func TestClipAgainstBoolean(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 7))
	clipped := 0
	for round := range 400 {
		at := FrameZX(V(1e4*rnd.Float64(), -3000, 450), V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()), V(1, rnd.Float64(), 0))
		if round%2 == 0 {
			at = Identity
		}
		n := 3 + rnd.IntN(9)
		var m *Mesh
		switch round / 2 % 4 {
		case 0:
			m = Prism(regular(n, 1000), nil, at, V(0, 0, 1), 500)
		case 1: // with holes that planes go through
			m = Prism(regular(n, 1000), [][]Vec2{regular(4, 200), {{300, -50}, {300, 50}, {400, 50}, {400, -50}}}, at, V(0, 0, 1), 500)
		case 2: // a channel, with sides in common planes
			m = Prism([]Vec2{{-900, -500}, {900, -500}, {900, 500}, {700, 500}, {700, 0}, {-700, 0}, {-700, 500}, {-900, 500}}, nil, at, V(0, 0, 1), 500)
		case 3: // steps
			m = Prism([]Vec2{{-900, -500}, {900, -500}, {900, -200}, {300, -200}, {300, 0}, {-300, 0}, {-300, 100}, {-900, 100}}, nil, at, V(0, 0, 1), 500)
		}
		// through corners, along sides and faces, and anywhere
		a := at.Apply(V(1000*math.Cos(2*math.Pi/float64(n)), 1000*math.Sin(2*math.Pi/float64(n)), 0))
		if rnd.IntN(2) == 0 {
			i := rnd.IntN(len(m.Tris))
			a, _, _ = m.Tri(i)
		}
		dirs := []Vec{at.Y, at.Y.Neg(), at.X, at.Y, at.Z, at.X.Add(at.Z), V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64())}
		p := PlaneAt(a.Add(at.Z.Mul(100*float64(rnd.IntN(5)))), dirs[rnd.IntN(len(dirs))])
		if round%5 == 0 {
			p = PlaneAt(at.Apply(V(0, 0, 250)), dirs[6])
		}
		got := m.Clip(p)
		if len(got.Tris) == 0 || got == m {
			continue
		}
		clipped++
		if _, ok := m.clipSimple(p); !ok {
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
	two := bent.Append(BoxMesh(V(250, 50, 0), V(600, 200, 100)))
	p := PlaneAt(V(0, 150, 0), V(0, 1, 0))
	for _, c := range []struct {
		name string
		m    *Mesh
		want float64 // mm3
	}{
		{"faces without numbers", &Mesh{Verts: bent.Verts, Tris: bent.Tris}, 100 * (300*100 + 100*50)},
		{"two pieces that overlap", two, 100 * (300*100 + 100*50 + 350*100 - 50*50)},
	} {
		if _, ok := c.m.clipSimple(p); ok {
			t.Errorf("%s: clipped the quick way", c.name)
		}
		if got := c.m.Clip(p).Volume(); math.Abs(got-c.want) > 1e-3 {
			t.Errorf("%s: volume %v, want %v", c.name, got, c.want)
		}
	}
}
