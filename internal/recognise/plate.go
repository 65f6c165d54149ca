package recognise

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// flatShare is the share of a plate's surface that its two large faces have.
const flatShare = 0.5

// flatArea is the area of the largest flat face of the candidate, mm2.
func (c *candidate) flatArea() float64 {
	most := 0.0
	for i := range c.pieces {
		if m := c.pieces[i].body.Mesh; m != nil {
			most = max(most, m.LargestFace())
		}
	}
	return most
}

// channel takes the mouth of a cast-in channel as its outline: the rectangle
// around the side that looks out of the concrete.
func (d *draft) channel(pieces []piece) {
	var of *geom.Mesh
	for i := range pieces {
		if m := pieces[i].body.Mesh; m != nil && (of == nil || len(m.Tris) > len(of.Tris)) {
			of = m
		}
	}
	if of == nil || d.in == nil || !d.in.ready() {
		return
	}
	f, box := d.longFrame(of)
	c := f.Apply(box.Center())
	for _, s := range []struct {
		n    geom.Vec
		half float64
	}{{f.Z, box.Size().Z / 2}, {f.Y, box.Size().Y / 2}} {
		for _, n := range []geom.Vec{s.n, s.n.Neg()} {
			const beyond = 3
			out, back := c.Add(n.Mul(s.half+beyond)), c.Sub(n.Mul(s.half+beyond))
			if !d.in.host.Body.Contains(out) && d.in.host.Body.Contains(back) {
				d.item.Outline, d.item.Thick = rectangle(of, n, f.X), 2*s.half
				return
			}
		}
	}
}

// longFrame is longFrame of a body of the item, kept for the next question.
func (d *draft) longFrame(m *geom.Mesh) (geom.Affine, geom.Box) {
	if d.long.of != m {
		d.long.of = m
		d.long.frame, d.long.box = longFrame(m)
	}
	return d.long.frame, d.long.box
}

// longFrame is a frame along the longest edge of a mesh, its z axis at a right
// angle to the largest face along that edge, and the mesh's box in it.
func longFrame(m *geom.Mesh) (geom.Affine, geom.Box) {
	long, normal, area := geom.V(1, 0, 0), geom.Vec{}, 0.0
	edges, faces := m.EdgesAndFaces()
	for _, e := range edges {
		if v := e[1].Sub(e[0]); v.Norm() > long.Norm()+1e-6 {
			long = v
		}
	}
	for _, p := range faces {
		if math.Abs(p.Plane.N.Dot(long.Unit())) < 0.01 && p.Area > area+1e-6 {
			normal, area = p.Plane.N, p.Area
		}
	}
	if area == 0 {
		normal = long.Perp()
	}
	f := geom.FrameZX(m.Box().Center(), normal, long)
	box := geom.EmptyBox
	for _, v := range m.Verts {
		box = box.Add(f.Local(v))
	}
	return f, box
}

// rectangle is the rectangle around a mesh seen from n, at its outermost plane,
// with sides along the direction long; counter-clockwise seen from outside.
func rectangle(m *geom.Mesh, n, long geom.Vec) []geom.Vec {
	f := geom.FrameZX(m.Box().Center(), n, long)
	box := geom.EmptyBox
	for _, v := range m.Verts {
		box = box.Add(f.Local(v))
	}
	at := func(x, y float64) geom.Vec { return f.Apply(geom.V(x, y, box.Max.Z)) }
	return []geom.Vec{at(box.Min.X, box.Min.Y), at(box.Max.X, box.Min.Y), at(box.Max.X, box.Max.Y), at(box.Min.X, box.Max.Y)}
}

// plate finds the outer face of a cast-in plate: of its two large faces the one
// that looks out of the concrete.
func (d *draft) plate(pieces []piece) {
	it := d.item
	var big *geom.PlanarFace
	var of *geom.Mesh
	var beside []geom.PlanarFace // the faces of its mesh
	for i := range pieces {
		m := pieces[i].body.Mesh
		if m == nil {
			continue
		}
		faces := m.PlanarFaces()
		for k := range faces {
			if big == nil || faces[k].Area > big.Area+1 {
				big, of, beside = &faces[k], m, faces
			}
		}
	}
	if big == nil || len(big.Outline) == 0 {
		return
	}
	if 2*big.Area < flatShare*of.Area() {
		it.Kind = model.Other
		it.Evidence = append(it.Evidence, "no flat plate: a bent or welded part")
		return
	}
	other, thick := opposite(beside, big)
	outer := big
	if other != nil && d.in != nil && d.in.ready() && d.buried(big) && !d.buried(other) {
		outer = other
	}
	it.Outline, it.Thick = outer.Outline[0], thick
}

// enterPlate finds the face of the host that the plate's outer face lies in.
func (d *draft) enterPlate(solidOf func([]*model.Void) *geom.Solid) {
	it := d.item
	if len(it.Outline) < 3 {
		return
	}
	n := geom.NewellNormal(it.Outline).Unit()
	probe := &model.Anchor{Item: it, Open: centre(it.Outline), Dir: n.Neg(), Length: it.Thick + 50, Deepest: it.Thick + 50}
	enter(probe, it.Host, true, d.fills, d.in.jackets.has, solidOf)
	solid := it.Host.Solid
	if probe.Entry != nil {
		solid = probe.Entry.Solid
	}
	// The face around the outline counts: a slot for the plate may be cut.
	e := measure.EntryBeside(probe, solid, around(it.Outline, n), true)
	if e == nil {
		e = probe.Entry
	}
	const reach = 100 // mm; a face further off is not the one that the plate is set in
	if e != nil && math.Abs(e.Dist) <= it.Thick+reach {
		it.PlateIn = e
	}
}

// around are points 2 mm outside the corners and sides of an outline with the
// normal n.
func around(outline []geom.Vec, n geom.Vec) []geom.Vec {
	const off = 2
	var out []geom.Vec
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if side := q.Sub(p); side.Norm() > 1 {
			out = append(out, p.Lerp(q, 0.5).Add(side.Cross(n).Unit().Mul(off)), p.Lerp(q, 0.1).Add(side.Cross(n).Unit().Mul(off)))
		}
	}
	return out
}

// buried reports whether there is concrete in front of the face.
func (d *draft) buried(f *geom.PlanarFace) bool {
	const before = 1 // mm
	return d.in.host.Body.Contains(centre(f.Outline[0]).Add(f.Plane.N.Mul(before)))
}

// opposite is the largest of the faces that looks the other way, and its distance.
func opposite(faces []geom.PlanarFace, f *geom.PlanarFace) (*geom.PlanarFace, float64) {
	var best *geom.PlanarFace
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
	if cos > -0.94 {
		return false // a tie that runs off at an angle
	}
	gap := it.Outline[0].Sub(a.Open).Dot(n) / -cos // back along the axis to the outer face
	if gap < -geom.Tol || gap > it.Thick+5 {
		return math.Abs(gap) < 5
	}
	a.Open = a.Open.Sub(a.Dir.Mul(gap))
	a.Length, a.Bearing, a.Deepest = a.Length+gap, a.Bearing+gap, a.Deepest+gap
	return true
}
