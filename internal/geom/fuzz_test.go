package geom

import (
	"encoding/binary"
	"math"
	"testing"
)

// anyMesh makes a mesh of bytes: corners on a small grid, at times a little off
// it, very far away or no number at all, and triangles between any of them.
func anyMesh(data []byte) (*Mesh, []byte) {
	take := func() int {
		if len(data) == 0 {
			return 0
		}
		b := data[0]
		data = data[1:]
		return int(b)
	}
	m := &Mesh{}
	for range 3 + take()%14 {
		var c [3]float64
		for k := range c {
			b := take()
			c[k] = float64(b % 5)
			switch b / 5 {
			case 30, 31, 32:
				c[k] += 1e-4
			case 33, 34:
				c[k] += 1e-8
			case 35:
				c[k] *= 1e12
			case 36:
				c[k] = math.NaN()
			case 37:
				c[k] = math.Inf(1)
			}
		}
		m.Verts = append(m.Verts, V(c[0], c[1], c[2]))
	}
	n := len(m.Verts)
	for range take() % 30 {
		m.Tris = append(m.Tris, [3]int32{int32(take() % n), int32(take() % n), int32(take() % n)})
	}
	if take()%2 == 0 {
		m.Face = make([]int32, len(m.Tris))
		for i := range m.Face {
			m.Face[i] = int32(take() % 4)
		}
	}
	return m, data
}

// FuzzMesh asks everything of any two meshes: no answer is expected of nonsense,
// but an end is, and sound numbers of what is closed.
func FuzzMesh(f *testing.F) {
	box := []byte{5, 0, 0, 0, 3, 0, 0, 0, 3, 0, 3, 3, 0, 0, 0, 3, 3, 0, 3, 0, 3, 3, 3, 3, 3}
	f.Add(box)
	f.Add(append(box, box...))
	for i := range 20 {
		seed := make([]byte, 200)
		for k := range seed {
			binary.LittleEndian.PutUint16(seed[k/2*2:], uint16(k*7919*(i+3)>>3))
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		a, rest := anyMesh(data)
		b, _ := anyMesh(rest)
		p := Plane{V(0.6, 0, 0.8), 1}
		rod := Rod{Path: []Vec{{1, 1, -3}, {1, 1, 2}, {2, 3, 5}}, Radius: 0.7}
		a.PlanarFaces()
		a.FeatureEdges()
		a.Section(p)
		a.Section(Plane{V(0, 0, 1), 2})
		a.Inside(V(1, 1, 1), V(0, 0, 1))
		a.Contains(V(1.2, 1.3, 1.1))
		a.Nearest(V(1, 2, 3))
		a.Slab(Identity, V(0.1, 0, 1), 0, 2, 3, func([]Vec2, int) {})
		a.Clip(p)
		MeshMesh(a, b)
		RodMesh(rod, a)
		for _, s := range a.Oriented().Shells() {
			s.hull()
		}
		closed := a.Closed().OK && b.Closed().OK
		for _, m := range []*Mesh{Subtract(a, b), Union(a, b), Intersect(a, b)} {
			if v := m.Volume(); closed && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("volume %v of closed bodies", v)
			}
		}
	})
}

func FuzzTriangulate(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9}, []byte{3, 3, 6, 3, 3, 6})
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9}, []byte{9, 9, 3, 6, 3, 3, 9, 9, 6, 3, 7, 3})
	f.Fuzz(func(t *testing.T, outer, hole []byte) {
		loop := func(data []byte) []Vec2 {
			var l []Vec2
			for i := 0; i+1 < len(data) && i < 400; i += 2 {
				l = append(l, Vec2{float64(data[i] % 16), float64(data[i+1] % 16)})
			}
			return l
		}
		o, h := loop(outer), loop(hole)
		for _, tr := range Triangulate(o, [][]Vec2{h}) {
			for _, v := range tr {
				if v < 0 || v >= len(o)+len(h) {
					t.Fatalf("corner %d of %d", v, len(o)+len(h))
				}
			}
		}
	})
}
