package geom

import "math"

// Nearest is the point of the surface nearest to p, its distance and its
// triangle. A mesh without triangles gives +Inf and -1.
func (m *Mesh) Nearest(p Vec) (q Vec, dist float64, tri int) {
	q, dist, tri = p, math.Inf(1), -1
	bt := m.Tree().tree
	if len(bt.nodes) == 0 {
		return q, dist, tri
	}
	var walk func(n int32)
	walk = func(n int32) {
		node := &bt.nodes[n]
		if node.count > 0 {
			for _, i := range bt.items[node.first : node.first+node.count] {
				a, b, c := m.Tri(int(i))
				s := nearestOnTriangle(p, a, b, c)
				if d := s.Dist(p); d < dist || d == dist && int(i) < tri {
					q, dist, tri = s, d, int(i)
				}
			}
			return
		}
		l := n + 1
		r := bt.nodes[l].skip
		dl, dr := bt.nodes[l].box.dist(p), bt.nodes[r].box.dist(p)
		if dr < dl {
			l, r, dl, dr = r, l, dr, dl
		}
		if dl <= dist {
			walk(l)
		}
		if dr <= dist {
			walk(r)
		}
	}
	walk(0)
	return q, dist, tri
}

// dist is the distance of p from the box, 0 inside.
func (b Box) dist(p Vec) float64 {
	return Vec{
		max(b.Min.X-p.X, 0, p.X-b.Max.X),
		max(b.Min.Y-p.Y, 0, p.Y-b.Max.Y),
		max(b.Min.Z-p.Z, 0, p.Z-b.Max.Z),
	}.Norm()
}
