package geom

import "math"

// Clip is the part of the body with Dist <= 0, closed by a face in the plane,
// which gets a new face number; m itself when that is all of it.
func (m *Mesh) Clip(p Plane) *Mesh {
	box := m.Box()
	if box.Empty() {
		return &Mesh{}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range m.corners() {
		d := p.Dist(v)
		lo, hi = min(lo, d), max(hi, d)
	}
	switch {
	case !(lo < 0):
		return &Mesh{}
	case hi <= 0:
		return m
	}
	if c, ok := m.clipConvex(p); ok {
		return c
	}
	r := box.Size().Norm() + 1
	c := box.Center()
	f := FrameZX(c.Sub(p.N.Mul(p.Dist(c))), p.N, p.N.Perp())
	half := Prism([]Vec2{{-r, -r}, {r, -r}, {r, r}, {-r, r}}, nil, f, Vec{0, 0, -1}, 3*r)
	return Intersect(m, half)
}

// clipConvex is Clip for a convex body with numbered faces, which needs no
// boolean: each triangle is cut for itself, and the face in the plane has the
// cuts for its sides. Cutters of beams and slabs are planes nearly always.
func (m *Mesh) clipConvex(p Plane) (*Mesh, bool) {
	if _, ok := asConvex(m, 300); !ok || m.Face == nil {
		return nil, false
	}
	c := convexClip{plane: p, m: m, out: &Mesh{}, dist: make([]float64, len(m.Verts)), at: make([]int32, len(m.Verts))}
	in, out := false, false
	for i, v := range m.Verts {
		c.at[i] = -1
		if c.dist[i] = p.Dist(v); math.Abs(c.dist[i]) < onPlane {
			c.dist[i] = 0
		}
		in, out = in || c.dist[i] < 0, out || c.dist[i] > 0
	}
	switch {
	case !out:
		return m, true
	case !in:
		return c.out, true
	}
	face := int32(0)
	for i, t := range m.Tris {
		c.cut(t, m.Face[i])
		face = max(face, m.Face[i]+1)
	}
	if !c.lid(face) || !c.out.joined() {
		return nil, false
	}
	return c.out, true
}

// convexClip cuts the triangles of a convex body.
type convexClip struct {
	plane Plane
	m     *Mesh
	out   *Mesh
	dist  []float64 // of the vertices of m
	at    []int32   // their numbers in out, -1 for none yet
	sides []cutSide
	next  [][2]int32 // sides in the plane, as they run around its face
}

type cutSide struct {
	of [2]int32
	at int32 // number in out
}

// cut adds the part of a triangle on the inner side.
func (c *convexClip) cut(t [3]int32, face int32) {
	var few [4]int32
	ring, on := few[:0], [4]bool{}
	for k, a := range t {
		b := t[(k+1)%3]
		da, db := c.dist[a], c.dist[b]
		if da <= 0 {
			on[len(ring)] = da == 0
			ring = append(ring, c.vertex(a))
		}
		if da < 0 && db > 0 || da > 0 && db < 0 {
			on[len(ring)] = true
			ring = append(ring, c.crossing(a, b))
		}
	}
	if len(ring) < 3 {
		return
	}
	for k := 2; k < len(ring); k++ {
		c.out.Tris = append(c.out.Tris, [3]int32{ring[0], ring[k-1], ring[k]})
		c.out.Face = append(c.out.Face, face)
	}
	for k := range ring {
		if l := (k + 1) % len(ring); on[k] && on[l] {
			c.next = append(c.next, [2]int32{ring[l], ring[k]})
		}
	}
}

func (c *convexClip) vertex(v int32) int32 {
	if c.at[v] < 0 {
		c.at[v] = c.add(c.m.Verts[v])
	}
	return c.at[v]
}

func (c *convexClip) add(v Vec) int32 {
	c.out.Verts = append(c.out.Verts, v)
	return int32(len(c.out.Verts) - 1)
}

// crossing is the place where a side goes through the plane, the same one for the
// triangles on both sides of it.
func (c *convexClip) crossing(a, b int32) int32 {
	s := ordered(a, b)
	for i := range c.sides {
		if c.sides[i].of == s {
			return c.sides[i].at
		}
	}
	da, db := c.dist[s[0]], c.dist[s[1]]
	at := c.add(c.m.Verts[s[0]].Lerp(c.m.Verts[s[1]], da/(da-db)))
	c.sides = append(c.sides, cutSide{s, at})
	return at
}

// lid closes the body in the plane; false when the cuts make no loop.
func (c *convexClip) lid(face int32) bool {
	to := make(map[int32]int32, len(c.next))
	for _, s := range c.next {
		to[s[0]] = s[1]
	}
	if len(c.next) < 3 || len(to) != len(c.next) {
		return false
	}
	var loop []int32
	var pts []Vec
	for v := c.next[0][0]; len(loop) < len(c.next); v = to[v] {
		loop, pts = append(loop, v), append(pts, c.out.Verts[v])
	}
	if to[loop[len(loop)-1]] != loop[0] || NewellNormal(pts).Dot(c.plane.N) <= 0 {
		return false
	}
	for _, t := range TriangulateLoop3(pts, nil) {
		c.out.Tris = append(c.out.Tris, [3]int32{loop[t[0]], loop[t[1]], loop[t[2]]})
		c.out.Face = append(c.out.Face, face)
	}
	return true
}
