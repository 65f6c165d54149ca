package recognise

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// holes are the loops that two sides of a plate have in common.
func holes(upper, under *geom.PlanarFace) []model.Hole {
	var out []model.Hole
	var below []geom.Vec
	for _, l := range under.Outline[1:] {
		below = append(below, holeOf(l).At)
	}
	for _, l := range upper.Outline[1:] {
		h := holeOf(l)
		if slices.ContainsFunc(below, func(p geom.Vec) bool {
			d := p.Sub(h.At)
			return d.Sub(upper.Plane.N.Mul(d.Dot(upper.Plane.N))).Norm() < h.Diameter/4
		}) {
			out = append(out, h)
		}
	}
	return out
}

// holeOf reads a loop as a hole: round when its corners lie on a circle.
func holeOf(loop []geom.Vec) model.Hole {
	n := geom.NewellNormal(loop)
	f := geom.FrameZX(loop[0], n, n.Perp())
	var area float64
	var mid geom.Vec
	for i := 2; i < len(loop); i++ {
		t := loop[i-1].Sub(loop[0]).Cross(loop[i].Sub(loop[0])).Dot(f.Z)
		area += t
		mid = mid.Add(loop[0].Add(loop[i-1]).Add(loop[i]).Mul(t / 3))
	}
	h := model.Hole{Loop: loop, At: loop[0]}
	if area == 0 {
		return h
	}
	h.At = mid.Mul(1 / area)
	near, far := math.Inf(1), 0.0
	for _, v := range loop {
		d := v.Dist(h.At)
		near, far = min(near, d), max(far, d)
	}
	const leastCorners, uneven = 6, 0.98
	if h.Round = len(loop) >= leastCorners && near > uneven*far; h.Round {
		h.Diameter = near + far
		return h
	}
	h.Diameter = width(loop, f)
	return h
}

// width is the least distance between two parallel lines that a loop lies
// between, one of them along a side of it.
func width(loop []geom.Vec, f geom.Affine) float64 {
	least := math.Inf(1)
	for i, p := range loop {
		side := loop[(i+1)%len(loop)].Sub(p)
		across := f.Z.Cross(side).Unit()
		lo, hi := 0.0, 0.0
		for _, q := range loop {
			d := q.Sub(p).Dot(across)
			lo, hi = min(lo, d), max(hi, d)
		}
		least = min(least, hi-lo)
	}
	return least
}
