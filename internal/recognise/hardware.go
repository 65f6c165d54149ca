package recognise

import (
	"cmp"
	"math"
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

// meet notes where a collinear piece s of another thickness, from one distance to
// another, goes on at an end of o: a thread is modelled at its root or over its
// crests beside a shank at its nominal size.
func (o *shank) meet(s *shank, from, to float64) {
	if step := math.Abs(s.radius/o.radius - 1); step < 0.01 || step > 0.2 {
		return
	}
	if from < 0 {
		o.steps = append(o.steps, min(to, o.length()))
	}
	if to > o.length() {
		o.steps = append(o.steps, max(from, 0))
	}
}

// threadFrom is the length of the piece at the open end, b when reverse is set,
// that is of another thickness than the rest; 0 when all is of one.
func (s *shank) threadFrom(reverse bool) float64 {
	best := 0.0
	for _, t := range s.steps {
		if reverse {
			t = s.length() - t
		}
		if best == 0 || t < best {
			best = t
		}
	}
	return best
}
