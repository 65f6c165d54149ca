package shape

import (
	"math"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

// sizes reads the lengths and slopes of one profile, by attribute name: the
// positions differ between the schemas. The first wrong one is kept.
type sizes struct {
	r   *Reader
	in  ifcread.Inst
	err error
}

// need is a length that must be greater than 0.
func (s *sizes) need(name string) float64 {
	x := number(s.in.Attr(name)) * s.r.units.Length
	if !(x > 0 && x < maxLength) && s.err == nil {
		s.err = bad(s.in, "its %s is no positive length", name)
	}
	return x
}

// or is a length that may be unset; a negative one is an error.
func (s *sizes) or(name string, def float64) float64 {
	v := s.in.Attr(name)
	if v.IsNull() {
		return def
	}
	x := number(v) * s.r.units.Length
	if !(x >= 0 && x < maxLength) && s.err == nil {
		s.err = bad(s.in, "its %s is no length", name)
	}
	return x
}

// slope is an angle that may be unset.
func (s *sizes) slope(name string) float64 {
	a := numberOr(s.in.Attr(name), 0) * s.r.units.Angle
	if !(math.Abs(a) < math.Pi/3) && s.err == nil {
		s.err = bad(s.in, "its %s is no slope", name)
	}
	return a
}

// parametrised evaluates a profile given by sizes, without its Position.
func (r *Reader) parametrised(in ifcread.Inst) (*profile, error) {
	s := &sizes{r: r, in: in}
	switch in.Type() {
	case tCircleArea, tCircleHollow, tEllipseArea:
		return s.roundProfile()
	case tRectangle, tRounded, tRectHollow:
		return s.rectangle()
	}
	cs, ok := s.corners()
	if !ok {
		return nil, bad(in, "profiles of this type are not read")
	}
	if s.err != nil {
		return nil, s.err
	}
	outer, err := rounded(cs)
	if err != nil {
		return nil, bad(in, "%v", err)
	}
	return &profile{areas: []region{{outer: ccw(outer)}}}, nil
}

// corners are those of the profiles that are one polygon with roundings.
func (s *sizes) corners() ([]corner, bool) {
	switch s.in.Type() {
	case tTrapezium: // the origin is the middle of the bottom line's length (from memory)
		b, t, h := s.need("BottomXDim")/2, s.need("TopXDim"), s.need("YDim")/2
		x := numberOr(s.in.Attr("TopXOffset"), 0)*s.r.units.Length - b
		return []corner{{-b, -h, 0}, {b, -h, 0}, {x + t, h, 0}, {x, h, 0}}, true
	case tISection:
		f := flange{s.need("OverallWidth"), s.need("FlangeThickness"), s.or("FlangeEdgeRadius", 0), s.slope("FlangeSlope")}
		r := s.or("FilletRadius", 0)
		return iSection{s.need("OverallDepth"), s.need("WebThickness"), f, f, r, r}.outline(), true
	case tAsymmetricI:
		return s.asymmetric(), true
	case tLSection:
		d := s.need("Depth")
		return lOutline(d, s.or("Width", d), s.need("Thickness"), s.or("FilletRadius", 0), s.or("EdgeRadius", 0), s.slope("LegSlope")), true
	case tUSection:
		return uOutline(s.need("Depth"), s.need("FlangeWidth"), s.need("WebThickness"), s.need("FlangeThickness"),
			s.or("FilletRadius", 0), s.or("EdgeRadius", 0), s.slope("FlangeSlope")), true
	case tCSection:
		return cOutline(s.need("Depth"), s.need("Width"), s.need("WallThickness"), s.need("Girth"), s.or("InternalFilletRadius", 0)), true
	case tZSection:
		return zOutline(s.need("Depth"), s.need("FlangeWidth"), s.need("WebThickness"), s.need("FlangeThickness"),
			s.or("FilletRadius", 0), s.or("EdgeRadius", 0)), true
	case tTSection:
		return tSection{
			depth: s.need("Depth"), width: s.need("FlangeWidth"), web: s.need("WebThickness"), thick: s.need("FlangeThickness"),
			fillet: s.or("FilletRadius", 0), flangeEdge: s.or("FlangeEdgeRadius", 0), webEdge: s.or("WebEdgeRadius", 0),
			webSlope: s.slope("WebSlope"), flangeSlope: s.slope("FlangeSlope"),
		}.outline(), true
	}
	return nil, false
}

// asymmetric is an I with two different flanges. IFC2X3 names the lower one as
// that of the symmetric I.
func (s *sizes) asymmetric() []corner {
	width, thick, fillet := "BottomFlangeWidth", "BottomFlangeThickness", "BottomFlangeFilletRadius"
	if s.in.Attr(width).IsNull() {
		width, thick, fillet = "OverallWidth", "FlangeThickness", "FilletRadius"
	}
	bottom := flange{s.need(width), s.need(thick), s.or("BottomFlangeEdgeRadius", 0), s.slope("BottomFlangeSlope")}
	top := flange{s.need("TopFlangeWidth"), s.or("TopFlangeThickness", bottom.thick), s.or("TopFlangeEdgeRadius", 0), s.slope("TopFlangeSlope")}
	r := s.or(fillet, 0)
	return iSection{s.need("OverallDepth"), s.need("WebThickness"), bottom, top, r, s.or("TopFlangeFilletRadius", r)}.outline()
}

func (s *sizes) rectangle() (*profile, error) {
	x, y := s.need("XDim"), s.need("YDim")
	p := &profile{Section: Section{X: x, Y: y}}
	outerRadius, innerRadius := s.or("RoundingRadius", 0), 0.0
	if s.in.Type() == tRectHollow {
		p.Wall = s.need("WallThickness")
		outerRadius, innerRadius = s.or("OuterFilletRadius", 0), s.or("InnerFilletRadius", 0)
	}
	if s.err != nil {
		return nil, s.err
	}
	outer, err := rounded(rectOutline(x, y, outerRadius))
	if err != nil {
		return nil, bad(s.in, "%v", err)
	}
	a := region{outer: ccw(outer)}
	if p.Wall > 0 {
		if 2*p.Wall >= min(x, y) {
			return nil, bad(s.in, "its wall of %.4g mm leaves no hollow in %.4g x %.4g mm", p.Wall, x, y)
		}
		inner, err := rounded(rectOutline(x-2*p.Wall, y-2*p.Wall, innerRadius))
		if err != nil {
			return nil, bad(s.in, "%v", err)
		}
		a.holes = [][]geom.Vec2{cw(inner)}
	}
	p.areas = []region{a}
	return p, nil
}

func (s *sizes) roundProfile() (*profile, error) {
	if s.in.Type() == tEllipseArea {
		a, b := s.need("SemiAxis1"), s.need("SemiAxis2")
		p := &profile{areas: []region{{outer: ellipse(a, b)}}}
		if a == b {
			p.Radius = a
		}
		return p, s.err
	}
	r := s.need("Radius")
	p := &profile{Section: Section{Radius: r}}
	if s.in.Type() == tCircleHollow {
		p.Wall = s.need("WallThickness")
		if p.Wall >= r && s.err == nil {
			return nil, bad(s.in, "its wall of %.4g mm leaves no hollow in a radius of %.4g mm", p.Wall, r)
		}
	}
	if s.err != nil {
		return nil, s.err
	}
	a := region{outer: ellipse(r, r)}
	if p.Wall > 0 {
		a.holes = [][]geom.Vec2{cw(ellipse(r-p.Wall, r-p.Wall))}
	}
	p.areas = []region{a}
	return p, nil
}

// ellipse is a polygon inside an ellipse around the origin.
func ellipse(a, b float64) []geom.Vec2 {
	if !(a > 0 && b > 0) {
		return nil
	}
	n := sides(max(a, b), bodyTol)
	pts := make([]geom.Vec2, n)
	for i := range pts {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = geom.Vec2{X: a * c, Y: b * s}
	}
	return pts
}
