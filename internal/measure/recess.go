package measure

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// ShareIn is the share of an item's volume that lies in a solid, 0 to 1, asked at
// points spread evenly through its bodies; false when it has no volume.
func ShareIn(it *model.Item, s *geom.Solid) (float64, bool) {
	var in, all float64
	for i := range it.Bodies {
		if r := it.Bodies[i].Rod; r != nil {
			throughRod(r, func(p geom.Vec, weight float64) {
				all += weight
				if s.Contains(p) {
					in += weight
				}
			})
		} else if m := it.Bodies[i].Mesh; m != nil {
			both, whole := throughMesh(m, s)
			in, all = in+both, all+whole
		}
	}
	if all == 0 {
		return 0, false
	}
	return in / all, true
}

// throughMesh is how much of a closed body lies in a solid, and how much there is
// of it: the points of a grid, with the volume that each stands for, asked line by
// line.
func throughMesh(m *geom.Mesh, s *geom.Solid) (in, all float64) {
	const n = 10
	b := m.Box()
	d := b.Size().Mul(1.0 / n)
	for i := range n * n {
		o := b.Min.Add(geom.V(d.X*(float64(i%n)+0.5), d.Y*(float64(i/n)+0.5), 0))
		body := m.Inside(o, geom.V(0, 0, 1))
		if len(body) == 0 {
			continue
		}
		concrete := geom.Intervals(s.Inside(o, geom.V(0, 0, 1)))
		for k := range n {
			z := d.Z * (float64(k) + 0.5)
			if !within(body, z) {
				continue
			}
			all += d.X * d.Y * d.Z
			if within(concrete, z) {
				in += d.X * d.Y * d.Z
			}
		}
	}
	return in, all
}

func within(list []geom.Interval, t float64) bool {
	return slices.ContainsFunc(list, func(i geom.Interval) bool { return i.From < t && t < i.To })
}

// throughRod visits points within a rod: rings of equal area on cuts across it.
func throughRod(r *geom.Rod, see func(p geom.Vec, weight float64)) {
	const cuts, rings, around = 12, 4, 8
	for i := 1; i < len(r.Path); i++ {
		a, b := r.Path[i-1], r.Path[i]
		d := b.Sub(a)
		if d.Norm() == 0 {
			continue
		}
		f := geom.FrameZX(a, d, d.Perp())
		weight := math.Pi * r.Radius * r.Radius * d.Norm() / (cuts * rings * around)
		for k := range cuts * rings * around {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k%around) + 0.5) / around)
			q := r.Radius * math.Sqrt((float64(k/around%rings)+0.5)/rings)
			see(f.Apply(geom.V(q*cos, q*sin, d.Norm()*(float64(k/around/rings)+0.5)/cuts)), weight)
		}
	}
}

// Recessed reports whether the concrete is cut away around the open end of an
// anchor that has an Entry: just below the face, beside the widest part of its
// own steel.
func Recessed(a *model.Anchor, s *geom.Solid) bool {
	const lines, below, beside = 8, 2, 4 // mm
	n := a.Entry.Normal
	f := geom.FrameZX(a.Entry.Point.Sub(n.Mul(below)), n, n.Perp())
	r := max(a.Diameter, a.HeadSize, 2*a.Entry.Clear)/2 + beside
	open := 0
	for i := range lines {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / lines)
		if !s.Contains(f.Apply(geom.V(r*cos, r*sin, 0))) {
			open++
		}
	}
	return open > lines/2
}

// Buried is how deep the open end of an anchor lies inside the concrete, along the
// axis; false when it does not.
func Buried(a *model.Anchor, s *geom.Solid) (float64, bool) {
	for _, in := range s.Inside(a.Open, a.Dir.Neg()) {
		if in.From.T <= geom.Tol && in.To.T > geom.Tol {
			return in.To.T, true
		}
	}
	return 0, false
}
