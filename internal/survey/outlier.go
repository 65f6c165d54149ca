package survey

import "slices"

// An outlier stands out from what the others say by so many times their own
// scatter, and by so much in mm that a tape or a prism does not explain it.
const (
	outlierTimes = 4.0
	outlierLeast = 6.0
)

// Outlier is a reference without which the others agree.
type Outlier struct {
	Name   string
	Off    float64 // mm, from where a fit through the others has it
	Others float64 // mm, worst residual of the fit through the others
}

// Outliers are the references each of which may be the one that is wrong, the
// likeliest first. There is none when all agree or when several are wrong. There
// may be more than one: of four corners of a face, one that is sighted too high
// tilts the plane of any three, and nobody can say which it was.
func Outliers(refs []Pair) []Outlier {
	var list []Outlier
	if len(refs) > maxReferences {
		return nil
	}
	for i, p := range refs {
		others := slices.Delete(slices.Clone(refs), i, i+1)
		f, err := New(others)
		if err != nil {
			continue
		}
		o := Outlier{Name: p.Name, Off: f.Apply(p.Measured).Dist(p.Model), Others: f.Residuals[f.Worst()].Size()}
		if o.Off >= outlierLeast && o.Off >= outlierTimes*o.Others {
			list = append(list, o)
		}
	}
	slices.SortStableFunc(list, func(a, b Outlier) int {
		switch {
		case a.Others < b.Others:
			return -1
		case a.Others > b.Others:
			return 1
		}
		return 0
	})
	for i, o := range list {
		// One that leaves clearly more scatter than the first is not it.
		if o.Others > 2*list[0].Others+1 {
			return list[:i]
		}
	}
	return list
}
