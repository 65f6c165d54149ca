package recognise

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// plate finds the outer face of a cast-in plate: of its two large faces the one
// that looks out of the concrete.
func (d *draft) plate(pieces []piece) {
	it := d.item
	var big *geom.PlanarFace
	var of *geom.Mesh
	for i := range pieces {
		m := pieces[i].body.Mesh
		if m == nil {
			continue
		}
		faces := m.PlanarFaces()
		for k := range faces {
			if big == nil || faces[k].Area > big.Area+1 {
				big, of = &faces[k], m
			}
		}
	}
	if big == nil || len(big.Outline) == 0 {
		return
	}
	other, thick := opposite(of, big)
	outer := big
	if other != nil && d.in != nil && d.in.ready() && d.buried(big) && !d.buried(other) {
		outer = other
	}
	it.Outline, it.Thick = outer.Outline[0], thick
}

// enterPlate finds the face of the host that the plate's outer face lies in.
func (d *draft) enterPlate(solidOf func([]*model.Void) *geom.Mesh) {
	it := d.item
	if len(it.Outline) < 3 {
		return
	}
	n := geom.NewellNormal(it.Outline).Unit()
	probe := &model.Anchor{Item: it, Open: centre(it.Outline), Dir: n.Neg(), Length: it.Thick + 50, Deepest: it.Thick + 50}
	enter(probe, it.Host, d.fills, d.in.jackets.has, solidOf)
	it.PlateIn = probe.Entry
}

// buried reports whether there is concrete in front of the face.
func (d *draft) buried(f *geom.PlanarFace) bool {
	const before = 1 // mm
	return d.in.host.Body.Contains(centre(f.Outline[0]).Add(f.Plane.N.Mul(before)))
}

// opposite is the largest face that looks the other way, and its distance.
func opposite(m *geom.Mesh, f *geom.PlanarFace) (*geom.PlanarFace, float64) {
	var best *geom.PlanarFace
	faces := m.PlanarFaces()
	for i := range faces {
		o := &faces[i]
		if o.Plane.N.Dot(f.Plane.N) < -0.999 && len(o.Outline) > 0 && (best == nil || o.Area > best.Area) {
			best = o
		}
	}
	if best == nil {
		return nil, 0
	}
	return best, math.Abs(f.Plane.Dist(best.Outline[0][0]))
}

func centre(loop []geom.Vec) geom.Vec { return geom.BoxOf(loop...).Center() }

// standsOnPlate reports whether an anchor found in a plate's parts stands on the
// plate at a right angle, and lets it begin at the plate's outer face: the
// embedment of a stud runs from there when the plate is flush.
func (d *draft) standsOnPlate(a *model.Anchor) bool {
	it := d.item
	if len(it.Outline) < 3 {
		return a.Length > 3*a.Diameter
	}
	n := geom.NewellNormal(it.Outline).Unit()
	cos := a.Dir.Dot(n)
	if cos > 0 {
		return false
	}
	if cos > -0.94 {
		return false
	}
	gap := it.Outline[0].Sub(a.Open).Dot(n) / -cos // back along the axis to the outer face
	if gap < -geom.Tol || gap > it.Thick+5 {
		return math.Abs(gap) < 5
	}
	a.Open = a.Open.Sub(a.Dir.Mul(gap))
	a.Length, a.Bearing, a.Deepest = a.Length+gap, a.Bearing+gap, a.Deepest+gap
	return true
}
