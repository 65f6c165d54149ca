package measure

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// HostAxes are three directions at right angles along which a host is built: the
// axes of its placement where its faces lie along them, else those of the faces
// themselves, each to the side of the model's axes.
func HostAxes(h *model.Host) [3]geom.Vec {
	faces := normals(h.Body)
	own := [3]geom.Vec{h.Frame.X.Unit(), h.Frame.Y.Unit(), h.Frame.Z.Unit()}
	best := builtOn(faces)
	const enough = 0.75 // of the surface that the best axes go with
	if aligned(faces, own) >= enough*aligned(faces, best) {
		return own
	}
	return best
}

// ordered gives axes the sign and the order of the model's axes that they are
// nearest to.
func ordered(axes [3]geom.Vec) [3]geom.Vec {
	var out [3]geom.Vec
	used := [3]bool{}
	for k, m := range [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		best := -1
		for i, a := range axes {
			if !used[i] && (best < 0 || math.Abs(a.Dot(m)) > math.Abs(axes[best].Dot(m))+1e-9) {
				best = i
			}
		}
		used[best] = true
		out[k] = axes[best]
		if out[k].Dot(m) < 0 {
			out[k] = out[k].Neg()
		}
	}
	return out
}

// facing is how much of a surface looks along a direction, to either side.
type facing struct {
	n    geom.Vec
	area float64
}

// normals are the directions that a body's surface looks along, largest first.
func normals(m *geom.Mesh) []facing {
	var out []facing
	const most = 200 // more directions are those of a round body
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		n := b.Sub(a).Cross(c.Sub(a))
		area := n.Norm()
		if n = n.Unit(); n == (geom.Vec{}) {
			continue
		}
		k := slices.IndexFunc(out, func(f facing) bool { return math.Abs(f.n.Dot(n)) > 1-1e-7 })
		if k >= 0 {
			out[k].area += area
		} else if len(out) < most {
			out = append(out, facing{n, area})
		}
	}
	slices.SortStableFunc(out, func(a, b facing) int {
		if math.Abs(a.area-b.area) < 1e-6*(a.area+b.area) {
			return 0
		}
		return cmp.Compare(b.area, a.area)
	})
	return out
}

// aligned is the area that looks along one of three axes, within a twentieth of
// a degree.
func aligned(faces []facing, axes [3]geom.Vec) float64 {
	sum := 0.0
	for _, f := range faces {
		for _, a := range axes {
			if math.Abs(a.Dot(f.n)) > 1-4e-7 {
				sum += f.area
				break
			}
		}
	}
	return sum
}

// builtOn are the axes that most of a surface goes with.
func builtOn(faces []facing) [3]geom.Vec {
	best, most := [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}, -1.0
	const tried = 12
	for i, f := range faces[:min(len(faces), tried)] {
		for _, g := range faces[:min(len(faces), tried)] {
			if math.Abs(f.n.Dot(g.n)) > 1e-3 {
				continue
			}
			fr := geom.FrameZX(geom.Vec{}, f.n, g.n)
			axes := [3]geom.Vec{fr.X, fr.Y, fr.Z}
			if a := aligned(faces, axes) - float64(i)*1e-6; a > most*(1+1e-9) {
				best, most = ordered(axes), a
			}
		}
	}
	return best
}

// Reach is how far a body reaches along a direction.
func Reach(m *geom.Mesh, d geom.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range m.Verts {
		t := p.Dot(d)
		lo, hi = min(lo, t), max(hi, t)
	}
	return lo, hi
}
