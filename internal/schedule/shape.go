package schedule

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// shape is a unit as points that tell it from others, in any position: along
// its rods, at the ends of its anchors, the corners of its plates, the middles
// of its other bodies. It does not depend on how curves were cut into pieces
// nor on how nuts and heads are turned on their bolts.
type shape struct {
	points []point
	centre geom.Vec
	reach  []float64 // distances of the points from the centre, sorted
	apart  []float64 // distances between all points, sorted; made when first asked for
}

// point is one of them; points of a different what stand for different things.
type point struct {
	at   geom.Vec
	what what
	size float64 // mm or mm3; what is the same agrees in it
}

type what uint8

const (
	onRod  what = iota // size: diameter
	inTube             // size: diameter of the hole
	open               // size: diameter
	deep               // size: diameter across the head
	corner             // size: thickness of the plate
	middle             // of a mesh; size: volume
	vertex
	extent // of a mesh of many corners, at its middle; size: a side of the box around it
)

const (
	rodPoints = 8    // pieces that a rod is divided into
	mostVerts = 400  // a body of more corners is known by its volume and extents
	weld      = 0.01 // mm
)

func shapeOf(items []*model.Item) shape {
	var s shape
	for _, it := range items {
		for _, a := range it.Anchors {
			s.add(a.Open, open, shankSize(a))
			s.add(a.At(a.Deepest), deep, a.HeadSize)
		}
		for _, p := range it.Outline {
			s.add(p, corner, it.Thick)
		}
		for i := range it.Bodies {
			s.body(&it.Bodies[i], items)
		}
	}
	for _, p := range s.points {
		s.centre = s.centre.Add(p.at)
	}
	s.centre = s.centre.Mul(1 / max(float64(len(s.points)), 1))
	for _, p := range s.points {
		s.reach = append(s.reach, p.at.Dist(s.centre))
	}
	slices.Sort(s.reach)
	return s
}

// shankSize is the diameter of a shank. That of a socket or a lifter is the
// thread's in one drawing and the tube's in the next: there, bodies tell.
func shankSize(a *model.Anchor) float64 {
	if a.Item.Kind == model.Socket || a.Item.Kind == model.Lifter {
		return 0
	}
	return a.Diameter
}

func (s *shape) add(at geom.Vec, w what, size float64) {
	if at.Finite() {
		s.points = append(s.points, point{at, w, size})
	}
}

func (s *shape) body(b *model.Body, items []*model.Item) {
	if r := b.Rod; r != nil {
		if len(r.Path) == 2 && onAxis(r, items) {
			// The ends of the anchor tell how long it is; others draw it as a mesh.
			s.add(r.Path[0].Lerp(r.Path[1], 0.5), middle, rodVolume(r))
			return
		}
		for _, p := range divided(r.Path, rodPoints) {
			s.add(p, onRod, 2*r.Radius)
		}
		if r.Inner > 0 {
			s.add(r.Path[0], inTube, 2*r.Inner)
			s.add(r.Path[len(r.Path)-1], inTube, 2*r.Inner)
		}
		return
	}
	c := b.Mesh.Centroid()
	s.add(c, middle, b.Mesh.Volume())
	if _, on := axisUnder(b.Mesh, items); on {
		return
	}
	if verts := welded(b.Mesh); len(verts) <= mostVerts {
		for _, v := range verts {
			s.add(v, vertex, 0)
		}
		return
	}
	if e, ok := measure.SizeOf(b.Mesh); ok {
		for _, side := range []float64{e.Length, e.Width, e.Thickness} {
			s.add(c, extent, side)
		}
	}
}

// distances are those between all points, sorted.
func (s *shape) distances() []float64 {
	if s.apart == nil {
		for i := range s.points {
			for k := range i {
				s.apart = append(s.apart, s.points[i].at.Dist(s.points[k].at))
			}
		}
		slices.Sort(s.apart)
	}
	return s.apart
}

// divided are points at equal distances along a path, its ends among them.
func divided(path []geom.Vec, pieces int) []geom.Vec {
	whole := geom.Rod{Path: path}.Length()
	var out []geom.Vec
	gone, next := 0.0, 0
	for i := 1; i < len(path); i++ {
		step := path[i].Dist(path[i-1])
		for ; next <= pieces && step > 0; next++ {
			at := whole * float64(next) / float64(pieces)
			if at > gone+step+geom.Tol {
				break
			}
			out = append(out, path[i-1].Lerp(path[i], math.Min((at-gone)/step, 1)))
		}
		gone += step
	}
	return out
}

// welded are the corners of a mesh, each place once.
func welded(m *geom.Mesh) []geom.Vec {
	if len(m.Verts) > 20*mostVerts {
		return m.Verts
	}
	w := m.Weld(weld)
	used := make([]bool, len(w.Verts))
	for _, t := range w.Tris {
		for _, v := range t {
			used[v] = true
		}
	}
	var out []geom.Vec
	for i, v := range w.Verts {
		if used[i] {
			out = append(out, v)
		}
	}
	return out
}

// axisUnder is the anchor that a small body sits on all around, as nuts,
// washers and heads do.
func axisUnder(m *geom.Mesh, items []*model.Item) (*model.Anchor, bool) {
	const (
		aside = 0.5 // mm between the middle of the body and the axis
		wide  = 2.5 // diameters from the axis to the corners of a washer plate
	)
	c := m.Centroid()
	for _, it := range items {
		for _, a := range it.Anchors {
			if a.Diameter <= 0 || offAxis(a, c) > aside {
				continue
			}
			if !slices.ContainsFunc(m.Verts, func(v geom.Vec) bool { return offAxis(a, v) > wide*a.Diameter }) {
				return a, true
			}
		}
	}
	return nil, false
}

// onAxis reports whether a straight rod lies on the axis of an anchor.
func onAxis(r *geom.Rod, items []*model.Item) bool {
	for _, it := range items {
		for _, a := range it.Anchors {
			if offAxis(a, r.Path[0]) <= sameWithin && offAxis(a, r.Path[1]) <= sameWithin {
				return true
			}
		}
	}
	return false
}

// offAxis is the distance of a point from the axis of an anchor.
func offAxis(a *model.Anchor, p geom.Vec) float64 {
	d := p.Sub(a.Open)
	return d.Sub(a.Dir.Mul(d.Dot(a.Dir))).Norm()
}
