package rules

import (
	"math"

	"embedcheck/internal/model"
)

// sound reports whether an anchor can be measured: it enters a host, and all of
// its figures are numbers.
func sound(a *model.Anchor) bool {
	return a.Entry != nil && a.Entry.Solid != nil && a.Item.Host != nil &&
		finite(a.Length, a.Diameter, a.Bearing, a.Deepest, a.HeadSize, a.Entry.Dist, a.Entry.Thickness) &&
		a.Open.Finite() && a.Dir.Finite() && a.Entry.Point.Finite() && a.Entry.Normal.Finite()
}

// soundPlate reports whether the outline of a plate can be measured.
func soundPlate(it *model.Item) bool {
	if it.Host == nil || it.PlateIn == nil || it.PlateIn.Solid == nil || len(it.Outline) < 3 || !finite(it.Thick, it.PlateIn.Dist) {
		return false
	}
	for _, v := range it.Outline {
		if !v.Finite() {
			return false
		}
	}
	return true
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
