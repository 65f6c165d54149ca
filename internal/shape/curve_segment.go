package shape

import (
	"math"
	"slices"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tCurveSegment = ifcread.TypeOf("IfcCurveSegment")
	tGradient     = ifcread.TypeOf("IfcGradientCurve")
	tClothoid     = ifcread.TypeOf("IfcClothoid")
)

// curveSegment reads an IfcCurveSegment: the part of a line, a circle or a
// clothoid from a place on it over a length, moved so that it begins in Placement
// and runs along its x axis. A negative length runs the parent curve backwards.
func (r *Reader) curveSegment(in ifcread.Inst) (path, error) {
	at, err := need(in, 1, "placement")
	if err != nil {
		return path{}, err
	}
	f, err := r.linearAxes(at)
	if err != nil {
		return path{}, err
	}
	parent, err := need(in, 4, "parent curve")
	if err != nil {
		return path{}, err
	}
	from, length := measured(in.Arg(2)), measured(in.Arg(3))
	s, l := from.at*r.units.Length, length.at*r.units.Length
	if !from.length || !length.length || !(math.Abs(s) < maxLength && math.Abs(l) < maxLength) {
		return path{}, bad(in, "its start and its length are not given as lengths")
	}
	if math.Abs(l) <= minEdge {
		return path{}, bad(in, "it has no length")
	}
	bend, err := r.curvature(parent)
	if err != nil {
		return path{}, err
	}
	return bend.run(f, s, l), nil
}

// bend is the curvature of a curve in its plane, 1/mm to the left, at a distance
// s from its origin: at + rise s.
type bend struct{ at, rise float64 }

// curvature reads the parent curves of alignments. A clothoid of constant A has
// the curvature s/A2, to the right for a negative constant.
func (r *Reader) curvature(in ifcread.Inst) (bend, error) {
	switch in.Type() {
	case tLine:
		return bend{}, nil
	case tCircle:
		radius, err := r.positive(in, 1, "radius")
		return bend{at: 1 / radius}, err
	case tClothoid:
		a := number(in.Arg(1)) * r.units.Length
		if !(math.Abs(a) > minEdge && math.Abs(a) < maxLength) {
			return bend{}, bad(in, "its constant is no length")
		}
		return bend{rise: 1 / (a * math.Abs(a))}, nil
	}
	return bend{}, bad(in, "segments along a curve of this type are not read")
}

// run is the stretch of length l from s on, laid along the x axis of f.
func (b bend) run(f geom.Affine, s, l float64) path {
	if l < 0 { // the other way round left and right change places
		b = bend{at: -b.at, rise: b.rise}
		s, l = -s, -l
	}
	k := b.at + b.rise*s
	switch {
	case b == bend{}:
		return path{pieces: []piece{line(f.T, f.Apply(geom.Vec{X: l}))}}
	case b.rise == 0:
		r := 1 / k // to the left when positive
		x, y := f.Turn(geom.Vec{Y: -r}), f.Turn(geom.Vec{X: math.Abs(r)})
		return path{pieces: []piece{{kind: conic, c: f.T.Sub(x), x: x, y: y, t1: l / math.Abs(r), params: 1}}}
	}
	return b.spiral(f, s, l)
}

// spiral is a stretch of changing curvature as chords. The chords are short
// enough to lie within pathTol, and each leads where Simpson's rule takes it.
func (b bend) spiral(f geom.Affine, s, l float64) path {
	k := math.Max(math.Abs(b.at+b.rise*s), math.Abs(b.at+b.rise*(s+l)))
	n := int(min(max(math.Ceil(l*math.Sqrt(k/(8*pathTol))), 8), maxPieces))
	turn := func(u float64) float64 { return (b.at+b.rise*s)*u + b.rise*u*u/2 }
	step := l / float64(n)
	at := geom.Vec{}
	var c path
	for i := range n {
		u := step * float64(i)
		to := at
		for _, w := range [...]struct{ part, weight float64 }{{0, 1}, {0.5, 4}, {1, 1}} {
			sn, cs := math.Sincos(turn(u + step*w.part))
			to = to.Add(geom.Vec{X: cs, Y: sn}.Mul(step * w.weight / 6))
		}
		p := line(f.Apply(at), f.Apply(to))
		p.params = 1 / float64(n)
		c.pieces = append(c.pieces, p)
		at = to
	}
	return c
}

// gradientCurve reads an IfcGradientCurve: a curve in plan with heights over it,
// both made of segments; those of the heights lie in a plane of distance and
// height.
func (r *Reader) gradientCurve(in ifcread.Inst, depth int) (path, error) {
	q, err := need(in, 2, "base curve")
	if err != nil {
		return path{}, err
	}
	plan, err := r.curve(q, depth+1)
	if err != nil {
		return path{}, err
	}
	heights, err := r.compositeCurve(in, depth)
	if err != nil {
		return path{}, err
	}
	profile := heights.points(pathTol)
	length := plan.length()
	var pts []geom.Vec
	for _, s := range stopsOf(plan, profile, length) {
		p := plan.frameAt(s).T
		p.Z += heightAt(profile, s)
		pts = append(pts, p)
	}
	return chain(in, dropRepeats(pts, 0))
}

// stopsOf are the distances along a plan at which it or its heights bend, within
// the plan and in rising order.
func stopsOf(plan path, heights []geom.Vec, length float64) []float64 {
	var out []float64
	at := 0.0
	pts := plan.points(pathTol)
	for i, p := range pts {
		if i > 0 {
			at += p.Dist(pts[i-1])
		}
		out = append(out, at)
	}
	for i := range out { // chords are a little shorter than their arcs
		out[i] *= length / max(at, minEdge)
	}
	for _, h := range heights {
		if h.X > 0 && h.X < length {
			out = append(out, h.X)
		}
	}
	slices.Sort(out)
	return out
}

// heightAt is the height at a distance, level beyond the ends.
func heightAt(heights []geom.Vec, s float64) float64 {
	for i := 1; i < len(heights); i++ {
		if a, b := heights[i-1], heights[i]; s <= b.X {
			if s <= a.X || b.X <= a.X {
				return a.Y
			}
			return a.Y + (b.Y-a.Y)*(s-a.X)/(b.X-a.X)
		}
	}
	return heights[len(heights)-1].Y
}
