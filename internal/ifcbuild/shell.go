package ifcbuild

// Brep is a mesh as an IfcFacetedBrep.
func (m *Mesh) Brep() Solid { return brepSolid{m} }

// Triangles is a mesh as an IfcTriangulatedFaceSet.
func (m *Mesh) Triangles() Solid { return faceSet{m, true} }

// Polygons is a mesh as an IfcPolygonalFaceSet.
func (m *Mesh) Polygons() Solid { return faceSet{m, false} }

type brepSolid struct{ m *Mesh }

func (s brepSolid) write(b *Builder) (uint64, form) {
	shell := b.shell(s.m)
	id := b.inst("IFCFACETEDBREP")
	b.line.ref(shell)
	b.end()
	return id, brep
}

func (b *Builder) shell(m *Mesh) uint64 {
	points := make([]uint64, len(m.Verts))
	for i, v := range m.Verts {
		points[i] = b.point(v)
	}
	faces := make([]uint64, len(m.Faces))
	for i, f := range m.Faces {
		bounds := []uint64{b.bound("IFCFACEOUTERBOUND", points, f.Outer)}
		for _, h := range f.Holes {
			bounds = append(bounds, b.bound("IFCFACEBOUND", points, h))
		}
		faces[i] = b.inst("IFCFACE")
		b.line.refs(bounds)
		b.end()
	}
	id := b.inst("IFCCLOSEDSHELL")
	b.line.refs(faces)
	b.end()
	return id
}

func (b *Builder) bound(keyword string, points []uint64, loop []int) uint64 {
	poly := b.inst("IFCPOLYLOOP")
	b.line.open("")
	for _, v := range loop {
		b.line.ref(points[v])
	}
	b.line.close()
	b.end()
	id := b.inst(keyword)
	b.line.ref(poly)
	b.line.raw(".T.")
	b.end()
	return id
}

type faceSet struct {
	m         *Mesh
	triangles bool
}

func (s faceSet) write(b *Builder) (uint64, form) {
	if b.schema == IFC2X3 {
		return brepSolid{s.m}.write(b)
	}
	points := b.pointList(s.m.Verts)
	if s.triangles {
		return b.triangulated(points, s.m), tessellation
	}
	faces := make([]uint64, len(s.m.Faces))
	for i, f := range s.m.Faces {
		faces[i] = b.indexedFace(f)
	}
	id := b.inst("IFCPOLYGONALFACESET")
	b.line.ref(points)
	b.line.raw(".T.")
	b.line.refs(faces)
	b.line.raw("$")
	b.end()
	return id, tessellation
}

func (b *Builder) triangulated(points uint64, m *Mesh) uint64 {
	id := b.inst("IFCTRIANGULATEDFACESET")
	b.line.ref(points)
	b.line.raw("$")
	b.line.raw(".T.")
	b.line.open("")
	for _, f := range m.Faces {
		for _, t := range m.triangles(f) {
			b.indices(t[:])
		}
	}
	b.line.close()
	b.line.raw("$")
	b.end()
	return id
}

func (b *Builder) indexedFace(f Face) uint64 {
	keyword := "IFCINDEXEDPOLYGONALFACE"
	if len(f.Holes) > 0 {
		keyword += "WITHVOIDS"
	}
	id := b.inst(keyword)
	b.indices(f.Outer)
	if len(f.Holes) > 0 {
		b.line.open("")
		for _, h := range f.Holes {
			b.indices(h)
		}
		b.line.close()
	}
	b.end()
	return id
}

// indices writes a list of indices, which count from 1 in the file.
func (b *Builder) indices(loop []int) {
	b.line.open("")
	for _, v := range loop {
		b.line.integer(v + 1)
	}
	b.line.close()
}

func (b *Builder) pointList(ps []Vec) uint64 {
	id := b.inst("IFCCARTESIANPOINTLIST3D")
	b.line.open("")
	for _, p := range ps {
		b.coordinates(p)
	}
	b.line.close()
	if b.schema == IFC4X3 {
		b.line.raw("$")
	}
	b.end()
	return id
}
