package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// randomSolids are bodies with cutters that overlap, end flush, stick out, lie
// inside or outside.
func randomSolids(n int) []*Solid {
	r := rand.New(rand.NewPCG(101, 102))
	var out []*Solid
	for i := range n {
		f := randomTurn(r, V(1e3*r.Float64(), 0, 50))
		body := BoxMesh(V(0, 0, 0), V(1000, 200, 800)).Transform(f)
		var less []*Mesh
		for range r.IntN(5) {
			x, y, z := float64(r.IntN(10)*100), float64(r.IntN(3)*100-100), float64(r.IntN(8)*100)
			m := BoxMesh(V(x, y, z), V(x+float64(1+r.IntN(3))*100, y+float64(1+r.IntN(4))*100, z+float64(1+r.IntN(3))*100))
			if i%2 == 1 {
				m = Prism(circle(0, 0, 20+130*r.Float64(), 12), nil, FrameZX(V(x, y, z), V(0, 1, 0), V(1, 0, 0)), V(0, 0, 1), 300)
			}
			less = append(less, m.Transform(f))
		}
		out = append(out, NewSolid(body, less...))
	}
	return out
}

// TestSolidTwin holds the answers against those of the boolean.
func TestSolidTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(103, 104))
	for i, s := range randomSolids(60) {
		m := s.Mesh()
		box := s.Part(0).Box()
		some := func() Vec {
			return box.Min.Add(V(box.Size().X*r.Float64(), box.Size().Y*r.Float64(), box.Size().Z*r.Float64()))
		}
		for range 40 {
			p := some()
			if _, d, _ := m.Nearest(p); d > 1e-3 && s.Contains(p) != m.Contains(p) {
				t.Fatalf("%d: %v inside: %v", i, p, s.Contains(p))
			}
			d := some().Sub(p).Unit()
			got, want := s.Inside(p, d), m.Inside(p, d)
			if len(got) != len(want) {
				t.Fatalf("%d: %v, want %v", i, Intervals(got), want)
			}
			for k, in := range Intervals(got) {
				near(t, fmt.Sprint(i, " from"), in.From, want[k].From, 1e-6)
				near(t, fmt.Sprint(i, " to"), in.To, want[k].To, 1e-6)
				near(t, "normal", got[k].From.Normal.Dist(want[k].FromHit.Normal), 0, 1e-6)
				near(t, "normal", got[k].To.Normal.Dist(want[k].ToHit.Normal), 0, 1e-6)
				for _, c := range [2]Cross{got[k].From, got[k].To} {
					a, b, e := s.Part(c.Part).Tri(c.Tri)
					at := p.Add(d.Mul(c.T))
					near(t, "triangle", nearestOnTriangle(at, a, b, e).Dist(at), 0, 1e-5)
				}
			}
		}
		for range 6 {
			p := PlaneAt(some(), some().Sub(some()))
			near(t, fmt.Sprint(i, " section"), totalArea(s.Section(p)), totalArea(m.Section(p)), 1e-2)
		}
	}
}

// TestSolidSectionAlong cuts in planes of faces' own direction, where openings
// touch outlines.
func TestSolidSectionAlong(t *testing.T) {
	for i, s := range randomSolids(40) {
		for _, face := range s.Part(0).PlanarFaces() {
			for _, in := range []float64{0.02, 50, 99.9, 130} {
				p := Plane{face.Plane.N, face.Plane.D - in}
				near(t, fmt.Sprint(i, " ", in), totalArea(s.Section(p)), totalArea(s.Mesh().Section(p)), 1e-2)
			}
		}
	}
}

func TestSolidWithoutCutters(t *testing.T) {
	body := wall()
	s := NewSolid(body)
	if s.Mesh() != body || s.Parts() != 1 || s.Part(0) != body {
		t.Error("a body less nothing is not the body")
	}
	if got := s.Inside(V(500, -10, 400), V(0, 1, 0)); len(got) != 1 || math.Abs(got[0].To.T-210) > 1e-9 {
		t.Errorf("%+v, want 10 to 210", got)
	}
}
