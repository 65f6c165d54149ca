package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Gap is a clear distance between two bodies; negative when they overlap.
type Gap struct {
	Dist float64  // mm, surface to surface
	At   geom.Vec // on the first body, where it is least
}

// BarGap is the clear distance between an item and piece i of the bars, and
// false when it is more than limit mm.
func BarGap(it *model.Item, bars *model.Bars, i int, limit float64) (Gap, bool) {
	bar := bars.Rod(i)
	return least(it, bar.Box(), limit, func(b *model.Body) (float64, geom.Vec) {
		return bodyRod(b, bar)
	})
}

// BarMeshGap is BarGap for reinforcement that is known only as a body.
func BarMeshGap(it *model.Item, bar *model.BarMesh, limit float64) (Gap, bool) {
	return least(it, bar.Box, limit, func(b *model.Body) (float64, geom.Vec) {
		return bodyMesh(b, bar.Mesh)
	})
}

// ItemGap is the clear distance between two items, and false when it is more
// than limit mm.
func ItemGap(a, b *model.Item, limit float64) (Gap, bool) {
	best, ok := Gap{Dist: math.Inf(1)}, false
	for i := range b.Bodies {
		o := &b.Bodies[i]
		g, near := least(a, o.Box, limit, func(body *model.Body) (float64, geom.Vec) {
			if o.Rod != nil {
				return bodyRod(body, *o.Rod)
			}
			return bodyMesh(body, o.Mesh)
		})
		if near && g.Dist < best.Dist {
			best, ok = g, true
		}
	}
	return best, ok
}

func least(it *model.Item, near geom.Box, limit float64, gap func(*model.Body) (float64, geom.Vec)) (Gap, bool) {
	best := Gap{Dist: math.Inf(1)}
	near = near.Grow(limit)
	for i := range it.Bodies {
		b := &it.Bodies[i]
		if !b.Box.Overlaps(near) {
			continue
		}
		if d, at := gap(b); d < best.Dist {
			best = Gap{d, at}
		}
	}
	return best, best.Dist <= limit
}

func bodyRod(b *model.Body, r geom.Rod) (float64, geom.Vec) {
	if b.Rod != nil {
		d, p, _ := geom.RodRod(*b.Rod, r)
		return d, p
	}
	d, _, p := geom.RodMesh(r, b.Mesh)
	return d, p
}

func bodyMesh(b *model.Body, m *geom.Mesh) (float64, geom.Vec) {
	if b.Rod != nil {
		d, p, _ := geom.RodMesh(*b.Rod, m)
		return d, p
	}
	d, p, _ := geom.MeshMesh(b.Mesh, m)
	return d, p
}
