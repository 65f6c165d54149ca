package rod

import (
	"math"

	"embedcheck/internal/geom"
)

// slab is a piece of steel around an axis, between two distances along it, with
// one section all through or a steadily widening one.
type slab struct {
	from, to    float64
	least, most float64 // distance of the outline from the axis
	flat        float64 // width across flats
	outline     Outline
	tapered     bool
	offset      float64 // of the middle of the section from the axis
}

const (
	maxSlabs = 64
	thinSlab = 0.05 // mm: less is noise between vertices of one level
)

// walk collects what surrounds the axis from distance z on, up to zmax, until a
// section does not go round the axis any more or until stop says so. With seek
// it first looks for the place where one does.
func (s *shell) walk(x axis, z, zmax float64, seek bool, stop func(*slab) bool) []slab {
	var out []slab
	for range maxSlabs {
		if z > zmax || s.budget < 0 {
			break
		}
		sec, lp := s.goodCut(x, z+0.02, z+0.07, z+0.2)
		to, more := s.nextLevel(sec, lp)
		if lp < 0 && !(seek && more && len(out) == 0) {
			break
		}
		to += sec.off - x.a.Dot(x.d)
		if lp >= 0 && to-z > thinSlab {
			if sec, lp = s.goodCut(x, z+0.5*(to-z), z+0.4*(to-z), z+0.7*(to-z)); lp < 0 {
				break
			}
			sl := sec.slab(lp, x)
			sl.from, sl.to = z, to
			if stop(&sl) {
				break
			}
			out = append(out, sl)
		} else if lp >= 0 && len(out) > 0 {
			out[len(out)-1].to = to
		}
		z = to
	}
	return out
}

// goodCut cuts square to the axis at the first of some places where a loop runs
// round it: rounded coordinates can tear the surface.
func (s *shell) goodCut(x axis, places ...float64) (sec *section, lp int32) {
	for _, z := range places {
		sec = s.cut(x.at(z), x.d)
		if lp = sec.outermost(x.at(z)); lp >= 0 {
			break
		}
	}
	return sec, lp
}

// nextLevel is the height above the cut of the nearest vertex of the loop's
// triangles, or of the nearest vertex at all when lp is negative.
func (s *shell) nextLevel(sec *section, lp int32) (float64, bool) {
	near := math.Inf(1)
	if lp < 0 {
		for _, v := range s.ids {
			if h := s.height[v]; h > 0 {
				near = math.Min(near, h)
			}
		}
		return near, !math.IsInf(near, 1)
	}
	for _, sg := range sec.segsOf(lp) {
		for _, v := range s.tris[sg.tri] {
			if h := s.height[v]; h >= 0 {
				near = math.Min(near, h)
			}
		}
	}
	return near, true
}

// outermost is the longest loop that runs round o with steel inside, -1 when
// there is none.
func (sec *section) outermost(o geom.Vec) int32 {
	best := int32(-1)
	for i := range sec.loops {
		if (best < 0 || sec.loops[i].length > sec.loops[best].length) && sec.around(int32(i), o) {
			best = int32(i)
		}
	}
	return best
}

// slab measures the loop of a section square to the axis.
func (sec *section) slab(lp int32, x axis) slab {
	e1 := x.d.Perp()
	e2 := x.d.Cross(e1)
	flatten := func(p geom.Vec) geom.Vec2 {
		p = p.Sub(x.a)
		return geom.Vec2{X: p.Dot(e1), Y: p.Dot(e2)}
	}
	middle := flatten(sec.loops[lp].mean)
	out := slab{offset: middle.Norm(), least: math.Inf(1)}
	var buf [128]geom.Vec2
	pts := buf[:0]
	inner, slope, length := math.Inf(1), 0.0, 0.0
	segs := sec.segsOf(lp)
	for i := range segs {
		sg := &segs[i]
		p, q := flatten(sg.p), flatten(sg.q)
		pts = append(pts, p, q)
		out.most = math.Max(out.most, math.Max(p.Norm(), q.Norm()))
		out.least = math.Min(out.least, offSegment2(geom.Vec2{}, p, q))
		inner = math.Min(inner, offSegment2(middle, p, q))
		slope += math.Abs(sec.shell.normal[sg.tri].Dot(x.d)) * p.Dist(q)
		length += p.Dist(q)
	}
	out.tapered = slope > 0.03*length
	out.outline = outlineOf(corners(pts), middle)
	out.flat = 2 * inner
	if out.outline == RoundHead {
		out.flat = 2 * out.most
	}
	return out
}

func offSegment2(o, p, q geom.Vec2) float64 {
	d := q.Sub(p)
	l2 := d.Dot(d)
	if l2 == 0 {
		return o.Dist(p)
	}
	t := math.Min(1, math.Max(0, o.Sub(p).Dot(d)/l2))
	return o.Dist(p.Add(d.Mul(t)))
}

// outlineOf names the outline with the given corners.
func outlineOf(pts []geom.Vec2, middle geom.Vec2) Outline {
	least, most := math.Inf(1), 0.0
	for _, p := range pts {
		l := p.Dist(middle)
		least, most = math.Min(least, l), math.Max(most, l)
	}
	if least < 0.97*most {
		return Other
	}
	var g ring
	g.r = most
	g.spread(pts, middle)
	switch n := len(pts); {
	case n == 4 && g.gap < 95*math.Pi/180:
		return SquareHead
	case n == 6 && g.gap < 65*math.Pi/180:
		return HexHead
	case n >= 7 && g.gap < 65*math.Pi/180:
		return RoundHead
	}
	return Other
}
