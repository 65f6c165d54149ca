package demo

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Seen is one place that a check found: one item, or one anchor of it.
type Seen struct {
	Rule, Host, Item string // rule ID and marks; Host "" for an item in no concrete
	Measured         float64
}

// Tolerance is by how much, in mm, a measured value may be off: some bodies are
// modelled in 16 sides.
const Tolerance = 0.5

// Compare holds what a check of all models found against Faults: what is
// missing, and what was found and is no planted mistake. Findings of the lowest
// priority are to be left out, as the package comment says why. Both lists are
// empty when the check is right.
func Compare(seen []Seen) (missing, unexpected []string) {
	used := make([]bool, len(seen))
	for i := range Faults {
		f := &Faults[i]
		want, got := f.places(), 0
		for k, s := range seen {
			if !used[k] && got < want && f.is(s) {
				used[k] = true
				got++
			}
		}
		if got < want {
			missing = append(missing, fmt.Sprintf("%s %s %v: %d of %d places at %v mm", f.Rule, f.Host, f.Items, got, want, f.Measured))
		}
	}
	for k, s := range seen {
		if !used[k] {
			unexpected = append(unexpected, fmt.Sprintf("%s %s %s: %v mm", s.Rule, s.Host, s.Item, s.Measured))
		}
	}
	sort.Strings(unexpected)
	return missing, unexpected
}

// places is how many items or anchors of items the fault is about.
func (f *Fault) places() int { return max(1, f.Anchors) }

func (f *Fault) is(s Seen) bool {
	return f.Rule == s.Rule && f.Host == s.Host && slices.Contains(f.Items, s.Item) && math.Abs(f.Measured-s.Measured) <= Tolerance
}
