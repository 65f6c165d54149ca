package geom

import (
	"math"
	"slices"
)

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
	if c, ok := m.clipSimple(p); ok {
		return c
	}
	r := box.Size().Norm() + 1
	c := box.Center()
	f := FrameZX(c.Sub(p.N.Mul(p.Dist(c))), p.N, p.N.Perp())
	half := Prism([]Vec2{{-r, -r}, {r, -r}, {r, r}, {-r, r}}, nil, f, Vec{0, 0, -1}, 3*r)
	return Intersect(m, half)
}

// clipSimple is Clip for a body of one piece with numbered faces, which needs no
// boolean: each triangle is cut for itself, and the face in the plane has the cuts
// for its sides. Cutters of beams and slabs are planes nearly always. ok is false
// when the pieces do not fit together.
func (m *Mesh) clipSimple(p Plane) (*Mesh, bool) {
	if m.Face == nil || !m.whole() {
		return nil, false
	}
	c := planeClip{plane: p, m: m, out: &Mesh{}, dist: make([]float64, len(m.Verts)), at: make([]int32, len(m.Verts)), sides: map[[2]int32]int32{}}
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
	for i := range m.Tris {
		c.cut(i)
		face = max(face, m.Face[i]+1)
	}
	c.lid(face)
	return c.out, len(c.out.Tris) > 0 && c.out.joined()
}

// planeClip cuts the triangles of a body.
type planeClip struct {
	plane Plane
	m     *Mesh
	out   *Mesh
	dist  []float64          // of the vertices of m
	at    []int32            // their numbers in out, -1 for none yet
	sides map[[2]int32]int32 // where sides of m go through the plane, numbers in out
	rim   [][2]int32         // sides in the plane, the new face to their left
}

// cut adds the part of a triangle on the inner side.
func (c *planeClip) cut(tri int) {
	t := c.m.Tris[tri]
	inner, flat := 0, 0
	for _, v := range t {
		if c.dist[v] < 0 {
			inner++
		} else if c.dist[v] == 0 {
			flat++
		}
	}
	if inner == 0 && (flat < 3 || c.m.normal2(tri).Dot(c.plane.N) <= 0) {
		return // outside, or in the plane with the body on the other side
	}
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
	for k := 2; k < len(ring); k++ {
		c.out.Tris = append(c.out.Tris, [3]int32{ring[0], ring[k-1], ring[k]})
		c.out.Face = append(c.out.Face, c.m.Face[tri])
	}
	for k := range ring {
		if l := (k + 1) % len(ring); on[k] && on[l] {
			c.rim = append(c.rim, [2]int32{ring[l], ring[k]})
		}
	}
}

func (c *planeClip) vertex(v int32) int32 {
	if c.at[v] < 0 {
		c.at[v] = c.add(c.m.Verts[v])
	}
	return c.at[v]
}

func (c *planeClip) add(v Vec) int32 {
	c.out.Verts = append(c.out.Verts, v)
	return int32(len(c.out.Verts) - 1)
}

// crossing is the place where a side goes through the plane, the same one for the
// triangles on both sides of it.
func (c *planeClip) crossing(a, b int32) int32 {
	s := ordered(a, b)
	if at, ok := c.sides[s]; ok {
		return at
	}
	da, db := c.dist[s[0]], c.dist[s[1]]
	at := c.add(c.m.Verts[s[0]].Lerp(c.m.Verts[s[1]], da/(da-db)))
	c.sides[s] = at
	return at
}

// lid closes the body in the plane.
func (c *planeClip) lid(face int32) {
	twice := make(map[[2]int32]int, len(c.rim)) // sides between two triangles that both stay
	for _, s := range c.rim {
		twice[s]++
	}
	chain := newChainer()
	for _, s := range c.rim {
		if twice[[2]int32{s[1], s[0]}] == 0 {
			chain.add(s[0], s[1])
		}
	}
	f := c.plane.Frame()
	at := func(v int32) Vec2 {
		q := f.Local(c.out.Verts[v])
		return Vec2{q.X, q.Y}
	}
	for _, p := range nest(chain.loops(at), at) {
		corners := slices.Concat(append([][]int32{p.outer}, p.holes...)...)
		for _, t := range Triangulate(p.Outer, p.Holes) {
			c.out.Tris = append(c.out.Tris, [3]int32{corners[t[0]], corners[t[1]], corners[t[2]]})
			c.out.Face = append(c.out.Face, face)
		}
	}
}
