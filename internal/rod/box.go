package rod

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// OrientedBox is a box in space, its longest side first.
type OrientedBox struct {
	Center geom.Vec
	Axes   [3]geom.Vec // unit, right-handed
	Dims   [3]float64  // full lengths along the axes
}

// boxAlong is the smallest box around the points with one side along each of the
// given directions in turn.
func boxAlong(pts []geom.Vec, along []geom.Vec) OrientedBox {
	best := OrientedBox{Dims: [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}}
	flat := make([]geom.Vec2, 0, len(pts))
	for _, n := range along {
		e1 := n.Perp()
		e2 := n.Cross(e1)
		flat = flat[:0]
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range pts {
			flat = append(flat, geom.Vec2{X: p.Dot(e1), Y: p.Dot(e2)})
			lo, hi = math.Min(lo, p.Dot(n)), math.Max(hi, p.Dot(n))
		}
		c, u, x, y := smallestRect(hull(flat))
		if x*y*(hi-lo) >= best.Dims[0]*best.Dims[1]*best.Dims[2] {
			continue
		}
		a1 := e1.Mul(u.X).Add(e2.Mul(u.Y))
		best = OrientedBox{
			Center: e1.Mul(c.X).Add(e2.Mul(c.Y)).Add(n.Mul((lo + hi) / 2)),
			Axes:   [3]geom.Vec{a1, n.Cross(a1), n},
			Dims:   [3]float64{x, y, hi - lo},
		}
	}
	best.sort()
	return best
}

func (b *OrientedBox) sort() {
	order := [3]int{0, 1, 2}
	slices.SortStableFunc(order[:], func(i, j int) int {
		switch {
		case b.Dims[i] > b.Dims[j]:
			return -1
		case b.Dims[i] < b.Dims[j]:
			return 1
		}
		return 0
	})
	old := *b
	for k, i := range order {
		b.Axes[k], b.Dims[k] = old.Axes[i], old.Dims[i]
	}
	b.Axes[2] = b.Axes[0].Cross(b.Axes[1])
}

// smallestRect is the rectangle of least area around a convex outline: its
// middle, the direction of its first side, and its sides. One side lies on a
// side of the outline.
func smallestRect(h []geom.Vec2) (c, u geom.Vec2, x, y float64) {
	least := math.Inf(1)
	for i, p := range h {
		d := h[(i+1)%len(h)].Sub(p)
		l := d.Norm()
		if l == 0 {
			continue
		}
		d = d.Mul(1 / l)
		v := geom.Vec2{X: -d.Y, Y: d.X}
		lo := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}
		hi := geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
		for _, q := range h {
			s, t := q.Dot(d), q.Dot(v)
			lo.X, hi.X = math.Min(lo.X, s), math.Max(hi.X, s)
			lo.Y, hi.Y = math.Min(lo.Y, t), math.Max(hi.Y, t)
		}
		if a := (hi.X - lo.X) * (hi.Y - lo.Y); a < least*(1-1e-9) {
			least = a
			m := lo.Add(hi).Mul(0.5)
			c, u, x, y = d.Mul(m.X).Add(v.Mul(m.Y)), d, hi.X-lo.X, hi.Y-lo.Y
		}
	}
	if math.IsInf(least, 1) {
		u = geom.Vec2{X: 1}
		if len(h) > 0 {
			c = h[0]
		}
	}
	return c, u, x, y
}
