package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tGridCrossing = ifcread.TypeOf("IfcVirtualGridIntersection")
	tGridAxis     = ifcread.TypeOf("IfcGridAxis")
	tGrid         = ifcread.TypeOf("IfcGrid")
)

// gridPlacement is the frame of an IfcGridPlacement: at a crossing of two grid
// axes, x along the first of them or towards a second crossing. parent is the
// placement of the grid when the placement itself names none.
func (r *Reader) gridPlacement(in ifcread.Inst) (m geom.Affine, parent ifcread.Inst, err error) {
	q, err := need(in, locationIndex(in), "location")
	if err != nil {
		return geom.Identity, parent, err
	}
	at, x, axis, err := r.crossing(q)
	if err != nil {
		return geom.Identity, parent, err
	}
	if d, ok := in.Attr("PlacementRefDirection").Inst(); ok {
		switch d.Type() {
		case tDirection:
			x = direction(in.Attr("PlacementRefDirection"))
		case tGridCrossing:
			to, _, _, err := r.crossing(d)
			if err != nil {
				return geom.Identity, parent, err
			}
			x = to.Sub(at)
		}
	}
	x.Z = 0
	parent, _ = in.Attr("PlacementRelTo").Inst()
	if !parent.Valid() {
		parent = r.gridOf(axis)
	}
	return geom.FrameZX(at, geom.Vec{Z: 1}, x), parent, nil
}

// locationIndex is where the location of a grid placement stands: IFC4X3 put the
// parent in front of it.
func locationIndex(in ifcread.Inst) int {
	for i := range 3 {
		if o, ok := in.Arg(i).Inst(); ok && o.Type() == tGridCrossing {
			return i
		}
	}
	return 0
}

// crossing is a point of an IfcVirtualGridIntersection, in the coordinates of
// its grid, the direction of the first axis there, and that axis.
func (r *Reader) crossing(in ifcread.Inst) (at, along geom.Vec, axis ifcread.Inst, err error) {
	if in.Type() != tGridCrossing {
		return at, along, axis, bad(in, "a crossing of grid axes is wanted here")
	}
	off := in.Arg(1).Floats(nil)
	var lines [2][]geom.Vec
	n := 0
	for v := range in.Arg(0).All() {
		a, ok := v.Inst()
		if !ok || a.Type() != tGridAxis || n == 2 {
			return at, along, axis, bad(in, "it does not name two grid axes")
		}
		d := 0.0
		if n < len(off) {
			d = off[n] * r.units.Length
		}
		if lines[n], err = r.gridAxis(a, d); err != nil {
			return at, along, axis, err
		}
		if n == 0 {
			axis = a
		}
		n++
	}
	if n < 2 {
		return at, along, axis, bad(in, "it does not name two grid axes")
	}
	at, along, ok := crossLines(lines[0], lines[1])
	if !ok {
		return at, along, axis, bad(in, "its grid axes do not cross")
	}
	if len(off) > 2 {
		at.Z += off[2] * r.units.Length
	}
	if !onEarth(at) {
		return at, along, axis, bad(in, "its offsets are not numbers that a map may have")
	}
	return at, along, axis, nil
}

// gridAxis is the points of an axis, moved to its left by an offset.
func (r *Reader) gridAxis(in ifcread.Inst, offset float64) ([]geom.Vec, error) {
	q, err := need(in, 1, "curve")
	if err != nil {
		return nil, err
	}
	c, err := r.curve(q, 0)
	if err != nil {
		return nil, err
	}
	if !truth(in.Arg(2), true) {
		c = c.reversed()
	}
	pts := c.points(pathTol)
	if len(pts) < 2 || math.IsNaN(offset) {
		return nil, bad(in, "its curve has no length")
	}
	return offsetPoints(pts, geom.Vec{Z: 1}, offset), nil
}

// crossLines is where two chains cross in plan; where they do not, their
// outermost pieces are prolonged.
func crossLines(a, b []geom.Vec) (at, along geom.Vec, ok bool) {
	best := math.Inf(1)
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			u, v, w := a[i].Sub(a[i-1]), b[j].Sub(b[j-1]), b[j-1].Sub(a[i-1])
			det := u.X*v.Y - u.Y*v.X
			if !(math.Abs(det) > 1e-9*u.Norm()*v.Norm()) {
				continue
			}
			s := (w.X*v.Y - w.Y*v.X) / det
			t := (w.X*u.Y - w.Y*u.X) / det
			// how far the crossing lies outside the two pieces
			out := u.Norm()*max(0, -s, s-1) + v.Norm()*max(0, -t, t-1)
			if out < best {
				best, at, along, ok = out, a[i-1].Add(u.Mul(s)), u.Unit(), true
			}
		}
	}
	return at, along, ok
}

// gridOf is the placement of the grid that has the axis.
func (r *Reader) gridOf(axis ifcread.Inst) ifcread.Inst {
	for _, g := range r.file.Of(tGrid) {
		for _, name := range [...]string{"UAxes", "VAxes", "WAxes"} {
			for v := range g.Attr(name).All() {
				if a, ok := v.Inst(); ok && a == axis {
					p, _ := g.Attr("ObjectPlacement").Inst()
					return p
				}
			}
		}
	}
	return ifcread.Inst{}
}
