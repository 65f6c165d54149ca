package geom

import "math"

// Revolve turns a profile in the xy plane of frame by angle about the axis
// through at along axis, in the given number of steps. at and axis are given in
// frame's axes; the axis lies in the profile's plane and must not run through
// the profile, which may touch it. A full turn, or more, joins up. Face numbers
// and runs are as in Prism; a side makes one face all the way round.
func Revolve(outer []Vec2, holes [][]Vec2, frame Affine, at, axis Vec, angle float64, steps int, runs ...[]int) *Mesh {
	const turn = 2 * math.Pi
	full := math.Abs(angle) >= turn-1e-9
	angle = max(-turn, min(angle, turn))
	steps = max(steps, int(math.Ceil(math.Abs(angle)/(turn/3)-1e-9)), 1)
	r := revolver{m: &Mesh{}, frame: frame, at: at, axis: axis.Unit(), rings: int32(steps) + 1}
	if full {
		r.rings--
	}
	r.add(outer)
	for _, h := range holes {
		r.add(h)
	}
	for s := range r.rings - 1 {
		r.ring(angle * float64(s+1) / float64(steps))
	}
	if !full {
		caps := Triangulate(outer, holes)
		r.addCap(caps, 0, true)
		r.addCap(caps, r.rings-1, false)
	}
	faces := sideFaces{next: 2}
	first := int32(0)
	for i, l := range append([][]Vec2{outer}, holes...) {
		faces.number(len(l), nth(runs, i))
		r.addSides(first, int32(len(l)), int32(steps), faces.of, (loopArea(l) > 0) != (i == 0))
		first += int32(len(l))
	}
	r.m.lookOut()
	return r.m
}

// revolver keeps one vertex for a point on the axis and one a ring for others.
type revolver struct {
	m        *Mesh
	frame    Affine
	at, axis Vec
	rings    int32
	profile  []Vec
	at0      []int32 // number of each profile point's vertex in the first ring
	free     []int32 // its place among those off the axis, -1 on the axis
	count    int32   // of those off the axis
}

// onAxis is the distance from the axis, in mm, of a point that counts as on it.
const onAxis = 1e-6

func (r *revolver) add(loop []Vec2) {
	for _, p := range loop {
		v := Vec{p.X, p.Y, 0}
		place := int32(-1)
		if v.Sub(r.at).Cross(r.axis).Norm() > onAxis {
			place = r.count
			r.count++
		}
		r.profile = append(r.profile, v)
		r.free = append(r.free, place)
		r.at0 = append(r.at0, int32(len(r.m.Verts)))
		r.m.Verts = append(r.m.Verts, r.frame.Apply(v))
	}
}

// ring adds the profile's vertices after a turn.
func (r *revolver) ring(angle float64) {
	turn := rotation(r.at, r.axis, angle)
	for i, v := range r.profile {
		if r.free[i] >= 0 {
			r.m.Verts = append(r.m.Verts, r.frame.Apply(turn.Apply(v)))
		}
	}
}

// vertex is the number of profile point i in ring s.
func (r *revolver) vertex(i, s int32) int32 {
	if s %= r.rings; s == 0 || r.free[i] < 0 {
		return r.at0[i]
	}
	return int32(len(r.profile)) + (s-1)*r.count + r.free[i]
}

func (r *revolver) addCap(tris [][3]int, s int32, reverse bool) {
	for _, t := range tris {
		a, b, c := r.vertex(int32(t[0]), s), r.vertex(int32(t[1]), s), r.vertex(int32(t[2]), s)
		if reverse {
			b, c = c, b
		}
		r.m.Tris = append(r.m.Tris, [3]int32{a, b, c})
		r.m.Face = append(r.m.Face, min(s, 1))
	}
}

func (r *revolver) addSides(first, k, steps int32, faces []int32, reverse bool) {
	for i := range k {
		a, b := first+i, first+(i+1)%k
		if reverse {
			a, b = b, a
		}
		for s := range steps {
			r.m.addQuad(r.vertex(a, s), r.vertex(b, s), r.vertex(b, s+1), r.vertex(a, s+1), faces[i])
		}
	}
}

// rotation turns by angle about the unit axis through at.
func rotation(at, axis Vec, angle float64) Affine {
	s, c := math.Sincos(angle)
	turn := func(v Vec) Vec {
		return v.Mul(c).Add(axis.Cross(v).Mul(s)).Add(axis.Mul(axis.Dot(v) * (1 - c)))
	}
	m := Affine{X: turn(Vec{1, 0, 0}), Y: turn(Vec{0, 1, 0}), Z: turn(Vec{0, 0, 1})}
	m.T = at.Sub(m.Turn(at))
	return m
}
