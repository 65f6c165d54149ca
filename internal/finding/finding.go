// Package finding holds what a check has to say: flat, sorted, measured values
// that outlive the model they were found in. Writers need nothing else.
package finding

import "embedcheck/internal/geom"

// Priority says what a finding asks for.
type Priority int

const (
	Note   Priority = iota // worth knowing
	Review                 // an engineer decides
	Hold                   // do not pour until settled
)

var priorityNames = [...]string{"note", "review", "hold"}

func (p Priority) String() string { return priorityNames[p] }

// ParsePriority reads "note", "review" or "hold".
func ParsePriority(s string) (Priority, bool) {
	for i, n := range priorityNames {
		if n == s {
			return Priority(i), true
		}
	}
	return 0, false
}

// Ref names an element of a model: what a person or a BCF viewer finds it by.
type Ref struct {
	GlobalID string // 22 characters; "" when the model gives none
	Class    string // entity name in the standard's spelling, such as IfcWall
	Name     string
	Mark     string // the Tag, the mark on the drawing; may be empty
	Model    string // name of the file, as ModelInfo has it
}

// Relation is how a measured value has to stand to the required one.
type Relation string

const (
	AtLeast Relation = ">="
	AtMost  Relation = "<="
	Equal   Relation = "="
	None    Relation = "" // nothing is measured, as for not-checked
)

// Instance is one place where the rule is not met.
type Instance struct {
	Item     Ref
	Kind     string // of the item: bolt, plate, ...
	Anchor   int    // index of the anchor in its item; -1 for the item itself
	Measured float64
	Required float64
	Unit     string // mm, ratio, degrees, count; "" when nothing is measured
	Relation Relation
	Governs  string   // the limit entry that governed: mm, diameters, ...
	At       geom.Vec // metres, in the model's own world coordinates
	Normal   geom.Vec // unit, out of the concrete on the open side; may be zero
	Others   []Ref    // the bar, the neighbour, ...
	Text     string   // one clause about this instance, with its figures
}

// Finding is one rule not met by one set, or one single item, in one host.
type Finding struct {
	ID        string
	Rule      string
	Priority  Priority
	Status    string // open, accepted, closed
	Host      Ref    // zero when there is none
	Set       string // name of the set, or the item's
	Instances []Instance
	Title     string
	Message   string
	Source    string // where the limit comes from, and how well that is known
	Life      Life   // against an earlier run, and what people decided
}

// alike is how far two misses may be apart and still be equal: which of them
// comes out larger by less is noise of the arithmetic, and would change with the
// place of the model and its unit.
const alike = 1e-4

// Worst is the instance that misses its limit by most, the first one of equals.
func (f *Finding) Worst() *Instance {
	var w *Instance
	for i := range f.Instances {
		in := &f.Instances[i]
		if w == nil || in.miss() > w.miss()+alike {
			w = in
		}
	}
	return w
}

// miss is by how much the instance misses its limit, positive when it does.
func (in *Instance) miss() float64 {
	switch in.Relation {
	case AtLeast:
		return in.Required - in.Measured
	case AtMost:
		return in.Measured - in.Required
	case Equal:
		return max(in.Required-in.Measured, in.Measured-in.Required)
	}
	return 0
}
