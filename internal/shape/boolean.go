package shape

import (
	"errors"
	"math"
	"strings"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tBoolean     = ifcread.TypeOf("IfcBooleanResult")
	tClipping    = ifcread.TypeOf("IfcBooleanClippingResult")
	tHalfSpace   = ifcread.TypeOf("IfcHalfSpaceSolid")
	tBoxedHalf   = ifcread.TypeOf("IfcBoxedHalfSpace")
	tBoundedHalf = ifcread.TypeOf("IfcPolygonalBoundedHalfSpace")
	tPlane       = ifcread.TypeOf("IfcPlane")
	tBoundPlane  = ifcread.TypeOf("IfcCurveBoundedPlane")
)

// maxOperations bounds one chain of Boolean operations.
const maxOperations = 100_000

// step is one operation on the body so far; exactly one of half and solid is
// set.
type step struct {
	op    string
	half  *halfSpace
	solid *Solid
	in    ifcread.Inst
}

// boolean reads an IfcBooleanResult. A chain along first operands, the usual
// form of many cuts, is walked without recursion. The body is computed when it
// is asked for.
func (r *Reader) boolean(in ifcread.Inst, depth int) (*Solid, error) {
	var steps []step
	first := in
	for first.Type() == tBoolean || first.Type() == tClipping {
		if len(steps) >= maxOperations {
			return nil, bad(in, "its first operands lead back to themselves")
		}
		op := first.Arg(0).Enum()
		steps = append(steps, step{op: strings.ToUpper(op), in: first})
		next, err := need(first, 1, "first operand")
		if err != nil {
			return nil, err
		}
		first = next
	}
	base, err := r.solid(first, depth+1)
	if err != nil {
		return nil, err
	}
	// innermost operation first
	for i, j := 0, len(steps)-1; i < j; i, j = i+1, j-1 {
		steps[i], steps[j] = steps[j], steps[i]
	}
	for i := range steps {
		if err := r.operand(&steps[i], depth); err != nil {
			return nil, err
		}
	}
	s := &Solid{Kind: Mesh, Base: base, Profile: base.Profile, ItemType: in.Name(), origin: base.origin, box: geom.EmptyBox}
	s.build = func() (*geom.Mesh, error) {
		m, err := apply(base, steps)
		if err != nil {
			err = errors.New(reason(in, err))
		}
		return m, err
	}
	return s, nil
}

// operand reads the second operand of a step.
func (r *Reader) operand(s *step, depth int) error {
	switch s.op {
	case "DIFFERENCE", "INTERSECTION", "UNION":
	default:
		return bad(s.in, "%q is no Boolean operator", s.op)
	}
	q, err := need(s.in, 2, "second operand")
	if err != nil {
		return err
	}
	switch q.Type() {
	case tHalfSpace, tBoxedHalf, tBoundedHalf:
		if s.op == "UNION" {
			return bad(s.in, "a union with a half-space has no end")
		}
		s.half, err = r.halfSpace(q)
		return err
	}
	s.solid, err = r.solid(q, depth+1)
	return err
}

// apply computes a chain of operations in the local coordinates of base.
// Subtractions that follow each other are done in one go.
func apply(base *Solid, steps []step) (*geom.Mesh, error) {
	m, err := base.Mesh()
	if err != nil {
		return nil, err
	}
	var cutters []*geom.Mesh
	for i := range steps {
		s := &steps[i]
		tool, err := s.tool(m.Box(), base.origin)
		if err != nil {
			return nil, err
		}
		if s.op == "DIFFERENCE" && !(s.half != nil && s.half.bounds == nil) {
			if tool != nil {
				cutters = append(cutters, tool)
			}
			if i+1 < len(steps) {
				continue
			}
		}
		if len(cutters) > 0 {
			m = geom.Subtract(m, cutters...)
			cutters = cutters[:0]
		}
		if m = s.apply(m, tool, base.origin); len(m.Tris) == 0 {
			return nil, bad(s.in, "%v", errEmpty)
		}
	}
	return closed(m)
}

