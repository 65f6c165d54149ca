package geom

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// Solid is a body less cutters: a host less its openings and recesses. What is
// asked along lines and in layers is asked of the parts, without the boolean
// being worked out: a line is inside where it is inside the body and outside of
// all cutters, and the place of the surface nearest to a point inside is the
// nearest one of all parts, since the way there meets none of them.
type Solid struct {
	body *Mesh
	less []*Mesh
	box  []Box // of less
	once sync.Once
	mesh *Mesh
}

// NewSolid is the body less the cutters. Cutters may overlap, end flush with the
// body or stand out of it.
func NewSolid(body *Mesh, less ...*Mesh) *Solid {
	s := &Solid{body: body, less: less, box: make([]Box, len(less))}
	for i, m := range less {
		s.box[i] = m.Box()
	}
	return s
}

// Parts is the number of parts: the body, part 0, and the cutters.
func (s *Solid) Parts() int { return 1 + len(s.less) }

// Part is the body or a cutter. A cutter's triangles look out of the cutter, so
// into the concrete.
func (s *Solid) Part(i int) *Mesh {
	if i == 0 {
		return s.body
	}
	return s.less[i-1]
}

// Mesh is the boolean, worked out on the first call.
func (s *Solid) Mesh() *Mesh {
	s.once.Do(func() {
		s.mesh = s.body
		if len(s.less) > 0 {
			s.mesh = Subtract(s.body, s.less...)
		}
	})
	return s.mesh
}

// Contains reports whether a point lies in the solid. On its surface the answer
// is either.
func (s *Solid) Contains(p Vec) bool {
	if !s.body.Contains(p) {
		return false
	}
	for i, m := range s.less {
		if s.box[i].Has(p) && m.Contains(p) {
			return false
		}
	}
	return true
}

// Cross is a place where a line crosses the surface of a solid.
type Cross struct {
	T      float64
	Normal Vec // unit, out of the solid
	Part   int
	Tri    int // of the part
}

// Span is a part of a line that lies inside a solid.
type Span struct{ From, To Cross }

// Inside is the parts of the line o + t*d that lie inside, in rising order.
func (s *Solid) Inside(o, d Vec) []Span {
	var few [4]Interval
	var out []Span
	for _, in := range s.body.insideInto(few[:0], o, d) {
		out = append(out, Span{
			Cross{in.From, in.FromHit.Normal, 0, in.FromHit.Tri},
			Cross{in.To, in.ToHit.Normal, 0, in.ToHit.Tri},
		})
	}
	if len(out) == 0 {
		return nil
	}
	line := newLineTest(o, d.Unit())
	for i, m := range s.less {
		if !line.meets(s.box[i]) {
			continue
		}
		for _, cut := range m.insideInto(few[:0], o, d) {
			out = cutSpans(out, cut, i+1)
		}
	}
	return out
}

// Intervals are the lengths of spans, without where they begin and end.
func Intervals(spans []Span) []Interval {
	out := make([]Interval, len(spans))
	for i, s := range spans {
		out[i] = Interval{From: s.From.T, To: s.To.T}
	}
	return out
}

// cutSpans takes a piece out of spans.
func cutSpans(spans []Span, cut Interval, part int) []Span {
	clear := func(s Span) bool { return cut.To <= s.From.T+joinGap || cut.From >= s.To.T-joinGap }
	if !slices.ContainsFunc(spans, func(s Span) bool { return !clear(s) }) {
		return spans
	}
	var out []Span
	for _, s := range spans {
		if clear(s) {
			out = append(out, s)
			continue
		}
		if cut.From > s.From.T+joinGap {
			out = append(out, Span{s.From, Cross{cut.From, cut.FromHit.Normal.Neg(), part, cut.FromHit.Tri}})
		}
		if cut.To < s.To.T-joinGap {
			out = append(out, Span{Cross{cut.To, cut.ToHit.Normal.Neg(), part, cut.ToHit.Tri}, s.To})
		}
	}
	slices.SortFunc(out, func(a, b Span) int { return cmp.Compare(a.From.T, b.From.T) })
	return out
}

// Section is what the plane cuts out of the solid, in the plane's Frame, as
// Mesh.Section has it.
func (s *Solid) Section(p Plane) []Polygon {
	polys := s.body.Section(p)
	var holes []Box2
	for i, m := range s.less {
		if !planeMeets(s.box[i], p) {
			continue
		}
		for _, cut := range m.Section(p) {
			b := boxOf2(cut.Outer)
			if len(cut.Holes) > 0 || slices.ContainsFunc(holes, b.meets) || !addHole(polys, cut.Outer) {
				return s.Mesh().Section(p)
			}
			holes = append(holes, b)
		}
	}
	return polys
}

// planeMeets reports whether a plane may meet a box.
func planeMeets(b Box, p Plane) bool {
	h := b.Size().Mul(0.5)
	reach := h.X*math.Abs(p.N.X) + h.Y*math.Abs(p.N.Y) + h.Z*math.Abs(p.N.Z)
	return !(math.Abs(p.Dist(b.Center())) > reach+1)
}

// addHole adds a loop as a hole to the polygon that it lies in; false when it
// lies in none as a whole and clear of its sides.
func addHole(polys []Polygon, loop []Vec2) bool {
	const clear = 1e-3
	for i := range polys {
		p := &polys[i]
		if !p.Contains(loop[0]) {
			continue
		}
		for _, side := range append([][]Vec2{p.Outer}, p.Holes...) {
			if loopsMeet(side, loop, clear) {
				return false
			}
		}
		rev := slices.Clone(loop)
		slices.Reverse(rev)
		p.Holes = append(slices.Clone(p.Holes), rev)
		return true
	}
	// Outside of all concrete: it takes nothing away.
	for i := range polys {
		for _, side := range append([][]Vec2{polys[i].Outer}, polys[i].Holes...) {
			if loopsMeet(side, loop, clear) {
				return false
			}
		}
	}
	return true
}

// loopsMeet reports whether two loops come within a distance of each other.
func loopsMeet(a, b []Vec2, clear float64) bool {
	for i := range a {
		for k := range b {
			if segmentsNear(a[i], a[(i+1)%len(a)], b[k], b[(k+1)%len(b)], clear) {
				return true
			}
		}
	}
	return false
}

func segmentsNear(a, b, c, d Vec2, clear float64) bool {
	if min(a.X, b.X) > max(c.X, d.X)+clear || min(c.X, d.X) > max(a.X, b.X)+clear ||
		min(a.Y, b.Y) > max(c.Y, d.Y)+clear || min(c.Y, d.Y) > max(a.Y, b.Y)+clear {
		return false
	}
	o := func(p, q, r Vec2) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	if o(a, b, c)*o(a, b, d) < 0 && o(c, d, a)*o(c, d, b) < 0 {
		return true
	}
	near := func(p, q, r Vec2) bool { return NearestOnSegment2(p, q, r).Dist(p) <= clear }
	return near(a, c, d) || near(b, c, d) || near(c, a, b) || near(d, a, b)
}

// Box2 is a box in a plane.
type Box2 struct{ Min, Max Vec2 }

func boxOf2(pts []Vec2) Box2 {
	b := Box2{pts[0], pts[0]}
	for _, p := range pts[1:] {
		b.Min = Vec2{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}
		b.Max = Vec2{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}
	}
	return b
}

func (b Box2) meets(o Box2) bool {
	const clear = 1e-3
	return b.Min.X <= o.Max.X+clear && o.Min.X <= b.Max.X+clear && b.Min.Y <= o.Max.Y+clear && o.Min.Y <= b.Max.Y+clear
}
