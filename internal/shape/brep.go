package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tFacetedBrep   = ifcread.TypeOf("IfcFacetedBrep")
	tFacetedVoids  = ifcread.TypeOf("IfcFacetedBrepWithVoids")
	tAdvancedBrep  = ifcread.TypeOf("IfcAdvancedBrep")
	tAdvancedVoids = ifcread.TypeOf("IfcAdvancedBrepWithVoids")
	tShellModel    = ifcread.TypeOf("IfcShellBasedSurfaceModel")
	tFaceModel     = ifcread.TypeOf("IfcFaceBasedSurfaceModel")
	tFace          = ifcread.TypeOf("IfcFace")
	tFaceSurface   = ifcread.TypeOf("IfcFaceSurface")
	tAdvancedFace  = ifcread.TypeOf("IfcAdvancedFace")
	tOuterBound    = ifcread.TypeOf("IfcFaceOuterBound")
	tPolyLoop      = ifcread.TypeOf("IfcPolyLoop")
	tEdgeLoop      = ifcread.TypeOf("IfcEdgeLoop")
	tVertexLoop    = ifcread.TypeOf("IfcVertexLoop")
	tVertexPoint   = ifcread.TypeOf("IfcVertexPoint")
	tOrientedEdge  = ifcread.TypeOf("IfcOrientedEdge")
	tEdgeCurve     = ifcread.TypeOf("IfcEdgeCurve")
	tEdge          = ifcread.TypeOf("IfcEdge")
	tFaceSet       = ifcread.TypeOf("IfcConnectedFaceSet")
)

// brepReader collects the faces of a boundary representation.
type brepReader struct {
	r      *Reader
	in     ifcread.Inst
	shell  shell
	points map[ifcread.ID]int32   // by instance of the point
	edges  map[ifcread.ID][]int32 // by instance of the edge: points along it
	curved int32                  // number of curved faces so far
}

// brep reads a solid given by its faces: faceted and advanced, with voids, and
// surface models, which count as solids when their faces close.
func (r *Reader) brep(in ifcread.Inst) (*Solid, error) {
	b := &brepReader{r: r, in: in, points: map[ifcread.ID]int32{}, edges: map[ifcread.ID][]int32{}}
	switch in.Type() {
	case tShellModel, tFaceModel:
		for v := range in.Arg(0).All() {
			if err := b.faceSet(v, false); err != nil {
				return nil, err
			}
		}
	default:
		if err := b.faceSet(in.Arg(0), false); err != nil {
			return nil, err
		}
	}
	if in.Type() == tFacetedVoids || in.Type() == tAdvancedVoids {
		for v := range in.Arg(1).All() {
			if err := b.faceSet(v, true); err != nil {
				return nil, err
			}
		}
	}
	return b.shell.solid(in)
}

// faceSet reads an IfcClosedShell, IfcOpenShell or IfcConnectedFaceSet.
func (b *brepReader) faceSet(v ifcread.Value, cavity bool) error {
	s, ok := v.Inst()
	if !ok {
		return bad(b.in, "one of its shells is not in the file")
	}
	if !s.Is(tFaceSet) {
		return bad(s, "shells of this type are not read")
	}
	for v := range s.Arg(0).All() {
		f, ok := v.Inst()
		if !ok {
			return bad(s, "one of its faces is not in the file")
		}
		if err := b.face(f, cavity); err != nil {
			return err
		}
	}
	return nil
}

// face reads one face. Its outer loop is the one called so, else the largest.
func (b *brepReader) face(in ifcread.Inst, cavity bool) error {
	switch in.Type() {
	case tFace, tFaceSurface, tAdvancedFace:
	default:
		return bad(in, "faces of this type are not read")
	}
	f := face{cavity: cavity}
	outer := -1
	for v := range in.Arg(0).All() {
		q, ok := v.Inst()
		if !ok {
			return bad(in, "one of its bounds is not in the file")
		}
		l, err := b.bound(q)
		if err != nil {
			return err
		}
		if l == nil {
			continue
		}
		if q.Type() == tOuterBound && outer < 0 {
			outer = len(f.loops)
		}
		f.loops = append(f.loops, l)
	}
	if len(f.loops) == 0 && in.Type() == tFace {
		return bad(in, "it has no bounds")
	}
	if outer < 0 {
		outer = b.largest(f.loops)
	}
	if outer > 0 {
		f.loops[0], f.loops[outer] = f.loops[outer], f.loops[0]
	}
	if in.Type() != tFace {
		if err := b.surface(in, &f); err != nil {
			return err
		}
	}
	b.shell.faces = append(b.shell.faces, f)
	return nil
}

// largest is the loop with the largest area.
func (b *brepReader) largest(loops [][]int32) int {
	best, at := -1.0, 0
	for i, l := range loops {
		if a := newell(b.shell.points, l).Norm(); a > best {
			best, at = a, i
		}
	}
	return at
}

// newell is the normal of a loop with the length of twice its area.
func newell(pts []geom.Vec, l []int32) geom.Vec {
	var n geom.Vec
	if len(l) == 0 {
		return n
	}
	o := pts[l[0]]
	for i := 1; i+1 < len(l); i++ {
		n = n.Add(pts[l[i]].Sub(o).Cross(pts[l[i+1]].Sub(o)))
	}
	return n
}

