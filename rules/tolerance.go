package rules

import "embedcheck/internal/model"

// ToleranceKind names what a tolerance is for, as rule files do.
type ToleranceKind string

const (
	TolPosition ToleranceKind = "position" // from a datum to an axis or a side
	TolCentres  ToleranceKind = "centres"  // axis to axis within a set
	TolLevel    ToleranceKind = "level"    // of a thread's end, of a plate's face
	TolDepth    ToleranceKind = "depth"    // embedment
	TolCover    ToleranceKind = "cover"    // concrete behind the item
	TolSize     ToleranceKind = "size"     // of the form, an opening, an item
	TolFit      ToleranceKind = "fit"      // of surveyed references to the model
)

// ToleranceKinds are all kinds, in the order in which lists show them.
var ToleranceKinds = []ToleranceKind{TolPosition, TolCentres, TolLevel, TolDepth, TolCover, TolSize, TolFit}

// Tolerance is how far a measured value may be below and above that of the
// model, as a rule file states it.
type Tolerance struct {
	Minus, Plus float64 // mm, both positive
	Source      string  // where it comes from; "" when the file does not say
}

// Tolerance is what the rule file states for dimensions of a kind about an item,
// nil for those about none; ok is false where it is silent. The last entry of
// "for" that matches wins.
func (s *Set) Tolerance(it *model.Item, k ToleranceKind) (t Tolerance, ok bool) {
	t, ok = s.Tolerances[k]
	if it != nil {
		for _, i := range s.matching(it) {
			if u, stated := s.For[i].Tolerances[k]; stated {
				t, ok = u, true
			}
		}
	}
	if ok && t.Source == "" {
		t.Source = "rule file " + s.Name
	}
	return t, ok
}
