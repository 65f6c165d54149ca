package shape

import (
	"errors"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// orient turns faces so that neighbours run along their common side in opposite
// directions, and numbers the connected bodies. Sides with more than two uses
// join nothing: bodies that touch there stay apart.
func (s *shell) orient(uses []use) (group []int32, err error) {
	f := newForest(len(s.faces))
	for u := range bySide(uses) {
		if len(u) == 2 && u[0].face != u[1].face && !f.join(u[0].face, u[1].face, u[0].forward == u[1].forward) {
			return nil, errOneSided
		}
	}
	group = make([]int32, len(s.faces))
	number := map[int32]int32{}
	for i := range s.faces {
		root, flip := f.find(int32(i))
		if _, ok := number[root]; !ok {
			number[root] = int32(len(number))
		}
		group[i] = number[root]
		s.faces[i].flip = flip
	}
	for u := range bySide(uses) {
		n := 0
		for _, v := range u {
			if v.forward != s.faces[v.face].flip {
				n++
			}
		}
		if 2*n != len(u) {
			return nil, errOneSided
		}
	}
	for i := range s.faces {
		s.faces[i].turn()
	}
	return group, nil
}

var errOneSided = errors.New("the faces cannot be turned to one side: the surface is not that of a body")

// forest is a union-find over faces that also knows which of two joined faces
// are turned against each other.
type forest struct {
	up   []int32
	flip []bool // against up
}

func newForest(n int) *forest {
	f := &forest{up: make([]int32, n), flip: make([]bool, n)}
	for i := range f.up {
		f.up[i] = int32(i)
	}
	return f
}

// find is the root of i, and whether i is turned against it.
func (f *forest) find(i int32) (root int32, flip bool) {
	root = i
	for f.up[root] != root {
		flip = flip != f.flip[root]
		root = f.up[root]
	}
	for turned := flip; f.up[i] != root; { // shorten the way
		next, t := f.up[i], f.flip[i]
		f.up[i], f.flip[i] = root, turned
		i, turned = next, turned != t
	}
	return root, flip
}

// join makes a and b one, turned against each other or not; false when they
// already are one in the other way.
func (f *forest) join(a, b int32, against bool) bool {
	ra, fa := f.find(a)
	rb, fb := f.find(b)
	flip := (fa != fb) != against
	if ra == rb {
		return !flip
	}
	lo, hi := min(ra, rb), max(ra, rb)
	f.up[hi], f.flip[hi] = lo, flip
	return true
}

// turn reverses the loops of a face that is marked so.
func (f *face) turn() {
	if !f.flip {
		return
	}
	f.flip, f.forward = false, !f.forward
	for _, l := range f.loops {
		slices.Reverse(l)
	}
}

// outwards turns the triangles of bodies so that their volume is positive, and
// that of cavities negative. group gives the body of each triangle. A body is a
// cavity when the file says so; and one that already faces inwards is left when
// it lies inside a larger one.
func outwards(m *geom.Mesh, group []int32, cavity []bool) error {
	bodies := bodiesOf(m, group)
	total := 0.0
	for g := range bodies {
		b := &bodies[g]
		if cavity[g] {
			b.flip = b.volume > 0
		} else {
			b.flip = b.volume < 0 && !inLarger(bodies, g)
		}
		if b.flip {
			b.volume = -b.volume
		}
		total += b.volume
	}
	if !(total > minVolume) {
		return errFlat
	}
	for i, g := range group {
		if t := &m.Tris[i]; bodies[g].flip {
			t[1], t[2] = t[2], t[1]
		}
	}
	return nil
}

// minVolume is the volume in mm3 under which there is no body.
const minVolume = 1e-3

// body is one connected part of a mesh.
type body struct {
	volume float64 // signed
	box    geom.Box
	flip   bool
}

func bodiesOf(m *geom.Mesh, group []int32) []body {
	var out []body
	o := m.Box().Center()
	for i, g := range group {
		for int(g) >= len(out) {
			out = append(out, body{box: geom.EmptyBox})
		}
		p, q, r := m.Tri(i)
		b := &out[g]
		b.box = b.box.Add(p).Add(q).Add(r)
		b.volume += p.Sub(o).Dot(q.Sub(o).Cross(r.Sub(o))) / 6
	}
	return out
}

// inLarger reports whether the box of body g lies in that of a larger body.
func inLarger(bodies []body, g int) bool {
	b := bodies[g]
	for h, o := range bodies {
		if h != g && math.Abs(o.volume) > math.Abs(b.volume) && o.box.Has(b.box.Min) && o.box.Has(b.box.Max) {
			return true
		}
	}
	return false
}
