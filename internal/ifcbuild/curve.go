package ifcbuild

// curve writes a path and is the parameter of its end: a polyline counts its
// sides, a composite curve its segments.
func (b *Builder) curve(p Path) (id uint64, end float64) {
	switch p.kind(b.schema) {
	case Indexed:
		return b.indexed(p), float64(len(p.segs))
	case Composite:
		return b.composite(p), float64(len(p.segs))
	case Filleted:
		return b.polyline(p.bare), float64(len(p.bare) - 1)
	}
	points := p.Points()
	return b.polyline(points), float64(len(points) - 1)
}

func (b *Builder) polyline(points []Vec) uint64 {
	ids := make([]uint64, len(points))
	for i, v := range points {
		ids[i] = b.point(v)
	}
	id := b.inst("IFCPOLYLINE")
	b.line.refs(ids)
	b.end()
	return id
}

func (b *Builder) indexed(p Path) uint64 {
	points := []Vec{p.segs[0].a}
	for _, s := range p.segs {
		if s.arc {
			points = append(points, s.middle)
		}
		points = append(points, s.b)
	}
	list := b.pointList(points)
	id := b.inst("IFCINDEXEDPOLYCURVE")
	b.line.ref(list)
	b.line.open("")
	at := 0
	for _, s := range p.segs {
		if s.arc {
			b.line.open("IFCARCINDEX")
			b.indices([]int{at, at + 1, at + 2})
			at += 2
		} else {
			b.line.open("IFCLINEINDEX")
			b.indices([]int{at, at + 1})
			at++
		}
		b.line.close()
	}
	b.line.close()
	b.line.raw(".F.")
	b.end()
	return id
}

func (b *Builder) composite(p Path) uint64 {
	segs := make([]uint64, len(p.segs))
	for i, s := range p.segs {
		var parent uint64
		if s.arc {
			parent = b.trimmedCircle(s)
		} else {
			parent = b.polyline([]Vec{s.a, s.b})
		}
		transition := "CONTINUOUS"
		if i == len(p.segs)-1 {
			transition = "DISCONTINUOUS"
		}
		segs[i] = b.inst("IFCCOMPOSITECURVESEGMENT")
		b.line.enum(transition)
		b.line.raw(".T.")
		b.line.ref(parent)
		b.end()
	}
	id := b.inst("IFCCOMPOSITECURVE")
	b.line.refs(segs)
	b.line.raw(".F.")
	b.end()
	return id
}

func (b *Builder) trimmedCircle(s segment) uint64 {
	at := b.axis3(Facing(s.c, s.n, s.a.Sub(s.c)))
	circle := b.inst("IFCCIRCLE")
	b.line.ref(at)
	b.length(s.r)
	b.end()
	id := b.inst("IFCTRIMMEDCURVE")
	b.line.ref(circle)
	for _, angle := range []float64{0, s.angle} {
		b.line.open("")
		b.line.open("IFCPARAMETERVALUE")
		b.angle(angle)
		b.line.close()
		b.line.close()
	}
	b.line.raw(".T.")
	b.line.enum("PARAMETER")
	b.end()
	return id
}

// Disk is a round bar along a path; Inner makes it a pipe.
type Disk struct {
	Path          Path
	Radius, Inner float64
	Params        []float64 // StartParam and EndParam as they stand in the file; nil for the whole path
}

func (s Disk) write(b *Builder) (uint64, form) {
	path, end := b.curve(s.Path)
	params := s.Params
	if params == nil && b.schema == IFC2X3 { // mandatory there
		params = []float64{0, end}
	}
	filleted := s.Path.kind(b.schema) == Filleted
	keyword := "IFCSWEPTDISKSOLID"
	if filleted {
		keyword += "POLYGONAL"
	}
	id := b.inst(keyword)
	b.line.ref(path)
	b.length(s.Radius)
	b.lengthOr(s.Inner)
	if params == nil {
		unset(b, 2)
	} else {
		b.line.real(params[0], 9)
		b.line.real(params[1], 9)
	}
	if filleted {
		b.lengthOr(s.Path.bend)
	}
	b.end()
	return id, sweptDisk
}

// Rod is a round bar of a diameter along a path.
func Rod(p Path, diameter float64) Disk { return Disk{Path: p, Radius: diameter / 2} }
