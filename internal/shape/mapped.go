package shape

import (
	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var tMap = ifcread.TypeOf("IfcRepresentationMap")

// mapped adds the parts of an IfcMappedItem to s.
func (r *Reader) mapped(s *Shape, item ifcread.Inst, above *trail) {
	rep, at, err := r.mapOf(item)
	if err != nil {
		s.unread(item, err)
		return
	}
	inner := r.body(rep, above)
	if inner.refused != "" {
		s.refused = inner.refused
		return
	}
	if !r.spend(perPart * len(inner.Parts)) {
		s.refused = tooMuch
		return
	}
	for _, p := range inner.Parts {
		s.Parts = append(s.Parts, Part{Solid: p.Solid, At: at.Mul(p.At), Item: p.Item})
	}
	s.Unread = append(s.Unread, inner.Unread...)
}

// mapOf is the mapped representation of an item and the map from its
// coordinates: the inverse of the mapping origin, then the target.
func (r *Reader) mapOf(item ifcread.Inst) (rep ifcread.Inst, at geom.Affine, err error) {
	source, err := need(item, 0, "mapping source")
	if err != nil {
		return rep, at, err
	}
	if source.Type() != tMap {
		return rep, at, bad(source, "mapping sources of this type are not read")
	}
	origin, err := r.axes(source.Arg(0))
	if err != nil {
		return rep, at, err
	}
	if rep, err = need(source, 1, "mapped representation"); err != nil {
		return rep, at, err
	}
	if rep.Type() != tRepresentation {
		return rep, at, bad(rep, "representations of this type are not read")
	}
	target, err := need(item, 1, "mapping target")
	if err != nil {
		return rep, at, err
	}
	if at, err = r.operator(target); err != nil {
		return rep, at, err
	}
	if origin != geom.Identity {
		inv, ok := origin.Inverse()
		if !ok {
			return rep, at, bad(source, "its mapping origin flattens the shape")
		}
		at = at.Mul(inv)
	}
	return rep, at, nil
}
