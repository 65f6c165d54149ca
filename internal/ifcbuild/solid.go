package ifcbuild

import "strings"

// Solid is one item of a body.
type Solid interface {
	write(b *Builder) (id uint64, form form)
}

// form is what a representation says of its items.
type form string

const (
	sweptSolid   form = "SweptSolid"
	sweptDisk    form = "AdvancedSweptSolid"
	brep         form = "Brep"
	tessellation form = "Tessellation"
	clipping     form = "Clipping"
	csg          form = "CSG"
	mapped       form = "MappedRepresentation"
	solidModel   form = "SolidModel"
	mixed        form = "SurfaceOrSolidModel"
)

// shape writes a product's shape, 0 without a body.
func (b *Builder) shape(body []Solid) uint64 {
	if len(body) == 0 {
		return 0
	}
	rep := b.representation(body)
	id := b.inst("IFCPRODUCTDEFINITIONSHAPE")
	unset(b, 2)
	b.line.refs([]uint64{rep})
	b.end()
	return id
}

func (b *Builder) representation(body []Solid) uint64 {
	ids := make([]uint64, len(body))
	var all form
	for i, s := range body {
		var f form
		ids[i], f = s.write(b)
		all = all.with(f)
	}
	id := b.inst("IFCSHAPEREPRESENTATION")
	b.line.ref(b.body)
	b.text("Body")
	b.text(string(all))
	b.line.refs(ids)
	b.end()
	return id
}

// with is the form of items of both forms.
func (f form) with(g form) form {
	switch {
	case f == "" || f == g:
		return g
	case f == tessellation || g == tessellation || f == mapped || g == mapped || f == mixed || g == mixed:
		return mixed
	}
	return solidModel
}

// Extrude is a profile drawn along a direction: a prism, skew when Dir is not
// at a right angle to the profile.
type Extrude struct {
	Profile Profile
	At      Frame
	Dir     Vec // in At; zero for its z axis
	Depth   float64
}

func (s Extrude) write(b *Builder) (uint64, form) {
	dir := s.Dir
	if dir == (Vec{}) {
		dir = V(0, 0, 1)
	}
	profile := s.Profile.write(b)
	at := b.axis3(s.At)
	d := b.direction(dir)
	id := b.inst("IFCEXTRUDEDAREASOLID")
	b.line.ref(profile)
	b.line.ref(at)
	b.line.ref(d)
	b.length(s.Depth)
	b.end()
	return id, sweptSolid
}

// Block is the box between two corners.
func Block(lo, hi Vec) Extrude {
	d := hi.Sub(lo)
	return Extrude{
		Profile: Rect{W: d.X, H: d.Y},
		At:      At(lo.X+d.X/2, lo.Y+d.Y/2, lo.Z),
		Depth:   d.Z,
	}
}

// Cylinder is a round bar between two points.
func Cylinder(from, to Vec, radius float64) Extrude {
	return Tube(from, to, radius, 0)
}

// Tube is a pipe between two points; inner 0 makes it solid.
func Tube(from, to Vec, radius, inner float64) Extrude {
	p := Round{R: radius}
	if inner > 0 {
		p.Wall = radius - inner
	}
	return Extrude{Profile: p, At: along(from, to), Depth: to.Sub(from).Len()}
}

// along is the frame at a point whose z axis runs to another one.
func along(from, to Vec) Frame {
	z := to.Sub(from).Unit()
	x := V(1, 0, 0)
	if z.X*z.X > 0.9 {
		x = V(0, 1, 0)
	}
	return Facing(from, z, x)
}

// Hexagon is a nut or a bolt's head between two points: af across the flats.
func Hexagon(from, to Vec, af float64) Extrude {
	return Extrude{Profile: Poly{Outer: Ngon(af/2/cos30, 6)}, At: along(from, to), Depth: to.Sub(from).Len()}
}

const cos30 = 0.8660254037844386

// Plane is a plane through P; N points to one of its sides.
type Plane struct{ P, N Vec }

// Clip takes from a solid what lies on the side of each plane that N points to.
// Planes with a Within cut only inside that outline, drawn along the plane's
// normal without end.
type Clip struct {
	Of     Solid
	Planes []Plane
	Within []XY // outline in the frame along(P, P+N) of the last plane; nil for none
	Agree  bool // write the half-spaces with AgreementFlag .T.
}

func (s Clip) write(b *Builder) (uint64, form) {
	id, f := s.Of.write(b)
	for i, p := range s.Planes {
		n := p.N
		if s.Agree { // the half-space lies where the plane's normal points away from
			n = n.Mul(-1)
		}
		at := b.axis3(along(p.P, p.P.Add(n)))
		plane := b.inst("IFCPLANE")
		b.line.ref(at)
		b.end()
		var within []XY
		if i == len(s.Planes)-1 {
			within = s.Within
		}
		half := b.halfSpace(plane, p, within, s.Agree)
		keyword := "IFCBOOLEANRESULT"
		if f == sweptSolid || f == clipping {
			keyword, f = "IFCBOOLEANCLIPPINGRESULT", clipping
		} else {
			f = csg
		}
		id = b.boolean(keyword, "DIFFERENCE", id, half)
	}
	return id, f
}

func (b *Builder) halfSpace(plane uint64, p Plane, within []XY, agree bool) uint64 {
	flag := map[bool]string{true: ".T.", false: ".F."}[agree]
	if within == nil {
		id := b.inst("IFCHALFSPACESOLID")
		b.line.ref(plane)
		b.line.raw(flag)
		b.end()
		return id
	}
	at := b.axis3(along(p.P, p.P.Add(p.N)))
	outline := b.closed2(within)
	id := b.inst("IFCPOLYGONALBOUNDEDHALFSPACE")
	b.line.ref(plane)
	b.line.raw(flag)
	b.line.ref(at)
	b.line.ref(outline)
	b.end()
	return id
}

// Cut takes solids from another one.
type Cut struct {
	Of, Less Solid
}

func (s Cut) write(b *Builder) (uint64, form) { return b.both("DIFFERENCE", s.Of, s.Less) }

// Join makes one solid of two.
type Join struct {
	A, B Solid
}

func (s Join) write(b *Builder) (uint64, form) { return b.both("UNION", s.A, s.B) }

func (b *Builder) both(operator string, first, second Solid) (uint64, form) {
	x, _ := first.write(b)
	y, _ := second.write(b)
	return b.boolean("IFCBOOLEANRESULT", operator, x, y), csg
}

func (b *Builder) boolean(keyword, operator string, first, second uint64) uint64 {
	id := b.inst(keyword)
	b.line.enum(operator)
	b.line.ref(first)
	b.line.ref(second)
	b.end()
	return id
}

// CsgOf wraps a Boolean result in an IfcCsgSolid.
type CsgOf struct{ Of Solid }

func (s CsgOf) write(b *Builder) (uint64, form) {
	tree, _ := s.Of.write(b)
	id := b.inst("IFCCSGSOLID")
	b.line.ref(tree)
	b.end()
	return id, csg
}

// Raw is an item given in the standard's own words: attributes as they stand
// in the file, with {n} for the n-th of the items it refers to.
type Raw struct {
	Keyword    string
	Attributes string
	Refers     []Solid
	Type       string // RepresentationType
}

func (s Raw) write(b *Builder) (uint64, form) {
	text := s.Attributes
	for i, r := range s.Refers {
		id, _ := r.write(b)
		text = strings.ReplaceAll(text, "{"+itoa(uint64(i))+"}", "#"+itoa(id))
	}
	id := b.inst(s.Keyword)
	b.line.raw(text)
	b.end()
	return id, form(s.Type)
}
