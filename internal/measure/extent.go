package measure

import (
	"math"

	"embedcheck/internal/geom"
)

// Extent is the size of a body as people state that of a panel.
type Extent struct {
	Length, Width float64 // mm, of the least rectangle around it, seen square to its largest face; Length is the larger
	Thickness     float64 // mm, square to its largest face
}

// SizeOf is the extent of a body, however it is turned. The sides of the
// rectangle run along a side of the largest flat face; ok is false when there is
// no such face.
func SizeOf(m *geom.Mesh) (e Extent, ok bool) {
	faces := m.PlanarFaces()
	if len(faces) == 0 {
		return e, false
	}
	big := &faces[0]
	for i := range faces {
		if geom.Over(faces[i].Area, big.Area) {
			big = &faces[i]
		}
	}
	if len(big.Outline) == 0 {
		return e, false
	}
	least := math.Inf(1)
	outline := big.Outline[0]
	for i, p := range outline {
		side := outline[(i+1)%len(outline)].Sub(p)
		f := geom.FrameZX(p, big.Plane.N, side)
		box := geom.EmptyBox
		for _, v := range m.Verts {
			box = box.Add(f.Local(v))
		}
		if s := box.Size(); s.X*s.Y < least-geom.Tol {
			least = s.X * s.Y
			e = Extent{max(s.X, s.Y), min(s.X, s.Y), s.Z}
		}
	}
	return e, true
}