// tool is the body of the second operand of a step where it meets the box, nil
// where it does not and for a half-space without bounds.
func (s *step) tool(b geom.Box, origin geom.Vec) (*geom.Mesh, error) {
	if s.half != nil {
		if s.half.bounds == nil {
			return nil, nil
		}
		return s.half.tool(b, origin)
	}
	m, err := s.solid.Mesh()
	if err != nil {
		return nil, err
	}
	if d := s.solid.origin.Sub(origin); d != (geom.Vec{}) {
		m = m.Transform(geom.Identity.Shift(d))
	}
	if s.op != "UNION" && !b.Grow(geom.Tol).Overlaps(m.Box()) {
		return nil, nil
	}
	return m, nil
}

// apply does what is left of a step when subtractions of bodies are done.
func (s *step) apply(m, tool *geom.Mesh, origin geom.Vec) *geom.Mesh {
	switch {
	case s.half != nil && s.half.bounds == nil:
		// the material lies against the normal: a difference keeps the other side
		n := s.half.plane.Z
		if s.op == "DIFFERENCE" {
			n = n.Neg()
		}
		return m.Clip(geom.PlaneAt(s.half.plane.T.Sub(origin), n))
	case s.op == "UNION":
		return geom.Union(m, tool)
	case s.op == "INTERSECTION" && tool == nil:
		return &geom.Mesh{}
	case s.op == "INTERSECTION":
		return geom.Intersect(m, tool)
	}
	return m
}

// halfSpace is everything on one side of a plane, in item coordinates, maybe
// only within a prism. The material lies against the normal z of frame.
type halfSpace struct {
	plane  geom.Affine // z points away from the material
	bounds []geom.Vec2 // nil when unbounded
	frame  geom.Affine // of the bounds
}

// halfSpace reads a half-space. With AgreementFlag true the material lies on
// the side that the normal of the surface points away from.
func (r *Reader) halfSpace(in ifcread.Inst) (*halfSpace, error) {
	surf, err := need(in, 0, "base surface")
	if err != nil {
		return nil, err
	}
	if surf.Type() == tBoundPlane {
		if surf, err = need(surf, 0, "plane"); err != nil {
			return nil, err
		}
	}
	if surf.Type() != tPlane {
		return nil, bad(surf, "a half-space is only read when it is bounded by a plane")
	}
	h := &halfSpace{}
	if h.plane, err = r.axes(surf.Arg(0)); err != nil {
		return nil, err
	}
	if !truth(in.Arg(1), true) {
		h.plane.Z = h.plane.Z.Neg()
	}
	if in.Type() != tBoundedHalf {
		return h, nil
	}
	if h.frame, err = r.axes(in.Arg(2)); err != nil {
		return nil, err
	}
	q, err := need(in, 3, "boundary")
	if err != nil {
		return nil, err
	}
	c, err := r.curve(q, 0)
	if err != nil {
		return nil, err
	}
	h.bounds = ccw(c.loop())
	if len(h.bounds) < 3 || !(area(h.bounds) > 1e-6) {
		return nil, bad(in, "its boundary encloses no area")
	}
	return h, nil
}

// tool is the part of a bounded half-space that reaches over the whole of a
// box; nil when it stays clear of the box. The boundary is taken to reach both
// ways along its z axis, as the files in use mean it.
func (h *halfSpace) tool(b geom.Box, origin geom.Vec) (*geom.Mesh, error) {
	f := h.frame
	f.T = f.T.Sub(origin)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range b.Corners() {
		z := f.Local(c).Z
		lo, hi = min(lo, z), max(hi, z)
	}
	margin := 1 + (hi-lo)/10
	p := &Prism{Outer: h.bounds, Frame: f, Dir: f.Z, Depth: hi - lo + 2*margin}
	p.Frame.T = f.Apply(geom.Vec{Z: lo - margin})
	if !p.Box().Overlaps(b.Grow(geom.Tol)) {
		return nil, nil
	}
	m, err := prismMesh(p)
	if err != nil {
		return nil, err
	}
	if m = m.Clip(geom.PlaneAt(h.plane.T.Sub(origin), h.plane.Z)); len(m.Tris) == 0 {
		return nil, nil
	}
	return m, nil
}