// bound reads an IfcFaceBound; nil for one without an extent.
func (b *brepReader) bound(in ifcread.Inst) ([]int32, error) {
	loop, err := need(in, 0, "loop")
	if err != nil {
		return nil, err
	}
	var l []int32
	switch loop.Type() {
	case tPolyLoop:
		l, err = b.polyLoop(loop)
	case tEdgeLoop:
		l, err = b.edgeLoop(loop)
	case tVertexLoop:
		return nil, nil
	default:
		return nil, bad(loop, "loops of this type are not read")
	}
	if err != nil {
		return nil, err
	}
	if !truth(in.Arg(1), true) {
		for i, j := 0, len(l)-1; i < j; i, j = i+1, j-1 {
			l[i], l[j] = l[j], l[i]
		}
	}
	return l, nil
}

func (b *brepReader) polyLoop(in ifcread.Inst) ([]int32, error) {
	var l []int32
	for v := range in.Arg(0).All() {
		q, ok := v.Inst()
		if !ok {
			return nil, bad(in, "one of its points is not in the file")
		}
		i, err := b.point(q)
		if err != nil {
			return nil, err
		}
		l = append(l, i)
	}
	return l, nil
}

func (b *brepReader) point(in ifcread.Inst) (int32, error) {
	if i, ok := b.points[in.ID()]; ok {
		return i, nil
	}
	p, err := b.r.point(in)
	if err != nil {
		return 0, err
	}
	i := b.add(p)
	b.points[in.ID()] = i
	return i, nil
}

func (b *brepReader) add(p geom.Vec) int32 {
	b.shell.points = append(b.shell.points, p)
	return int32(len(b.shell.points) - 1)
}

// edgeLoop joins the points along the edges of a loop.
func (b *brepReader) edgeLoop(in ifcread.Inst) ([]int32, error) {
	var l []int32
	for v := range in.Arg(0).All() {
		q, ok := v.Inst()
		if !ok || q.Type() != tOrientedEdge {
			return nil, bad(in, "one of its edges is not in the file or of a type that is not read")
		}
		e, err := need(q, 2, "edge")
		if err != nil {
			return nil, err
		}
		pts, err := b.edge(e)
		if err != nil {
			return nil, err
		}
		if truth(q.Arg(3), true) {
			l = append(l, pts[:len(pts)-1]...)
			continue
		}
		for i := len(pts) - 1; i > 0; i-- {
			l = append(l, pts[i])
		}
	}
	return l, nil
}

// edge is the points along an edge, both ends with it. Each edge is divided
// once, so that the faces on both sides meet in the same points.
func (b *brepReader) edge(in ifcread.Inst) ([]int32, error) {
	if pts, ok := b.edges[in.ID()]; ok {
		return pts, nil
	}
	if in.Type() != tEdgeCurve && in.Type() != tEdge {
		return nil, bad(in, "edges of this type are not read")
	}
	var ends [2]int32
	for i := range ends {
		v, err := need(in, i, "vertex")
		if err != nil {
			return nil, err
		}
		if v.Type() != tVertexPoint {
			return nil, bad(v, "vertices of this type are not read")
		}
		p, err := need(v, 0, "point")
		if err != nil {
			return nil, err
		}
		if ends[i], err = b.point(p); err != nil {
			return nil, err
		}
	}
	pts := []int32{ends[0]}
	if in.Type() == tEdgeCurve {
		mid, err := b.along(in, b.shell.points[ends[0]], b.shell.points[ends[1]])
		if err != nil {
			return nil, err
		}
		for _, p := range mid {
			pts = append(pts, b.add(p))
		}
	}
	pts = append(pts, ends[1])
	b.edges[in.ID()] = pts
	return pts, nil
}

// along is the points between two ends of an edge on its curve.
func (b *brepReader) along(in ifcread.Inst, from, to geom.Vec) ([]geom.Vec, error) {
	q, err := need(in, 2, "curve")
	if err != nil {
		return nil, err
	}
	c, err := b.r.curve(q, 0)
	if err != nil {
		return nil, err
	}
	t1, t2 := trim{point: from, hasPoint: true}, trim{point: to, hasPoint: true}
	sense := truth(in.Arg(3), true)
	switch p := c.pieces[0]; {
	case c.basis && p.kind == conic:
		c = b.r.trimConic(p, t1, t2, sense, "CARTESIAN")
	case c.basis:
		return nil, nil
	default:
		if !sense {
			c = c.reversed()
		}
		if c.start().Dist(from) > joinTol || c.end().Dist(to) > joinTol {
			cut := trimBounded(c, t1, t2, true, "CARTESIAN")
			if from.Dist(to) <= joinTol { // a closed edge that starts anywhere
				cut = trimBounded(c, t1, trim{param: math.Inf(1)}, true, "")
				cut.pieces = append(cut.pieces, c.trim(0, c.nearest(from), byParam).pieces...)
			}
			c = cut
		}
	}
	if len(c.pieces) == 0 {
		return nil, bad(in, "its ends leave nothing of its curve")
	}
	pts := c.points(bodyTol)
	if len(pts) <= 2 {
		return nil, nil
	}
	return pts[1 : len(pts)-1], nil
}
