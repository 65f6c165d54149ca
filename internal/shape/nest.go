package shape

import (
	"slices"

	"embedcheck/internal/geom"
)

// maxLoops bounds the loops of one face, each of which is held against all
// others.
const maxLoops = 4000

// add adds a face, as several when it is nested.
func (s *shell) add(f face) {
	if len(f.loops) > maxLoops {
		f.loops = f.loops[:1] // the shell comes out open, and says so
	}
	if len(f.loops) < 2 || f.curved != nil {
		s.faces = append(s.faces, f)
		return
	}
	s.faces = append(s.faces, s.nested(f)...)
}

// nested is a flat face with several loops as faces that each have one outer
// loop and its holes. Files put a ring into the hole of a ring, as bounds of one
// face, and let holes run either way round; what lies in what decides here.
func (s *shell) nested(f face) []face {
	n := newell(s.points, f.loops[0]).Unit()
	frame := geom.FrameZX(s.points[f.loops[0][0]], n, n.Perp())
	flat := make([][]geom.Vec2, len(f.loops))
	for i, l := range f.loops {
		for _, v := range l {
			q := frame.Local(s.points[v])
			flat[i] = append(flat[i], geom.Vec2{X: q.X, Y: q.Y})
		}
	}
	around := make([][]int, len(flat)) // loops that a loop lies in
	for i := range flat {
		for j := range flat {
			if i != j && liesIn(flat[i], flat[j]) {
				around[i] = append(around[i], j)
			}
		}
	}
	var out []face
	at := make(map[int]int) // face of an outer loop
	for i, l := range f.loops {
		if len(around[i])%2 == 0 {
			if area(flat[i]) < 0 {
				slices.Reverse(l)
			}
			at[i] = len(out)
			g := f
			g.loops = [][]int32{l}
			out = append(out, g)
		}
	}
	for i, l := range f.loops {
		if len(around[i])%2 == 0 {
			continue
		}
		for _, j := range around[i] { // the innermost of the loops around
			if len(around[j]) == len(around[i])-1 {
				if area(flat[i]) > 0 {
					slices.Reverse(l)
				}
				out[at[j]].loops = append(out[at[j]].loops, l)
				break
			}
		}
	}
	return out
}

// liesIn reports whether most of the corners of a, which are not corners of b,
// lie inside b, and a is the smaller one.
func liesIn(a, b []geom.Vec2) bool {
	if abs(area(a)) >= abs(area(b)) {
		return false
	}
	in, out := 0, 0
	for _, p := range a {
		switch {
		case slices.Contains(b, p):
		case geom.Polygon{Outer: b}.Contains(p):
			in++
		default:
			out++
		}
	}
	return in > out || in == 0 && out == 0
}

func abs(x float64) float64 { return max(x, -x) }
