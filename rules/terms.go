package rules

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// Worked is one entry of a limit, worked out for one place.
type Worked struct {
	Entry   string  // as a person says it: "6 diameters"
	Counts  bool    // it counts in a size of the place
	Of      float64 // mm, that size; 0 when it is not known
	Value   float64 // in the rule's unit; 0 when the size is not known
	Known   bool
	Governs bool
	Source  string
}

// Work works out each entry of the limit that holds for an item, for a place.
// governs is the entry that a finding names; it stands last when it is none of
// the limit, as what the model itself states.
func (s *Set) Work(r *Rule, it *model.Item, b Basis, in *finding.Instance) []Worked {
	p := s.ParamsFor(r, it)
	var out []Worked
	named := false
	for _, t := range p.Limit {
		_, counts := words[t.Unit]
		w := Worked{Entry: t.String(), Counts: counts, Of: b.of(t.Unit), Source: p.source(t.Unit), Governs: string(t.Unit) == in.Governs}
		if w.Known = w.Of > 0; w.Known {
			w.Value = t.Value * w.Of
		}
		if w.Governs { // the finding has worked it out with what it measured
			w.Value, w.Known, named = in.Required, true, true
		}
		out = append(out, w)
	}
	if !named && in.Governs != "" {
		out = append(out, Worked{Entry: in.Governs, Value: in.Required, Known: true, Governs: true, Source: p.source(Unit(in.Governs))})
	}
	return out
}
