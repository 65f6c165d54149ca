package geom

import "math"

// The two classes that the operands of a boolean form.
const (
	classA = 0
	classB = 1
)

// soup is the triangles of all operands of a boolean, near zero, with common
// vertices.
type soup struct {
	origin Vec
	tol    float64 // how near to a plane a point lies in it
	snap   float64 // how near to each other points are one
	selfs  bool    // faces of one shell are cut by each other

	pool   *pool
	tris   [][3]int32
	number []int32 // face number of each triangle in the result
	class  []uint8
	shell  []int32
	shells int32
	faces  []flat
	of     []int32 // flat of each triangle
	adj    [][3]int32
	tree   *BoxTree

	group  []int32 // plane of each flat
	planes []drawing
}

// newSoup takes the operands in. tol scales the tolerances.
func newSoup(a *Mesh, others []*Mesh, tol float64, selfs bool) *soup {
	s := &soup{origin: a.Box().Center(), selfs: selfs}
	far := 0.0
	operands := append([]*Mesh{a}, others...)
	for _, m := range operands {
		b := m.Box()
		far = max(far, b.Min.Norm(), b.Max.Norm())
	}
	if !s.origin.Finite() || math.IsInf(far, 0) {
		s.origin, far = Vec{}, 0
	}
	s.tol = tol * max(1e-8, 32*ulp(far))
	s.snap = max(1e-5*tol, 3*s.tol)
	s.pool = newPool(s.snap, len(a.Verts))
	f := flusher{}
	next := int32(0)
	for i, m := range operands {
		w := m.shift(s.origin.Neg())
		w, _ = w.stitched()
		next = s.add(f.flush(w.Oriented().flattened(s.tol), s.tol), min(i, classB), next)
	}
	s.index()
	return s
}

// ulp is the distance of x from the next larger float.
func ulp(x float64) float64 { return math.Nextafter(x, math.Inf(1)) - x }

// shift is the finite triangles of the mesh moved by d.
func (m *Mesh) shift(d Vec) *Mesh {
	r := &Mesh{Verts: make([]Vec, len(m.Verts)), Tris: make([][3]int32, 0, len(m.Tris))}
	for i, v := range m.Verts {
		r.Verts[i] = v.Add(d)
	}
	for i, t := range m.Tris {
		if a, b, c := r.Verts[t[0]], r.Verts[t[1]], r.Verts[t[2]]; !a.Finite() || !b.Finite() || !c.Finite() {
			continue
		}
		r.Tris = append(r.Tris, t)
		if m.Face != nil {
			r.Face = append(r.Face, m.Face[i])
		}
	}
	return r
}

// joined reports whether each side of a triangle has a neighbour that runs the
// other way, between the same vertices.
func (m *Mesh) joined() bool {
	for _, a := range m.sides() {
		if a[0] == noSide || a[1] == noSide || a[2] == noSide {
			return false
		}
	}
	return true
}

// add takes an operand's triangles in, with face numbers from first on, and is
// the first number after them.
func (s *soup) add(m *Mesh, class int, first int32) int32 {
	at := make([]int32, len(m.Verts))
	for i := range at {
		at[i] = -1
	}
	number := m.Face
	if number == nil {
		_, number, _ = flats(m.Verts, m.Tris, nil, closeTol, flatCos)
	}
	shell, count := components(len(m.Verts), m.Tris)
	firstShell := s.shells
	s.shells += int32(count)
	next := first
	for i, t := range m.Tris {
		for k, v := range t {
			if at[v] < 0 {
				at[v] = s.pool.add(m.Verts[v])
			}
			t[k] = at[v]
		}
		n := number[i]
		if class == classB {
			n = first + max(n, 0)
		}
		next = max(next, n+1)
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue
		}
		s.tris = append(s.tris, t)
		s.number = append(s.number, n)
		s.class = append(s.class, uint8(class))
		s.shell = append(s.shell, firstShell+shell[i])
	}
	return next
}

// index groups the triangles into flat faces and builds the tree.
func (s *soup) index() {
	key := make([]int32, len(s.tris)) // triangles of different shells or numbers stay apart
	type id struct{ shell, number int32 }
	ids := map[id]int32{}
	boxes := make([]Box, len(s.tris))
	for i, t := range s.tris {
		k := id{s.shell[i], s.number[i]}
		n, ok := ids[k]
		if !ok {
			n = int32(len(ids))
			ids[k] = n
		}
		key[i] = n
		boxes[i] = BoxOf(s.pool.pts[t[0]], s.pool.pts[t[1]], s.pool.pts[t[2]])
	}
	s.faces, s.of, s.adj = flats(s.pool.pts, s.tris, key, s.tol, 0)
	s.tree = NewBoxTree(boxes)
}
