package geom

import "math"

// RodRod is the clear distance between two rods, negative when they overlap, and
// the point of each where it is taken.
func RodRod(a, b Rod) (gap float64, pa, pb Vec) {
	gap = math.Inf(1)
	for i := 1; i < len(a.Path); i++ {
		for k := 1; k < len(b.Path); k++ {
			p, q := nearestSegments(a.Path[i-1], a.Path[i], b.Path[k-1], b.Path[k])
			if g := p.Dist(q) - a.Radius - b.Radius; g < gap {
				d := q.Sub(p).Unit()
				gap, pa, pb = g, p.Add(d.Mul(a.Radius)), q.Sub(d.Mul(b.Radius))
			}
		}
	}
	return gap, pa, pb
}

// RodMesh is the clear distance between a rod and a body, negative when they
// overlap, and the point of each where it is taken.
func RodMesh(r Rod, m *Mesh) (gap float64, pr, pm Vec) {
	gap = math.Inf(1)
	for i := 1; i < len(r.Path); i++ {
		for t := range m.Tris {
			p, q := segmentTriangle(r.Path[i-1], r.Path[i], m, t)
			if g := p.Dist(q) - r.Radius; g < gap {
				gap, pr, pm = g, p.Add(q.Sub(p).Unit().Mul(r.Radius)), q
			}
		}
	}
	if len(r.Path) > 0 && m.Contains(r.Path[0]) && gap > -r.Radius {
		_, d, _ := m.Nearest(r.Path[0])
		gap = -d - r.Radius
	}
	return gap, pr, pm
}

func segmentTriangle(a, b Vec, m *Mesh, tri int) (p, q Vec) {
	x, y, z := m.Tri(tri)
	n := y.Sub(x).Cross(z.Sub(x))
	p, q = a, nearestOnTriangle(a, x, y, z)
	try := func(u, v Vec) {
		if u.Sub(v).Norm2() < p.Sub(q).Norm2() {
			p, q = u, v
		}
	}
	try(b, nearestOnTriangle(b, x, y, z))
	try(nearestSegments(a, b, x, y))
	try(nearestSegments(a, b, y, z))
	try(nearestSegments(a, b, z, x))
	if da, db := a.Sub(x).Dot(n), b.Sub(x).Dot(n); da*db < 0 {
		c := a.Lerp(b, da/(da-db))
		try(c, nearestOnTriangle(c, x, y, z))
	}
	return p, q
}

// MeshMesh is the clear distance between two bodies, negative when they overlap,
// and the point of each where it is taken.
func MeshMesh(a, b *Mesh) (gap float64, pa, pb Vec) {
	gap = math.Inf(1)
	for i := range a.Tris {
		x, y, z := a.Tri(i)
		for t := range b.Tris {
			for _, e := range [3][2]Vec{{x, y}, {y, z}, {z, x}} {
				p, q := segmentTriangle(e[0], e[1], b, t)
				if d := p.Dist(q); d < gap {
					gap, pa, pb = d, p, q
				}
			}
			u, v, w := b.Tri(t)
			for _, e := range [3][2]Vec{{u, v}, {v, w}, {w, u}} {
				p, q := segmentTriangle(e[0], e[1], a, i)
				if d := p.Dist(q); d < gap {
					gap, pa, pb = d, q, p
				}
			}
		}
	}
	return gap, pa, pb
}

// RodRodWithin is RodRod that may stop when the gap is surely more than limit;
// ok is false then, and the other results mean nothing.
func RodRodWithin(a, b Rod, limit float64) (gap float64, pa, pb Vec, ok bool) {
	gap, pa, pb = RodRod(a, b)
	return gap, pa, pb, gap <= limit
}

// RodMeshWithin is RodMesh with a limit, as in RodRodWithin.
func RodMeshWithin(r Rod, m *Mesh, limit float64) (gap float64, pr, pm Vec, ok bool) {
	gap, pr, pm = RodMesh(r, m)
	return gap, pr, pm, gap <= limit
}

// MeshMeshWithin is MeshMesh with a limit, as in RodRodWithin.
func MeshMeshWithin(a, b *Mesh, limit float64) (gap float64, pa, pb Vec, ok bool) {
	gap, pa, pb = MeshMesh(a, b)
	return gap, pa, pb, gap <= limit
}
