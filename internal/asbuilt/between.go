package asbuilt

import (
	"embedcheck/internal/report"
	"embedcheck/internal/setout"
)

// between compares the dimensions from axis to axis, where both were sighted;
// measure gives the value.
func (k *comparer) between(s *Sheet, points []sighted, note string, measure func(d *dim, a, b sighted) float64) {
	type anchor struct {
		of     *setout.Set
		number int
	}
	at := map[anchor]sighted{}
	var sets []*setout.Set
	seen := map[*setout.Set]bool{}
	for _, p := range points {
		if p.anchor == nil {
			continue
		}
		at[anchor{p.of, p.anchor.Number}] = p
		if !seen[p.of] {
			seen[p.of] = true
			sets = append(sets, p.of)
		}
	}
	for _, of := range sets {
		for i := range of.Dims {
			d := k.dims[normal(of.Dims[i].Key)]
			if len(d.Anchors) != 2 {
				continue
			}
			a, okA := at[anchor{of, d.Anchors[0]}]
			b, okB := at[anchor{of, d.Anchors[1]}]
			if okA && okB {
				k.compare(d, measure(d, a, b), report.MeasuredRow{Surveyed: true, Where: where(s, a.entry), Note: note}, nil)
			}
		}
	}
}

// endToEnd compares the distances between the ends of anchors, which are the
// same in any frame, where no references fix one. Ends that stand out by
// different lengths make a distance longer, by little.
func (k *comparer) endToEnd(s *Sheet, v *surveyed) {
	k.between(s, v.items, "from end to end, since no references fix the survey", func(d *dim, a, b sighted) float64 {
		return d.MM + b.Measured.Dist(a.Measured) - b.Model.Dist(a.Model)
	})
}
