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
	return least(it, bar.Box(), limit, func(b *model.Body, limit float64) (float64, geom.Vec, bool) {
		return bodyRod(b, bar, limit)
	})
}

// BarMeshGap is BarGap for reinforcement that is known only as a body.
func BarMeshGap(it *model.Item, bar *model.BarMesh, limit float64) (Gap, bool) {
	return least(it, bar.Box, limit, func(b *model.Body, limit float64) (float64, geom.Vec, bool) {
		return bodyMesh(b, bar.Mesh, limit)
	})
}

// ItemGap is the clear distance between two items, and false when it is more
// than limit mm.
func ItemGap(a, b *model.Item, limit float64) (Gap, bool) {
	best, ok := Gap{Dist: math.Inf(1)}, false
	for i := range b.Bodies {
		o := &b.Bodies[i]
		g, near := least(a, o.Box, limit, func(body *model.Body, limit float64) (float64, geom.Vec, bool) {
			if o.Rod != nil {
				return bodyRod(body, *o.Rod, limit)
			}
			return bodyMesh(body, o.Mesh, limit)
		})
		if near && g.Dist < best.Dist {
			best, ok = g, true
		}
	}
	return best, ok
}

// least is the least gap to the bodies of an item. What is farther than the limit
// is not worked out: nearly all bars that come near an item's box are.
func least(it *model.Item, near geom.Box, limit float64, gap func(b *model.Body, limit float64) (float64, geom.Vec, bool)) (Gap, bool) {
	best := Gap{Dist: math.Inf(1)}
	near = near.Grow(limit)
	for i := range it.Bodies {
		b := &it.Bodies[i]
		if !b.Box.Overlaps(near) {
			continue
		}
		if d, at, ok := gap(b, min(limit, best.Dist)); ok && d < best.Dist {
			best = Gap{d, at}
		}
	}
	return best, best.Dist <= limit
}

// bodyRod is the gap between a body and a rod, and false when it is more than the
// limit.
func bodyRod(b *model.Body, r geom.Rod, limit float64) (float64, geom.Vec, bool) {
	if b.Rod != nil {
		d, p, _, ok := geom.RodRodWithin(*b.Rod, r, limit)
		return d, p, ok
	}
	d, _, p, ok := geom.RodMeshWithin(r, b.Mesh, limit)
	return d, p, ok
}

func bodyMesh(b *model.Body, m *geom.Mesh, limit float64) (float64, geom.Vec, bool) {
	if b.Rod != nil {
		d, p, _, ok := geom.RodMeshWithin(*b.Rod, m, limit)
		return d, p, ok
	}
	d, p, _, ok := geom.MeshMeshWithin(b.Mesh, m, limit)
	return d, p, ok
}
