package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Edge is the nearest edge of the concrete.
type Edge struct {
	Dist  float64  // mm, in the plane of the entry face
	At    geom.Vec // nearest point of the concrete's boundary
	Dir   geom.Vec // unit, from the axis towards the edge, in the entry face
	Depth float64  // mm below the entry face where the distance is least
}

// skin is the layer under the entry face, in mm, in which nothing counts as an
// edge: pieces of the face itself lie there.
const skin = 0.02

// EdgeDistance is the least distance, in planes parallel to the entry face and
// over the embedded depth, from the anchor's axis to the boundary of the
// concrete. The entry face itself, also a curved one, is no edge; nor is the far
// face. False when the anchor has no entry face or nothing bounds it.
func EdgeDistance(a *model.Anchor) (Edge, bool) {
	if a.Entry == nil {
		return Edge{}, false
	}
	l := layerOf(a)
	best := math.Inf(1)
	var at geom.Vec2
	var tri int
	l.visit(max(300, 2*l.depth), func(reach float64) bool { return best <= reach }, func(poly []geom.Vec2, t int) {
		if d, p := pointPolygon(geom.Vec2{}, poly); d < best-1e-9 {
			best, at, tri = d, p, t
		}
	})
	if math.IsInf(best, 1) {
		return Edge{}, false
	}
	return l.edge(at, best, tri), true
}

// EdgesAround are the distances from the axis to the concrete's boundary in n
// equal sectors around the axis, the first one centred on the x axis of the
// frame that is returned too; Dist is +Inf where a sector meets no boundary
// within reach mm.
func EdgesAround(a *model.Anchor, n int, reach float64) ([]Edge, geom.Affine) {
	l := layerOf(a)
	out := make([]Edge, n)
	for i := range out {
		out[i].Dist = math.Inf(1)
	}
	l.solid.Slab(l.frame, l.dir, skin, l.depth, reach, func(poly []geom.Vec2, t int) {
		if l.skips(t) {
			return
		}
		for i := range out {
			mid := 2 * math.Pi * float64(i) / float64(n)
			if d, p := pointPolygon(geom.Vec2{}, sector(poly, mid, math.Pi/float64(n))); d < out[i].Dist-1e-9 {
				out[i] = l.edge(p, d, t)
			}
		}
	})
	return out, l.frame
}

// layer is the part of a solid that bounds an anchor sideways: from just below
// its entry face down to its embedment.
type layer struct {
	solid *geom.Mesh
	frame geom.Affine // at the entry point, z into the concrete
	dir   geom.Vec    // of the axis
	depth float64     // mm, at a right angle to the face
	skip  map[int32]bool
	own   func(v geom.Vec) bool // tells places on the surface of the item's own void; may be nil
}

func layerOf(a *model.Anchor) layer {
	e := a.Entry
	cos := math.Abs(a.Dir.Dot(e.Normal))
	return layer{
		solid: e.Solid,
		frame: geom.FrameZX(e.Point, e.Normal.Neg(), e.Normal.Perp()),
		dir:   a.Dir,
		depth: max(min(a.Embedment(), e.Thickness)*cos-skin, 2*skin),
		skip:  patch(e.Solid, int32(e.Tri)),
		own:   ownHole(a),
	}
}

// ownHole tells the surface of a hole that is cut around the anchor itself.
func ownHole(a *model.Anchor) func(geom.Vec) bool {
	if a.Entry.Clear == 0 {
		return nil
	}
	return func(v geom.Vec) bool {
		d := v.Sub(a.Open)
		return d.Sub(a.Dir.Mul(d.Dot(a.Dir))).Norm() <= a.Entry.Clear
	}
}

// skips reports whether a triangle is no edge.
func (l *layer) skips(t int) bool {
	if l.skip[int32(t)] {
		return true
	}
	if l.own == nil {
		return false
	}
	a, b, c := l.solid.Tri(t)
	return l.own(a) && l.own(b) && l.own(c)
}

// visit shows the pieces of boundary within a reach that grows until done.
func (l *layer) visit(reach float64, done func(reach float64) bool, see func([]geom.Vec2, int)) {
	for ; ; reach *= 4 {
		l.solid.Slab(l.frame, l.dir, skin, l.depth, reach, func(poly []geom.Vec2, t int) {
			if !l.skips(t) {
				see(poly, t)
			}
		})
		if done(reach) || reach > 1e7 {
			return
		}
	}
}

// edge completes a nearest place found in projection with its depth: the
// shallowest point of the triangle that projects onto it.
func (l *layer) edge(at geom.Vec2, dist float64, tri int) Edge {
	z := l.shallowest(at, tri)
	side := l.frame.X.Mul(at.X).Add(l.frame.Y.Mul(at.Y))
	along := l.dir.Mul(z / l.dir.Dot(l.frame.Z))
	return Edge{Dist: dist, At: l.frame.T.Add(along).Add(side), Dir: side.Unit(), Depth: z}
}

// shallowest searches the triangle's sides: a wall at a right angle to the face
// projects to a line, so that its sides hold the place in any case.
func (l *layer) shallowest(at geom.Vec2, tri int) float64 {
	var p [3]geom.Vec2
	var z [3]float64
	d := geom.Vec{X: l.dir.Dot(l.frame.X), Y: l.dir.Dot(l.frame.Y), Z: l.dir.Dot(l.frame.Z)}
	a, b, c := l.solid.Tri(tri)
	for i, v := range [3]geom.Vec{a, b, c} {
		q := l.frame.Local(v)
		p[i], z[i] = geom.Vec2{X: q.X - d.X*q.Z/d.Z, Y: q.Y - d.Y*q.Z/d.Z}, q.Z
	}
	best := l.depth
	for i := range p {
		j := (i + 1) % 3
		side := p[j].Sub(p[i])
		from, to := 0.0, 1.0
		if side.Norm() > 1e-6 { // else the side runs along the axis: all of it is there
			from = min(1, max(0, at.Sub(p[i]).Dot(side)/side.Dot(side)))
			to = from
		}
		for _, s := range [2]float64{from, to} {
			if p[i].Add(side.Mul(s)).Dist(at) < 1e-3 {
				best = min(best, max(skin, z[i]+(z[j]-z[i])*s))
			}
		}
	}
	return best
}

// smoothTurn is the angle between neighbouring facets below which they belong
// to one face: facets of a round column, a slight fall on a top face. The
// 45 degrees of a chamfer are an edge.
const smoothTurn = 20 * math.Pi / 180

// patch is the set of triangles that belong to one face with the given one:
// those reached over sides at which the surface turns by less than smoothTurn.
func patch(m *geom.Mesh, from int32) map[int32]bool {
	neighbours := make(map[[2]int32]int32, 3*len(m.Tris))
	for t, v := range m.Tris {
		for k := range v {
			neighbours[[2]int32{v[k], v[(k+1)%3]}] = int32(t)
		}
	}
	cos := math.Cos(smoothTurn)
	in := map[int32]bool{from: true}
	for todo := []int32{from}; len(todo) > 0; {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		n, v := normal(m, t), m.Tris[t]
		for k := range v {
			o, ok := neighbours[[2]int32{v[(k+1)%3], v[k]}]
			if ok && !in[o] && normal(m, o).Dot(n) > cos {
				in[o] = true
				todo = append(todo, o)
			}
		}
	}
	return in
}

func normal(m *geom.Mesh, t int32) geom.Vec {
	a, b, c := m.Tri(int(t))
	return b.Sub(a).Cross(c.Sub(a)).Unit()
}
