package shape

import (
	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tCsgSolid = ifcread.TypeOf("IfcCsgSolid")
	tBlock    = ifcread.TypeOf("IfcBlock")
	tPyramid  = ifcread.TypeOf("IfcRectangularPyramid")
	tCone     = ifcread.TypeOf("IfcRightCircularCone")
	tCylinder = ifcread.TypeOf("IfcRightCircularCylinder")
	tSphere   = ifcread.TypeOf("IfcSphere")
)

// primitive reads a CSG primitive. Blocks and cylinders are extrusions.
func (r *Reader) primitive(in ifcread.Inst) (*Solid, error) {
	pos, err := r.axes(in.Arg(0))
	if err != nil {
		return nil, err
	}
	s := &sizes{r: r, in: in}
	switch in.Type() {
	case tBlock:
		x, y, z := s.need("XLength"), s.need("YLength"), s.need("ZLength")
		if s.err != nil {
			return nil, s.err
		}
		outer := []geom.Vec2{{}, {X: x}, {X: x, Y: y}, {Y: y}}
		sec := Section{Type: in.Name(), X: x, Y: y, Center: geom.Vec2{X: x / 2, Y: y / 2}}
		return fromPrisms(in.Name(), []*Prism{{Section: sec, Outer: outer, Frame: pos, Dir: pos.Z, Depth: z}}), nil
	case tCylinder:
		h, radius := s.need("Height"), s.need("Radius")
		if s.err != nil {
			return nil, s.err
		}
		sec := Section{Type: in.Name(), Radius: radius}
		return fromPrisms(in.Name(), []*Prism{{Section: sec, Outer: ellipse(radius, radius), Frame: pos, Dir: pos.Z, Depth: h}}), nil
	case tPyramid:
		x, y, h := s.need("XLength"), s.need("YLength"), s.need("Height")
		if s.err != nil {
			return nil, s.err
		}
		base := []geom.Vec2{{}, {X: x}, {X: x, Y: y}, {Y: y}}
		return peaked(in, base, geom.Vec{X: x / 2, Y: y / 2, Z: h}, pos)
	case tCone:
		h, radius := s.need("Height"), s.need("BottomRadius")
		if s.err != nil {
			return nil, s.err
		}
		return peaked(in, ellipse(radius, radius), geom.Vec{Z: h}, pos)
	}
	radius := s.need("Radius")
	if s.err != nil {
		return nil, s.err
	}
	return ball(in, radius, pos)
}

// peaked is a pyramid: a base in the xy plane of pos and a peak above it.
func peaked(in ifcread.Inst, base []geom.Vec2, peak geom.Vec, pos geom.Affine) (*Solid, error) {
	origin := originFor(pos.T)
	pos.T = pos.T.Sub(origin)
	n := int32(len(base))
	s := &shell{points: make([]geom.Vec, 0, n+1)}
	bottom := make([]int32, n)
	for i, q := range base {
		s.points = append(s.points, pos.Apply(geom.Vec{X: q.X, Y: q.Y}))
		bottom[n-1-int32(i)] = int32(i)
	}
	s.points = append(s.points, pos.Apply(peak))
	s.faces = append(s.faces, face{loops: [][]int32{bottom}})
	for i, run := range smoothRuns(base) { // a cone is one curved face
		k := int32(i)
		s.faces = append(s.faces, face{loops: [][]int32{{k, (k + 1) % n, n}}, label: int32(run) + 1})
	}
	m, err := s.mesh()
	if err != nil {
		return nil, bad(in, "%v", err)
	}
	return newMesh(in.Name(), m, origin), nil
}
