package rod

import (
	"math"
	"math/rand/v2"

	"embedcheck/internal/geom"
)

// The bodies of the tests are built here and share no code with the package.

// solid collects faces; each face keeps vertices of its own until welded.
type solid struct {
	verts []geom.Vec
	tris  [][3]int32
	index map[geom.Vec]int32
}

func newSolid() *solid { return &solid{index: map[geom.Vec]int32{}} }

func (s *solid) vert(p geom.Vec) int32 {
	if i, ok := s.index[p]; ok {
		return i
	}
	i := int32(len(s.verts))
	s.verts = append(s.verts, p)
	s.index[p] = i
	return i
}

func (s *solid) tri(a, b, c geom.Vec) {
	i, j, k := s.vert(a), s.vert(b), s.vert(c)
	if i != j && j != k && k != i {
		s.tris = append(s.tris, [3]int32{i, j, k})
	}
}

func (s *solid) quad(a, b, c, d geom.Vec) { s.tri(a, b, c); s.tri(a, c, d) }

func (s *solid) fan(pts []geom.Vec) {
	for i := 2; i < len(pts); i++ {
		s.tri(pts[0], pts[i-1], pts[i])
	}
}

func (s *solid) mesh() *geom.Mesh { return &geom.Mesh{Verts: s.verts, Tris: s.tris} }

// merge puts meshes into one without welding them.
func merge(ms ...*geom.Mesh) *geom.Mesh {
	out := &geom.Mesh{}
	for _, m := range ms {
		n := int32(len(out.Verts))
		out.Verts = append(out.Verts, m.Verts...)
		for _, t := range m.Tris {
			out.Tris = append(out.Tris, [3]int32{t[0] + n, t[1] + n, t[2] + n})
		}
	}
	return out
}

// circleAt is a ring of n points about c in the plane of u and v.
func circleAt(c, u, v geom.Vec, r float64, n int, phase float64) []geom.Vec {
	out := make([]geom.Vec, n)
	for i := range out {
		sin, cos := math.Sincos(phase + 2*math.Pi*float64(i)/float64(n))
		out[i] = c.Add(u.Mul(r * cos)).Add(v.Mul(r * sin))
	}
	return out
}

// capStyle is how the flat ends of a tube are triangulated.
type capStyle int

const (
	fanCap capStyle = iota
	centreCap
	noCap
)

// tangent is the direction of a path at one of its points. Where a straight piece
// meets a chord of an arc, the straight one is the tangent unless joints are
// mitred.
func tangent(path []geom.Vec, i int, mitred bool) geom.Vec {
	if i == 0 {
		return path[1].Sub(path[0]).Unit()
	}
	in := path[i].Sub(path[i-1])
	if i == len(path)-1 {
		return in.Unit()
	}
	out := path[i+1].Sub(path[i])
	if !mitred && in.Unit().Dot(out.Unit()) > 0.8 {
		if in.Norm() > 1.01*out.Norm() {
			return in.Unit()
		}
		if out.Norm() > 1.01*in.Norm() {
			return out.Unit()
		}
	}
	return in.Unit().Add(out.Unit()).Unit()
}

// sweep runs a ring of n points along a path. With mitred joints each piece is
// a true prism; otherwise the rings are round and square to the tangent, which
// gives the bends of swept solids: where a straight piece meets a chord of an
// arc, the straight one is the tangent.
func sweep(path []geom.Vec, r float64, n int, phase float64, mitred bool, caps capStyle) *geom.Mesh {
	s := newSolid()
	last := len(path) - 1
	t := func(i int) geom.Vec { return path[i+1].Sub(path[i]).Unit() }
	u := t(0).Perp()
	var was []geom.Vec
	for i := range path {
		tan := tangent(path, i, mitred)
		u = u.Sub(tan.Mul(u.Dot(tan))).Unit()
		v := tan.Cross(u)
		ring := circleAt(path[i], u, v, r, n, phase)
		if mitred && i > 0 && i < last {
			// stretch square to the bend's axis so that each piece is round
			b := t(i - 1).Cross(t(i)).Unit()
			w := b.Cross(tan)
			half := math.Acos(math.Max(-1, math.Min(1, t(i-1).Dot(t(i))))) / 2
			for k, p := range ring {
				d := p.Sub(path[i])
				ring[k] = p.Add(w.Mul(d.Dot(w) * (1/math.Cos(half) - 1)))
			}
		}
		for k := range ring {
			if i > 0 {
				s.quad(was[k], was[(k+1)%n], ring[(k+1)%n], ring[k])
			}
		}
		if caps == fanCap && i == 0 {
			rev := make([]geom.Vec, n)
			for k := range ring {
				rev[n-1-k] = ring[k]
			}
			s.fan(rev)
		}
		if caps == fanCap && i == last {
			s.fan(ring)
		}
		if caps == centreCap && (i == 0 || i == last) {
			for k := range ring {
				if i == 0 {
					s.tri(path[i], ring[(k+1)%n], ring[k])
				} else {
					s.tri(path[i], ring[k], ring[(k+1)%n])
				}
			}
		}
		was = ring
	}
	return s.mesh()
}

