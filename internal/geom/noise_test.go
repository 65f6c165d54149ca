package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// TestBooleanNoise has openings on a raster, turned by next to nothing, and all
// corners moved by rounding of different sizes: results stay closed, and volumes
// add up but for what was moved.
func TestBooleanNoise(t *testing.T) {
	for i := range 250 {
		r := rand.New(rand.NewPCG(111, uint64(i)))
		f := randomTurn(r, V(r.Float64(), r.Float64(), r.Float64()).Mul(5000))
		noise := []float64{0, 1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 5e-4}[r.IntN(7)]
		angle := []float64{0, 0, 1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3}[r.IntN(8)]
		rough := func(m *Mesh) *Mesh {
			out := &Mesh{Tris: m.Tris, Face: m.Face}
			for _, v := range m.Verts {
				out.Verts = append(out.Verts, v.Add(V(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(noise)))
			}
			return out
		}
		a := rough(wall().Transform(f))
		var cutters []*Mesh
		for range 1 + r.IntN(4) {
			at := V(float64(r.IntN(10)*100), float64(r.IntN(3)*100-100), float64(r.IntN(8)*100))
			size := V(float64(1+r.IntN(3))*100, float64(1+r.IntN(4))*100, float64(1+r.IntN(3))*100)
			m := BoxMesh(at, at.Add(size))
			if r.IntN(3) == 0 {
				m = Prism(circle(0, 0, 100, 4*(1+r.IntN(8))), nil, FrameZX(at, V(0, 1, 0), V(1, 0, 0)), V(0, 0, 1), 100*float64(1+r.IntN(3)))
			}
			axis := V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
			cutters = append(cutters, rough(m.Transform(f.Mul(rotation(at, axis, angle)))))
		}
		sum := cutters[0]
		for _, c := range cutters[1:] {
			sum = Union(sum, c)
		}
		rest, common, all := Subtract(a, cutters...), Intersect(a, sum), Union(a, sum)
		for k, m := range []*Mesh{rest, sum, common, all} {
			if n := sheetCheck(m); n != 0 {
				t.Errorf("%d: noise %v, angle %v: result %d has %d open sides", i, noise, angle, k, n)
			}
		}
		tol := 2e6 * max(noise, 1e-3, angle*300)
		near(t, fmt.Sprint(i, " parts"), rest.Volume()+common.Volume(), a.Volume(), tol)
		near(t, fmt.Sprint(i, " sum"), all.Volume()+common.Volume(), a.Volume()+sum.Volume(), tol)
	}
}

// TestFlattened moves corners into planes only where that is within rounding and
// can be done for all faces at them.
func TestFlattened(t *testing.T) {
	rough := soupOf(wall(), 0).Weld(1e-6)
	r := rand.New(rand.NewPCG(113, 114))
	for i := range rough.Verts {
		rough.Verts[i] = rough.Verts[i].Add(V(r.Float64(), r.Float64(), r.Float64()).Mul(3e-4))
	}
	flat := rough.flattened(1e-8)
	if n := len(planesOf(rough)); n <= 6 {
		t.Fatalf("the body has %d planes already", n)
	}
	if n := len(planesOf(flat)); n != 6 {
		t.Errorf("%d planes, want 6", n)
	}
	for i, v := range flat.Verts {
		if d := v.Dist(rough.Verts[i]); d > 2e-3 {
			t.Errorf("a corner moved by %v", d)
		}
	}
	if m := wall(); m.flattened(1e-8) != m {
		t.Error("a body with flat faces is not returned as it is")
	}
	warped := wall()
	warped.Verts[6].Z += 0.5 // more than rounding
	if got := warped.flattened(1e-8); got.Verts[6] != warped.Verts[6] {
		t.Error("a warped face was made flat")
	}
	b := ball(Vec{}, 50, 12)
	for i, v := range b.flattened(1e-8).Verts {
		if math.Abs(v.Norm()-50) > 1e-9 {
			t.Fatalf("corner %d of a ball moved", i)
		}
	}
}

func planesOf(m *Mesh) []flat {
	f, _, _ := flats(m.Verts, m.Tris, nil, 1e-8, 0)
	return f
}
