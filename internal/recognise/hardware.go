package recognise

import (
	"cmp"
	"slices"

	"embedcheck/internal/model"
)

// Sizes by which nuts and washers are told, in shank diameters. Nuts of ISO 4032,
// ISO 4035 and ASME B18.2.2 are 0.5 to 1 high and 1.7 to 2.1 wide across corners
// (from memory); plate washers are up to 0.42 thick and wider than nuts.
const (
	leastNut  = 0.3
	highNut   = 1.6
	wideNut   = 2.2
	thickWash = 0.7
)

// partsOf are the collars of an anchor as parts, from the open end on. What two
// bodies tell of one place counts once.
func partsOf(collars []collar, diameter float64) []model.Part {
	if diameter <= 0 {
		return nil
	}
	var out []model.Part
	sorted := slices.Clone(collars)
	slices.SortFunc(sorted, func(x, y collar) int {
		return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(y.to, x.to), cmp.Compare(y.radius, x.radius))
	})
	for _, c := range sorted {
		if c.plate {
			continue // told as a plate of its own
		}
		p := model.Part{Kind: partKind(c, diameter), From: c.from, To: c.to, Size: 2 * c.radius}
		if n := len(out); n > 0 {
			last := &out[n-1]
			if shared := min(last.To, p.To) - p.From; shared > (p.To-p.From)/2 || shared > (last.To-last.From)/2 {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

func partKind(c collar, d float64) model.PartKind {
	high, wide := (c.to-c.from)/d, 2*c.radius/d
	switch {
	case high < leastNut, wide > wideNut && high < thickWash:
		return model.Washer
	case wide <= wideNut && high <= highNut:
		return model.Nut
	}
	return model.OtherPart
}
