package asbuilt

import (
	"cmp"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/report"
)

// states are in the order in which people have to look at them.
var states = []report.MeasuredState{
	report.Outside, report.NotCompared, report.UnknownKey, report.Within, report.NoTolerance, report.NotMeasured,
}

// sortRows puts the worst first: of values outside the tolerance those that are
// so by most, of values within it those that use most of it up.
func sortRows(rows []report.MeasuredRow) {
	slices.SortStableFunc(rows, func(a, b report.MeasuredRow) int {
		return cmp.Or(
			cmp.Compare(slices.Index(states, a.State), slices.Index(states, b.State)),
			cmp.Compare(weight(&b), weight(&a)),
			finding.Natural(a.Host, b.Host),
			finding.Natural(a.Set, b.Set),
			finding.Natural(a.What, b.What),
			finding.Natural(a.Where, b.Where),
		)
	})
}

// weight is what a row is sorted by within its state.
func weight(r *report.MeasuredRow) float64 {
	d := r.Deviation()
	limit := r.Plus
	if d < 0 {
		d, limit = -d, r.Minus
	}
	switch r.State {
	case report.Outside:
		return finding.Round(d-limit, 3)
	case report.Within:
		return finding.Round(d/limit, 3)
	case report.NoTolerance:
		return finding.Round(d, 3)
	}
	return 0
}
