package shape

import (
	"fmt"
	"math"
	"strings"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// maxDepth bounds how deep curves, profiles, solids and maps may nest.
const maxDepth = 64

var (
	tPolyline       = ifcread.TypeOf("IfcPolyline")
	tIndexedCurve   = ifcread.TypeOf("IfcIndexedPolyCurve")
	tPointList2D    = ifcread.TypeOf("IfcCartesianPointList2D")
	tPointList3D    = ifcread.TypeOf("IfcCartesianPointList3D")
	tTrimmedCurve   = ifcread.TypeOf("IfcTrimmedCurve")
	tComposite      = ifcread.TypeOf("IfcCompositeCurve")
	tComposite2D    = ifcread.TypeOf("Ifc2DCompositeCurve")
	tCompositeOn    = ifcread.TypeOf("IfcCompositeCurveOnSurface")
	tBoundary       = ifcread.TypeOf("IfcBoundaryCurve")
	tOuterBoundary  = ifcread.TypeOf("IfcOuterBoundaryCurve")
	tSegment        = ifcread.TypeOf("IfcCompositeCurveSegment")
	tRepSegment     = ifcread.TypeOf("IfcReparametrisedCompositeCurveSegment")
	tLine           = ifcread.TypeOf("IfcLine")
	tVector         = ifcread.TypeOf("IfcVector")
	tCircle         = ifcread.TypeOf("IfcCircle")
	tEllipse        = ifcread.TypeOf("IfcEllipse")
	tSpline         = ifcread.TypeOf("IfcBSplineCurve")
	tSplineKnots    = ifcread.TypeOf("IfcBSplineCurveWithKnots")
	tRationalSpline = ifcread.TypeOf("IfcRationalBSplineCurveWithKnots")
	tBezier         = ifcread.TypeOf("IfcBezierCurve")
	tRationalBezier = ifcread.TypeOf("IfcRationalBezierCurve")
	tOffset2D       = ifcread.TypeOf("IfcOffsetCurve2D")
	tOffset3D       = ifcread.TypeOf("IfcOffsetCurve3D")
	tSurfaceCurve   = ifcread.TypeOf("IfcSurfaceCurve")
	tSeamCurve      = ifcread.TypeOf("IfcSeamCurve")
	tIntersection   = ifcread.TypeOf("IfcIntersectionCurve")
)

// curve evaluates a curve, 2D curves in the plane z = 0.
func (r *Reader) curve(in ifcread.Inst, depth int) (path, error) {
	c, err := r.anyCurve(in, depth)
	if err == nil && depth == 0 && !r.spend(c.weight()) {
		err = bad(in, tooMuch)
	}
	return c, err
}

func (r *Reader) anyCurve(in ifcread.Inst, depth int) (path, error) {
	if depth > maxDepth {
		return path{}, bad(in, "its curves nest too deep or lead back to themselves")
	}
	switch in.Type() {
	case tPolyline:
		return r.polyline(in)
	case tIndexedCurve:
		return r.indexedCurve(in)
	case tTrimmedCurve:
		return r.trimmedCurve(in, depth)
	case tGradient:
		return r.gradientCurve(in, depth)
	case tComposite, tComposite2D, tCompositeOn, tBoundary, tOuterBoundary:
		return r.compositeCurve(in, depth)
	case tLine:
		return r.line(in)
	case tCircle, tEllipse:
		return r.conic(in)
	case tSplineKnots, tRationalSpline, tSpline, tBezier, tRationalBezier:
		return r.spline(in)
	case tOffset2D, tOffset3D:
		return r.offsetCurve(in, depth)
	case tSurfaceCurve, tSeamCurve, tIntersection:
		c, err := need(in, 0, "curve in space")
		if err != nil {
			return path{}, err
		}
		return r.curve(c, depth+1)
	}
	return path{}, bad(in, "curves of this type are not read")
}

func (r *Reader) polyline(in ifcread.Inst) (path, error) {
	pts, err := r.pointsOf(in, in.Arg(0), nil)
	if err != nil {
		return path{}, err
	}
	return chain(in, pts)
}

// pointsOf appends the points of a list of IfcCartesianPoint.
func (r *Reader) pointsOf(in ifcread.Inst, list ifcread.Value, dst []geom.Vec) ([]geom.Vec, error) {
	for v := range list.All() {
		q, ok := v.Inst()
		if !ok {
			return nil, bad(in, "one of its points is not in the file")
		}
		p, err := r.point(q)
		if err != nil {
			return nil, err
		}
		dst = append(dst, p)
	}
	return dst, nil
}

// chain is the path of straight pieces through the points. A repeated point
// keeps its parameter, so that trims still count as the file means them.
func chain(in ifcread.Inst, pts []geom.Vec) (path, error) {
	if len(pts) < 2 {
		return path{}, bad(in, "it has fewer than two points")
	}
	c := path{pieces: make([]piece, 0, len(pts)-1)}
	for i := 1; i < len(pts); i++ {
		c.pieces = append(c.pieces, line(pts[i-1], pts[i]))
	}
	return c, nil
}

// pointList is the coordinates of an IfcCartesianPointList, in mm.
func (r *Reader) pointList(in ifcread.Inst) ([]geom.Vec, error) {
	if in.Type() != tPointList3D && in.Type() != tPointList2D {
		return nil, bad(in, "point lists of this type are not read")
	}
	var pts []geom.Vec
	for v := range in.Arg(0).All() {
		p, ok := r.coordinates(v)
		if !ok {
			return nil, bad(in, "the coordinates of point %d are not numbers that a map may have", len(pts)+1)
		}
		pts = append(pts, p)
	}
	return pts, nil
}

// indexedCurve reads an IfcIndexedPolyCurve. Each straight stretch and each arc
// counts one parameter.
func (r *Reader) indexedCurve(in ifcread.Inst) (path, error) {
	list, err := need(in, 0, "point list")
	if err != nil {
		return path{}, err
	}
	pts, err := r.pointList(list)
	if err != nil {
		return path{}, err
	}
	if in.Arg(1).IsNull() {
		return chain(in, pts)
	}
	var c path
	var buf [16]int64
	for v := range in.Arg(1).All() {
		kind, list, _ := v.Typed()
		idx := list.Ints(buf[:0])
		for _, k := range idx {
			if k < 1 || k > int64(len(pts)) {
				return path{}, bad(in, "point %d is not in its list of %d", k, len(pts))
			}
		}
		if len(idx) == 3 && isArcIndex(kind) {
			if p, ok := arc3(pts[idx[0]-1], pts[idx[1]-1], pts[idx[2]-1]); ok {
				c.pieces = append(c.pieces, p)
				continue
			}
		}
		for i := 1; i < len(idx); i++ {
			c.pieces = append(c.pieces, line(pts[idx[i-1]-1], pts[idx[i]-1]))
		}
	}
	if len(c.pieces) == 0 {
		return path{}, bad(in, "it has no segments")
	}
	return c, nil
}

// line is an IfcLine: parameter times magnitude is the distance from its point.
func (r *Reader) line(in ifcread.Inst) (path, error) {
	o, err := r.pointAt(in, 0, "point")
	if err != nil {
		return path{}, err
	}
	v, err := need(in, 1, "direction")
	if err != nil {
		return path{}, err
	}
	d := direction(v.Arg(0))
	m := numberOr(v.Arg(1), 1) * r.units.Length
	if v.Type() != tVector || d == (geom.Vec{}) || !(m != 0 && math.Abs(m) < maxLength) {
		return path{}, bad(in, "its direction has no length")
	}
	p := piece{kind: straight, c: o, x: d.Mul(m), t1: 1, params: 1}
	return path{pieces: []piece{p}, basis: true}, nil
}

// conic is an IfcCircle or IfcEllipse, once around. Its parameter is the angle
// in the file's unit; for an ellipse the eccentric angle.
func (r *Reader) conic(in ifcread.Inst) (path, error) {
	at, err := r.axes(in.Arg(0))
	if err != nil {
		return path{}, err
	}
	a, err := r.positive(in, 1, "radius")
	if err != nil {
		return path{}, err
	}
	b := a
	if in.Type() == tEllipse {
		if b, err = r.positive(in, 2, "second radius"); err != nil {
			return path{}, err
		}
	}
	p := piece{kind: conic, c: at.T, x: at.X.Mul(a), y: at.Y.Mul(b), t1: 2 * math.Pi, params: 2 * math.Pi / r.units.Angle}
	return path{pieces: []piece{p}, basis: true}, nil
}

// compositeCurve joins segments. Each counts the parameters of its curve, a
// reparametrised one what it states (ISO 10303-42, composite_curve).
func (r *Reader) compositeCurve(in ifcread.Inst, depth int) (path, error) {
	var c path
	for v := range in.Arg(0).All() {
		s, ok := v.Inst()
		if !ok {
			return path{}, bad(in, "one of its segments is not in the file")
		}
		p, err := r.segment(s, depth)
		if err != nil {
			return path{}, err
		}
		if c, err = c.joined(p); err != nil {
			return path{}, bad(s, "%v", err)
		}
		if len(c.pieces) > maxPieces {
			return path{}, bad(in, "it has more than %d pieces", maxPieces)
		}
	}
	if len(c.pieces) == 0 {
		return path{}, bad(in, "it has no segments")
	}
	return c, nil
}

// segment reads one segment of a composite curve.
func (r *Reader) segment(s ifcread.Inst, depth int) (path, error) {
	switch s.Type() {
	case tSegment, tRepSegment:
	case tCurveSegment:
		return r.curveSegment(s)
	default:
		return path{}, bad(s, "segments of this type are not read")
	}
	parent, err := need(s, 2, "parent curve")
	if err != nil {
		return path{}, err
	}
	p, err := r.curve(parent, depth+1)
	if err != nil {
		return path{}, err
	}
	if p.basis && p.pieces[0].kind == straight {
		return path{}, bad(s, "its parent curve is a line without ends")
	}
	if !truth(s.Arg(1), true) {
		p = p.reversed()
	}
	if s.Type() == tRepSegment {
		p.scaleParams(number(s.Arg(3)))
	}
	return p, nil
}

// maxGap is the distance in mm between two segments of a curve that is bridged
// by a straight piece; a wider one is an error of the file.
const maxGap = 1

// joined is c continued by p. A segment that fits only the other way round is
// turned, and so is c while it is a single segment: senses are often wrong.
func (c path) joined(p path) (path, error) {
	if len(c.pieces) == 0 {
		return path{pieces: p.pieces}, nil
	}
	gap := func(a, b path) float64 { return a.end().Dist(b.start()) }
	if d := gap(c, p); d > joinTol {
		switch turned := p.reversed(); {
		case gap(c, turned) <= joinTol:
			p = turned
		case !c.long && gap(c.reversed(), p) <= joinTol:
			c = c.reversed()
		case !c.long && gap(c.reversed(), turned) <= joinTol:
			c, p = c.reversed(), turned
		case d > maxGap:
			return c, fmt.Errorf("it starts %.4g mm from the end of the segment before it", d)
		}
	}
	c.pieces, c.long = append(c.pieces, p.pieces...), true
	return c, nil
}

// maxPieces bounds the pieces of one curve, so that curves that use each other
// again and again cannot fill the memory.
const maxPieces = 100_000

func (c path) scaleParams(total float64) {
	if f := total / c.params(); f > 0 && !math.IsInf(f, 0) {
		for i := range c.pieces {
			c.pieces[i].params *= f
		}
	}
}

func isArcIndex(kind string) bool { return strings.EqualFold(kind, "IfcArcIndex") }
