package scene

import (
	"encoding/binary"
	"math"

	"embedcheck/internal/geom"
)

const (
	kindMesh = 0
	kindRod  = 1
	perMM    = 10      // steps of one in a millimetre
	mostTris = 20000   // of a mesh; more are nothing to be looked at in a browser
	coarsest = 64 * 10 // step; a mesh that still has more is shown as its box
	farthest = 1 << 40 // steps from the origin; beyond, a place is none
)

// lattice is a place in steps from the origin.
type lattice [3]int64

func (p *packer) lattice(v geom.Vec, step int64) (l lattice, ok bool) {
	v = v.Sub(p.origin).Mul(perMM / float64(step))
	for i, x := range [3]float64{v.X, v.Y, v.Z} {
		if !(math.Abs(x) < farthest) {
			return l, false
		}
		l[i] = int64(math.Round(x))
	}
	return l, true
}

// packMesh writes a mesh with the finest step that leaves it few enough
// triangles; nil when none are left.
func (p *packer) packMesh(m *geom.Mesh) []byte {
	for step := int64(1); step <= coarsest; step *= 2 {
		if w := p.weld(m, step); len(w.tris) <= mostTris {
			return w.bytes()
		}
	}
	b := m.Box()
	return p.weld(geom.BoxMesh(b.Min, b.Max), 1).bytes()
}

// welded is a mesh whose vertices lie on the lattice, in the order in which
// triangles use them.
type welded struct {
	step  int64
	verts []lattice
	tris  [][3]int
}

// weld puts vertices on the lattice. Those that fall together are one, and what
// that leaves of a triangle that has lost its area is dropped: a closed mesh
// stays closed.
func (p *packer) weld(m *geom.Mesh, step int64) *welded {
	w := &welded{step: step}
	at := map[lattice]int{}
	spot := make([]lattice, len(m.Verts))
	ok := make([]bool, len(m.Verts))
	for i, v := range m.Verts {
		spot[i], ok[i] = p.lattice(v, step)
	}
	for _, t := range m.Tris {
		a, b, c := spot[t[0]], spot[t[1]], spot[t[2]]
		if !ok[t[0]] || !ok[t[1]] || !ok[t[2]] || a == b || b == c || c == a {
			continue
		}
		var tri [3]int
		for k, l := range [3]lattice{a, b, c} {
			i, known := at[l]
			if !known {
				i = len(w.verts)
				at[l] = i
				w.verts = append(w.verts, l)
			}
			tri[k] = i
		}
		w.tris = append(w.tris, tri)
	}
	return w
}

func (w *welded) bytes() []byte {
	if len(w.tris) == 0 {
		return nil
	}
	out := numbers(nil, kindMesh, w.step, int64(len(w.verts)), int64(len(w.tris)))
	out = places(out, w.verts)
	next := 0
	for _, t := range w.tris {
		for _, i := range t {
			out = numbers(out, int64(next-i))
			if i == next {
				next++
			}
		}
	}
	return out
}

// packRod writes a round member by its axis; nil when it has no length.
func (p *packer) packRod(r *geom.Rod) []byte {
	var path []lattice
	for _, v := range r.Path {
		l, ok := p.lattice(v, 1)
		if !ok {
			return nil
		}
		if len(path) == 0 || path[len(path)-1] != l {
			path = append(path, l)
		}
	}
	if len(path) < 2 || !(r.Radius > 0 && r.Radius*perMM < farthest) {
		return nil
	}
	inner := 0.0
	if r.Inner > 0 && r.Inner < r.Radius {
		inner = r.Inner
	}
	out := numbers(nil, kindRod, 1, max(1, int64(math.Round(r.Radius*perMM))), int64(math.Round(inner*perMM)), int64(len(path)))
	return places(out, path)
}

// places writes places one coordinate after the other: those of one axis look
// alike, which leaves less to the compression.
func places(out []byte, list []lattice) []byte {
	for axis := range 3 {
		last := int64(0)
		for _, l := range list {
			out = numbers(out, l[axis]-last)
			last = l[axis]
		}
	}
	return out
}

func numbers(out []byte, list ...int64) []byte {
	for _, n := range list {
		out = binary.AppendVarint(out, n)
	}
	return out
}