// hoop sweeps a ring of n points along a closed path in a plane with normal up,
// mitred at the joints.
func hoop(path []geom.Vec, up geom.Vec, r float64, n int) *geom.Mesh {
	s := newSolid()
	at := func(i int) geom.Vec { return path[(i+len(path))%len(path)] }
	ring := func(i int) []geom.Vec {
		in, out := at(i).Sub(at(i-1)).Unit(), at(i+1).Sub(at(i)).Unit()
		side := in.Add(out).Unit().Cross(up)
		half := math.Acos(math.Min(1, in.Dot(out))) / 2
		return circleAt(at(i), up, side.Mul(1/math.Cos(half)), r, n, 0.1)
	}
	for i := range path {
		a, b := ring(i), ring((i+1)%len(path))
		for k := range a {
			j := (k + 1) % n
			s.quad(a[k], b[k], b[j], a[j])
		}
	}
	return s.mesh()
}

// twisted runs along the path like sweep, but turns each ring against the last
// one, so that no facet is flat along the bar and no ridge runs along it.
func twisted(path []geom.Vec, r float64, n int) *geom.Mesh {
	s := newSolid()
	last := len(path) - 1
	u := path[1].Sub(path[0]).Unit().Perp()
	var was []geom.Vec
	for i := range path {
		tan := tangent(path, i, false)
		u = u.Sub(tan.Mul(u.Dot(tan))).Unit()
		ring := circleAt(path[i], u, tan.Cross(u), r, n, math.Pi/float64(n)*float64(i))
		for k := range ring {
			if i > 0 {
				s.tri(was[k], was[(k+1)%n], ring[k])
				s.tri(was[(k+1)%n], ring[(k+1)%n], ring[k])
			}
			if i == 0 {
				s.tri(path[0], ring[(k+1)%n], ring[k])
			}
			if i == last {
				s.tri(path[last], ring[k], ring[(k+1)%n])
			}
		}
		was = ring
	}
	return s.mesh()
}

// part is one piece of the profile of a body of revolution: radius and sides.
type part struct {
	z, r float64
}

// revolve turns a profile of (z, r) about the z axis with n sides. The profile
// runs from the bottom end of the axis to the top.
func revolve(n int, phase float64, profile ...part) *geom.Mesh {
	s := newSolid()
	ring := func(p part) []geom.Vec {
		if p.r == 0 {
			out := make([]geom.Vec, n)
			for i := range out {
				out[i] = geom.V(0, 0, p.z)
			}
			return out
		}
		return circleAt(geom.V(0, 0, p.z), geom.V(1, 0, 0), geom.V(0, 1, 0), p.r, n, phase)
	}
	was := ring(profile[0])
	for _, p := range profile[1:] {
		now := ring(p)
		for k := range now {
			s.quad(was[k], was[(k+1)%n], now[(k+1)%n], now[k])
		}
		was = now
	}
	return s.mesh()
}

// extrude is a prism over an outline in the xy plane, counter-clockwise, with
// holes that run clockwise, all convex; caps are built as strips between the
// outline and its holes by cutting the plane into a fan about each hole, so it
// takes at most one hole.
func extrude(outline, hole []geom.Vec, depth float64) *geom.Mesh {
	s := newSolid()
	up := geom.V(0, 0, depth)
	wall := func(pts []geom.Vec) {
		for i := range pts {
			a, b := pts[i], pts[(i+1)%len(pts)]
			s.quad(a, b, b.Add(up), a.Add(up))
		}
	}
	wall(outline)
	if hole == nil {
		top := make([]geom.Vec, len(outline))
		rev := make([]geom.Vec, len(outline))
		for i, p := range outline {
			top[i] = p.Add(up)
			rev[len(outline)-1-i] = p
		}
		s.fan(top)
		s.fan(rev)
		return s.mesh()
	}
	wall(hole)
	for _, t := range strip(outline, hole) {
		s.tri(t[0].Add(up), t[1].Add(up), t[2].Add(up))
		s.tri(t[0], t[2], t[1])
	}
	return s.mesh()
}

