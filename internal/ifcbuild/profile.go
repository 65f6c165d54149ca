package ifcbuild

// Profile is the outline of an extrusion, in the xy plane.
type Profile interface {
	write(b *Builder) uint64
	// rings are the outline and the holes as polygons, counter-clockwise, with
	// circles in so many sides.
	rings(sides int) [][]XY
}

// Rect is a rectangle round the origin.
type Rect struct {
	W, H float64 // along x and y
	Name string
}

func (p Rect) write(b *Builder) uint64 {
	at := b.profileAt(XY{})
	id := b.profile("IFCRECTANGLEPROFILEDEF", p.Name)
	b.line.ref(at)
	b.length(p.W)
	b.length(p.H)
	b.end()
	return id
}

func (p Rect) rings(int) [][]XY {
	x, y := p.W/2, p.H/2
	return [][]XY{{{-x, -y}, {x, -y}, {x, y}, {-x, y}}}
}

// Round is a circle round the origin; with a Wall it is a ring.
type Round struct {
	R, Wall float64
	Name    string
}

func (p Round) write(b *Builder) uint64 {
	at := b.profileAt(XY{})
	keyword := "IFCCIRCLEPROFILEDEF"
	if p.Wall > 0 {
		keyword = "IFCCIRCLEHOLLOWPROFILEDEF"
	}
	id := b.profile(keyword, p.Name)
	b.line.ref(at)
	b.length(p.R)
	if p.Wall > 0 {
		b.length(p.Wall)
	}
	b.end()
	return id
}

func (p Round) rings(sides int) [][]XY {
	out := [][]XY{Ngon(p.R, sides)}
	if p.Wall > 0 {
		out = append(out, Ngon(p.R-p.Wall, sides))
	}
	return out
}

// Poly is any outline with any holes, polygons or round ones.
type Poly struct {
	Outer  []XY
	Holes  [][]XY
	Rounds []Hole
	Name   string
}

// Hole is a round hole.
type Hole struct{ X, Y, R float64 }

func (p Poly) write(b *Builder) uint64 {
	outer := b.closed2(p.Outer)
	var inner []uint64
	for _, h := range p.Holes {
		inner = append(inner, b.closed2(h))
	}
	for _, h := range p.Rounds {
		inner = append(inner, b.circle2(h))
	}
	keyword := "IFCARBITRARYCLOSEDPROFILEDEF"
	if len(inner) > 0 {
		keyword = "IFCARBITRARYPROFILEDEFWITHVOIDS"
	}
	id := b.profile(keyword, p.Name)
	b.line.ref(outer)
	if len(inner) > 0 {
		b.line.refs(inner)
	}
	b.end()
	return id
}

func (p Poly) rings(sides int) [][]XY {
	out := [][]XY{p.Outer}
	out = append(out, p.Holes...)
	for _, h := range p.Rounds {
		ring := Ngon(h.R, sides)
		for i := range ring {
			ring[i].X += h.X
			ring[i].Y += h.Y
		}
		out = append(out, ring)
	}
	return out
}

// profile starts an instance with its first two attributes.
func (b *Builder) profile(keyword, name string) uint64 {
	id := b.inst(keyword)
	b.line.enum("AREA")
	b.text(name)
	return id
}

// profileAt is the position of a profile, mandatory in IFC2X3.
func (b *Builder) profileAt(p XY) uint64 {
	if b.schema != IFC2X3 && p == (XY{}) {
		return 0
	}
	return b.axis2(p)
}

func (b *Builder) axis2(p XY) uint64 {
	o := b.point2(p)
	id := b.inst("IFCAXIS2PLACEMENT2D")
	b.line.ref(o)
	b.line.raw("$")
	b.end()
	return id
}

// closed2 writes a polygon as a polyline that ends where it starts.
func (b *Builder) closed2(ring []XY) uint64 {
	ids := make([]uint64, len(ring)+1)
	for i, p := range ring {
		ids[i] = b.point2(p)
	}
	ids[len(ring)] = ids[0]
	id := b.inst("IFCPOLYLINE")
	b.line.refs(ids)
	b.end()
	return id
}

func (b *Builder) circle2(h Hole) uint64 {
	at := b.axis2(XY{h.X, h.Y})
	id := b.inst("IFCCIRCLE")
	b.line.ref(at)
	b.length(h.R)
	b.end()
	return id
}
