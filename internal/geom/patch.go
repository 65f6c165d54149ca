package geom

import "math"

// Patch marks the triangles that belong to one face with triangle from: those
// reached over sides at which the surface turns by less than the given angle, so
// that all facets of a round column are one face. A turn of 0 keeps to what is
// flat within float noise.
func (m *Mesh) Patch(from int, turn float64) []bool {
	adj := m.sides()
	cos := min(math.Cos(turn), flatNoise)
	in := make([]bool, len(m.Tris))
	in[from] = true
	var few [32]int32
	for todo := append(few[:0], int32(from)); len(todo) > 0; {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		n := m.normal2(int(t)).Unit()
		for _, side := range adj[t] {
			if side == noSide {
				continue
			}
			if o := side / 3; !in[o] && m.normal2(int(o)).Unit().Dot(n) > cos {
				in[o] = true
				todo = append(todo, o)
			}
		}
	}
	return in
}

// flatNoise is the cosine of a turn, of about 1e-6, that rounding makes.
const flatNoise = 1 - 1e-12