// strip triangulates between a convex outline and a hole inside, walking both by
// angle about the hole's middle.
func strip(outline, hole []geom.Vec) [][3]geom.Vec {
	var c geom.Vec
	for _, p := range hole {
		c = c.Add(p.Mul(1 / float64(len(hole))))
	}
	type at struct {
		a     float64
		p     geom.Vec
		inner bool
	}
	var all []at
	for _, p := range outline {
		all = append(all, at{math.Atan2(p.Y-c.Y, p.X-c.X), p, false})
	}
	for _, p := range hole {
		all = append(all, at{math.Atan2(p.Y-c.Y, p.X-c.X), p, true})
	}
	for i := range all {
		for j := i + 1; j < len(all); j++ {
			if all[j].a < all[i].a {
				all[i], all[j] = all[j], all[i]
			}
		}
	}
	var lastIn, lastOut geom.Vec
	for _, x := range all {
		if x.inner {
			lastIn = x.p
		} else {
			lastOut = x.p
		}
	}
	var out [][3]geom.Vec
	for _, x := range all {
		if x.inner {
			out = append(out, [3]geom.Vec{lastIn, lastOut, x.p})
			lastIn = x.p
		} else {
			out = append(out, [3]geom.Vec{lastIn, lastOut, x.p})
			lastOut = x.p
		}
	}
	return out
}

// ngon is a regular outline, counter-clockwise.
func ngon(c geom.Vec, r float64, n int, phase float64) []geom.Vec {
	return circleAt(c, geom.V(1, 0, 0), geom.V(0, 1, 0), r, n, phase)
}

func clockwise(pts []geom.Vec) []geom.Vec {
	out := make([]geom.Vec, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
}

func rect(x, y float64) []geom.Vec {
	return []geom.Vec{{X: -x / 2, Y: -y / 2}, {X: x / 2, Y: -y / 2}, {X: x / 2, Y: y / 2}, {X: -x / 2, Y: y / 2}}
}

// nut is a hexagon with a hole, its axis z.
func nut(flats, hole, height float64, n int) *geom.Mesh {
	return extrude(ngon(geom.Vec{}, flats/math.Sqrt(3), 6, 0.1), clockwise(ngon(geom.Vec{}, hole/2, n, 0.2)), height)
}

// arc appends k chords of an arc to a path that comes in along d, turning
// towards in by turn radians with the given centreline radius.
func arc(path []geom.Vec, d, in geom.Vec, radius, turn float64, k int) []geom.Vec {
	p := path[len(path)-1]
	c := p.Add(in.Mul(radius))
	for i := 1; i <= k; i++ {
		sin, cos := math.Sincos(turn * float64(i) / float64(k))
		path = append(path, c.Add(d.Mul(radius*sin)).Sub(in.Mul(radius*cos)))
	}
	return path
}

// hooked is the path of a bolt that runs down from the origin: straight, a bend
// of the given turn about radius, and a straight leg.
func hooked(straight, radius, turn, leg float64, chords int) []geom.Vec {
	down, in := geom.V(0, 0, -1), geom.V(1, 0, 0)
	path := []geom.Vec{{}, {Z: -straight}}
	path = arc(path, down, in, radius, turn, chords)
	if leg > 0 {
		sin, cos := math.Sincos(turn)
		path = append(path, path[len(path)-1].Add(down.Mul(cos*leg)).Add(in.Mul(sin*leg)))
	}
	return path
}

// soup gives each triangle its own vertices, in random order.
func soup(m *geom.Mesh, rnd *rand.Rand) *geom.Mesh {
	out := &geom.Mesh{}
	for _, i := range rnd.Perm(len(m.Tris)) {
		t, k, n := m.Tris[i], rnd.IntN(3), int32(len(out.Verts))
		for j := range 3 {
			out.Verts = append(out.Verts, m.Verts[t[(j+k)%3]])
		}
		out.Tris = append(out.Tris, [3]int32{n, n + 1, n + 2})
	}
	return out
}

// tJunctions splits a share of the edges on one side only.
func tJunctions(m *geom.Mesh, rnd *rand.Rand, share float64) *geom.Mesh {
	out := &geom.Mesh{Verts: append([]geom.Vec(nil), m.Verts...)}
	for _, t := range m.Tris {
		if rnd.Float64() > share {
			out.Tris = append(out.Tris, t)
			continue
		}
		k := rnd.IntN(3)
		a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
		n := int32(len(out.Verts))
		out.Verts = append(out.Verts, out.Verts[a].Lerp(out.Verts[b], 0.2+0.6*rnd.Float64()))
		out.Tris = append(out.Tris, [3]int32{a, n, c}, [3]int32{n, b, c})
	}
	return out
}

// rounded writes the coordinates with the given step, as files do.
func rounded(m *geom.Mesh, step float64) *geom.Mesh {
	out := &geom.Mesh{Tris: m.Tris}
	q := func(x float64) float64 { return math.Round(x/step) * step }
	for _, v := range m.Verts {
		out.Verts = append(out.Verts, geom.V(q(v.X), q(v.Y), q(v.Z)))
	}
	return out
}

// anyhow is a random rigid placement, up to far mm from the origin.
func anyhow(rnd *rand.Rand, far float64) geom.Affine {
	v := func() geom.Vec { return geom.V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()) }
	return geom.FrameZX(v().Mul(far), v(), v())
}

