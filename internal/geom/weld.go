package geom

import "math"

// Weld is the mesh with vertices closer than tol made one, and without the
// triangles that lose a corner by that. Triangles keep their order.
func (m *Mesh) Weld(tol float64) *Mesh {
	w, _ := m.weld(tol)
	return w
}

// weld is Weld, and the number in m of each triangle.
func (m *Mesh) weld(tol float64) (w *Mesh, of []int32) {
	at, verts := weld(m.Verts, tol)
	w = &Mesh{Verts: verts, Tris: make([][3]int32, 0, len(m.Tris))}
	of = make([]int32, 0, len(m.Tris))
	for i, t := range m.Tris {
		t = [3]int32{at[t[0]], at[t[1]], at[t[2]]}
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue
		}
		of = append(of, int32(i))
		w.Tris = append(w.Tris, t)
		if m.Face != nil {
			w.Face = append(w.Face, m.Face[i])
		}
	}
	return w, of
}

// weld maps each point to the first one before it that is closer than tol.
func weld(pts []Vec, tol float64) (at []int32, kept []Vec) {
	if len(pts) <= fewPoints {
		return weldFew(pts, tol)
	}
	p := newPool(tol, len(pts))
	at = make([]int32, len(pts))
	for i, v := range pts {
		at[i] = p.add(v)
	}
	return at, p.pts
}

// fewPoints is the number of points up to which comparing all of them is quicker
// than a grid: eight corners of a box take a twelfth of the time.
const fewPoints = 32

// weldFew is weld without a grid.
func weldFew(pts []Vec, tol float64) (at []int32, kept []Vec) {
	at, kept = make([]int32, len(pts)), make([]Vec, 0, len(pts))
	for i, v := range pts {
		best := max(tol, math.SmallestNonzeroFloat32)
		at[i] = int32(len(kept))
		for k, o := range kept {
			if d := o.Dist(v); d < best {
				best, at[i] = d, int32(k)
			}
		}
		if at[i] == int32(len(kept)) {
			kept = append(kept, v)
		}
	}
	return at, kept
}

// pool holds points no two of which are closer than tol. Its grid is as wide as
// tol, so that near points lie in the same or in neighbouring cells.
type pool struct {
	tol  float64
	pts  []Vec
	cell map[[3]int64]int32 // last point in the cell
	next []int32            // the point before it in the same cell, -1 for none
}

func newPool(tol float64, hint int) *pool {
	if !(tol > 0) {
		tol = math.SmallestNonzeroFloat32
	}
	return &pool{tol: tol, pts: make([]Vec, 0, hint), cell: make(map[[3]int64]int32, hint)}
}

// add is the number of the point near v; a new one when there is none.
func (p *pool) add(v Vec) int32 {
	if i := p.find(v); i >= 0 {
		return i
	}
	i := int32(len(p.pts))
	c := p.cellOf(v, 0, 0, 0)
	last, ok := p.cell[c]
	if !ok {
		last = -1
	}
	p.pts, p.next = append(p.pts, v), append(p.next, last)
	p.cell[c] = i
	return i
}

// find is the number of the nearest point closer than tol, -1 when there is none.
func (p *pool) find(v Vec) int32 {
	best, at := p.tol, int32(-1)
	lo, hi := p.cellOf(v, -p.tol, -p.tol, -p.tol), p.cellOf(v, p.tol, p.tol, p.tol)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				i, ok := p.cell[[3]int64{x, y, z}]
				for ; ok && i >= 0; i = p.next[i] {
					if d := p.pts[i].Dist(v); d < best {
						best, at = d, i
					}
				}
			}
		}
	}
	return at
}

// cellOf is the cell of v moved by the given amounts. Cells are four times as
// wide as tol, so that one or two cells an axis hold all near points.
func (p *pool) cellOf(v Vec, x, y, z float64) [3]int64 {
	w := 1 / (4 * p.tol)
	return [3]int64{cellIndex((v.X + x) * w), cellIndex((v.Y + y) * w), cellIndex((v.Z + z) * w)}
}

// cellIndex rounds down; numbers too large for a cell share the outermost one.
func cellIndex(x float64) int64 {
	x = math.Floor(x)
	switch {
	case x > 1<<52:
		return 1 << 52
	case x > -(1 << 52):
		return int64(x)
	}
	return -(1 << 52) // NaN comes here too
}
