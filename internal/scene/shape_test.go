package scene

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// ball is a closed mesh of rings of rings points.
func ball(radius float64, rings int) *geom.Mesh {
	m := &geom.Mesh{Verts: []geom.Vec{{Z: radius}, {Z: -radius}}}
	n := int32(rings)
	at := func(ring, k int32) int32 { return 2 + ring*n + k%n }
	for i := 1; i < rings; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / float64(rings))
		for k := range rings {
			y, x := math.Sincos(2 * math.Pi * float64(k) / float64(rings))
			m.Verts = append(m.Verts, geom.V(radius*s*x, radius*s*y, radius*c))
		}
	}
	for k := range n {
		m.Tris = append(m.Tris, [3]int32{0, at(0, k), at(0, k+1)}, [3]int32{1, at(n-2, k+1), at(n-2, k)})
		for i := range n - 2 {
			m.Tris = append(m.Tris, [3]int32{at(i, k), at(i+1, k), at(i, k+1)}, [3]int32{at(i, k+1), at(i+1, k), at(i+1, k+1)})
		}
	}
	return m
}

// header is the first numbers of a shape.
func header(t *testing.T, data []byte, n int) []int64 {
	t.Helper()
	r, out := bytes.NewReader(data), make([]int64, n)
	for i := range out {
		var err error
		if out[i], err = binary.ReadVarint(r); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// open counts the sides that triangles do not pass through both ways alike.
func open(w *welded) int {
	n := map[[2]int]int{}
	for _, t := range w.tris {
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			if a < b {
				n[[2]int{a, b}]++
			} else {
				n[[2]int{b, a}]--
			}
		}
	}
	bad := 0
	for _, c := range n {
		if c != 0 {
			bad++
		}
	}
	return bad
}

// A mesh of more triangles than a browser is given gets coarser, and stays
// closed and near its surface; one with fewer does not.
func TestLargeMeshesGetCoarser(t *testing.T) {
	p := newPacker(&model.Model{})
	for _, c := range []struct {
		rings  int
		coarse bool
	}{{100, false}, {101, true}, {260, true}} {
		m := ball(400, c.rings)
		h := header(t, p.packMesh(m), 4)
		step, tris := h[1], h[3]
		if tris > mostTris || (step > 1) != c.coarse {
			t.Errorf("%d triangles: %d are left with step %d", len(m.Tris), tris, step)
		}
		w := p.weld(m, step)
		if n := open(w); n != 0 || int64(len(w.tris)) != tris {
			t.Errorf("%d rings: %d sides are open", c.rings, n)
		}
		for _, l := range w.verts {
			at := geom.V(float64(l[0]), float64(l[1]), float64(l[2])).Mul(float64(step) / perMM)
			if off := math.Abs(at.Norm() - 400); off > math.Sqrt(3)/2*float64(step)/perMM {
				t.Fatalf("%d rings: a point is %v mm off", c.rings, off)
			}
		}
	}
}

// A mesh that has too many triangles however coarse is shown as its box.
func TestAHugeMeshIsABox(t *testing.T) {
	m := &geom.Mesh{}
	for i := range mostTris + 1 { // apart by more than the coarsest step
		x := float64(i) * 200
		m.Tris = append(m.Tris, [3]int32{int32(3 * i), int32(3*i + 1), int32(3*i + 2)})
		m.Verts = append(m.Verts, geom.V(x, 0, 0), geom.V(x+190, 0, 0), geom.V(x, 190, 100))
	}
	h := header(t, newPacker(&model.Model{}).packMesh(m), 4)
	if h[1] != 1 || h[2] != 8 || h[3] != 12 {
		t.Errorf("step %d, %d points, %d triangles", h[1], h[2], h[3])
	}
}

func TestWhatHasNoShape(t *testing.T) {
	p := newPacker(&model.Model{})
	nan, inf := math.NaN(), math.Inf(1)
	flat := geom.BoxMesh(geom.V(0, 0, 0), geom.V(0.01, 0.01, 0.01))
	for what, data := range map[string][]byte{
		"no triangles":     p.packMesh(&geom.Mesh{}),
		"less than a step": p.packMesh(flat),
		"not a number":     p.packMesh(&geom.Mesh{Verts: []geom.Vec{{X: nan}, {X: 5}, {Y: 5}}, Tris: [][3]int32{{0, 1, 2}}}),
		"too far":          p.packMesh(&geom.Mesh{Verts: []geom.Vec{{X: 1e300}, {X: 5}, {Y: 5}}, Tris: [][3]int32{{0, 1, 2}}}),
		"no path":          p.packRod(&geom.Rod{Radius: 5}),
		"one point":        p.packRod(&geom.Rod{Radius: 5, Path: []geom.Vec{{}, {X: 0.01}}}),
		"no radius":        p.packRod(&geom.Rod{Path: []geom.Vec{{}, {X: 9}}}),
		"endless":          p.packRod(&geom.Rod{Radius: inf, Path: []geom.Vec{{}, {X: 9}}}),
		"path to nowhere":  p.packRod(&geom.Rod{Radius: 5, Path: []geom.Vec{{}, {X: inf}}}),
	} {
		if data != nil {
			t.Errorf("%s: %d bytes", what, len(data))
		}
	}
	if p.packRod(&geom.Rod{Radius: 5, Path: []geom.Vec{{}, {X: 9}}}) == nil {
		t.Error("a rod has no shape")
	}
}
