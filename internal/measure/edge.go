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
	var best nearest
	best.Dist = math.Inf(1)
	l.visit(max(300, 2*l.depth), func(reach float64) bool { return best.Dist <= reach }, func(poly []geom.Vec2, part, t int) {
		d, p := pointPolygon(geom.Vec2{}, poly)
		best.take(&l, d, p, part, t)
	})
	if math.IsInf(best.Dist, 1) {
		return Edge{}, false
	}
	return l.edge(&best), true
}

// nearest is the nearest place so far, in projection along the axis. Of places
// equally near, as those of the two triangles of a wall, the shallowest counts.
type nearest struct {
	Dist      float64
	at        geom.Vec2
	part, tri int
	depth     float64
}

func (n *nearest) take(l *layer, d float64, at geom.Vec2, part, tri int) {
	const equal = 1e-6
	if d > n.Dist+equal {
		return
	}
	z := l.shallowest(at, part, tri)
	if d < n.Dist-equal || z < n.depth {
		next := nearest{min(d, n.Dist), at, part, tri, z}
		if !l.crack(&next) {
			*n = next
		}
	}
}

// crackWidth is the width in mm up to which a gap in the concrete is one of the
// model only: parts that are cast in one and meet in curved faces fit that badly.
const crackWidth = 0.1

// crack reports whether concrete goes on behind a place of the boundary.
func (l *layer) crack(n *nearest) bool {
	a, b, c := l.solid.Part(n.part).Tri(n.tri)
	out := b.Sub(a).Cross(c.Sub(a)).Unit()
	at := l.edge(n).At
	if cos := out.Dot(l.dir); math.Abs(cos) > 1e-3 { // a slanting face is met at one depth
		at = at.Add(l.dir.Mul(a.Sub(at).Dot(out) / cos))
	}
	if in := a.Add(b).Add(c).Mul(1. / 3).Sub(at); in.Norm() > 4*crackWidth { // off the sides, at which concrete may turn
		at = at.Add(in.Unit().Mul(2 * crackWidth))
	}
	if n.part > 0 {
		out = out.Neg() // a void's surface looks into the concrete
	}
	return l.solid.Contains(at.Add(out.Mul(crackWidth)))
}

// layer is the part of a solid that bounds an anchor sideways: from just below
// its entry face down to its embedment.
type layer struct {
	solid *geom.Solid
	frame geom.Affine // at the entry point, z into the concrete
	dir   geom.Vec    // of the axis
	depth float64     // mm, at a right angle to the face
	part  int         // that the entry face belongs to
	skip  []bool
	own   func(v geom.Vec) bool // tells places on the surface of the item's own void; may be nil
}

func layerOf(a *model.Anchor) layer {
	e := a.Entry
	cos := math.Abs(a.Dir.Dot(e.Normal))
	l := newLayer(e, a.Dir, min(a.Embedment(), e.Thickness)*cos)
	l.own = ownHole(a)
	return l
}

func newLayer(e *model.Entry, dir geom.Vec, depth float64) layer {
	return layer{
		solid: e.Solid,
		frame: geom.FrameZX(e.Point, e.Normal.Neg(), e.Normal.Perp()),
		dir:   dir,
		depth: max(depth-skin, 2*skin),
		part:  e.Part,
		skip:  e.Solid.Part(e.Part).Patch(e.Tri, smoothTurn),
	}
}

// smoothTurn is the angle between neighbouring facets below which they belong
// to one face: facets of a round column, a slight fall on a top face. The
// 45 degrees of a chamfer are an edge.
const smoothTurn = 20 * math.Pi / 180

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

// each shows the pieces of boundary within a reach.
func (l *layer) each(reach float64, see func(poly []geom.Vec2, part, tri int)) {
	var m *geom.Mesh
	part := 0
	show := func(poly []geom.Vec2, t int) {
		if part == l.part && l.skip[t] {
			return
		}
		if l.own != nil {
			if a, b, c := m.Tri(t); l.own(a) && l.own(b) && l.own(c) {
				return
			}
		}
		see(poly, part, t)
	}
	for part = range l.solid.Parts() {
		m = l.solid.Part(part)
		m.Slab(l.frame, l.dir, skin, l.depth, reach, show)
	}
}

// visit shows the pieces of boundary within a reach that grows until done.
func (l *layer) visit(reach float64, done func(reach float64) bool, see func(poly []geom.Vec2, part, tri int)) {
	const most = 1e7
	for reach > 0 && reach <= most {
		l.each(reach, see)
		if done(reach) {
			return
		}
		reach *= 4
	}
}

// edge completes the nearest place.
func (l *layer) edge(n *nearest) Edge {
	side := l.frame.X.Mul(n.at.X).Add(l.frame.Y.Mul(n.at.Y))
	along := l.dir.Mul(n.depth / l.dir.Dot(l.frame.Z))
	return Edge{Dist: n.Dist, At: l.frame.T.Add(along).Add(side), Dir: side.Unit(), Depth: n.depth}
}

// shallowest is the least depth at which a triangle projects to a place. A wall
// at a right angle to the face projects to a line, so that the triangle's sides
// hold the place in any case.
func (l *layer) shallowest(at geom.Vec2, part, tri int) float64 {
	var p [3]geom.Vec2
	var z [3]float64
	d := geom.Vec{X: l.dir.Dot(l.frame.X), Y: l.dir.Dot(l.frame.Y), Z: l.dir.Dot(l.frame.Z)}
	a, b, c := l.solid.Part(part).Tri(tri)
	for i, v := range [3]geom.Vec{a, b, c} {
		q := l.frame.Local(v)
		p[i], z[i] = geom.Vec2{X: q.X - d.X*q.Z/d.Z, Y: q.Y - d.Y*q.Z/d.Z}, q.Z
	}
	u, v := p[1].Sub(p[0]), p[2].Sub(p[0])
	if area := u.Cross(v); math.Abs(area) > 1e-3*(u.Dot(u)+v.Dot(v)) { // a slanting face projects to each place from one depth
		w := at.Sub(p[0])
		z := z[0] + (w.Cross(v)*(z[1]-z[0])+u.Cross(w)*(z[2]-z[0]))/area
		return min(max(z, skin), l.depth)
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
