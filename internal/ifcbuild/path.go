package ifcbuild

import "math"

// Path is a centreline of straight pieces and arcs.
type Path struct {
	segs  []segment
	bare  []Vec   // corners, when the path was made of them
	bend  float64 // radius of the centreline in each inner corner
	curve Curve
	chord float64 // degrees of an arc that one chord may span
}

// segment runs from a to b, straight or round c with normal n.
type segment struct {
	a, b   Vec
	arc    bool
	c, n   Vec
	r      float64
	angle  float64 // radians, counter-clockwise about n
	middle Vec
}

// Curve is the way that a path is written.
type Curve int

const (
	Auto      Curve = iota // a polyline when there is no arc, else indexed, else composite
	Polyline               // IfcPolyline; arcs as chords
	Indexed                // IfcIndexedPolyCurve; composite in IFC2X3
	Composite              // IfcCompositeCurve of polylines and trimmed circles
	Filleted               // IfcSweptDiskSolidPolygonal: corners and one radius; composite in IFC2X3
)

// Straight is a path along corners that are not rounded.
func Straight(corners ...Vec) Path { return Bent(0, corners...) }

// Bent is a path along corners that are rounded with the centreline radius r.
func Bent(r float64, corners ...Vec) Path {
	p := Path{bare: corners, bend: r, chord: 10}
	at := corners[0]
	for i := 1; i+1 < len(corners) && r > 0; i++ {
		in, out := corners[i].Sub(corners[i-1]).Unit(), corners[i+1].Sub(corners[i]).Unit()
		angle := math.Acos(max(-1, min(1, in.Dot(out))))
		if angle < 1e-6 {
			continue
		}
		t := r * math.Tan(angle/2)
		from, to := corners[i].Sub(in.Mul(t)), corners[i].Add(out.Mul(t))
		n := in.Cross(out).Unit()
		p.line(at, from)
		p.arcAbout(from, to, from.Add(n.Cross(in).Mul(r)), n, angle)
		at = to
	}
	if r == 0 {
		for _, c := range corners[1 : len(corners)-1] {
			p.line(at, c)
			at = c
		}
	}
	p.line(at, corners[len(corners)-1])
	return p
}

// StartAt begins a path piece by piece.
func StartAt(v Vec) Path { return Path{bare: []Vec{v}, bend: math.NaN(), chord: 10} }

// End is the path's last point so far.
func (p Path) End() Vec {
	if len(p.segs) == 0 {
		return p.bare[0]
	}
	return p.segs[len(p.segs)-1].b
}

// LineTo goes straight on.
func (p Path) LineTo(v Vec) Path { p.line(p.End(), v); return p }

// Arc turns about c with the axis n by some degrees, counter-clockwise.
func (p Path) Arc(c, n Vec, degrees float64) Path {
	at := p.End()
	rel := at.Sub(c)
	n = n.Unit()
	cos, sin := cosSin(degrees)
	to := c.Add(rel.Mul(cos)).Add(n.Cross(rel).Mul(sin))
	p.arcAbout(at, to, c, n, degrees*math.Pi/180)
	return p
}

// As is the path written as a curve of a kind.
func (p Path) As(c Curve) Path { p.curve = c; return p }

// Chords is the path whose arcs become chords of at most so many degrees where
// a polyline is written.
func (p Path) Chords(degrees float64) Path { p.chord = degrees; return p }

func (p *Path) line(a, b Vec) {
	if b.Sub(a).Len() > 1e-9 {
		p.segs = append(p.segs[:len(p.segs):len(p.segs)], segment{a: a, b: b})
	}
}

func (p *Path) arcAbout(a, b, c, n Vec, angle float64) {
	rel := a.Sub(c)
	s, k := math.Sincos(angle / 2)
	p.segs = append(p.segs[:len(p.segs):len(p.segs)], segment{
		a: a, b: b, arc: true, c: c, n: n, r: rel.Len(), angle: angle,
		middle: c.Add(rel.Mul(k)).Add(n.Cross(rel).Mul(s)),
	})
}

// Moved is the path in a frame.
func (p Path) Moved(f Frame) Path {
	out := p
	out.bare, out.segs = nil, nil
	for _, v := range p.bare {
		out.bare = append(out.bare, f.Apply(v))
	}
	for _, s := range p.segs {
		s.a, s.b, s.c, s.middle, s.n = f.Apply(s.a), f.Apply(s.b), f.Apply(s.c), f.Apply(s.middle), f.Dir(s.n)
		out.segs = append(out.segs, s)
	}
	return out
}

// Len is the length of the path.
func (p Path) Len() float64 {
	var sum float64
	for _, s := range p.segs {
		if s.arc {
			sum += s.r * s.angle
		} else {
			sum += s.b.Sub(s.a).Len()
		}
	}
	return sum
}

// Points are the path's corners, arcs as chords.
func (p Path) Points() []Vec {
	out := []Vec{p.segs[0].a}
	for _, s := range p.segs {
		if s.arc {
			n := int(math.Ceil(s.angle*180/math.Pi/p.chord - 1e-9))
			rel := s.a.Sub(s.c)
			for i := 1; i < n; i++ {
				sin, cos := math.Sincos(s.angle * float64(i) / float64(n))
				out = append(out, s.c.Add(rel.Mul(cos)).Add(s.n.Cross(rel).Mul(sin)))
			}
		}
		out = append(out, s.b)
	}
	return out
}

func (p Path) arcs() bool {
	for _, s := range p.segs {
		if s.arc {
			return true
		}
	}
	return false
}

// kind is the curve that the path becomes in a schema.
func (p Path) kind(s Schema) Curve {
	c := p.curve
	if c == Auto {
		c = Indexed
		if !p.arcs() {
			c = Polyline
		}
	}
	if c == Filleted && (len(p.bare) < 2 || math.IsNaN(p.bend)) {
		panic("ifcbuild: only a path of corners can be written with a fillet radius")
	}
	if s == IFC2X3 && (c == Indexed || c == Filleted) {
		c = Composite
	}
	return c
}
