package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// sweptAlong reads an IfcFixedReferenceSweptAreaSolid or an
// IfcSurfaceCurveSweptAreaSolid: a profile along a curve, its z axis along the
// curve, its x axis towards a fixed direction or along the normal of a surface.
func (r *Reader) sweptAlong(in ifcread.Inst) (*Solid, error) {
	prof, pos, err := r.sweptArea(in)
	if err != nil {
		return nil, err
	}
	c, err := r.directrix(in, 2)
	if err != nil {
		return nil, err
	}
	ref, err := r.reference(in)
	if err != nil {
		return nil, err
	}
	pts := c.points(pathTol)
	if len(pts) < 2 {
		return nil, bad(in, "its directrix has no length")
	}
	for i := range pts {
		pts[i] = pos.Apply(pts[i])
	}
	normal := func(at, tangent geom.Vec) geom.Vec { return pos.Turn(ref(pos.Local(at), tangent)) }
	var sum *geom.Mesh
	origin := originFor(pts[0])
	for i := range pts {
		pts[i] = pts[i].Sub(origin)
	}
	for _, a := range prof.areas {
		if err := r.ringable(a.corners(), len(pts)); err != nil {
			return nil, bad(in, "%v", err)
		}
		rings, closed := ringsAlong(a, pts, func(at, tangent geom.Vec) geom.Vec { return normal(at.Add(origin), tangent) })
		if rings == nil {
			return nil, bad(in, "its profile has no direction to turn to along the directrix")
		}
		m, err := ringed(rings, a.sizes(), closed).mesh()
		if err == nil {
			sum, err = join(sum, m)
		}
		if err != nil {
			return nil, bad(in, "%v", err)
		}
	}
	s := newMesh(in.Name(), sum, origin)
	s.Profile = prof.Name
	return s, nil
}

// reference is the direction, in Position coordinates, that the x axis of the
// profile is turned to at a point of the directrix.
func (r *Reader) reference(in ifcread.Inst) (func(at, tangent geom.Vec) geom.Vec, error) {
	if in.Type() == tFixedReference {
		d := direction(in.Arg(5))
		if d == (geom.Vec{}) {
			return nil, bad(in, "its fixed reference is missing")
		}
		return func(at, tangent geom.Vec) geom.Vec { return d }, nil
	}
	surf, err := need(in, 5, "reference surface")
	if err != nil {
		return nil, err
	}
	if surf.Type() == tPlane {
		m, err := r.axes(surf.Arg(0))
		return func(at, tangent geom.Vec) geom.Vec { return m.Z }, err
	}
	q, err := r.surface(surf, 0)
	if err != nil {
		return nil, err
	}
	var near geom.Vec2
	return func(at, tangent geom.Vec) geom.Vec {
		near = q.params(at, near)
		const h = 1e-4
		du := q.at(near.X+h, near.Y).Sub(q.at(near.X-h, near.Y))
		dv := q.at(near.X, near.Y+h).Sub(q.at(near.X, near.Y-h))
		return du.Cross(dv).Unit()
	}, nil
}

// ringsAlong places an area at each point of a chain; bends are mitred. nil
// when the reference direction runs along the chain.
func ringsAlong(a region, pts []geom.Vec, ref func(at, tangent geom.Vec) geom.Vec) (rings [][]geom.Vec, closed bool) {
	n := len(pts)
	closed = n > 3 && pts[0].Dist(pts[n-1]) <= joinTol
	if closed {
		n--
		pts = pts[:n]
	}
	side := func(i int) geom.Vec { return pts[(i+1)%n].Sub(pts[(i+n)%n]).Unit() }
	for i, p := range pts {
		before, after := side((i+n-1)%n), side(i)
		if !closed && i == 0 {
			before = after
		}
		if !closed && i == n-1 {
			after = before
		}
		cut := before.Add(after).Unit()
		if cut == (geom.Vec{}) || cut.Dot(after) < 0.1 {
			return nil, false
		}
		x := ref(p, cut)
		if x = x.Sub(cut.Mul(x.Dot(cut))); !(x.Norm() > 1e-6) {
			return nil, false
		}
		rings = append(rings, mitre(a.ring(geom.FrameZX(p, cut, x)), p, before, after))
	}
	return rings, closed
}

// mitre widens a ring at a bend, in its own plane and away from the inside of
// the bend, so that the body keeps its width on both sides.
func mitre(ring []geom.Vec, p, before, after geom.Vec) []geom.Vec {
	out := after.Sub(before)
	if out.Norm() < 1e-9 {
		return ring
	}
	half := math.Sqrt(max(0.01, (1+before.Dot(after))/2)) // cosine of half the turn
	out = out.Unit()
	for i, q := range ring {
		ring[i] = q.Add(out.Mul(q.Sub(p).Dot(out) * (1/half - 1)))
	}
	return ring
}