// studPlate is a plate with headed studs of one solid: cells of the given size
// side by side in the xy plane, each with a stud up from the middle.
func studPlate(nx, ny int, cell, thick, r float64, n int, length, headR, headH float64) *geom.Mesh {
	s := newSolid()
	up := geom.V(0, 0, thick)
	for ix := range nx {
		for iy := range ny {
			c := geom.V(cell*float64(ix), cell*float64(iy), 0)
			var square []geom.Vec
			for _, p := range rect(cell, cell) {
				square = append(square, p.Add(c))
			}
			hole := ngon(c.Add(up), r, n, 0.1)
			top := make([]geom.Vec, 4)
			for i, p := range square {
				top[i] = p.Add(up)
			}
			for _, t := range strip(top, clockwise(hole)) {
				s.tri(t[0], t[1], t[2])
			}
			s.fan(clockwise(square))
			for i, at := range [4]bool{iy == 0, ix == nx-1, iy == ny-1, ix == 0} {
				if at {
					j := (i + 1) % 4
					s.quad(square[i], square[j], top[j], top[i])
				}
			}
			was := hole
			for _, p := range []part{{thick + length - headH, r}, {thick + length - headH, headR}, {thick + length, headR}} {
				now := ngon(c.Add(z(p.z)), p.r, n, 0.1)
				for k := range now {
					s.quad(was[k], was[(k+1)%n], now[(k+1)%n], now[k])
				}
				was = now
			}
			s.fan(was)
		}
	}
	return s.mesh()
}

// sheet is a strip of the given thickness along a path in the xz plane, as wide
// as width along y, mitred at the joints: bent plates, angles, channels.
func sheet(path []geom.Vec, thick, width float64) *geom.Mesh {
	var outer, inner []geom.Vec
	y := geom.V(0, 1, 0)
	for i, p := range path {
		a := path[min(i+1, len(path)-1)].Sub(path[max(i-1, 0)]).Unit()
		half := 1.0
		if i > 0 && i < len(path)-1 {
			half = a.Dot(p.Sub(path[i-1]).Unit())
		}
		n := y.Cross(a).Mul(thick / 2 / half)
		outer, inner = append(outer, p.Add(n)), append(inner, p.Sub(n))
	}
	s := newSolid()
	w := y.Mul(width)
	for i := 1; i < len(path); i++ {
		a, b, c, d := outer[i-1], outer[i], inner[i], inner[i-1]
		s.quad(a, b, c, d)
		s.quad(a.Add(w), d.Add(w), c.Add(w), b.Add(w))
		s.quad(a, a.Add(w), b.Add(w), b)
		s.quad(d, c, c.Add(w), d.Add(w))
	}
	e := len(path) - 1
	s.quad(outer[0], inner[0], inner[0].Add(w), outer[0].Add(w))
	s.quad(outer[e], outer[e].Add(w), inner[e].Add(w), inner[e])
	return s.mesh()
}

// ball is a sphere of n sides and n/2 rows between two heights along z.
func ball(r float64, n int, from, to float64) *geom.Mesh {
	var profile []part
	rows := n / 2
	profile = append(profile, part{from, 0})
	for i := range rows + 1 {
		h := from + (to-from)*float64(i)/float64(rows)
		if w := math.Sqrt(math.Max(0, r*r-h*h)); w > 1e-6*r {
			profile = append(profile, part{h, w})
		}
	}
	return revolve(n, 0, append(profile, part{to, 0})...)
}
