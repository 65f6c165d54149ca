package geom

import (
	"cmp"
	"math"
	"slices"
)

// Hull2 is the convex hull of points in a plane, counter-clockwise, without
// points along its sides. Two points or points of one line give a loop of two,
// one place a loop of one.
func Hull2(pts []Vec2) []Vec2 {
	sorted := slices.Clone(pts)
	slices.SortFunc(sorted, func(a, b Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	var hull []Vec2
	half := func() {
		start := len(hull)
		for _, p := range sorted {
			for len(hull) > start+1 && hull[len(hull)-1].Sub(hull[len(hull)-2]).Cross(p.Sub(hull[len(hull)-2])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1] // the other half begins with it
	}
	half()
	slices.Reverse(sorted)
	half()
	return hull
}

// Width2 is the least distance between two parallel lines that hold a convex
// loop between them, 0 for fewer than three points.
func Width2(hull []Vec2) float64 {
	if len(hull) < 3 {
		return 0
	}
	least := math.Inf(1)
	for i, a := range hull {
		d := hull[(i+1)%len(hull)].Sub(a)
		most := 0.0
		for _, p := range hull {
			most = max(most, math.Abs(d.Cross(p.Sub(a))))
		}
		least = min(least, most/d.Norm())
	}
	return least
}
