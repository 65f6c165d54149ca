package shape

import (
	"errors"
	"math"

	"embedcheck/internal/geom"
)

// patch is a piece of a curved surface on its way to triangles. Corners are
// numbered through; a corner on a seam of the surface occurs once on each side
// of it, with the same point.
type patch struct {
	s     *shell
	surf  surface
	uv    []geom.Vec2
	point []int32 // index in the shell
	tris  [][3]int
	scale geom.Vec2 // mm per unit of u and v
	looks int       // triangles that relax may still look at
}

// curvedFacets cuts a curved face into triangles that lie close to its surface.
// Points on its bounds stay as they are, so that the neighbours fit; points
// within are added to the shell.
func (s *shell) curvedFacets(f *face) ([][3]int32, error) {
	p := &patch{s: s, surf: f.curved, looks: maxLooks}
	outer, holes, err := p.outline(f)
	if err != nil {
		return nil, err
	}
	p.measure()
	flat := func(l []int) []geom.Vec2 {
		out := make([]geom.Vec2, len(l))
		for i, k := range l {
			out[i] = p.flat(k)
		}
		return out
	}
	order := append([]int(nil), outer...)
	var inner [][]geom.Vec2
	for _, h := range holes {
		inner = append(inner, flat(h))
		order = append(order, h...)
	}
	for _, t := range geom.Triangulate(flat(outer), inner) {
		p.tris = append(p.tris, [3]int{order[t[0]], order[t[1]], order[t[2]]})
	}
	if len(p.tris) == 0 {
		return nil, errors.New("a curved face has no area")
	}
	p.refine()
	// triangles run counter-clockwise in u, v; the loops say which way is out
	reverse := area(flat(outer)) < 0
	out := make([][3]int32, 0, len(p.tris))
	for _, t := range p.tris {
		a, b, c := p.point[t[0]], p.point[t[1]], p.point[t[2]]
		if a == b || b == c || c == a {
			continue // at a pole
		}
		if reverse {
			b, c = c, b
		}
		out = append(out, [3]int32{a, b, c})
	}
	return out, nil
}

// flat is corner k in the plane of u and v, in mm.
func (p *patch) flat(k int) geom.Vec2 {
	return geom.Vec2{X: p.uv[k].X * p.scale.X, Y: p.uv[k].Y * p.scale.Y}
}

