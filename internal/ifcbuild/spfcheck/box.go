package spfcheck

import (
	"fmt"
	"math"
)

// Point is a point in space.
type Point [3]float64

// Box is the box around a product's body.
type Box struct{ Min, Max Point }

// Box works out the box of a product in world coordinates, in the file's own
// unit times scale. Round bodies are sampled, so that it can be too small by a
// ten-thousandth of their radius. Of a Boolean result the first operand counts.
func (f *File) Box(id uint64, scale float64) (Box, error) {
	e := &eval{f: f, radians: f.radians()}
	i := f.ByID[id]
	if i == nil || len(i.Args) < 7 {
		return Box{}, fmt.Errorf("#%d is no product", id)
	}
	at := e.placement(i.Args[5].Ref)
	shape := f.ByID[i.Args[6].Ref]
	if shape == nil {
		return Box{}, fmt.Errorf("#%d=%s has no shape", id, i.Keyword)
	}
	for _, r := range shape.Args[2].List {
		e.representation(r.Ref, at)
	}
	if e.err != nil {
		return Box{}, e.err
	}
	if len(e.points) == 0 {
		return Box{}, fmt.Errorf("#%d=%s has an empty shape", id, i.Keyword)
	}
	b := Box{Point{math.Inf(1), math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}
	for _, p := range e.points {
		for k := range p {
			b.Min[k], b.Max[k] = min(b.Min[k], p[k]*scale), max(b.Max[k], p[k]*scale)
		}
	}
	return b, nil
}

// radians is what one unit of angle is.
func (f *File) radians() float64 {
	for _, i := range f.Insts {
		if i.Keyword == "IFCCONVERSIONBASEDUNIT" && i.Args[1].Text == "PLANEANGLEUNIT" {
			return f.ByID[i.Args[3].Ref].Args[0].List[0].Num
		}
	}
	return 1
}

// matrix has the axes and the origin as columns.
type matrix struct{ x, y, z, o Point }

var unit = matrix{Point{1, 0, 0}, Point{0, 1, 0}, Point{0, 0, 1}, Point{}}

func (m matrix) dir(p Point) Point {
	var q Point
	for k := range q {
		q[k] = m.x[k]*p[0] + m.y[k]*p[1] + m.z[k]*p[2]
	}
	return q
}

func (m matrix) apply(p Point) Point { return plus(m.dir(p), m.o, 1) }

func (m matrix) mul(n matrix) matrix { return matrix{m.dir(n.x), m.dir(n.y), m.dir(n.z), m.apply(n.o)} }

func plus(a, b Point, s float64) Point { return Point{a[0] + s*b[0], a[1] + s*b[1], a[2] + s*b[2]} }
func dot(a, b Point) float64           { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func cross(a, b Point) Point {
	return Point{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func norm(a Point) Point { return plus(Point{}, a, 1/math.Sqrt(dot(a, a))) }

type eval struct {
	f       *File
	radians float64
	points  []Point
	err     error
}

func (e *eval) get(id uint64) *Instance {
	if i := e.f.ByID[id]; i != nil {
		return i
	}
	return &Instance{Keyword: "nothing"}
}

// coords are the numbers of a point or direction; a third one is added as 0.
func (e *eval) coords(id uint64) Point {
	var p Point
	for k, v := range e.get(id).Args[0].List {
		p[k] = v.Num
	}
	return p
}

func (e *eval) axes(id uint64) matrix {
	i := e.get(id)
	m := unit
	switch i.Keyword {
	case "IFCAXIS2PLACEMENT3D":
		m.o = e.coords(i.Args[0].Ref)
		if i.Args[1].Kind == Ref {
			m.z = norm(e.coords(i.Args[1].Ref))
			x := e.coords(i.Args[2].Ref)
			m.x = norm(plus(x, m.z, -dot(x, m.z)))
			m.y = cross(m.z, m.x)
		}
	case "IFCAXIS2PLACEMENT2D":
		m.o = e.coords(i.Args[0].Ref)
	}
	return m
}

func (e *eval) placement(id uint64) matrix {
	if id == 0 {
		return unit
	}
	i := e.get(id)
	return e.placement(i.Args[0].Ref).mul(e.axes(i.Args[1].Ref))
}

func (e *eval) representation(id uint64, at matrix) {
	for _, v := range e.get(id).Args[3].List {
		e.item(v.Ref, at)
	}
}

func (e *eval) add(at matrix, p Point) { e.points = append(e.points, at.apply(p)) }

func (e *eval) item(id uint64, at matrix) {
	i := e.get(id)
	switch i.Keyword {
	case "IFCEXTRUDEDAREASOLID":
		e.extrusion(i, at)
	case "IFCFACETEDBREP":
		for _, face := range e.get(i.Args[0].Ref).Args[0].List {
			for _, bound := range e.get(face.Ref).Args[0].List {
				loop := e.get(e.get(bound.Ref).Args[0].Ref)
				for _, v := range loop.Args[0].List {
					e.add(at, e.coords(v.Ref))
				}
			}
		}
	case "IFCTRIANGULATEDFACESET", "IFCPOLYGONALFACESET":
		for _, p := range e.list(i.Args[0].Ref) {
			e.add(at, p)
		}
	case "IFCBOOLEANRESULT", "IFCBOOLEANCLIPPINGRESULT":
		e.item(i.Args[1].Ref, at)
	case "IFCMAPPEDITEM":
		m := e.get(i.Args[0].Ref)
		if e.axes(m.Args[0].Ref) != unit {
			e.err = fmt.Errorf("#%d: a mapping origin that is not the identity", i.ID)
		}
		e.representation(m.Args[1].Ref, at.mul(e.operator(i.Args[1].Ref)))
	case "IFCSWEPTDISKSOLID", "IFCSWEPTDISKSOLIDPOLYGONAL":
		e.disk(e.curve(i.Args[0].Ref), i.Args[1].Num, at)
	default:
		e.err = fmt.Errorf("#%d=%s is not read here", i.ID, i.Keyword)
	}
}

func (e *eval) list(id uint64) []Point {
	var out []Point
	for _, v := range e.get(id).Args[0].List {
		out = append(out, Point{v.List[0].Num, v.List[1].Num, v.List[2].Num})
	}
	return out
}

func (e *eval) operator(id uint64) matrix {
	i := e.get(id)
	m := unit
	for k, axis := range map[int]*Point{0: &m.x, 1: &m.y, 4: &m.z} {
		if i.Args[k].Kind == Ref {
			*axis = norm(e.coords(i.Args[k].Ref))
		}
	}
	s := 1.0
	if i.Args[3].Kind != Unset {
		s = i.Args[3].Num
	}
	scales := [3]float64{s, s, s}
	for k := 5; k < len(i.Args); k++ {
		if i.Args[k].Kind != Unset {
			scales[k-4] = i.Args[k].Num
		}
	}
	m.x, m.y, m.z = plus(Point{}, m.x, scales[0]), plus(Point{}, m.y, scales[1]), plus(Point{}, m.z, scales[2])
	m.o = e.coords(i.Args[2].Ref)
	return m
}

func (e *eval) extrusion(i *Instance, at matrix) {
	at = at.mul(e.axes(i.Args[1].Ref))
	way := plus(Point{}, norm(e.coords(i.Args[2].Ref)), i.Args[3].Num)
	for _, p := range e.profile(i.Args[0].Ref) {
		e.add(at, p)
		e.add(at, plus(p, way, 1))
	}
}

const samples = 720

func (e *eval) profile(id uint64) []Point {
	i := e.get(id)
	var out []Point
	switch i.Keyword {
	case "IFCRECTANGLEPROFILEDEF":
		o := e.axes(i.Args[2].Ref).o
		x, y := i.Args[3].Num/2, i.Args[4].Num/2
		for _, p := range []Point{{x, y}, {x, -y}, {-x, y}, {-x, -y}} {
			out = append(out, plus(o, p, 1))
		}
	case "IFCCIRCLEPROFILEDEF", "IFCCIRCLEHOLLOWPROFILEDEF":
		o := e.axes(i.Args[2].Ref).o
		for k := range samples {
			s, c := math.Sincos(2 * math.Pi * float64(k) / samples)
			out = append(out, Point{o[0] + i.Args[3].Num*c, o[1] + i.Args[3].Num*s})
		}
	case "IFCARBITRARYCLOSEDPROFILEDEF", "IFCARBITRARYPROFILEDEFWITHVOIDS":
		for _, v := range e.get(i.Args[2].Ref).Args[0].List {
			out = append(out, e.coords(v.Ref))
		}
	default:
		e.err = fmt.Errorf("#%d=%s is not read here", i.ID, i.Keyword)
	}
	return out
}

// curve samples a directrix.
func (e *eval) curve(id uint64) []Point {
	i := e.get(id)
	var out []Point
	switch i.Keyword {
	case "IFCPOLYLINE":
		for _, v := range i.Args[0].List {
			out = append(out, e.coords(v.Ref))
		}
	case "IFCCOMPOSITECURVE":
		for _, s := range i.Args[0].List {
			out = append(out, e.curve(e.get(s.Ref).Args[2].Ref)...)
		}
	case "IFCTRIMMEDCURVE":
		circle := e.get(i.Args[0].Ref)
		at, r := e.axes(circle.Args[0].Ref), circle.Args[1].Num
		from, to := i.Args[1].List[0].List[0].Num*e.radians, i.Args[2].List[0].List[0].Num*e.radians
		for k := range samples + 1 {
			s, c := math.Sincos(from + (to-from)*float64(k)/samples)
			out = append(out, at.apply(Point{r * c, r * s, 0}))
		}
	case "IFCINDEXEDPOLYCURVE":
		ps := e.list(i.Args[0].Ref)
		for _, s := range i.Args[1].List {
			idx := s.List[0].List
			for k, v := range idx {
				if s.Text == "IFCARCINDEX" && k == 1 {
					out = append(out, arc(ps[int(idx[0].Num)-1], ps[int(v.Num)-1], ps[int(idx[2].Num)-1])...)
				} else {
					out = append(out, ps[int(v.Num)-1])
				}
			}
		}
	default:
		e.err = fmt.Errorf("#%d=%s is not read here", i.ID, i.Keyword)
	}
	return out
}

// arc samples the circle through three points between the first and the last.
func arc(a, b, c Point) []Point {
	u, v := plus(b, a, -1), plus(c, a, -1)
	n := cross(u, v)
	w := cross(plus(plus(Point{}, v, dot(u, u)), u, -dot(v, v)), n)
	o := plus(a, w, 1/(2*dot(n, n)))
	x := plus(a, o, -1)
	r := math.Sqrt(dot(x, x))
	x = norm(x)
	y := cross(norm(n), x)
	end := plus(c, o, -1)
	turn := math.Atan2(dot(end, y), dot(end, x))
	if turn < 0 {
		turn += 2 * math.Pi
	}
	var out []Point
	for k := 1; k < samples; k++ {
		s, co := math.Sincos(turn * float64(k) / samples)
		out = append(out, plus(plus(o, x, r*co), y, r*s))
	}
	return out
}

// disk puts a ring round each point of the path, at a right angle to it.
func (e *eval) disk(path []Point, r float64, at matrix) {
	for i := 0; i+1 < len(path); i++ {
		d := plus(path[i+1], path[i], -1)
		if dot(d, d) < 1e-18 {
			continue
		}
		d = norm(d)
		x := norm(cross(d, sideways(d)))
		y := cross(d, x)
		for _, p := range path[i : i+2] {
			for k := range 90 {
				s, c := math.Sincos(2 * math.Pi * float64(k) / 90)
				e.add(at, plus(plus(p, x, r*c), y, r*s))
			}
		}
	}
}

// sideways is an axis that is far from d.
func sideways(d Point) Point {
	if math.Abs(d[0]) < 0.6 {
		return Point{1, 0, 0}
	}
	return Point{0, 1, 0}
}
