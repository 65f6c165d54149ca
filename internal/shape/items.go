package shape

import (
	"embedcheck/ifcread"
)

var (
	tExtruded       = ifcread.TypeOf("IfcExtrudedAreaSolid")
	tExtrudedTaper  = ifcread.TypeOf("IfcExtrudedAreaSolidTapered")
	tRevolved       = ifcread.TypeOf("IfcRevolvedAreaSolid")
	tRevolvedTaper  = ifcread.TypeOf("IfcRevolvedAreaSolidTapered")
	tDisk           = ifcread.TypeOf("IfcSweptDiskSolid")
	tDiskPolygonal  = ifcread.TypeOf("IfcSweptDiskSolidPolygonal")
	tFixedReference = ifcread.TypeOf("IfcFixedReferenceSweptAreaSolid")
	tSurfaceSwept   = ifcread.TypeOf("IfcSurfaceCurveSweptAreaSolid")
	tSectioned      = ifcread.TypeOf("IfcSectionedSolidHorizontal")
	tSpine          = ifcread.TypeOf("IfcSectionedSpine")
	tBoundingBox    = ifcread.TypeOf("IfcBoundingBox")
	tMappedItem     = ifcread.TypeOf("IfcMappedItem")
)

// solid evaluates a solid once and keeps the result, also when it is an error.
func (r *Reader) solid(in ifcread.Inst, depth int) (*Solid, error) {
	if depth > maxDepth {
		return nil, bad(in, "its solids nest too deep or lead back to themselves")
	}
	if s, ok := r.solids.get(in.ID()); ok {
		return s.solid, s.err
	}
	s, err := r.evaluate(in, depth)
	if depth > 0 && err != nil {
		return nil, err // maybe only too deep from where it was asked for
	}
	kept := r.solids.put(in.ID(), solidResult{s, err})
	return kept.solid, kept.err
}

// evaluate turns one solid instance into a solid.
func (r *Reader) evaluate(in ifcread.Inst, depth int) (*Solid, error) {
	switch in.Type() {
	case tExtruded:
		return r.extruded(in)
	case tExtrudedTaper:
		return r.extrudedTapered(in)
	case tRevolved:
		return r.revolved(in)
	case tRevolvedTaper:
		return r.revolvedTapered(in)
	case tDisk, tDiskPolygonal:
		return r.sweptDisk(in)
	case tFixedReference, tSurfaceSwept:
		return r.sweptAlong(in)
	case tSectioned, tSpine:
		return r.sectioned(in)
	case tFacetedBrep, tFacetedVoids, tAdvancedBrep, tAdvancedVoids, tShellModel, tFaceModel:
		return r.brep(in)
	case tTriangulated, tIrregularNet, tPolygonal:
		return r.faceSet(in)
	case tBoolean, tClipping:
		return r.boolean(in, depth)
	case tCsgSolid:
		root, err := need(in, 0, "root")
		if err != nil {
			return nil, err
		}
		return r.solid(root, depth+1)
	case tBlock, tPyramid, tCone, tCylinder, tSphere:
		return r.primitive(in)
	case tBoundingBox:
		return nil, bad(in, "only a bounding box")
	case tHalfSpace, tBoxedHalf, tBoundedHalf:
		return nil, bad(in, "a half-space alone is no solid")
	}
	return nil, bad(in, "items of this type are not read as solids")
}
