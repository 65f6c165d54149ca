package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// turning is a revolution: about an axis in item coordinates, by an angle.
type turning struct {
	o, axis geom.Vec
	angle   float64
	full    bool
}

// turning reads axis and angle of an IfcRevolvedAreaSolid.
func (r *Reader) turning(in ifcread.Inst, pos geom.Affine) (turning, error) {
	q, err := need(in, 2, "axis")
	if err != nil {
		return turning{}, err
	}
	o, d, err := r.axis1(q)
	if err != nil {
		return turning{}, err
	}
	if math.Abs(d.Z) > 1e-6 || math.Abs(o.Z) > joinTol {
		return turning{}, bad(in, "its axis does not lie in the plane of the profile")
	}
	t := turning{o: pos.Apply(o), axis: pos.Turn(d), angle: number(in.Arg(3)) * r.units.Angle}
	if !(math.Abs(t.angle) > 1e-9) || math.IsInf(t.angle, 0) {
		return turning{}, bad(in, "its angle is missing or zero")
	}
	if math.Abs(t.angle) >= 2*math.Pi-1e-6 {
		t.full, t.angle = true, 2*math.Pi
	}
	return t, nil
}

// at is the rotation by part of the angle.
func (t turning) at(part float64) geom.Affine {
	s, c := math.Sincos(t.angle * part)
	turn := func(v geom.Vec) geom.Vec { // Rodrigues
		return v.Mul(c).Add(t.axis.Cross(v).Mul(s)).Add(t.axis.Mul(t.axis.Dot(v) * (1 - c)))
	}
	m := geom.Affine{X: turn(geom.Vec{X: 1}), Y: turn(geom.Vec{Y: 1}), Z: turn(geom.Vec{Z: 1})}
	m.T = t.o.Sub(m.Turn(t.o))
	return m
}

// far is the greatest distance of the points from the axis.
func (t turning) far(pts []geom.Vec) float64 {
	best := 0.0
	for _, p := range pts {
		best = max(best, p.Sub(t.o).Cross(t.axis).Norm())
	}
	return best
}

// crosses reports whether a profile lies on both sides of the axis.
func (t turning) crosses(prof *profile, pos geom.Affine) bool {
	out := pos.Z.Cross(t.axis)
	lo, hi := 0.0, 0.0
	for _, a := range prof.areas {
		for _, p := range a.ring(pos) {
			d := p.Sub(t.o).Dot(out)
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	return lo < -joinTol && hi > joinTol
}

// revolved reads an IfcRevolvedAreaSolid. A revolved circle clear of the axis
// is a bent rod.
func (r *Reader) revolved(in ifcread.Inst) (*Solid, error) {
	prof, pos, err := r.sweptArea(in)
	if err != nil {
		return nil, err
	}
	return r.revolve(in, pos, prof, prof)
}

// revolvedTapered reads an IfcRevolvedAreaSolidTapered: the profile changes
// evenly with the angle.
func (r *Reader) revolvedTapered(in ifcread.Inst) (*Solid, error) {
	prof, pos, err := r.sweptArea(in)
	if err != nil {
		return nil, err
	}
	end, err := r.endArea(in, 4)
	if err != nil {
		return nil, err
	}
	return r.revolve(in, pos, prof, end)
}

func (r *Reader) revolve(in ifcread.Inst, pos geom.Affine, prof, end *profile) (*Solid, error) {
	t, err := r.turning(in, pos)
	if err != nil {
		return nil, err
	}
	start := prof.areas[0].outer[0]
	origin := originFor(pos.Apply(geom.Vec{X: start.X, Y: start.Y}))
	pos.T, t.o = pos.T.Sub(origin), t.o.Sub(origin)
	if rod := t.rod(prof, pos); rod != nil && prof == end {
		s := newRod(in.Name(), rod)
		s.Profile = prof.Name
		s.origin = s.origin.Add(origin)
		return s, nil
	}
	if t.crosses(prof, pos) || t.crosses(end, pos) {
		return nil, bad(in, "its profile lies on both sides of its axis")
	}
	var sum *geom.Mesh
	for i := range prof.areas {
		a, b := prof.areas[i], prof.areas[i]
		if prof != end {
			if a, b, err = matched(prof, end); err != nil {
				return nil, bad(in, "%v", err)
			}
		}
		m, err := t.mesh(a, b, pos)
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

// rod is the revolution of a circle that stays clear of the axis, else nil.
func (t turning) rod(prof *profile, pos geom.Affine) *geom.Rod {
	if !(prof.Radius > 0) {
		return nil
	}
	c := pos.Apply(geom.Vec{X: prof.Center.X, Y: prof.Center.Y})
	foot := t.o.Add(t.axis.Mul(c.Sub(t.o).Dot(t.axis)))
	x := c.Sub(foot)
	if x.Norm() < prof.Radius {
		return nil
	}
	p := piece{kind: conic, c: foot, x: x, y: t.axis.Cross(x), t1: t.angle}
	rod := &geom.Rod{Path: path{pieces: []piece{p}}.rodPoints(), Radius: prof.Radius}
	if prof.Wall > 0 {
		rod.Inner = prof.Radius - prof.Wall
	}
	return rod
}

// mesh is the body swept by an area that changes from a to b.
func (t turning) mesh(a, b region, pos geom.Affine) (*geom.Mesh, error) {
	n := arcSteps(max(t.far(a.ring(pos)), t.far(b.ring(pos))), t.angle, bodyTol)
	var rings [][]geom.Vec
	for k := 0; k <= n; k++ {
		if t.full && k == n {
			break
		}
		part := float64(k) / float64(n)
		rings = append(rings, between(a, b, part).ring(t.at(part).Mul(pos)))
	}
	return ringed(rings, a.sizes(), t.full).mesh()
}
