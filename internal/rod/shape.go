package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// Form is what a body is in the main.
type Form int

const (
	Irregular Form = iota // curved or put together: nothing simple to say
	Round                 // one or several round members
	Flat                  // a plate, also one with studs or bars on it
	Hexagonal             // a nut, a short hexagon
	Bar                   // one section along a straight line: channel, angle, hollow section, bent plate
	Block
	Thin // a sheet without thickness, an open surface
)

func (f Form) String() string {
	return [...]string{"irregular", "round", "flat", "hexagonal", "bar", "block", "thin"}[f]
}

// Shape is what can be said of any body.
type Shape struct {
	Form        Form
	Box         OrientedBox
	Slenderness float64 // longest over second longest side of the box
	Fill        float64 // share of the box that is steel
	Volume      float64 // mm3
	Plate       *Plate  // the plate, nil when there is none
	Hex         *Hex    // the hexagon, nil when there is none
}

// Hex is a short hexagonal prism: a nut.
type Hex struct {
	Center geom.Vec
	Axis   geom.Vec // unit
	Height float64
	Flats  float64 // width across flats
	Hole   float64 // diameter, 0 without one
}

// Classify says what the body is in the main.
func Classify(m *geom.Mesh) Shape {
	_, s := Analyse(m)
	return s
}

// Analyse is FromMesh and Classify in one go.
func Analyse(m *geom.Mesh) ([]Member, Shape) {
	b := newBody(m)
	if len(b.shells) == 0 {
		return nil, Shape{}
	}
	ms, stubs := b.members()
	return ms, b.shape(ms, stubs)
}

const (
	thinSheet  = 0.5  // mm of mean thickness: less is no steel part
	plateShare = 0.4  // width of a plate over the length of a single member on it: less is an end plate
	longBar    = 2    // length of a full bar over the greater side of its section; less is a block
	fullBlock  = 0.9  // share of its box that a block fills
	prismShare = 0.97 // share of the surface of a bar that lies along or square to it
)

func (b *body) shape(ms []Member, stubs []*tube) Shape {
	var s Shape
	area := 0.0
	facets := make([][]facet, len(b.shells))
	along := b.principal()
	for i, sh := range b.shells {
		facets[i] = sh.facets()
		s.Volume += sh.volume
		area += sh.area()
		for k := range min(4, len(facets[i])) {
			if len(along) < 24 {
				along = append(along, facets[i][k].n)
			}
		}
	}
	for i := range min(4, len(ms)) {
		along = append(along, ms[i].Axis())
	}
	s.Box = boxAlong(b.verts, along)
	s.Box.Center = s.Box.Center.Add(b.origin)
	d := s.Box.Dims
	if d[1] > 0 {
		s.Slenderness = d[0] / d[1]
	}
	if d[2] > 0 {
		s.Fill = s.Volume / (d[0] * d[1] * d[2])
	}
	if d[2] < thinSheet || 2*s.Volume < thinSheet*area {
		s.Form = Thin
		return s
	}
	s.Plate = b.plate(facets, ms, s.Volume)
	s.Hex = b.hex(stubs, s.Volume)
	s.Form = b.form(&s, ms)
	return s
}

func (b *body) form(s *Shape, ms []Member) Form {
	longest := 0.0
	for i := range ms {
		longest = math.Max(longest, ms[i].Length())
	}
	switch {
	case s.Plate != nil && (len(ms) > 1 || s.Plate.Width >= plateShare*longest):
		return Flat
	case len(ms) > 0:
		return Round
	case s.Hex != nil:
		return Hexagonal
	case s.Fill >= fullBlock && (s.Slenderness < longBar || !b.prismatic(s.Box.Axes[0])):
		return Block
	}
	for _, a := range s.Box.Axes {
		if b.prismatic(a) {
			return Bar
		}
	}
	return Irregular
}

// principal are the main axes of the vertices, the stretch axes of a body
// without large flat faces.
func (b *body) principal() []geom.Vec {
	var mean geom.Vec
	for _, p := range b.verts {
		mean = mean.Add(p.Mul(1 / float64(len(b.verts))))
	}
	var m sym3
	for _, p := range b.verts {
		m.add(p.Sub(mean), 1)
	}
	_, vec := m.eigen()
	return vec[:]
}

func (s *shell) area() float64 {
	sum := 0.0
	for _, t := range s.tris {
		p, q, r := s.verts[t[0]], s.verts[t[1]], s.verts[t[2]]
		sum += q.Sub(p).Cross(r.Sub(p)).Norm() / 2
	}
	return sum
}

// prismatic reports whether the surface lies along the axis or square to it,
// with a face at both ends.
func (b *body) prismatic(axis geom.Vec) bool {
	var side, up, down, other float64
	for _, s := range b.shells {
		for i, t := range s.tris {
			p, q, r := s.verts[t[0]], s.verts[t[1]], s.verts[t[2]]
			a := q.Sub(p).Cross(r.Sub(p)).Norm()
			switch c := s.normal[i].Dot(axis); {
			case math.Abs(c) < 0.02:
				side += a
			case c > 0.999:
				up += a
			case c < -0.999:
				down += a
			default:
				other += a
			}
		}
	}
	return up > 0 && down > 0 && other <= (1-prismShare)*(side+up+down+other)
}

// hex finds the hexagon that makes up most of the body.
func (b *body) hex(stubs []*tube, volume float64) *Hex {
	for _, t := range stubs {
		if t.sides != 6 || len(t.path) < 2 {
			continue
		}
		from := t.path[0].Sub(b.origin)
		x := axis{from, t.path[len(t.path)-1].Sub(b.origin).Sub(from).Unit()}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range t.shell.ids {
			lo, hi = math.Min(lo, x.depth(t.shell.verts[v])), math.Max(hi, x.depth(t.shell.verts[v]))
		}
		h := &Hex{
			Center: x.at((lo + hi) / 2).Add(b.origin),
			Axis:   x.d,
			Height: hi - lo,
			Flats:  math.Sqrt(3) * t.radius,
		}
		sec := t.shell.cut(x.at((lo+hi)/2), x.d)
		for i := range sec.loops {
			if g, ok := sec.fit(int32(i), x.d); ok && g.inward && g.round() && x.off(g.a) < 0.1*t.radius {
				h.Hole = 2 * g.r
			}
		}
		solid := (math.Sqrt(3)/2*h.Flats*h.Flats - math.Pi/4*h.Hole*h.Hole) * h.Height
		if solid > 0.6*volume && solid < 1.6*volume {
			return h
		}
	}
	return nil
}
