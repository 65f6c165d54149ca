package shape

import (
	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tLocalPlacement  = ifcread.TypeOf("IfcLocalPlacement")
	tGridPlacement   = ifcread.TypeOf("IfcGridPlacement")
	tLinearPlacement = ifcread.TypeOf("IfcLinearPlacement")
	tContext         = ifcread.TypeOf("IfcGeometricRepresentationContext")
)

// maxChain is the number of placements above an object after which a chain
// counts as endless.
const maxChain = 1000

// Placement is the map from the coordinates of an object placed by p to world
// coordinates in mm: the chain of placements up to one that is relative to
// nothing, and the project's WorldCoordinateSystem. The zero Inst, an object
// without a placement, stands in the world.
func (r *Reader) Placement(p ifcread.Inst) (geom.Affine, error) {
	if r.worldErr != nil || !p.Valid() {
		return r.world, r.worldErr
	}
	m, parent, err := r.ownPlacement(p)
	if err != nil || !parent.Valid() {
		return r.world.Mul(m), err
	}
	up, err := r.parentPlacement(parent)
	return up.Mul(m), err
}

// parentPlacement is the world placement of something that others are placed
// relative to; it is kept.
func (r *Reader) parentPlacement(p ifcread.Inst) (geom.Affine, error) {
	var chain []ifcread.Inst
	world := r.world
	for p.Valid() {
		if m, ok := r.placements.get(p.ID()); ok {
			world = m
			break
		}
		if len(chain) >= maxChain {
			return geom.Identity, bad(p, "its chain of placements leads back to itself")
		}
		chain = append(chain, p)
		_, up, err := r.ownPlacement(p)
		if err != nil {
			return geom.Identity, err
		}
		p = up
	}
	for i := len(chain) - 1; i >= 0; i-- {
		m, _, err := r.ownPlacement(chain[i])
		if err != nil {
			return geom.Identity, err
		}
		world = world.Mul(m)
		r.placements.put(chain[i].ID(), world)
	}
	return world, nil
}

// ownPlacement is one step of a chain: the map relative to parent.
func (r *Reader) ownPlacement(p ifcread.Inst) (m geom.Affine, parent ifcread.Inst, err error) {
	switch p.Type() {
	case tLocalPlacement:
		var buf [2]ifcread.Value
		a := p.Args(buf[:0])
		if len(a) > 0 && !a[0].IsNull() {
			var ok bool
			if parent, ok = a[0].Inst(); !ok {
				return geom.Identity, parent, bad(p, "the placement it is relative to is not in the file")
			}
		}
		if len(a) > 1 {
			if at, ok := a[1].Inst(); ok {
				m, err = r.axesOf(at)
				return m, parent, err
			}
		}
		_, err = need(p, 1, "relative placement")
		return geom.Identity, parent, err
	case tGridPlacement:
		return r.gridPlacement(p)
	case tLinearPlacement:
		parent, _ = p.Attr("PlacementRelTo").Inst()
		if at, ok := p.Attr("CartesianPosition").Inst(); ok {
			m, err = r.axesOf(at)
			return m, parent, err
		}
		at, err := need(p, 1, "relative placement")
		if err == nil {
			m, err = r.linearAxes(at)
		}
		return m, parent, err
	}
	return geom.Identity, parent, bad(p, "placements of this type are not read")
}

// readWorld is the WorldCoordinateSystem of the project's model context.
func (r *Reader) readWorld() (geom.Affine, error) {
	for _, p := range r.file.Of(tProject) {
		for v := range p.Attr("RepresentationContexts").All() {
			c, ok := v.Inst()
			if !ok || !c.Is(tContext) || number(c.Arg(2)) == 2 {
				continue
			}
			return r.axes(c.Arg(4))
		}
	}
	return geom.Identity, nil
}
