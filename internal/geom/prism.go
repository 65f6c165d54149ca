package geom

// Prism is a profile in the xy plane of frame, moved by depth along dir, which
// is given in frame's axes; holes go through. It is closed and looks outwards for
// either direction. Face numbers: 0 the profile, 1 the moved profile, then one a
// side: outer first, then each hole. runs, when given, has one slice for outer
// and each hole with a number for each side (from its point to the next);
// neighbouring sides with the same number make one smooth face.
func Prism(outer []Vec2, holes [][]Vec2, frame Affine, dir Vec, depth float64, runs ...[]int) *Mesh {
	lift := func(l []Vec2) []Vec {
		out := make([]Vec, len(l))
		for i, p := range l {
			out[i] = frame.Apply(Vec{p.X, p.Y, 0})
		}
		return out
	}
	loops := [][]Vec{lift(outer)}
	for _, h := range holes {
		loops = append(loops, lift(h))
	}
	move := frame.Turn(dir.Unit().Mul(depth))
	top := make([][]Vec, len(loops))
	for i, l := range loops {
		top[i] = make([]Vec, len(l))
		for k, p := range l {
			top[i][k] = p.Add(move)
		}
	}
	return Loft(loops, top, runs...)
}

// Loft joins two profiles with the same number of loops and points by flat or
// ruled sides; the first loop is the outer one. Face numbers are as in Prism.
func Loft(bottom, top [][]Vec, runs ...[]int) *Mesh {
	if len(bottom) == 0 || len(bottom) != len(top) {
		return &Mesh{}
	}
	m := &Mesh{}
	caps := TriangulateLoop3(bottom[0], bottom[1:])
	var n int32
	for _, l := range bottom {
		m.Verts = append(m.Verts, l...)
		n += int32(len(l))
	}
	for _, l := range top {
		m.Verts = append(m.Verts, l...)
	}
	if int32(len(m.Verts)) != 2*n {
		return &Mesh{}
	}
	for _, t := range caps {
		a, b, c := int32(t[0]), int32(t[1]), int32(t[2])
		m.Tris = append(m.Tris, [3]int32{a, c, b}, [3]int32{a + n, b + n, c + n})
		m.Face = append(m.Face, 0, 1)
	}
	normal := NewellNormal(bottom[0])
	face, first := int32(1), int32(0)
	for i, l := range bottom {
		reverse := (NewellNormal(l).Dot(normal) > 0) != (i == 0)
		last := -1
		for k := range l {
			if i >= len(runs) || k >= len(runs[i]) || k == 0 || runs[i][k] != last {
				face++
			}
			if i < len(runs) && k < len(runs[i]) {
				last = runs[i][k]
			}
			a, b := first+int32(k), first+int32((k+1)%len(l))
			if reverse {
				a, b = b, a
			}
			m.Tris = append(m.Tris, [3]int32{a, b, b + n}, [3]int32{a, b + n, a + n})
			m.Face = append(m.Face, face, face)
		}
		first += int32(len(l))
	}
	if m.Volume() < 0 {
		m.Tris = flipped(m.Tris)
	}
	return m
}

// BoxMesh is the box between two corners.
func BoxMesh(lo, hi Vec) *Mesh {
	return Prism([]Vec2{{lo.X, lo.Y}, {hi.X, lo.Y}, {hi.X, hi.Y}, {lo.X, hi.Y}}, nil, Identity.Shift(Vec{0, 0, lo.Z}), Vec{0, 0, 1}, hi.Z-lo.Z)
}
