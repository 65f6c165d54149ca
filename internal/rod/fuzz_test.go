package rod

import (
	"encoding/binary"
	"math"
	"testing"

	"embedcheck/internal/geom"
)

// FuzzFromMesh reads vertices as multiples of half a millimetre and triangles as
// bytes: small numbers, so that parallel, coincident and degenerate facets come
// about by themselves. One vertex in the input may be not finite.
func FuzzFromMesh(f *testing.F) {
	seed := func(m *geom.Mesh) {
		var b []byte
		b = append(b, byte(len(m.Verts)), 0)
		for _, v := range m.Verts {
			for _, c := range [3]float64{v.X, v.Y, v.Z} {
				b = binary.LittleEndian.AppendUint16(b, uint16(int16(math.Round(2*c))))
			}
		}
		for _, t := range m.Tris {
			b = append(b, byte(t[0]), byte(t[1]), byte(t[2]))
		}
		f.Add(b)
	}
	seed(sweep([]geom.Vec{{}, z(400)}, 50, 12, 0, false, fanCap))
	seed(sweep(hooked(300, 60, math.Pi/2, 60, 3), 20, 8, 0, false, fanCap))
	seed(nut(36, 24, 21, 12))
	seed(revolve(8, 0, part{0, 0}, part{0, 20}, part{300, 20}, part{300, 40}, part{320, 40}, part{320, 0}))
	seed(extrude(rect(200, 150), nil, 10))
	seed(merge(sweep([]geom.Vec{{}, z(100)}, 10, 8, 0, false, fanCap), sweep([]geom.Vec{z(100), geom.V(90, 0, 100)}, 10, 8, 0, false, fanCap)))
	f.Fuzz(func(t *testing.T, b []byte) {
		m, ok := decodeMesh(b)
		if !ok {
			return
		}
		ms, s := Analyse(m)
		for i := range ms {
			checkSane(t, &ms[i], m)
			for k := range ms[i].Alternatives {
				checkSane(t, &ms[i].Alternatives[k], m)
			}
		}
		if s.Plate != nil && (len(s.Plate.Outline) < 3 || !(s.Plate.Thickness > 0)) {
			t.Errorf("plate %+v", s.Plate)
		}
	})
}

func decodeMesh(b []byte) (*geom.Mesh, bool) {
	if len(b) < 2 {
		return nil, false
	}
	n, odd := int(b[0]), b[1]
	b = b[2:]
	m := &geom.Mesh{}
	for range n {
		if len(b) < 6 {
			return nil, false
		}
		c := func(i int) float64 { return float64(int16(binary.LittleEndian.Uint16(b[2*i:]))) / 2 }
		m.Verts = append(m.Verts, geom.V(c(0), c(1), c(2)))
		b = b[6:]
	}
	if odd > 0 && int(odd) < n {
		m.Verts[odd].Y = []float64{math.NaN(), math.Inf(1), 1e300}[odd%3]
	}
	for len(b) >= 3 && len(m.Tris) < 1000 {
		m.Tris = append(m.Tris, [3]int32{int32(int8(b[0])), int32(b[1]), int32(b[2])})
		b = b[3:]
	}
	return m, true
}

// checkSane holds what must be true of any member of any mesh.
func checkSane(t *testing.T, m *Member, mesh *geom.Mesh) {
	t.Helper()
	if !m.A.Finite() || !m.B.Finite() || !(m.Radius > 0) || m.Sides < fewCorners {
		t.Fatalf("%+v", m)
	}
	box := geom.EmptyBox
	for _, v := range mesh.Verts {
		if v.Finite() && v.Norm() < 1e6 {
			box = box.Add(v)
		}
	}
	box = box.Grow(1)
	for _, p := range []geom.Vec{m.A, m.B} {
		if !box.Has(p) {
			t.Fatalf("end %v outside the mesh %v", p, box)
		}
	}
	if m.Inner < 0 || m.Inner >= m.Radius || m.Bore < 0 || m.Bore > m.Length()+1e-6 {
		t.Fatalf("bore %g of radius %g in %g of radius %g", m.Bore, m.Inner, m.Length(), m.Radius)
	}
	last := math.Inf(-1)
	for _, h := range m.Heads {
		if !(h.To > h.From) || h.From < last || !(h.Radius > m.Radius) {
			t.Fatalf("heads %+v on radius %g", m.Heads, m.Radius)
		}
		last = h.From
	}
	for _, h := range []*Hook{m.Hook, m.Back} {
		if h != nil && (len(h.Path) < 2 || !(h.Inside <= h.Deepest) || math.IsNaN(h.Turn+h.Leg+h.Reach)) {
			t.Fatalf("hook %+v", h)
		}
	}
}

func FuzzFromRod(f *testing.F) {
	f.Add([]byte{20, 0, 0, 0, 0, 0, 100, 0, 30, 100})
	f.Add([]byte{10, 0, 0, 0, 0, 0, 100, 0, 40, 100, 0, 40, 0})
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) < 1 {
			return
		}
		r := geom.Rod{Radius: float64(b[0]) / 4}
		for b = b[1:]; len(b) >= 3; b = b[3:] {
			r.Path = append(r.Path, geom.V(float64(int8(b[0])), float64(int8(b[1])), float64(int8(b[2]))))
		}
		for _, m := range FromRod(r) {
			if !m.A.Finite() || !m.B.Finite() || m.Length() == 0 || !m.Exact {
				t.Fatalf("%+v", m)
			}
			for _, h := range []*Hook{m.Hook, m.Back} {
				if h != nil && (len(h.Path) < 2 || !(h.Inside <= h.Deepest) || math.IsNaN(h.Turn+h.Leg+h.Reach)) {
					t.Fatalf("hook %+v of %+v", h, r)
				}
			}
		}
	})
}
