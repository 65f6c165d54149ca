package geom

import "math"

// Revolve turns a profile in the xy plane of frame by angle about the axis
// through at along axis, both given in frame's axes, in the given number of
// steps. The axis lies in that plane and does not run through the profile. A
// full turn joins up. Face numbers are as in Prism.
func Revolve(outer []Vec2, holes [][]Vec2, frame Affine, at, axis Vec, angle float64, steps int, runs ...[]int) *Mesh {
	steps = max(steps, 3)
	full := math.Abs(angle) >= 2*math.Pi-1e-9
	axis = axis.Unit()
	loops := append([][]Vec2{outer}, holes...)
	m := &Mesh{}
	var n int32
	for _, l := range loops {
		n += int32(len(l))
	}
	rings := steps + 1
	if full {
		rings = steps
	}
	for s := range rings {
		turn := rotation(at, axis, angle*float64(s)/float64(steps))
		for _, l := range loops {
			for _, p := range l {
				m.Verts = append(m.Verts, frame.Apply(turn.Apply(Vec{p.X, p.Y, 0})))
			}
		}
	}
	if !full {
		last := n * int32(steps)
		for _, t := range Triangulate(outer, holes) {
			a, b, c := int32(t[0]), int32(t[1]), int32(t[2])
			m.Tris = append(m.Tris, [3]int32{a, c, b}, [3]int32{a + last, b + last, c + last})
			m.Face = append(m.Face, 0, 1)
		}
	}
	face, first := int32(1), int32(0)
	for i, l := range loops {
		reverse := (loopArea(l) > 0) != (i == 0)
		for k := range l {
			face++
			a, b := first+int32(k), first+int32((k+1)%len(l))
			if reverse {
				a, b = b, a
			}
			for s := range int32(steps) {
				lo, hi := s*n, (s+1)%int32(rings)*n
				m.Tris = append(m.Tris, [3]int32{a + lo, b + lo, b + hi}, [3]int32{a + lo, b + hi, a + hi})
				m.Face = append(m.Face, face, face)
			}
		}
		first += int32(len(l))
	}
	m = m.Weld(1e-9)
	if m.Volume() < 0 {
		m.Tris = flipped(m.Tris)
	}
	return m
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
