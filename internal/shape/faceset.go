package shape

import (
	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tTriangulated = ifcread.TypeOf("IfcTriangulatedFaceSet")
	tIrregularNet = ifcread.TypeOf("IfcTriangulatedIrregularNetwork")
	tPolygonal    = ifcread.TypeOf("IfcPolygonalFaceSet")
	tIndexedFace  = ifcread.TypeOf("IfcIndexedPolygonalFace")
	tIndexedHoles = ifcread.TypeOf("IfcIndexedPolygonalFaceWithVoids")
)

// faceSet reads an IfcTriangulatedFaceSet or IfcPolygonalFaceSet. What the file
// says of Closed counts for nothing: the faces themselves are looked at.
func (r *Reader) faceSet(in ifcread.Inst) (*Solid, error) {
	list, err := need(in, 0, "point list")
	if err != nil {
		return nil, err
	}
	s := &shell{}
	if s.points, err = r.pointList(list); err != nil {
		return nil, err
	}
	if len(s.points) == 0 {
		return nil, bad(in, "it has no points")
	}
	x := &indexer{in: in, count: int64(len(s.points))}
	if in.Type() == tPolygonal {
		x.remap = pnIndex(in.Arg(3))
		err = x.polygons(s)
	} else {
		x.remap = pnIndex(in.Arg(4))
		err = x.triangles(s)
	}
	if err != nil {
		return nil, err
	}
	return s.solid(in)
}

// solid is the shell as a solid, moved to an origin of its own when it lies far
// away.
func (s *shell) solid(in ifcread.Inst) (*Solid, error) {
	if len(s.points) == 0 {
		return nil, bad(in, "it has no faces")
	}
	origin := originFor(s.points[0])
	if origin != (geom.Vec{}) {
		for i, p := range s.points {
			s.points[i] = p.Sub(origin)
		}
	}
	p, err := s.prepared()
	if err != nil {
		return nil, bad(in, "%v", err)
	}
	out := &Solid{Kind: Mesh, ItemType: in.Name(), origin: origin, box: s.box(), build: p.mesh}
	return out, nil
}

// box is the box around the points that faces use; that of a curved face may
// bulge beyond it, so that the mesh has to tell.
func (s *shell) box() geom.Box {
	b := geom.EmptyBox
	for i := range s.faces {
		if s.faces[i].curved != nil {
			return geom.EmptyBox
		}
		for _, l := range s.faces[i].loops {
			for _, v := range l {
				b = b.Add(s.points[v])
			}
		}
	}
	return b
}

// pnIndex is the indirection of a face set, nil when there is none. The first
// edition of IFC4 had lists of normals in its place.
func pnIndex(v ifcread.Value) []int64 {
	for e := range v.All() {
		if e.Kind() == ifcread.List {
			return nil
		}
	}
	return v.Ints(nil)
}

// indexer turns the 1-based indices of a face set into those of points.
type indexer struct {
	in    ifcread.Inst
	count int64
	remap []int64
	arena []int32
	buf   []int64
}

func (x *indexer) loop(v ifcread.Value) ([]int32, error) {
	x.buf = v.Ints(x.buf[:0])
	from := len(x.arena)
	for _, k := range x.buf {
		if x.remap != nil {
			if k < 1 || k > int64(len(x.remap)) {
				return nil, bad(x.in, "index %d is not in its PnIndex of %d", k, len(x.remap))
			}
			k = x.remap[k-1]
		}
		if k < 1 || k > x.count {
			return nil, bad(x.in, "point %d is not in its list of %d", k, x.count)
		}
		x.arena = append(x.arena, int32(k-1))
	}
	return x.arena[from:len(x.arena):len(x.arena)], nil
}

func (x *indexer) triangles(s *shell) error {
	for v := range x.in.Arg(3).All() {
		l, err := x.loop(v)
		if err != nil {
			return err
		}
		if len(l) != 3 {
			return bad(x.in, "a triangle has %d corners", len(l))
		}
		s.faces = append(s.faces, face{loops: [][]int32{l}})
	}
	return nil
}

func (x *indexer) polygons(s *shell) error {
	for v := range x.in.Arg(2).All() {
		q, ok := v.Inst()
		if !ok {
			return bad(x.in, "one of its faces is not in the file")
		}
		if q.Type() != tIndexedFace && q.Type() != tIndexedHoles {
			return bad(q, "faces of this type are not read")
		}
		outer, err := x.loop(q.Arg(0))
		if err != nil {
			return err
		}
		f := face{loops: [][]int32{outer}}
		if q.Type() == tIndexedHoles {
			for w := range q.Arg(1).All() {
				inner, err := x.loop(w)
				if err != nil {
					return err
				}
				f.loops = append(f.loops, inner)
			}
		}
		s.faces = append(s.faces, f)
	}
	return nil
}
