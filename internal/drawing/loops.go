package drawing

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

func sortSpans(s []span) {
	slices.SortFunc(s, func(a, b span) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
}

// region is a set of loops; what an odd number of them surround is inside.
type region [][]geom.Vec2

// bounds is the rectangle around the region.
func (g region) bounds() rect {
	r := emptyRect
	for _, l := range g {
		for _, p := range l {
			r = r.add(p)
		}
	}
	return r
}

// has reports whether a point lies inside.
func (g region) has(p geom.Vec2) bool {
	in := false
	for _, l := range g {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
				in = !in
			}
		}
	}
	return in
}

// inside are the parts of a line inside the region.
func (g region) inside(s seg) []span {
	d := s.b.Sub(s.a)
	n := d.Dot(d)
	if n == 0 {
		return nil
	}
	var cuts []float64
	for _, l := range g {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			p, q := d.Cross(a.Sub(s.a)), d.Cross(b.Sub(s.a))
			if (p > 0) == (q > 0) {
				continue
			}
			x := lerp(a, b, p/(p-q))
			cuts = append(cuts, x.Sub(s.a).Dot(d)/n)
		}
	}
	slices.Sort(cuts)
	var out []span
	for i := 0; i+1 < len(cuts); i += 2 {
		if from, to := max(cuts[i], 0), min(cuts[i+1], 1); from < to {
			out = append(out, span{from, to})
		}
	}
	return out
}

// straight drops the points of a loop that lie on a line with their neighbours.
func straight(l []geom.Vec2) []geom.Vec2 {
	var out []geom.Vec2
	for i, p := range l {
		if len(out) > 0 && out[len(out)-1].Dist(p) < 1e-6 {
			continue
		}
		a := l[(i+len(l)-1)%len(l)]
		b := l[(i+1)%len(l)]
		if d := b.Sub(a).Norm(); d > 1e-6 && abs(b.Sub(a).Cross(p.Sub(a)))/d < 1e-4 && p.Sub(a).Dot(b.Sub(p)) > 0 {
			continue
		}
		out = append(out, p)
	}
	return out
}

// offPlane is by how much, in mm, sections are taken beside the plane that is
// meant: corners of the body that lie in it then count on one side.
const offPlane = 0.0137

// sectionLoops is what a plane at a right angle to the frame's z cuts out of a
// solid, in the frame's x and y; z is the height of the plane in the frame.
func sectionLoops(s *geom.Solid, f geom.Affine, z float64) region {
	if s == nil {
		return nil
	}
	cut := geom.PlaneAt(f.Apply(geom.V(0, 0, z+offPlane)), f.Z)
	g := cut.Frame()
	var out region
	for _, poly := range s.Section(cut) {
		for _, loop := range append([][]geom.Vec2{poly.Outer}, poly.Holes...) {
			flat := make([]geom.Vec2, 0, len(loop))
			for _, p := range loop {
				q := f.Local(g.Apply(geom.V(p.X, p.Y, 0)))
				flat = append(flat, geom.Vec2{X: q.X, Y: q.Y})
			}
			if flat = straight(flat); len(flat) > 2 && finiteLoop(flat) {
				out = append(out, flat)
			}
		}
	}
	return out
}

func finiteLoop(l []geom.Vec2) bool {
	for _, p := range l {
		if !finite(p) || math.Abs(p.X) > 1e9 || math.Abs(p.Y) > 1e9 {
			return false
		}
	}
	return true
}

// drawn is the region on paper.
func (g region) on(v *view) region {
	out := make(region, len(g))
	for i, l := range g {
		out[i] = make([]geom.Vec2, len(l))
		for k, p := range l {
			out[i][k] = v.paper(p)
		}
	}
	return out
}

// area is the area of the region, with the loops as the section gives them: outer
// ones and holes run opposite ways.
func (g region) area() float64 {
	var sum float64
	for _, l := range g {
		for i, p := range l {
			sum += p.Cross(l[(i+1)%len(l)]) / 2
		}
	}
	return abs(sum)
}
