package drawing

import (
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// outline is a body seen along a view, on paper.
type outline struct {
	edges  []edge
	covers [][]geom.Vec2 // convex pieces
}

// edge is a line of a body, with the heights of its ends towards the reader.
type edge struct {
	a, b   geom.Vec2
	za, zb float64
}

// bodyOutline is a body of either kind.
func (v *view) bodyOutline(b *model.Body) outline {
	if b.Rod != nil {
		return v.rodOutline(*b.Rod)
	}
	return v.meshOutline(b.Mesh)
}

// rodOutline is a round member: the sides of its shadow.
func (v *view) rodOutline(r geom.Rod) outline {
	var o outline
	rad := r.Radius * v.k
	pts, zs := v.flatPath(r.Path)
	if len(pts) == 1 {
		o.ring(pts[0], rad, zs[0])
		return o
	}
	left, right := offsets(pts, rad)
	for i := 1; i < len(pts); i++ {
		o.edges = append(o.edges, edge{left[i-1], left[i], zs[i-1], zs[i]}, edge{right[i-1], right[i], zs[i-1], zs[i]})
		o.covers = append(o.covers, []geom.Vec2{left[i-1], left[i], right[i], right[i-1]})
	}
	for _, i := range []int{0, len(pts) - 1} {
		o.edges = append(o.edges, edge{left[i], right[i], zs[i], zs[i]})
	}
	n := len(r.Path)
	for _, e := range [2][2]int{{0, 1}, {n - 1, n - 2}} {
		p, q := r.Path[e[0]], r.Path[e[1]]
		if flat := v.at(p).Dist(v.at(q)); flat < 0.3*v.k*p.Dist(q) { // an end that points to the reader
			o.ring(v.at(p), rad, v.frame.Local(p).Z)
		}
	}
	return o
}

func (o *outline) ring(c geom.Vec2, r, z float64) {
	pts := circlePoints(c, r, 24)
	for i, a := range pts {
		o.edges = append(o.edges, edge{a, pts[(i+1)%len(pts)], z, z})
	}
	o.covers = append(o.covers, pts)
}

// flatPath is a path on paper without points that fall on one, and its heights.
func (v *view) flatPath(path []geom.Vec) (pts []geom.Vec2, zs []float64) {
	for _, p := range path {
		q := v.at(p)
		z := v.frame.Local(p).Z
		if n := len(pts); n > 0 && pts[n-1].Dist(q) < 0.02 {
			zs[n-1] = max(zs[n-1], z)
			continue
		}
		pts, zs = append(pts, q), append(zs, z)
	}
	return pts, zs
}

// offsets are the two sides of a path, mitred.
func offsets(pts []geom.Vec2, r float64) (left, right []geom.Vec2) {
	normal := func(i int) geom.Vec2 {
		d := pts[i+1].Sub(pts[i])
		return geom.Vec2{X: -d.Y, Y: d.X}.Mul(1 / d.Norm())
	}
	for i, p := range pts {
		var n geom.Vec2
		switch {
		case i == 0:
			n = normal(0)
		case i == len(pts)-1:
			n = normal(i - 1)
		default:
			a, b := normal(i-1), normal(i)
			n = a.Add(b)
			if l := n.Dot(n); l > 0.5 {
				n = n.Mul(2 / l)
			} else {
				n = a
			}
		}
		left, right = append(left, p.Add(n.Mul(r))), append(right, p.Sub(n.Mul(r)))
	}
	return left, right
}

// most triangles that a body is drawn with; of a larger one the box is shown.
const mostTris = 20000

// meshOutline is a body's edges that face the reader: sharp ones and those
// where it turns away.
func (v *view) meshOutline(m *geom.Mesh) outline {
	var o outline
	if len(m.Tris) > mostTris {
		m = boxMesh(m.Box())
	}
	w := m.Weld(1e-3)
	pts := make([]geom.Vec2, len(w.Verts))
	zs := make([]float64, len(w.Verts))
	for i, p := range w.Verts {
		pts[i], zs[i] = v.at(p), v.frame.Local(p).Z
	}
	normals := make([]geom.Vec, len(w.Tris))
	sides := map[[2]int32][]int{}
	var order [][2]int32
	for i, t := range w.Tris {
		a, b, c := w.Tri(i)
		normals[i] = b.Sub(a).Cross(c.Sub(a)).Unit()
		if normals[i].Dot(v.frame.Z) > 1e-6 {
			o.covers = append(o.covers, []geom.Vec2{pts[t[0]], pts[t[1]], pts[t[2]]})
		}
		for k := range t {
			e := [2]int32{t[k], t[(k+1)%3]}
			if e[0] > e[1] {
				e[0], e[1] = e[1], e[0]
			}
			if sides[e] == nil {
				order = append(order, e)
			}
			sides[e] = append(sides[e], i)
		}
	}
	for _, e := range order {
		if isEdge(sides[e], normals, v.frame.Z) {
			o.edges = append(o.edges, edge{pts[e[0]], pts[e[1]], zs[e[0]], zs[e[1]]})
		}
	}
	return o
}

// sharpCos is the cosine of the turn from which an edge is drawn: facets of
// round bodies turn by less.
const sharpCos = 0.82 // 35 degrees

// isEdge reports whether the side between triangles is to be drawn, seen along z.
func isEdge(tris []int, normals []geom.Vec, z geom.Vec) bool {
	if len(tris) != 2 {
		for _, t := range tris {
			if normals[t].Dot(z) > 1e-6 {
				return true
			}
		}
		return false
	}
	a, b := normals[tris[0]], normals[tris[1]]
	fa, fb := a.Dot(z) > 1e-6, b.Dot(z) > 1e-6
	if fa != fb {
		return true
	}
	return fa && a.Dot(b) < sharpCos
}

func boxMesh(b geom.Box) *geom.Mesh { return geom.BoxMesh(b.Min, b.Max) }
