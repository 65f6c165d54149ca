package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// trim is one end of an IfcTrimmedCurve: a parameter, a point or both.
type trim struct {
	param    float64
	point    geom.Vec
	hasParam bool
	hasPoint bool
}

func (r *Reader) readTrim(in ifcread.Inst, n int) (trim, error) {
	var t trim
	for v := range in.Arg(n).All() {
		if q, ok := v.Inst(); ok {
			p, err := r.point(q)
			if err != nil {
				return t, err
			}
			t.point, t.hasPoint = p, true
			continue
		}
		if p := number(v); !math.IsNaN(p) && !math.IsInf(p, 0) {
			t.param, t.hasParam = p, true
		}
	}
	if !t.hasParam && !t.hasPoint {
		return t, bad(in, "one of its trims is neither a parameter nor a point in the file")
	}
	return t, nil
}

// trimmedCurve reads an IfcTrimmedCurve: the basis curve from the first trim to
// the second, against its own sense when SenseAgreement is false.
func (r *Reader) trimmedCurve(in ifcread.Inst, depth int) (path, error) {
	b, err := need(in, 0, "basis curve")
	if err != nil {
		return path{}, err
	}
	basis, err := r.curve(b, depth+1)
	if err != nil {
		return path{}, err
	}
	t1, err := r.readTrim(in, 1)
	if err != nil {
		return path{}, err
	}
	t2, err := r.readTrim(in, 2)
	if err != nil {
		return path{}, err
	}
	pref := in.Arg(4).Enum()
	sense := truth(in.Arg(3), true)
	var out path
	switch p := basis.pieces[0]; {
	case basis.basis && p.kind == conic:
		out = r.trimConic(p, t1, t2, sense, pref)
	case basis.basis:
		out = trimLine(p, t1, t2, pref)
	default:
		out = trimBounded(basis, t1, t2, sense, pref)
	}
	if len(out.pieces) == 0 {
		return path{}, bad(in, "its trims leave nothing")
	}
	return out, nil
}

// preferPoint decides between the two statements of a trim. The parameter is
// taken when the curve prefers it, unless it misses the point that stands
// beside it: then the unit of the parameter is in doubt and that of the point
// is not.
func (t trim) preferPoint(pref string, at func(param float64) geom.Vec, size float64) bool {
	if !t.hasPoint || !t.hasParam {
		return t.hasPoint
	}
	return pref == "CARTESIAN" || at(t.param).Dist(t.point) > max(1, 0.01*size)
}

// trimConic is an arc. Its parameters are cyclic; equal ends make a full turn.
func (r *Reader) trimConic(p piece, t1, t2 trim, sense bool, pref string) path {
	k := r.units.Angle
	if k == 1 && max(math.Abs(t1.param), math.Abs(t2.param)) > 2*math.Pi*1.001 {
		k = math.Pi / 180 // no angle is written so in radians: degrees are meant
	}
	size := max(p.x.Norm(), p.y.Norm())
	angle := func(t trim) float64 {
		if t.preferPoint(pref, func(u float64) geom.Vec { return p.at(u * k) }, size) {
			d := t.point.Sub(p.c)
			return math.Atan2(d.Dot(p.y)/p.y.Norm2(), d.Dot(p.x)/p.x.Norm2())
		}
		return t.param * k
	}
	a, b := angle(t1), angle(t2)
	sweep := math.Mod(b-a, 2*math.Pi)
	if sense && sweep <= 1e-9 {
		sweep += 2 * math.Pi
	}
	if !sense && sweep >= -1e-9 {
		sweep -= 2 * math.Pi
	}
	p.t0, p.t1 = a, a+sweep
	p.params = math.Abs(sweep) / r.units.Angle
	return path{pieces: []piece{p}}
}

// trimLine runs from one trim to the other; on a line that gives the sense.
func trimLine(p piece, t1, t2 trim, pref string) path {
	param := func(t trim) float64 {
		if t.preferPoint(pref, p.at, 0) {
			return t.point.Sub(p.c).Dot(p.x) / p.x.Norm2()
		}
		return t.param
	}
	p.t0, p.t1 = param(t1), param(t2)
	p.params = math.Abs(p.t1 - p.t0)
	if !(p.length() > minEdge) {
		return path{}
	}
	return path{pieces: []piece{p}}
}

// trimBounded cuts a curve that has ends of its own.
func trimBounded(c path, t1, t2 trim, sense bool, pref string) path {
	at := func(u float64) geom.Vec {
		t := c.trim(u-c.first, math.Inf(1), byParam)
		if len(t.pieces) == 0 {
			return c.end()
		}
		return t.start()
	}
	param := func(t trim) float64 {
		if t.preferPoint(pref, at, 0) {
			return c.nearest(t.point)
		}
		return t.param - c.first
	}
	a, b := param(t1), param(t2)
	if a > b {
		a, b = b, a
		if sense && c.start().Dist(c.end()) <= joinTol { // over the seam of a closed curve
			out := c.trim(b, math.Inf(1), byParam)
			out.pieces = append(out.pieces, c.trim(0, a, byParam).pieces...)
			return out
		}
	}
	out := c.trim(a, b, byParam)
	if !sense {
		out = out.reversed()
	}
	return out
}