// measure sets how long a unit of u and v is in the middle of the patch.
func (p *patch) measure() {
	lo, hi := p.uv[0], p.uv[0]
	for _, q := range p.uv {
		lo = geom.Vec2{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
		hi = geom.Vec2{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	m, d := lo.Add(hi).Mul(0.5), hi.Sub(lo).Mul(1e-3)
	length := func(u, v, w float64) float64 {
		l := p.surf.at(m.X+u, m.Y+v).Dist(p.surf.at(m.X-u, m.Y-v)) / w
		if !(l > 1e-9) || math.IsInf(l, 0) {
			return 1
		}
		return l
	}
	p.scale = geom.Vec2{X: length(d.X, 0, 2*d.X), Y: length(0, d.Y, 2*d.Y)}
}

// corner adds a corner and returns its number.
func (p *patch) corner(point int32, uv geom.Vec2) int {
	p.uv = append(p.uv, uv)
	p.point = append(p.point, point)
	return len(p.uv) - 1
}

// edge of two triangles.
type edge [2]int

func edgeOf(a, b int) edge { return edge{min(a, b), max(a, b)} }

// wings are the triangles on both sides of each edge, -1 where there is none.
func (p *patch) wings() map[edge][2]int {
	m := make(map[edge][2]int, 2*len(p.tris))
	for i, t := range p.tris {
		for k := range t {
			e := edgeOf(t[k], t[(k+1)%3])
			if w, ok := m[e]; ok {
				m[e] = [2]int{w[0], i}
			} else {
				m[e] = [2]int{i, -1}
			}
		}
	}
	return m
}

// maxPatch bounds the triangles of one curved face.
const maxPatch = 50_000

// maxLooks bounds how often the triangles of one curved face are looked at to make
// them even: eleven times what a face of 3183 triangles took, the largest in the
// tests. A face that no number of triangles makes flat, such as a cylinder of
// 1000 km, ran for minutes without.
const maxLooks = 2_000_000

// refine flips edges towards even triangles and halves inner edges whose middle
// lies off the surface, until none does.
func (p *patch) refine() {
	p.relax()
	for range 12 {
		if len(p.tris) > maxPatch || !p.halve() {
			return
		}
		p.relax()
	}
}

// halve splits inner edges whose middle lies off the surface, at most one in a
// triangle, and reports whether there was one.
func (p *patch) halve() bool {
	wings := p.wings()
	busy := make([]bool, len(p.tris))
	n := len(p.tris)
	any := false
	for i := range n {
		for k := range 3 {
			t := p.tris[i]
			if busy[i] {
				break
			}
			a, b := t[k], t[(k+1)%3]
			w := wings[edgeOf(a, b)]
			if w[1] < 0 || w[0] != i && w[1] != i || busy[w[0]] || busy[w[1]] || !p.off(a, b) {
				continue
			}
			any = true
			busy[w[0]], busy[w[1]] = true, true
			p.split(a, b, w)
		}
	}
	return any
}

// off reports whether the middle of an edge lies off the surface.
func (p *patch) off(a, b int) bool {
	m := p.uv[a].Add(p.uv[b]).Mul(0.5)
	mid := p.s.points[p.point[a]].Lerp(p.s.points[p.point[b]], 0.5)
	return p.surf.at(m.X, m.Y).Dist(mid) > 2*bodyTol
}

// split puts a point into the middle of the edge between two triangles.
func (p *patch) split(a, b int, w [2]int) {
	uv := p.uv[a].Add(p.uv[b]).Mul(0.5)
	p.s.points = append(p.s.points, p.surf.at(uv.X, uv.Y))
	m := p.corner(int32(len(p.s.points)-1), uv)
	for _, i := range w {
		t := p.tris[i]
		for k := range t {
			x, y, z := t[k], t[(k+1)%3], t[(k+2)%3]
			if edgeOf(x, y) == edgeOf(a, b) {
				p.tris[i] = [3]int{x, m, z}
				p.tris = append(p.tris, [3]int{m, y, z})
				break
			}
		}
	}
}

// relax flips inner edges until the triangles are Delaunay in mm, with a bound
// on the rounds. Where the bound cuts it short the triangles are less even, and
// lie as close to the surface.
func (p *patch) relax() {
	for range 50 {
		if p.looks -= len(p.tris); p.looks < 0 {
			return
		}
		wings := p.wings()
		busy := make([]bool, len(p.tris))
		any := false
		for i := range p.tris {
			for k := range 3 {
				t := p.tris[i]
				if busy[i] {
					break
				}
				a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
				w := wings[edgeOf(a, b)]
				o := w[0]
				if o == i {
					o = w[1]
				}
				if o < 0 || busy[o] {
					continue
				}
				d := opposite(p.tris[o], a, b)
				if d < 0 || !p.better(a, b, c, d) {
					continue
				}
				if _, ok := wings[edgeOf(c, d)]; ok {
					continue
				}
				p.tris[i], p.tris[o] = [3]int{a, d, c}, [3]int{d, b, c}
				busy[i], busy[o], any = true, true, true
			}
		}
		if !any {
			return
		}
	}
}

// opposite is the third corner of a triangle, -1 when a, b is no side of it.
func opposite(t [3]int, a, b int) int {
	for k := range t {
		if edgeOf(t[k], t[(k+1)%3]) == edgeOf(a, b) {
			return t[(k+2)%3]
		}
	}
	return -1
}

// better reports whether the edge c, d suits the two triangles a, b, c and
// b, a, d better than a, b: d lies inside the circle through a, b, c.
func (p *patch) better(ia, ib, ic, id int) bool {
	a, b, c, d := p.flat(ia), p.flat(ib), p.flat(ic), p.flat(id)
	tiny := 1e-9 * (a.Dist(b)*a.Dist(b) + c.Dist(d)*c.Dist(d))
	if d.Sub(a).Cross(c.Sub(a)) <= tiny || b.Sub(d).Cross(c.Sub(d)) <= tiny {
		return false // the four are no convex quadrangle
	}
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	in := a.Dot(a)*b.Cross(c) + b.Dot(b)*c.Cross(a) + c.Dot(c)*a.Cross(b)
	return in > 1e-9*(a.Dot(a)+b.Dot(b)+c.Dot(c))*math.Max(a.Dist(b)*a.Dist(c), 1e-12)
}
